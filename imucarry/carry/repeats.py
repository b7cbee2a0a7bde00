"""Which bouts of a cohort repeat each other: in one visit, and from visit to visit."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import FloatArray


class Value(NamedTuple):
    """A measure of one bout."""

    start_s: float
    value: float
    cadence_spm: float  # NaN where it may differ between repeats
    free_walks: frozenset[str] = frozenset()  # bouts that it is a share of
    is_ended: bool = False  # by pain above the limit, or early


Values = list[Value]
Visits = dict[int, Values]  # by the place of the visit in time
Cell = dict[str, Visits]  # by participant
FIRST_TWO = (0, 1)
"""Places of a participant's first two visits."""


class Pairs(NamedTuple):
    """Two values of each participant."""

    participants: tuple[str, ...]
    values: FloatArray  # shape (participants, 2)
    n_later: int = 0  # participants whose two visits are not their first two
    n_shared: int = 0  # participants whose two values are shares of the same free walks
    n_ended: int = 0  # participants of whom a bout had pain above the limit or an early stop


def within_visit(cell: Cell) -> Pairs:
    """Return the first bout and its first repeat in the first visit that has one."""
    found = {}
    for participant in sorted(cell):
        visits = (values for _, values in _with_values(cell[participant]))
        pair = next(filter(None, map(_repeated, visits)), None)
        if pair:
            found[participant] = pair
    n_shared = sum(bool(one.free_walks & two.free_walks) for one, two in found.values())
    return _pairs(found, n_shared=n_shared)


def _repeated(values: Values) -> tuple[Value, Value] | None:
    """Return the earliest value that a later one repeats, and that one."""
    for k, one in enumerate(values):
        for two in values[k + 1 :]:
            if not _paces_differ(one.cadence_spm, two.cadence_spm):
                return one, two
    return None


def _paces_differ(first_spm: float, second_spm: float) -> bool:
    """Return whether two cadences are known and apart."""
    most = math.log1p(evidence.REPEAT_CADENCE_PCT.value / 100.0)
    known = first_spm > 0 and second_spm > 0
    return known and abs(math.log(second_spm / first_spm)) > most


def over_visits(cell: Cell) -> Pairs:
    """Return a bout of each of the first two visits that have a value.

    The first of the first visit that one of the second repeats, and the first that does.
    """
    found = {}
    n_later = 0
    for participant in sorted(cell):
        visits = _with_values(cell[participant])[:2]
        pair = _first_alike(*(values for _, values in visits)) if len(visits) > 1 else None
        if pair:
            found[participant] = pair
            n_later += tuple(place for place, _ in visits) != FIRST_TWO
    return _pairs(found, n_later=n_later)


def _first_alike(first: Values, second: Values) -> tuple[Value, Value] | None:
    """Return the first two bouts of like cadence."""
    for one in first:
        for two in second:
            if not _paces_differ(one.cadence_spm, two.cadence_spm):
                return one, two
    return None


def _with_values(visits: Visits) -> list[tuple[int, Values]]:
    """Return the visits that have a value, in their order, with their values."""
    known = (
        (place, [item for item in visits[place] if math.isfinite(item.value)])
        for place in sorted(visits)
    )
    return [(place, values) for place, values in known if values]


def _pairs(found: dict[str, tuple[Value, Value]], *, n_later: int = 0, n_shared: int = 0) -> Pairs:
    values = [[one.value, two.value] for one, two in found.values()]
    pairs = np.array(values, dtype=np.float64).reshape(-1, 2)
    n_ended = sum(one.is_ended or two.is_ended for one, two in found.values())
    return Pairs(tuple(found), pairs, n_later, n_shared, n_ended)
