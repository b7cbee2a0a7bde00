"""The step period over time, from the trunk's mirror symmetry.

One step later the trunk moves as its own mirror image: forward and vertical
acceleration repeat, lateral acceleration changes sign. The lag at which that
holds best is the step period; twice the lag (a stride) and half the lag (the
second hump of the vertical) do not have it.

In a limp one step is hardly an image of the other. It is then asked too that all
three repeat after two steps, a stride, as they do in every walk.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import FloatArray, IntArray
from imucarry.walk.grid import Spectrum, band

LAGS_AN_OCTAVE = 36.0 / float(np.log2(4.2))  # 4 % from lag to lag
LAGS_AN_OCTAVE_LOPSIDED = 18.0  # whole, so that the half and the double of a lag are lags too


@cache
def step_lags_s(an_octave: float = LAGS_AN_OCTAVE) -> FloatArray:
    """Return the step periods that are tried, log-spaced, so many to an octave [s]."""
    shortest = 0.5 / evidence.STRIDE_RATE_MAX_HZ.value
    longest = 1.05 * 0.5 / evidence.STRIDE_RATE_MIN_HZ.value
    n_steps = int(an_octave * np.log2(longest / shortest))
    lags_s = shortest * 2.0 ** (np.arange(n_steps + 1) / an_octave)
    lags_s.setflags(write=False)
    return lags_s


def even_and_odd(acc: Spectrum, lags_s: FloatArray, hop: int) -> tuple[FloatArray, FloatArray]:
    """Return how well the trunk repeats itself after each lag, over time.

    Parameters
    ----------
    acc : Spectrum
        Of acceleration along forward, left, up, without gravity [m/s^2].
    lags_s : ndarray, shape (L,) [s]
    hop : int
        Samples from one row of the results to the next.

    Returns
    -------
    even, odd : ndarray, shape (ceil(N / hop), L)
        Of forward and up together, and of left: 1 repeats, 0 nothing, -1 the opposite.
    """
    x = band(
        acc, low_hz=evidence.RHYTHM_BAND_LOW_HZ.value, high_hz=evidence.RHYTHM_BAND_HIGH_HZ.value
    )
    lags = np.rint(lags_s * acc.rate_hz).astype(int)
    width = int(evidence.RHYTHM_WINDOW_S.value * acc.rate_hz)
    windows = Windows.every(hop, width, acc.n_samples)
    means = np.stack([_mirror_means(x, lag, windows) for lag in (0, *lags.tolist())])
    floor = evidence.RHYTHM_EVEN_FLOOR_M2PS4.value, evidence.RHYTHM_ODD_FLOOR_M2PS4.value
    even, odd = np.moveaxis(means[1:] / (means[0] + np.array(floor)[:, None]), 1, 0)
    return np.asarray(even.T), np.asarray(odd.T)


def _mirror_means(x: FloatArray, lag: int, windows: Windows) -> FloatArray:
    """Return the mean products with what is a lag later in each window, shape (2, R).

    Of what repeats (forward and up together), and of what changes sign (left).
    """
    n_samples = x.shape[1]
    product = np.zeros(x.shape)
    if lag < n_samples:
        # Each product belongs to the middle of its two samples.
        middle = slice(lag // 2, lag // 2 + n_samples - lag)
        np.multiply(x[:, : n_samples - lag], x[:, lag:], out=product[:, middle])
        product[0] += product[2]
    return windows.means(product[:2])


@dataclass(frozen=True, slots=True)
class Windows:
    """Windows around every `hop`-th sample, cut off at the ends; R of them with E edges.

    Attributes
    ----------
    edge : ndarray of int, shape (E,)
        Where windows begin or end, in order; the end of the signal is left out.
    first, last : ndarray of int, shape (R,)
        Edges at which each window begins and ends.
    n_inside : ndarray of int, shape (R,)
        Samples in each window.
    """

    edge: IntArray
    first: IntArray
    last: IntArray
    n_inside: IntArray

    @classmethod
    def every(cls, hop: int, width: int, n_samples: int) -> Windows:
        """Return windows of a width, made odd, over a signal of N samples."""
        index = np.arange(0, n_samples, hop)
        low = np.maximum(index - width // 2, 0)
        high = np.minimum(index + width // 2 + 1, n_samples)
        edge = np.unique(np.concatenate([low, high]))
        edge = edge[edge < n_samples]
        return cls(edge, np.searchsorted(edge, low), np.searchsorted(edge, high), high - low)

    def means(self, x: FloatArray) -> FloatArray:
        """Return the mean of a signal in each window, shapes (C, N) to (C, R).

        Sums from each edge to the next come first: they are few to run through.
        """
        total = np.zeros((x.shape[0], self.edge.size + 1))
        np.cumsum(np.add.reduceat(x, self.edge, axis=1), axis=1, out=total[:, 1:])
        sums = total.take(self.last, axis=1) - total.take(self.first, axis=1)
        return np.asarray(sums / self.n_inside)


def without_multiples(mirror: FloatArray, lags_s: FloatArray) -> FloatArray:
    """Take from each lag part of what its half and its third have.

    Three steps later the trunk is mirrored too, and two steps later it nearly is
    where the sway is small.

    Parameters
    ----------
    mirror : ndarray, shape (R, L)
    lags_s : ndarray, shape (L,) [s]

    Returns
    -------
    ndarray, shape (R, L)
    """
    padded = np.pad(np.maximum(mirror, 0.0), ((0, 0), (1, 1)))
    near = np.maximum(np.maximum(padded[:, :-2], padded[:, 2:]), padded[:, 1:-1])
    result = mirror.copy()
    for divisor in (2.0, 3.0):
        parts_s = lags_s / divisor
        has_part = parts_s >= lags_s[0]
        part = np.abs(lags_s - parts_s[has_part, None]).argmin(axis=1)
        result[:, has_part] -= evidence.RHYTHM_MULTIPLE_FRAC.value * near[:, part]
    return result


def smoothest_path(reward: FloatArray, lags_s: FloatArray) -> IntArray:
    """Return the row-by-row choice of lag with the most reward and the least change.

    Parameters
    ----------
    reward : ndarray, shape (R, L)
    lags_s : ndarray, shape (L,) [s]

    Returns
    -------
    ndarray of int, shape (R,)

    Notes
    -----
    Dynamic programming over rows (Viterbi 1967).
    """
    change = np.abs(np.log(lags_s[:, None] / lags_s[None, :]))
    cost = evidence.RHYTHM_CHANGE_COST.value * np.minimum(change, evidence.RHYTHM_JUMP_LIMIT.value)
    best = np.empty(reward.shape)
    best[0] = reward[0]
    total = np.empty(cost.shape)
    for row in range(1, reward.shape[0]):
        # From each lag, down the columns, to each lag: a change costs the same both ways.
        np.subtract(best[row - 1, :, None], cost, out=total)
        np.maximum.reduce(total, axis=0, out=best[row])
        best[row] += reward[row]
    path = np.empty(reward.shape[0], dtype=np.int64)
    path[-1] = best[-1].argmax()
    for row in range(reward.shape[0] - 1, 0, -1):
        path[row - 1] = (best[row - 1] - cost[path[row]]).argmax()
    return path


def is_lopsided(strength: FloatArray) -> bool:
    """Whether one step is hardly a mirror image of the other in most of a walk, as in a limp."""
    walked = strength[strength > evidence.RHYTHM_ANY_STRENGTH.value]
    return bool(walked.size and np.median(walked) < evidence.RHYTHM_MIRROR_CLEAR.value)


def step_rhythm(acc: Spectrum) -> tuple[FloatArray, FloatArray]:
    """Return the step period [s] and its strength (0 to 1) at every sample.

    Parameters
    ----------
    acc : Spectrum
        Of acceleration along forward, left, up, without gravity [m/s^2].

    Returns
    -------
    period_s, strength : ndarray, shape (N,)
    """
    hop = max(1, int(evidence.RHYTHM_HOP_S.value * acc.rate_hz))
    lags_s = step_lags_s()
    even, odd = even_and_odd(acc, lags_s, hop)
    mirror = (even - odd) / 2.0
    reward = without_multiples(mirror, lags_s)
    path = smoothest_path(reward, lags_s)
    if is_lopsided(mirror[np.arange(path.size), path]):
        lags_s = step_lags_s(LAGS_AN_OCTAVE_LOPSIDED)
        even, odd = even_and_odd(acc, lags_s, hop)
        mirror = (even - odd) / 2.0
        even, odd = even_and_odd(acc, 2.0 * lags_s, hop)
        reward = without_multiples(mirror, lags_s)
        reward += evidence.RHYTHM_STRIDE_WEIGHT.value * (even + odd) / 2.0
        path = smoothest_path(reward, lags_s)
    rows = np.arange(path.size)
    samples, knots = np.arange(acc.n_samples), rows * hop
    period_s = np.exp(np.interp(samples, knots, np.log(lags_s[path])))
    strength = np.interp(samples, knots, mirror[rows, path])
    return period_s, strength
