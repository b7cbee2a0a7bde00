"""What a person should know before believing a comparison with the free walk."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import BoutData, Notice
from imucarry.carry.pace import Pace, alike, is_known, nearest, read_cadence
from imucarry.carry.visit import Visit

IN_DOUBT = ("reduced", "minimal", "unclear")
"""Findings that another pace alone may explain."""


def match_notices(
    visit: Visit, index: int, free: Sequence[int], finding: str
) -> tuple[Notice, ...]:
    """Notices about speed and stride length, which change rotation by themselves.

    Where no distance tells them, cadence is looked at instead. A bout that kept turning
    has its pace noted; where rotation fell or is unclear it is to be checked.
    """
    own = visit.paces[index]
    known = [visit.paces[k] for k in free if is_known(visit.paces[k])]
    if not is_known(own) or not known:
        return (
            Notice(
                "speed_not_checked",
                "speed not checked: less rotation may be shorter steps",
            ),
            *_cadence_notices(visit, index, free),
        )
    if any(alike(own, pace, visit.settings.speed_match_pct) for pace in known):
        return ()
    return (
        Notice(
            "speed_differs",
            _pace_message(own, nearest(own, known), is_check=finding in IN_DOUBT),
            where=visit.bouts[index].row.bout,
            severity="check" if finding in IN_DOUBT else "note",
        ),
    )


def _pace_message(own: Pace, near: Pace, *, is_check: bool) -> str:
    """Say that there is no free walk of like pace, and what the paces are.

    `is_check`: rotation fell or is unclear, so that pace may be behind it.
    """
    said = (
        f"no free walk of like speed and stride length (walked at {_pace_words(own)}, the "
        f"nearest free walk at {_pace_words(near)})"
    )
    return f"{said}: less rotation may be shorter steps" if is_check else said


def _pace_words(pace: Pace) -> str:
    """ "1.12 m/s with 1.20 m strides"."""
    return f"{pace.speed_mps:.2f} m/s with {pace.stride_length_m:.2f} m strides"


def _cadence_notices(visit: Visit, index: int, free: Sequence[int]) -> tuple[Notice, ...]:
    """Tell when a bout's cadence is far from the mean of the free walks it is compared with."""
    own = read_cadence(visit.scores[index])
    each = {k: read_cadence(visit.scores[k]) for k in free}
    known = {k: cadence for k, cadence in each.items() if np.isfinite(cadence)}
    if not known or not np.isfinite(own):
        return ()
    mean = float(np.mean(list(known.values())))
    if abs(np.log(own / mean)) <= np.log1p(evidence.CADENCE_MATCH_PCT.value / 100.0):
        return ()
    walks = ", ".join(f"{visit.bouts[k].row.bout} {cadence:.0f}" for k, cadence in known.items())
    bout = visit.bouts[index].row.bout
    return (
        Notice(
            "cadence_differs",
            f"cadence differs from the free walk's by {100.0 * (own / mean - 1.0):+.0f} %: this "
            f"bout {own:.0f} steps/min, compared with {walks}; without a distance it cannot be "
            "told whether speed or length of steps is behind it, and either changes rotation by "
            "itself: the share kept may be pace and not the carry. Give the length of the lane, or "
            "name free walks of like pace as this bout's baseline",
            where=bout,
            severity="check",
        ),
    )


def motion_notices(
    visit: Visit, index: int, free: Sequence[int], range_deg: float, floor_deg: float
) -> tuple[Notice, ...]:
    """Notices about the bout's own rotation: near its floor, or at an unusual phase."""
    bout = visit.bouts[index].row.bout
    found = []
    if range_deg < evidence.NEAR_FLOOR_RATIO.value * floor_deg:
        found.append(
            Notice(
                "yaw_near_floor",
                "rotation is close to what motion that is not locked to the stride gives: "
                "the kept share is at most what is shown",
                where=bout,
            )
        )
    gap = phase_gap_deg(visit.bouts[index], [visit.bouts[k] for k in free])
    if gap > visit.settings.phase_far_deg:
        found.append(
            Notice(
                "phase_unusual",
                f"rotation is not in its usual phase ({gap:.0f} deg of the stride from the free "
                "walk's): the trunk may be turning with the pelvis",
                where=bout,
                severity="check",
            )
        )
    return tuple(found)


def phase_gap_deg(data: BoutData, free: Sequence[BoutData]) -> float:
    """Return how far a bout's mean phase to the steps is from the free walks' [deg], 0..180."""
    own = _mean_phasor([data])
    usual = _mean_phasor(free)
    least = evidence.PHASE_LEAST_R.value
    if not (abs(own) >= least and abs(usual) >= least):
        return float("nan")
    return float(abs(np.degrees(np.angle(own * np.conj(usual)))))


def _mean_phasor(bouts: Sequence[BoutData]) -> complex:
    """Return the mean direction of the kept strides' phase, equal weight a bout."""
    each = []
    for data in bouts:
        phase = data.columns.get("sternum_yaw_phase_deg", np.empty(0))
        phase = phase[data.strides.kept_yaw] if phase.size else phase
        phase = phase[np.isfinite(phase)]
        if phase.size:
            each.append(complex(np.exp(1j * np.radians(phase)).mean()))
    return complex(np.mean(each)) if each else complex("nan")
