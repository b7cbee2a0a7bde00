"""Which bouts of a cohort repeat each other: in one visit, and from visit to visit."""

from __future__ import annotations

import math

import numpy as np

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import FloatArray

Values = list[tuple[float, float, float]]  # (start, value, cadence)
Visits = dict[int, Values]  # by the place of the visit in time
Cell = dict[str, Visits]  # by participant


def within_visit(cell: Cell) -> FloatArray:
    """First bout and first repeat in the first visit that has one, shape (participants, 2)."""
    pairs = []
    for participant in sorted(cell):
        repeated = (_repeated(values) for values in _in_order(cell[participant]))
        pairs += [found for found in repeated if found][:1]
    return np.array(pairs, dtype=np.float64).reshape(-1, 2)


def _repeated(values: Values) -> list[float]:
    """Return the earliest value that a later one repeats, and that one; [] without a repeat."""
    known = [item for item in values if math.isfinite(item[1])]
    for k, (_, first, pace) in enumerate(known):
        for _, second, other_pace in known[k + 1 :]:
            if not _paces_differ(pace, other_pace):
                return [first, second]
    return []


def _paces_differ(first_spm: float, second_spm: float) -> bool:
    """Return whether two cadences are known and apart."""
    most = math.log1p(evidence.REPEAT_CADENCE_PCT.value / 100.0)
    known = first_spm > 0 and second_spm > 0
    return known and abs(math.log(second_spm / first_spm)) > most


def over_visits(cell: Cell) -> FloatArray:
    """A bout of each of the first two visits, where both have a value, shape (participants, 2).

    The first of the first visit that one of the second repeats, and the first that does.
    """
    pairs = []
    for participant in sorted(cell):
        visits = _in_order(cell[participant])
        pairs += _first_alike(*visits[:2]) if len(visits) > 1 else []
    both = np.array(pairs, dtype=np.float64).reshape(-1, 2)
    return both[np.isfinite(both).all(axis=1)]


def _first_alike(one: Values, two: Values) -> list[list[float]]:
    """Return the values of the first two bouts of like cadence, missing ones too, as one row."""
    for _, first, pace in one:
        for _, second, other_pace in two:
            if not _paces_differ(pace, other_pace):
                return [[first, second]]
    return []


def _in_order(visits: Visits) -> list[Values]:
    return [visits[place] for place in sorted(visits)]
