"""Which bouts of a cohort repeat each other: in one visit, and from visit to visit."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import FloatArray

Values = list[tuple[float, float, float]]  # (start, value, cadence)
Visits = dict[int, Values]  # by the place of the visit in time
Cell = dict[str, Visits]  # by participant
FIRST_TWO = (0, 1)
"""Places of a participant's first two visits."""


class Pairs(NamedTuple):
    """Two values of each participant."""

    participants: tuple[str, ...]
    values: FloatArray  # shape (participants, 2)
    n_later: int = 0  # participants whose two visits are not their first two


def within_visit(cell: Cell) -> Pairs:
    """Return the first bout and its first repeat in the first visit that has one."""
    found: dict[str, list[float]] = {}
    for participant in sorted(cell):
        visits = (values for _, values in _with_values(cell[participant]))
        pair: list[float] = next(filter(None, map(_repeated, visits)), [])
        if pair:
            found[participant] = pair
    return _pairs(found)


def _repeated(values: Values) -> list[float]:
    """Return the earliest value that a later one repeats, and that one; [] without a repeat."""
    for k, (_, first, pace) in enumerate(values):
        for _, second, other_pace in values[k + 1 :]:
            if not _paces_differ(pace, other_pace):
                return [first, second]
    return []


def _paces_differ(first_spm: float, second_spm: float) -> bool:
    """Return whether two cadences are known and apart."""
    most = math.log1p(evidence.REPEAT_CADENCE_PCT.value / 100.0)
    known = first_spm > 0 and second_spm > 0
    return known and abs(math.log(second_spm / first_spm)) > most


def over_visits(cell: Cell) -> Pairs:
    """Return a bout of each of the first two visits that have a value.

    The first of the first visit that one of the second repeats, and the first that does.
    """
    found: dict[str, list[float]] = {}
    n_later = 0
    for participant in sorted(cell):
        visits = _with_values(cell[participant])[:2]
        pair = _first_alike(*(values for _, values in visits)) if len(visits) > 1 else []
        if pair:
            found[participant] = pair
            n_later += tuple(place for place, _ in visits) != FIRST_TWO
    return _pairs(found, n_later)


def _first_alike(one: Values, two: Values) -> list[float]:
    """Return the values of the first two bouts of like cadence; [] without such."""
    for _, first, pace in one:
        for _, second, other_pace in two:
            if not _paces_differ(pace, other_pace):
                return [first, second]
    return []


def _with_values(visits: Visits) -> list[tuple[int, Values]]:
    """Return the visits that have a value, in their order, with their values."""
    known = (
        (place, [item for item in visits[place] if math.isfinite(item[1])])
        for place in sorted(visits)
    )
    return [(place, values) for place, values in known if values]


def _pairs(found: dict[str, list[float]], n_later: int = 0) -> Pairs:
    values = np.array(list(found.values()), dtype=np.float64).reshape(-1, 2)
    return Pairs(tuple(found), values, n_later)
