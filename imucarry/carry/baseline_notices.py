"""What a person should know before believing a comparison with the free walk."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import BoutData, Estimate, Notice
from imucarry.carry.pace import Pace, alike, is_known, nearest, read_cadence
from imucarry.carry.visit_bouts import VisitBouts

MORE_THAN_FREE = "turned_more_than_free"
SPEED_NOT_CHECKED = "speed_not_checked"
IN_DOUBT = ("reduced", "minimal", "unclear")
"""Findings that another pace alone may explain."""


def match_notices(
    visit: VisitBouts, index: int, free: Sequence[int], finding: str
) -> tuple[Notice, ...]:
    """Notices about speed and stride length, which change rotation by themselves.

    Where no distance tells them, cadence is looked at instead. It is to be checked where
    pace may be behind a fall, or may hide one: a longer stride turns the trunk more.
    """
    own = visit.paces[index]
    known = [visit.paces[k] for k in free if is_known(visit.paces[k])]
    if not is_known(own) or not known:
        whose = "the free walks' " if is_known(own) else ""
        return (
            Notice(
                SPEED_NOT_CHECKED,
                f"{whose}speed not known, so less rotation may be shorter steps",
                where=visit.bouts[index].row.bout,
            ),
            *_cadence_notices(visit, index, free),
        )
    if any(alike(own, pace, visit.settings.speed_match_pct) for pace in known):
        return ()
    near = nearest(own, known)
    effect = _effect_of_pace(own, near, visit.settings.speed_match_pct)
    is_check = finding in (IN_DOUBT if effect == "less" else (*IN_DOUBT, "rotates"))
    said = f"walked {_pace_words(own, near, visit.settings.speed_match_pct)}"
    return (
        Notice(
            "speed_differs",
            f"{said}, which by itself {EFFECTS[effect]}{SO[effect] if is_check else ''}",
            where=visit.bouts[index].row.bout,
            severity="check" if is_check else "note",
        ),
    )


EFFECTS = {
    "less": "turns the trunk less",
    "more": "turns the trunk more",
    "either": "may change how far the trunk turns",
}
SO = {
    "less": ": part of the loss of rotation may come from that",
    "more": ": what was kept may be overstated",
    "either": ": the share kept may be pace and not the carry",
}
"""What another pace does to rotation, and what follows for the share kept."""


def may_overstate(notice: Notice) -> bool:
    """Whether a check says that a bout's pace may have turned the trunk more."""
    is_pace = notice.code == "speed_differs" and notice.severity == "check"
    return is_pace and not notice.message.endswith(SO["less"])


def _gaps(own: Pace, near: Pace, match_pct: float) -> tuple[int, int]:
    """Return the signs by which speed and stride length differ, 0 where they are alike.

    Where speed differs, strides are held to a part of the tolerance: a longer stride
    within it turns the trunk more all the same.
    """
    speed = _sign(own.speed_mps / near.speed_mps, match_pct)
    part = evidence.STRIDE_MATCH_PART.value if speed else 1.0
    return speed, _sign(own.stride_length_m / near.stride_length_m, part * match_pct)


def _sign(ratio: float, match_pct: float) -> int:
    gap = float(np.log(ratio))
    return int(np.sign(gap)) if abs(gap) > np.log1p(match_pct / 100.0) else 0


def _effect_of_pace(own: Pace, near: Pace, match_pct: float) -> str:
    """Return what a bout's pace does to its rotation by itself, as a key of ``EFFECTS``.

    Stride length drives rotation (Huang et al. 2010, Gait Posture 31:444-449); another
    speed with like strides may do either.
    """
    _, stride = _gaps(own, near, match_pct)
    return {1: "more", -1: "less"}.get(stride, "either")


def _pace_words(own: Pace, near: Pace, match_pct: float) -> str:
    """ "with shorter strides than the free walk closest in pace (1.21 against 1.36 m)"."""
    speed, stride = _gaps(own, near, match_pct)
    how = (
        {1: "faster", -1: "slower"}.get(speed, ""),
        {1: "with longer strides", -1: "with shorter strides"}.get(stride, ""),
    )
    speeds = f"{own.speed_mps:.2f} against {near.speed_mps:.2f} m/s"
    strides = f"strides of {own.stride_length_m:.2f} against {near.stride_length_m:.2f} m"
    numbers = (speeds if speed else "", strides if stride else "")
    return (
        f"{' and '.join(filter(None, how))} than the free walk closest in pace "
        f"({', '.join(filter(None, numbers))})"
    )


def _cadence_notices(visit: VisitBouts, index: int, free: Sequence[int]) -> tuple[Notice, ...]:
    """Tell when a bout's cadence is far from the mean of the free walks it is compared with."""
    own = read_cadence(visit.scores[index])
    each = {k: read_cadence(visit.scores[k]) for k in free}
    known = {k: cadence for k, cadence in each.items() if np.isfinite(cadence)}
    if not known or not np.isfinite(own):
        return ()
    mean = float(np.mean(list(known.values())))
    if abs(np.log(own / mean)) <= np.log1p(evidence.CADENCE_MATCH_PCT.value / 100.0):
        return ()
    share = 100.0 * (own / mean - 1.0)
    return (
        Notice(
            "cadence_differs",
            f"{abs(share):.0f} % {'more' if share > 0 else 'fewer'} steps a minute than in the "
            f"free walk ({own:.0f} against {mean:.0f} steps/min). The share kept may be pace and "
            "not the carry. Give the length of the lane, or name free walks of like pace in "
            "`baseline`",
            where=visit.bouts[index].row.bout,
            severity="check",
        ),
    )


def motion_notices(
    visit: VisitBouts, index: int, free: Sequence[int], range_deg: float, floor_deg: float
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


def more_notices(kept: Estimate, told: Sequence[Notice], bout: str) -> tuple[Notice, ...]:
    """Tell where a carry turned the trunk clearly more than the free walks did.

    Nothing where its pace is `told` to explain it.
    """
    if not kept.ci_low > evidence.MORE_THAN_FREE_PCT.value or any(map(may_overstate, told)):
        return ()
    said = (
        f"the trunk turned more than in the free walks ({kept.value:.0f} %), which no load is "
        "expected to bring: check the pace and the fit of the chest strap"
    )
    return (Notice(MORE_THAN_FREE, said, where=bout, severity="check"),)


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
