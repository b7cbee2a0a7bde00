"""Whether the free walks themselves can be compared with: alone, too small, or moved."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import Notice
from imucarry.basics.statistics import t_quantile
from imucarry.carry.kept import BASELINE_SMALL, WalkMean
from imucarry.carry.pace import is_known
from imucarry.carry.visit_bouts import VisitBouts, grouped_means, is_free, started_at

ARMS_APART = "arm_swing_apart"
ARMS_UNLIKE = "arm_walks_unlike"
"""Codes of `baseline_arms`: the arms of the free walks differ, or none was of like pace."""


def baseline_notices(visit: VisitBouts, free: Sequence[int], measure: str) -> tuple[Notice, ...]:
    """Notices about the baseline itself: a single walk, or one that moved."""
    names = ", ".join(visit.bouts[k].row.bout for k in free)
    if len(free) == 1:
        return (
            Notice(
                "one_free_walk",
                "compared with one free walk only: how much this person's walks differ is not "
                "known and is taken as "
                f"{visit.settings.between_walk_cv_pct:g} %. Record two or more free walks",
                where=names,
                severity="check",
            ),
        )
    found = (_moved(visit, free, measure), _moved_with_pace(visit, free, measure))
    return tuple(notice for notice in found if notice is not None)


def small_notices(baseline_deg: float, least_deg: float, floor_deg: float) -> tuple[Notice, ...]:
    """Tell that the free walks turn too little, or repeat too little with the stride.

    It is of the walks alone, so that it is the same for every carry.
    """
    if baseline_deg >= least_deg:
        most = evidence.BASELINE_FLOOR_MOST.value
        so = (
            "so what a load takes away cannot be told"
            if floor_deg > most * baseline_deg
            else "so what a load takes away is told only where this cannot change the answer"
        )
        said = (
            f"the free walk itself turns {baseline_deg:.1f} deg, and motion that does not repeat "
            f"with the stride would give {floor_deg:.1f} deg by itself, {so}"
        )
        return (Notice(BASELINE_SMALL, said, severity="check"),)
    digits = next(
        n for n in range(1, 9) if f"{baseline_deg:.{n}f}" != f"{least_deg:.{n}f}" or n == 8
    )
    return (
        Notice(
            BASELINE_SMALL,
            f"the free walk turns too little to compare with: {baseline_deg:.{digits}f} deg, and "
            f"at least {least_deg:.{digits}f} deg are needed",
            severity="check",
        ),
    )


def _moved(visit: VisitBouts, free: Sequence[int], measure: str) -> Notice | None:
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


def _change(visit: VisitBouts, pairs: Sequence[Sequence[Sequence[WalkMean]]]) -> float | None:
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
    visit: VisitBouts, early: Sequence[int], late: Sequence[int], change_frac: float
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


def _moved_with_pace(visit: VisitBouts, free: Sequence[int], measure: str) -> Notice | None:
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
    visit: VisitBouts, fresh: Sequence[int], change_frac: float, speed_frac: float
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


def _split(visit: VisitBouts, ordered: list[int]) -> tuple[list[int], list[int]]:
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
