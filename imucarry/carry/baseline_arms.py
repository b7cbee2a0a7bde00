"""Whether a carry's free arm has a fair free walk to be compared with."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import SIDES, Estimate, Notice, Score, Side
from imucarry.basics.settings import CarrySettings
from imucarry.carry.baseline_moved import ARMS_APART, ARMS_UNLIKE
from imucarry.carry.kept import find_score
from imucarry.carry.pace import is_known, nearest, pace_gap
from imucarry.carry.visit_bouts import SWING, VisitBouts, is_free
from imucarry.measures.notices import moved_unlike_strides

WALK_UNLIKE_STRIDES = "free_walk_arm_unlike_strides"
STILL_BESIDE = "free_walk_arm_still"
ERRS = {"high": "too high", "low": "too low", "either": "too high or too low"}
"""Which way the share of its free swing errs that an arm kept."""


def arm_notices(
    visit: VisitBouts,
    index: int,
    free: Sequence[int],
    like: Sequence[int] | None,
    arms: Sequence[Score] = (),
) -> tuple[Notice, ...]:
    """Tell where a carry's free arm has no fair free walk to be compared with.

    Parameters
    ----------
    visit : VisitBouts
    index : int
        The carry.
    free : sequence of int
        The free walks that a carry is compared with.
    like : sequence of int or None
        Those of like pace; None where no pace is known. Where the arms of the free walks
        swung too differently to be averaged, the carry's free arm is compared with these alone.
    arms : sequence of Score
        What the carry's arms kept of their free swing [%]. Without a walk of like pace a free
        arm's share is to be checked, unless it errs to the side that cannot change the finding.
    """
    sides = _free_sides(visit, index)
    return (
        *_unlike_strides(visit, free, sides),
        *_still_beside_other(visit, free, sides),
        *_apart(visit, index, free, like, arms, sides),
    )


def _unlike_strides(
    visit: VisitBouts, free: Sequence[int], sides: Sequence[Side]
) -> tuple[Notice, ...]:
    """Tell of free walks in which the arm moved, but not with the strides."""
    then = (
        "Name the others in the column `baseline` of the bouts sheet"
        if len(free) > 1
        else "Record another"
    )
    return tuple(
        Notice(
            WALK_UNLIKE_STRIDES,
            f"in {visit.bouts[k].row.bout} the {side} arm moved, but not with the strides (a "
            "gesture, a scratch?): that walk is no fair yardstick for the arm in a carry. "
            f"{then}",
            where=visit.bouts[k].row.bout,
            severity="check",
        )
        for k in free
        for side in sides
        if moved_unlike_strides(visit.scores[k], side)
    )


def _still_beside_other(
    visit: VisitBouts, free: Sequence[int], sides: Sequence[Side]
) -> tuple[Notice, ...]:
    """Tell of free walks in which the arm swung far less than the other, as in a pocket."""
    found = []
    ratio = evidence.ARM_BESIDE_RATIO.value
    for side in sides:
        other: Side = "right" if side == "left" else "left"
        arms = {
            k: (own.mean, beside.mean)
            for k in free
            if (own := visit.means[k, SWING, side]) and (beside := visit.means[k, SWING, other])
        }
        still = {k: (own, beside) for k, (own, beside) in arms.items() if own * ratio < beside}
        if not still:
            continue
        walks = ", ".join(visit.bouts[k].row.bout for k in still)
        own, beside = np.mean(list(still.values()), axis=0)
        said = (
            f"in {walks} the {side} arm swung {own:.0f} deg, the {other} {beside:.0f}: was that "
            "hand in a pocket, or the arm held? Then the walk is no fair yardstick for the arm in "
            "a carry. Record one with both arms free"
        )
        found.append(Notice(STILL_BESIDE, said, where=walks, severity="check"))
    return tuple(found)


def _apart(
    visit: VisitBouts,
    index: int,
    free: Sequence[int],
    like: Sequence[int] | None,
    arms: Sequence[Score],
    sides: Sequence[Side],
) -> tuple[Notice, ...]:
    """Tell where the free walks' arms differ too much, or none was of like pace."""
    apart, where = _arms_apart(visit, free, sides), visit.bouts[index].row.bout
    if like is not None:
        like = [k for k in like if any(visit.means[k, SWING, side] for side in apart or sides)]
    shares = [arm.estimate for arm in arms if arm.side in sides and np.isfinite(arm.estimate.value)]
    if like == [] and shares:
        errs = _errs(visit, index, apart, free)
        is_check = _could_change(errs, shares, visit.settings)
        said = (
            f"no free walk of like pace for the arms: their share may be {ERRS[errs]}. Record one "
            f"at {visit.paces[index].speed_mps:.2f} m/s"
        )
        code = ARMS_APART if apart else ARMS_UNLIKE
        return (Notice(code, said, where=where, severity="check" if is_check else "note"),)
    if not apart:
        return ()
    ranges = (f"{side} {min(arm.values()):.0f} to {max(arm.values()):.0f} deg"
              for side, arm in apart.items())  # fmt: skip
    said = f"the arms swung very differently in the free walks ({', '.join(ranges)})"
    if like:
        then = ": the carry's arms are read against the free walks of like pace alone"
        return (Notice(ARMS_APART, f"{said}{then}", where=where),)
    then = ": the carry's share of their mean may be too high or too low. Name the free walks of " \
        "like pace in the column `baseline` of the bouts sheet"  # fmt: skip
    return (Notice(ARMS_APART, f"{said}{then}", where=where, severity="check"),)


