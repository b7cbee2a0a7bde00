"""Which values of a bout are neighbours, and how much their likeness costs.

Strides of one pass that follow each other are alike; strides of different passes
are taken as independent, for a turn lies between them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from imucarry.basics.evidence.measures import LEAST_FREEDOM, MOST_CORRELATION
from imucarry.basics.records import BoolArray, FloatArray, IntArray

MOST = MOST_CORRELATION.value
# The largest correlation that is believed has fallen to 0.002 at this lag.
MOST_LAG = 60
CORRECTION_ROUNDS = 4


@dataclass(frozen=True, slots=True)
class Neighbours:
    """The order of `n` values.

    Attributes
    ----------
    pass_number, position : ndarray of int, shape (n,)
        Pass of each value and its place in the pass, rising.
    adjacent : ndarray of bool, shape (n - 1,)
        Whether value i + 1 directly follows value i in the same pass.
    n_adjacent : int
        How many values directly follow another.
    pairs : tuple of float
        Number of pairs of values in the same pass by their distance in strides, from 1 up
        to the farthest that occurs. Plain numbers: so few are summed sooner without arrays.
    """

    pass_number: IntArray
    position: IntArray
    adjacent: BoolArray
    n_adjacent: int
    pairs: tuple[float, ...]


def neighbours(pass_number: ArrayLike, position: ArrayLike) -> Neighbours:
    """Return the order of values from the pass and the place of each.

    Parameters
    ----------
    pass_number, position : array_like of int, shape (n,)
        Sorted by pass, then by place in the pass.
    """
    run = np.asarray(pass_number, dtype=np.int64)
    place = np.asarray(position, dtype=np.int64)
    adjacent = (np.diff(run) == 0) & (np.diff(place) == 1)
    pairs = tuple(np.trim_zeros(_lag_counts(run, place)[1:], "b").tolist())
    return Neighbours(run, place, adjacent, int(np.count_nonzero(adjacent)), pairs)


def unrelated(n_values: int) -> Neighbours:
    """Return the order of values none of which follows another."""
    return neighbours(np.arange(n_values), np.zeros(n_values, dtype=np.int64))


def subset(order: Neighbours, mask: BoolArray) -> Neighbours:
    """Return the order of the values that a mask of shape (n,) picks."""
    if mask.all():
        return order
    return neighbours(order.pass_number[mask], order.position[mask])


def _lag_counts(run: IntArray, place: IntArray) -> FloatArray:
    """Count the pairs of values of one pass by their distance, shape (MOST_LAG + 1,)."""
    if run.size == 0:
        return np.zeros(MOST_LAG + 1)
    step = np.where(np.diff(run) == 0, np.diff(place), MOST_LAG + 1)
    slot = np.concatenate(([0], np.cumsum(np.minimum(step, MOST_LAG + 1))))
    size = 1 << int(slot[-1] + MOST_LAG + 1).bit_length()
    occupied = np.zeros(size)
    occupied[slot] = 1.0
    power = np.abs(np.fft.rfft(occupied)) ** 2
    counts: FloatArray = np.round(np.fft.irfft(power, size)[: MOST_LAG + 1])
    return counts


def variance_inflation(correlation: float, order: Neighbours) -> float:
    """Return by what factor likeness of neighbours inflates the variance of the mean.

    For a first-order autoregression: ``1 + 2/n sum over pairs of correlation**lag``.
    """
    alike = 0.0
    for count in reversed(order.pairs):  # Horner's rule
        alike = (alike + count) * correlation
    return 1.0 + 2.0 * alike / order.position.size


def effective_freedom(n_values: int, inflation: float, n_fitted: int = 1) -> float:
    """Return the degrees of freedom that likeness leaves of n values: n / V less those fitted.

    Not fewer than `LEAST_FREEDOM`, nor than unrelated values would have.
    """
    least = min(LEAST_FREEDOM.value, float(n_values - n_fitted))
    return max(n_values / inflation - n_fitted, least)


def neighbour_correlation(deviations: FloatArray, order: Neighbours) -> float:
    """Return the bias-corrected correlation of neighbouring values, 0 to MOST.

    Parameters
    ----------
    deviations : ndarray, shape (n,)
        Values less their mean.

    Notes
    -----
    1. The raw correlation takes only pairs that follow each other in one pass.
    2. Taking out the mean of the same values lowers it by the variance of that mean,
       the ratio of two estimates by a further 2/n of itself (both to first order:
       Marriott & Pope 1954, Biometrika 41:390-402; Kendall 1954, Biometrika 41:403-404;
       from memory, not confirmed). The correction is solved by a few rounds, for the
       variance of the mean depends on the correlation.
    3. A negative estimate counts as 0: an interval never gains from it.
    """
    n_values = deviations.size
    n_pairs = order.n_adjacent
    total = float(deviations @ deviations)
    if n_pairs == 0 or total <= 0.0 or n_values <= 2:  # two values tell nothing of likeness
        return 0.0
    products = deviations[1:] * deviations[:-1]
    raw = float(products @ order.adjacent) / n_pairs * n_values / total
    corrected = raw
    for _ in range(CORRECTION_ROUNDS):
        bounded = min(max(corrected, 0.0), MOST)
        of_mean = variance_inflation(bounded, order) / n_values
        before, corrected = corrected, (raw + of_mean * (1.0 - bounded)) / (1.0 - 2.0 / n_values)
        if corrected == before:
            break
    return min(max(corrected, 0.0), MOST)


def finite_only(values: FloatArray, order: Neighbours | None) -> tuple[FloatArray, Neighbours]:
    """Return the finite values and their order; unrelated without one."""
    finite = np.isfinite(values)
    order = unrelated(values.size) if order is None else order
    return values[finite], subset(order, finite)
