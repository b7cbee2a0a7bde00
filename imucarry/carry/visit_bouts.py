"""One visit as the comparisons see it, and which of its walks are whose baseline."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.records import BoutData, Score
from imucarry.basics.settings import CarrySettings
from imucarry.carry.kept import WalkMean, find_score, walk_mean
from imucarry.carry.pace import Pace, group_alike, read_pace

YAW = "sternum_yaw_range"
SWING = "arm_swing"
COMPARED = ((YAW, "none"), (SWING, "left"), (SWING, "right"))


@dataclass(frozen=True, slots=True)
class VisitBouts:
    """All bouts of one visit in one order, with what the comparisons need of each.

    ``means`` holds a bout's mean by its index, the measure and the side; None where it
    is missing.
    """

    bouts: tuple[BoutData, ...]
    scores: tuple[Sequence[Score], ...]
    paces: tuple[Pace, ...]
    means: Mapping[tuple[int, str, str], WalkMean | None]
    settings: CarrySettings


def gather_bouts(
    bouts: Sequence[BoutData], scores: Sequence[Sequence[Score]], settings: CarrySettings
) -> VisitBouts:
    """Gather the bouts of one visit; the means of yaw and swing are worked out once."""
    means = {
        (index, measure, side): walk_mean(data, find_score(own, measure, side))
        for index, (data, own) in enumerate(zip(bouts, scores, strict=True))
        for measure, side in COMPARED
    }
    paces = tuple(read_pace(own) for own in scores)
    return VisitBouts(tuple(bouts), tuple(scores), paces, means, settings)


def is_free(data: BoutData) -> bool:
    """Whether a bout is an unloaded walk."""
    return data.row.hold == "free"


def baseline_indices(visit: VisitBouts, index: int) -> tuple[int, ...]:
    """Return the free bouts that a bout is compared with: the named ones, else all others."""
    named = visit.bouts[index].row.baseline
    return tuple(
        k
        for k, data in enumerate(visit.bouts)
        if k != index and is_free(data) and (not named or data.row.bout in named)
    )


def started_at(data: BoutData) -> float:
    """Return when a bout started [s]; its place in the sheet where no time is known."""
    return data.row.start_s if np.isfinite(data.row.start_s) else float(data.ordinal)


def grouped_means(
    visit: VisitBouts, indices: Sequence[int], measure: str, side: str
) -> dict[int, WalkMean]:
    """Return the means of bouts, by index, numbered by like pace; missing ones left out."""
    means = {k: visit.means[k, measure, side] for k in indices}
    there = {k: mean for k, mean in means.items() if mean is not None}
    groups = group_alike([visit.paces[k] for k in there], visit.settings.speed_match_pct)
    return {
        k: replace(mean, group=group)
        for (k, mean), group in zip(there.items(), groups, strict=True)
    }
