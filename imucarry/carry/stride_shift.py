"""Whether strides of two tables are paired with their neighbours: clocks apart by whole strides."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import FloatArray, IntArray
from imucarry.basics.statistics import robust_sd

Group = tuple[FloatArray, FloatArray, IntArray, IntArray]
"""Starts of the strides in both tables [s], and the rows of the pairs."""


def whole_stride_shift(groups: Sequence[Group]) -> float:
    """Return by how much B begins later if its strides are paired with neighbours.

    Parameters
    ----------
    groups : sequence of (starts in A, starts in B, rows of A, rows of B)
        One a bout: starts [s], rising, and the rows that were paired.

    Returns
    -------
    float [s]
        NaN where the pairs fit as they are, or are too few to tell.

    Notes
    -----
    One and the same stride begins in both tables at the same distance but for errors of
    contacts; a stride and its neighbour begin at a distance that varies as strides do.
    So where the distances spread clearly less with another partner, some strides on,
    that one is the same stride.
    """
    reach = int(evidence.SHIFT_MOST_STRIDES.value)
    later = {k: _later(groups, k) for k in range(-reach, reach + 1)}
    least = evidence.SHIFT_LEAST_PAIRS.value
    spreads = {k: robust_sd(values) for k, values in later.items() if values.size >= least}
    if 0 not in spreads:
        return math.nan
    best = min(spreads, key=lambda k: (spreads[k], abs(k)))
    if spreads[best] >= evidence.SHIFT_SPREAD_RATIO.value * spreads[0]:
        return math.nan
    return float(np.median(later[best]))


def _later(groups: Sequence[Group], k: int) -> FloatArray:
    """Return how much later the k-th stride after each partner begins."""
    found = [np.empty(0)]
    for a_s, b_s, rows_a, rows_b in groups:
        there = (rows_b + k >= 0) & (rows_b + k < b_s.size)
        found.append(b_s[rows_b[there] + k] - a_s[rows_a[there]])
    return np.concatenate(found)
