"""Speed and stride length of a bout against the free walks, or cadence without a distance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.records import Score
from imucarry.carry.kept import find_score


@dataclass(frozen=True, slots=True)
class Pace:
    """Speed [m/s] and stride length [m]; NaN where the distance is not known."""

    speed_mps: float
    stride_length_m: float


def read_pace(scores: Sequence[Score]) -> Pace:
    """Return a bout's speed and stride length from its scores; NaN where they are missing."""
    found = (find_score(scores, name) for name in ("speed", "stride_length"))
    return Pace(*(score.estimate.value if score else float("nan") for score in found))


def read_cadence(scores: Sequence[Score]) -> float:
    """Return a bout's cadence [steps/min] from its scores; NaN where it is missing."""
    score = find_score(scores, "cadence")
    return score.estimate.value if score is not None else float("nan")


def is_known(pace: Pace) -> bool:
    """Whether speed and stride length are both there."""
    return bool(np.isfinite(pace.speed_mps) and np.isfinite(pace.stride_length_m))


def pace_gap(one: Pace, other: Pace) -> float:
    """Larger of the relative differences in speed and in stride length."""
    return max(
        abs(float(np.log(one.speed_mps / other.speed_mps))),
        abs(float(np.log(one.stride_length_m / other.stride_length_m))),
    )


def alike(one: Pace, other: Pace, match_pct: float) -> bool:
    """Whether two walks were walked alike: speed and stride length within `match_pct`."""
    return pace_gap(one, other) <= float(np.log1p(match_pct / 100.0))


def nearest(one: Pace, others: Sequence[Pace]) -> Pace:
    """Return the pace that is most like another; both speed and stride length count."""
    return min(others, key=lambda other: pace_gap(one, other))


def group_alike(paces: Sequence[Pace], match_pct: float) -> list[int]:
    """Number the walks so that walks of like pace share a number.

    Each walk joins the first earlier walk that it is like; where any pace is
    unknown all walks share one number, since nothing tells them apart.
    """
    if not all(is_known(pace) for pace in paces):
        return [0] * len(paces)
    groups: list[int] = []
    for index, pace in enumerate(paces):
        like = [k for k in range(index) if alike(pace, paces[k], match_pct)]
        groups.append(groups[like[0]] if like else index)
    return groups
