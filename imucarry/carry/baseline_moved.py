"""Whether the free walks themselves can be compared with: alone, too small, or moved."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import SIDES, Estimate, Notice, Score, Side
from imucarry.basics.settings import CarrySettings
from imucarry.basics.statistics import t_quantile
from imucarry.carry.kept import WalkMean, find_score
from imucarry.carry.pace import is_known, nearest, pace_gap
from imucarry.carry.visit import SWING, Visit, grouped_means, is_free, started_at

ARMS_APART = "arm_swing_apart"
ARMS_UNLIKE = "arm_walks_unlike"
ERRS = {"high": "too high", "low": "too low", "either": "too high or too low"}
"""Which way the share of its free swing errs that an arm kept."""


def arm_notices(
    visit: Visit,
    index: int,
    free: Sequence[int],
    like: Sequence[int] | None,
    arms: Sequence[Score] = (),
) -> tuple[Notice, ...]:
    """Tell where a carry's free arm has no fair free walk to be compared with.

    Parameters
    ----------
    visit : Visit
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
    apart = _arms_apart(visit, free, sides)
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
        return (Notice(code, said, severity="check" if is_check else "note"),)
    if not apart:
        return ()
    ranges = (f"{side} {min(arm.values()):.0f} to {max(arm.values()):.0f} deg"
              for side, arm in apart.items())  # fmt: skip
    said = f"the arms swung very differently in the free walks ({', '.join(ranges)})"
    if like:
        then = ": the carry's arms are read against the free walks of like pace alone"
        return (Notice(ARMS_APART, f"{said}{then}"),)
    then = ": the carry's share of their mean may be too high or too low. Name the free walks of " \
        "like pace in `baseline`"  # fmt: skip
    return (Notice(ARMS_APART, f"{said}{then}", severity="check"),)


def _free_sides(visit: Visit, index: int) -> list[Side]:
    """Return the sides whose arm is free in a carry and was measured; none of a free walk."""
    if is_free(visit.bouts[index]):
        return []
    measured = (side for side in SIDES if visit.means[index, SWING, side] is not None)
    swings = ((side, find_score(visit.scores[index], SWING, side)) for side in measured)
    return [side for side, swing in swings if swing is not None and swing.role == "free"]


def _arms_apart(
    visit: Visit, free: Sequence[int], sides: Sequence[Side]
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
    visit: Visit, index: int, apart: dict[Side, dict[int, float]], free: Sequence[int]
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


def baseline_notices(visit: Visit, free: Sequence[int], measure: str) -> tuple[Notice, ...]:
    """Notices about the baseline itself: a single walk, or one that moved."""
    names = ", ".join(visit.bouts[k].row.bout for k in free)
    if len(free) == 1:
        return (
            Notice(
                "one_free_walk",
                "compared with one free walk only: how much this person's walks differ from one "
                "to the next is not known and is taken as "
                f"{visit.settings.between_walk_cv_pct:g} %",
                where=names,
                severity="check",
            ),
        )
    found = (_moved(visit, free, measure), _moved_with_pace(visit, free, measure))
    return tuple(notice for notice in found if notice is not None)


def small_notices(baseline_deg: float, least_deg: float) -> tuple[Notice, ...]:
    """Tell where the free walks turn too little to compare a carry with."""
    if not baseline_deg < least_deg:
        return ()
    digits = next(
        n for n in range(1, 9) if f"{baseline_deg:.{n}f}" != f"{least_deg:.{n}f}" or n == 8
    )
    return (
        Notice(
            "baseline_small",
            f"the free walk turns too little to compare with: {baseline_deg:.{digits}f} deg, and "
            f"at least {least_deg:.{digits}f} deg are needed to tell it from motion that does not "
            "go with the strides",
            severity="check",
        ),
    )


def _moved(visit: Visit, free: Sequence[int], measure: str) -> Notice | None:
    """Tell when earlier and later free walks differ by more than walks do by chance.

    Notes
    -----
    1. The walks of the baseline are split at the first carry, else in the middle.
    2. Only walks of like pace are compared, where pace is known; their changes are
       averaged.
    3. The interval takes walk-to-walk variation from the setting alone: the walks
       that may have moved cannot say how much walks differ.
    """
    ordered = sorted(free, key=lambda k: started_at(visit.bouts[k]))
    means = grouped_means(visit, ordered, measure, "none")
    early, late = _split(visit, list(means))
    both = {means[k].group for k in early} & {means[k].group for k in late}
    if not both:
        return None
    early, late = ([k for k in part if means[k].group in both] for part in (early, late))
    pairs = [
        tuple([means[k] for k in part if means[k].group == group] for part in (early, late))
        for group in both
    ]
    change = _change(visit, pairs)
    return None if change is None else _moved_notice(visit, early, late, change)


def _change(visit: Visit, pairs: Sequence[Sequence[Sequence[WalkMean]]]) -> float | None:
    """Return the mean change from first to second of each pair, as a fraction.

    None where it lies within what walks differ by chance.
    """
    between = (visit.settings.between_walk_cv_pct / 100.0) ** 2
    parts = [[_log_mean(walks, between) for walks in pair] for pair in pairs]
    change = sum(late[0] - early[0] for early, late in parts) / len(parts)
    error = float(np.sqrt(sum(part[1] for pair in parts for part in pair))) / len(parts)
    reach = t_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value, visit.settings.between_walk_df) * error
    return None if abs(change) <= reach else float(np.expm1(change))


