"""What a bout's rotation means for what the bout is meant to train."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.records import AimReading, BoutData, BoutRow, Comparison, LadderRung
from imucarry.basics.settings import CarrySettings
from imucarry.carry.implements import ladder_key
from imucarry.carry.kept import ACROSS, BASELINE_SMALL
from imucarry.walk.trunk import CHEST_DOUBTS

AIM_CODES = {
    "free_walk": "an unloaded walk: it is the baseline and has no aim to be read against",
    "not_measured": "no chest sensor: rotation was not measured",
    "no_baseline": "no free walk to compare with",
    "unclear": "the interval does not tell whether rotation was kept",
    "mobility_kept": "mobility is the aim and the trunk kept turning",
    "unclear_baseline_small": "the free walk turns too little, or repeats too little with the "
    "stride, to tell whether rotation was kept",
    "unclear_chest_in_doubt": "the chest sensor does not tell rotation well enough to judge it",
    "unclear_baseline_moved": "the free walks differ too much to tell whether rotation was kept",
    "mobility_reduced": "mobility is the aim and rotation fell; no lighter tested load kept it",
    "mobility_reduced_lightest": "mobility is the aim and rotation fell; no lighter load was "
    "tested",
    "mobility_reduced_load_unknown": "mobility is the aim and rotation fell; no load was noted, so "
    "lighter ones cannot be named",
    "mobility_reduced_lighter_stopped": "mobility is the aim and rotation fell; no lighter tested "
    "load kept it, and some do not count for pain, an early stop or an alarm symptom",
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
_MOVED = ("baseline_moved", "baseline_moved_with_pace")


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
        _read(data.row, comparison, ladder, settings)
        for data, comparison in zip(bouts, comparisons, strict=True)
    )


def _read(
    row: BoutRow, comparison: Comparison, ladder: Sequence[LadderRung], settings: CarrySettings
) -> AimReading:
    finding = comparison.rotation_finding
    if row.hold == "free":
        return AimReading("free_walk")
    if row.aim == "control" and finding != "not_measured":
        return AimReading("control_spread")
    if finding in _UNREAD:
        return AimReading(_unread(comparison))
    if finding == "rotates":
        return AimReading({"strength": "strength_turning", "": "no_aim_kept"}.get(
            row.aim, f"{row.aim}_kept"))  # fmt: skip
    if row.aim in ("strength", "endurance"):
        return AimReading("strength_still" if row.aim == "strength" else "endurance_reduced")
    lighter = lighter_kept_kg(row, ladder, settings)
    code = "no_aim_reduced" if row.aim == "" else _mobility_reduced(row, ladder, lighter)
    reading = AimReading(code, lighter, pain_limit_0_10=settings.pain_limit_0_10)
    for rung in _alike(row, ladder):
        if lighter in rung.loads_kg:
            k = rung.loads_kg.index(lighter)
            return replace(
                reading,
                lighter_pain_0_10=rung.pains_0_10[k],
                lighter_stop=rung.stops[k],
                lighter_alarms=rung.alarms[k],
            )
    return reading


def _unread(comparison: Comparison) -> str:
    """Return why a bout is not read, with the fault of the free walks where that is it."""
    if comparison.rotation_finding != "unclear":
        return comparison.rotation_finding
    if comparison.finding_because == BASELINE_SMALL:
        return "unclear_baseline_small"
    if comparison.finding_because in CHEST_DOUBTS:
        return "unclear_chest_in_doubt"
    moved = any(notice.code in _MOVED for notice in comparison.notices)
    across = comparison.finding_because == ACROSS
    return "unclear_baseline_moved" if moved and across else "unclear"


def _mobility_reduced(row: BoutRow, ladder: Sequence[LadderRung], lighter_kept: float) -> str:
    """Return what is known of lighter loads where rotation fell and mobility is the aim."""
    if np.isfinite(lighter_kept):
        return "mobility_reduced_lighter_kept"
    if not np.isfinite(row.load_kg):
        return "mobility_reduced_load_unknown"
    rungs = _alike(row, ladder)
    if not any(load < row.load_kg for rung in rungs for load in rung.loads_kg):
        return "mobility_reduced_lightest"
    stopped = any(load.load_kg < row.load_kg for rung in rungs for load in rung.stopped)
    return "mobility_reduced_lighter_stopped" if stopped else "mobility_reduced"


def lighter_kept_kg(row: BoutRow, ladder: Sequence[LadderRung], settings: CarrySettings) -> float:
    """Return the heaviest tested load below a bout's that kept the rotation [kg], else NaN."""
    kept = [
        load
        for rung in _alike(row, ladder)
        for load, low in zip(rung.loads_kg, rung.fit_low_pct, strict=True)
        if load < row.load_kg and low > settings.reduced_pct
    ]
    return max(kept, default=float("nan"))


def _alike(row: BoutRow, ladder: Sequence[LadderRung]) -> list[LadderRung]:
    """Return the ladder of a bout's hold, side and implement."""
    return [rung for rung in ladder if ladder_key(row) == ladder_key(rung)]
