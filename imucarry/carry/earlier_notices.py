"""What a person should know before comparing visits: their order, and their free walks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import Notice
from imucarry.basics.settings import CarrySettings
from imucarry.basics.statistics import normal_quantile, t_quantile
from imucarry.carry.same_recording import same_recordings
from imucarry.carry.visits import Row, Visit, number, word

FREE_WALK_DIFFERS: Final = "free_walk_differs_between_visits"


def history_notices(visits: Sequence[Visit], settings: CarrySettings) -> tuple[Notice, ...]:
    """Return what to check before the visits are compared.

    Parameters
    ----------
    visits : sequence of Visit
        In the order in which they stand; one of them is the current one.
    settings : CarrySettings
    """
    shared = same_recordings([(visit.name, visit.recordings) for visit in visits])
    return (*shared, *_order_notices(visits), *_free_walk_notices(visits, settings))


# --- order --------------------------------------------------------------------------


def _order_notices(visits: Sequence[Visit]) -> list[Notice]:
    found = []
    now = next((visit for visit in visits if visit.current), None)
    undated = [visit.name for visit in visits if visit.date is None]
    if undated:
        found.append(
            _check(
                "visit_not_dated",
                f"no date is known of {_listed(undated)}: such visits stand in the order in "
                "which they were given, this one last; a change runs the wrong way where that "
                "is not their order",
            )
        )
    if now is None or now.date is None:
        return found
    later = [visit.name for visit in visits if visit.date is not None and visit.date > now.date]
    if later:
        found.append(
            _check(
                "earlier_visit_is_later",
                f"given as earlier, but later than this visit ({now.date.isoformat()}): "
                f"{_listed(later)}; visits stand by date, and changes run from the first to "
                "the last",
            )
        )
    return found


def _check(code: str, message: str) -> Notice:
    return Notice(code, message, severity="check")


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names)


# --- free walks ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FreeWalk:
    """Mean swing of the sternum in the free walks of a visit, and the variance of its log."""

    mean_deg: float
    log_variance: float


def free_walk(visit: Visit, settings: CarrySettings) -> FreeWalk | None:
    """Return the free walk of a visit, or None without one that was measured.

    Notes
    -----
    Each walk counts the same. The variance of its log is that of its strides (from its
    95 % interval) and of walks among each other (setting ``between_walk_cv_pct``).
    """
    walks = [row for row in visit.bouts if word(row, "hold") == "free"]
    means = [number(row, "sternum_yaw_range_deg") for row in walks]
    there = [(mean, row) for mean, row in zip(means, walks, strict=True) if mean > 0.0]
    if not there:
        return None
    between = (settings.between_walk_cv_pct / 100.0) ** 2
    variances = [between + (_standard_error(row) / mean) ** 2 for mean, row in there]
    n = len(there)
    return FreeWalk(sum(mean for mean, _ in there) / n, sum(variances) / n**2)


def _standard_error(row: Row) -> float:
    high, low = (number(row, f"sternum_yaw_range_ci_{end}_deg") for end in ("high", "low"))
    width = (high - low) / (2.0 * normal_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value))
    return width if math.isfinite(width) else 0.0


def moved_free_walks(visits: Sequence[Visit], settings: CarrySettings) -> tuple[int, ...]:
    """Return the places of the visits whose free walk differs by more than chance.

    It is compared with that of the first visit that has one.
    """
    return tuple(place for place, *_ in _moved(visits, settings))


def _moved(
    visits: Sequence[Visit], settings: CarrySettings
) -> list[tuple[int, FreeWalk, Visit, FreeWalk]]:
    """Return place and free walk of each such visit, and the first one with its free walk."""
    walks = [(place, free_walk(visit, settings)) for place, visit in enumerate(visits)]
    there = [(place, walk) for place, walk in walks if walk is not None]
    found = []
    for place, walk in there[1:]:
        first, base = there[0]
        change = math.log(walk.mean_deg / base.mean_deg)
        error = math.sqrt(walk.log_variance + base.log_variance)
        reach = t_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value, settings.between_walk_df) * error
        if abs(change) > reach:
            found.append((place, walk, visits[first], base))
    return found


def _free_walk_notices(visits: Sequence[Visit], settings: CarrySettings) -> list[Notice]:
    """Tell of each visit whose free walk differs from the first one's by more than chance."""
    return [
        _free_walk_notice(visits[place], walk, first, base)
        for place, walk, first, base in _moved(visits, settings)
    ]


def _free_walk_notice(visit: Visit, walk: FreeWalk, first: Visit, base: FreeWalk) -> Notice:
    percent = 100.0 * (walk.mean_deg / base.mean_deg - 1.0)
    return _check(
        FREE_WALK_DIFFERS,
        f"the free walk itself turned {abs(percent):.0f} % {'more' if percent > 0 else 'less'} "
        f"at {visit.name} than at {first.name}, {walk.mean_deg:.1f} against {base.mean_deg:.1f} "
        "deg: shares of the free walk are not comparable, compare degrees",
    )