def _moved_notice(
    visit: Visit, early: Sequence[int], late: Sequence[int], change_frac: float
) -> Notice:
    first, then = (", ".join(visit.bouts[k].row.bout for k in part) for part in (early, late))
    known = all(is_known(visit.paces[k]) for k in (*early, *late))
    causes = (
        "fatigue, learning or a shifted sensor"
        if known
        else "fatigue, learning, a shifted sensor or another pace"
    )
    return Notice(
        "baseline_moved",
        f"the free walks moved: {then} turned {_more_or_less(change_frac)} than {first}, "
        f"more than walks differ by chance; {causes} may be behind it",
        where=f"{first} / {then}",
        severity="check",
    )


def _moved_with_pace(visit: Visit, free: Sequence[int], measure: str) -> Notice | None:
    """Tell when free walks after a carry turned otherwise and were walked at another pace.

    Notes
    -----
    These are the walks after the first carry whose pace is like no free walk's before it,
    held against all other free walks: `_moved` compares walks of like pace alone and would
    pass over a person who tires and slows. Walks of another pace before every carry are
    a choice of whoever recorded them.
    """
    ordered = sorted(free, key=lambda k: started_at(visit.bouts[k]))
    if not all(is_known(visit.paces[k]) for k in ordered):
        return None
    means = grouped_means(visit, ordered, measure, "none")
    first_carry = min(
        (started_at(data) for data in visit.bouts if not is_free(data)), default=float("inf")
    )
    before = {walk.group for k, walk in means.items() if started_at(visit.bouts[k]) < first_carry}
    fresh = [k for k, walk in means.items() if before and walk.group not in before]
    others = [k for k in means if k not in fresh]
    if not fresh:
        return None
    change = _change(visit, [[[means[k] for k in part] for part in (others, fresh)]])
    if change is None:
        return None
    was, now = (float(np.mean([visit.paces[k].speed_mps for k in part]))
                for part in (others, fresh))  # fmt: skip
    return _pace_notice(visit, fresh, change, now / was - 1.0)


def _pace_notice(
    visit: Visit, fresh: Sequence[int], change_frac: float, speed_frac: float
) -> Notice:
    names = ", ".join(visit.bouts[k].row.bout for k in fresh)
    walks, were = ("walk", "was") if len(fresh) == 1 else ("walks", "were")
    tired = change_frac < 0 and speed_frac < 0
    return Notice(
        "baseline_moved_with_pace",
        f"the last free {walks}, {names}, turned {_more_or_less(change_frac)} than the others and "
        f"{were} {abs(100.0 * speed_frac):.0f} % {'slower' if speed_frac < 0 else 'faster'}: "
        f"{'fatigue or pace' if tired else 'pace, learning or a shifted sensor'} may be behind it",
        where=names,
        severity="check",
    )


def _more_or_less(change_frac: float) -> str:
    """ "48 % less"."""
    return f"{abs(100.0 * change_frac):.0f} % {'less' if change_frac < 0 else 'more'}"


def _split(visit: Visit, ordered: list[int]) -> tuple[list[int], list[int]]:
    """Split walks in time order at the first carry, else in the middle."""
    carries = [started_at(data) for data in visit.bouts if not is_free(data)]
    first = min(carries, default=float("-inf"))
    early = [k for k in ordered if started_at(visit.bouts[k]) < first]
    middle = len(early) if 0 < len(early) < len(ordered) else len(ordered) // 2
    return ordered[:middle], ordered[middle:]


def _log_mean(walks: Sequence[WalkMean], between: float) -> tuple[float, float]:
    """Mean of the logs of some walks, and its variance."""
    variances = [between + walk.log_se**2 for walk in walks]
    mean = float(np.mean(np.log([walk.mean for walk in walks])))
    return mean, float(np.sum(variances)) / len(walks) ** 2
