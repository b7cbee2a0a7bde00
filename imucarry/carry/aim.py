"""What a bout's rotation means for what the bout is meant to train."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.records import AimReading, BoutData, BoutRow, Comparison, LadderRung
from imucarry.basics.settings import CarrySettings

AIM_CODES = {
    "free_walk": "an unloaded walk: it is the baseline and has no aim to be read against",
    "not_measured": "no chest sensor: rotation was not measured",
    "no_baseline": "no free walk to compare with",
    "unclear": "the interval does not tell whether rotation was kept",
    "mobility_kept": "mobility is the aim and the trunk kept turning",
    "mobility_reduced": "mobility is the aim and rotation fell; no lighter tested load kept it",
    "mobility_reduced_lighter_kept": "mobility is the aim and rotation fell; a lighter tested "
    "load kept it",
    "strength_still": "strength is the aim: a still trunk is expected; mobility may not be "
    "trained by this bout",
    "strength_turning": "strength is the aim and the trunk kept turning",
    "endurance_kept": "endurance is the aim and the trunk kept turning",
    "endurance_reduced": "endurance is the aim and rotation fell: its trend over the bout tells "
    "whether it faded",
    "control_spread": "control is the aim: the spread is shown, neither good nor bad",
    "no_aim_kept": "no aim given, rotation kept: both readings are shown",
    "no_aim_reduced": "no aim given, rotation fell: both readings are shown",
}
"""Code of a reading, and what it means. It informs a practitioner and prescribes nothing."""

_UNREAD = ("not_measured", "no_baseline", "unclear")


def read_aims(
    bouts: Sequence[BoutData],
    comparisons: Sequence[Comparison],
    ladder: Sequence[LadderRung],
    settings: CarrySettings,
) -> tuple[AimReading, ...]:
    """Read each bout's finding against its aim.

    Parameters
    ----------
    bouts, comparisons : sequences
        In the same order.
    ladder : sequence of LadderRung
    settings : CarrySettings

    Returns
    -------
    tuple of AimReading
        Codes of ``AIM_CODES``, one a bout. ``lighter_kg`` is the heaviest lighter
        load of the same hold, side and implement whose lower limit kept the
        reduced threshold, where rotation fell and mobility may be the aim.
    """
    return tuple(
        _read(data.row, comparison.rotation_finding, ladder, settings)
        for data, comparison in zip(bouts, comparisons, strict=True)
    )


def _read(
    row: BoutRow, finding: str, ladder: Sequence[LadderRung], settings: CarrySettings
) -> AimReading:
    if row.hold == "free":
        return AimReading("free_walk")
    if row.aim == "control" and finding != "not_measured":
        return AimReading("control_spread")
    if finding in _UNREAD:
        return AimReading(finding)
    if finding == "rotates":
        return AimReading({"strength": "strength_turning", "": "no_aim_kept"}.get(
            row.aim, f"{row.aim}_kept"))  # fmt: skip
    if row.aim in ("strength", "endurance"):
        return AimReading("strength_still" if row.aim == "strength" else "endurance_reduced")
    lighter = lighter_kept_kg(row, ladder, settings)
    if row.aim == "":
        return AimReading("no_aim_reduced", lighter)
    found = "_lighter_kept" if np.isfinite(lighter) else ""
    return AimReading(f"mobility_reduced{found}", lighter)


def lighter_kept_kg(row: BoutRow, ladder: Sequence[LadderRung], settings: CarrySettings) -> float:
    """Return the heaviest tested load below a bout's that kept the rotation [kg], else NaN."""
    key = (row.hold, row.loaded_side, row.implement, row.left_hold, row.right_hold)
    kept = [
        load
        for rung in ladder
        if key == (rung.hold, rung.loaded_side, rung.implement, rung.left_hold, rung.right_hold)
        for load, low in zip(rung.loads_kg, rung.fit_low_pct, strict=True)
        if load < row.load_kg and low > settings.reduced_pct
    ]
    return max(kept, default=float("nan"))