def _free_sides(visit: VisitBouts, index: int) -> list[Side]:
    """Return the sides whose arm is free in a carry and was measured; none of a free walk."""
    if is_free(visit.bouts[index]):
        return []
    measured = (side for side in SIDES if visit.means[index, SWING, side] is not None)
    swings = ((side, find_score(visit.scores[index], SWING, side)) for side in measured)
    return [side for side, swing in swings if swing is not None and swing.role == "free"]


def _arms_apart(
    visit: VisitBouts, free: Sequence[int], sides: Sequence[Side]
) -> dict[Side, dict[int, float]]:
    """Return the mean swing of the arms that differ too much, in each free walk [deg]."""
    apart: dict[Side, dict[int, float]] = {}
    least = 1.0 + evidence.ARM_BASELINE_APART_PCT.value / 100.0
    for side in sides:
        arm = {k: m.mean for k in free if (m := visit.means[k, SWING, side]) is not None}
        if len(arm) > 1 and max(arm.values()) > least * min(arm.values()):
            apart[side] = arm
    return apart


def _errs(
    visit: VisitBouts, index: int, apart: dict[Side, dict[int, float]], free: Sequence[int]
) -> str:
    """Say which way the arms' share errs without a free walk of like pace, a key of ``ERRS``.

    Where the free walks' arms differ, against the one nearest in pace; else by speed: faster
    walking swings the arms more.
    """
    own = visit.paces[index]
    if not apart:
        near = nearest(own, [visit.paces[k] for k in free if is_known(visit.paces[k])])
        gap = float(np.log(own.speed_mps / near.speed_mps))
        far = abs(gap) > np.log1p(visit.settings.speed_match_pct / 100.0)
        return ("high" if gap > 0 else "low") if far else "either"
    higher = set()
    for arm in apart.values():
        paces = {k: visit.paces[k] for k in arm if is_known(visit.paces[k])}
        if not paces:
            return "either"
        near_walk = min(paces, key=lambda k: pace_gap(own, paces[k]))
        higher.add(arm[near_walk] > float(np.mean(list(arm.values()))))
    return "either" if len(higher) != 1 else "high" if higher.pop() else "low"


def _could_change(errs: str, shares: Sequence[Estimate], settings: CarrySettings) -> bool:
    """Whether a share that errs so may lie on the other side of the threshold."""
    if errs == "high":
        return not all(share.ci_high < settings.reduced_pct for share in shares)
    if errs == "low":
        return not all(share.ci_low > settings.reduced_pct for share in shares)
    return True
