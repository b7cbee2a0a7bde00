"""Contact times to a fraction of a sample, from the mean shape of the bout's contacts."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.grid import filtered


def parabola_peak(x: FloatArray, index: IntArray) -> FloatArray:
    """Return peaks between the samples, from the parabola through three of them."""
    inside = np.clip(index, 1, x.size - 2)
    before, at, after = x[inside - 1], x[inside], x[inside + 1]
    bend = before - 2.0 * at + after
    shift = 0.5 * (before - after) / np.where(bend < 0, bend, -np.inf)
    return np.asarray(inside + np.clip(shift, -1.0, 1.0), dtype=np.float64)


def pieces(x: FloatArray, centre: FloatArray, offset: FloatArray) -> FloatArray:
    """Return a signal around some moments, by linear interpolation.

    Parameters
    ----------
    x : ndarray, shape (N, C)
    centre : ndarray, shape (K,)
        Moments in samples, fractions allowed.
    offset : ndarray, shape (W,)
        In samples.

    Returns
    -------
    ndarray, shape (K, W, C)
    """
    at = np.clip(centre[:, None] + offset, 0, x.shape[0] - 1.001)
    low = at.astype(np.int64)
    part = (at - low)[..., None]
    result: FloatArray = x[low] * (1.0 - part) + x[low + 1] * part
    return result


def best_shift(error: FloatArray, step: float) -> FloatArray:
    """Return the shift of least error, between the ones that were tried.

    Parameters
    ----------
    error : ndarray, shape (K, S)
        S odd; the middle column is no shift.
    step : float
        From column to column.
    """
    n_shifts = error.shape[1]
    rows = np.arange(error.shape[0])
    least = np.clip(error.argmin(axis=1), 1, n_shifts - 2)
    before, at, after = error[rows, least - 1], error[rows, least], error[rows, least + 1]
    bend = before - 2.0 * at + after
    part = 0.5 * (before - after) / np.where(bend > 0, bend, np.inf)
    return np.asarray((least - n_shifts // 2 + np.clip(part, -1.0, 1.0)) * step)


def refine_times(
    acc_mps2: FloatArray, rate_hz: float, centre: FloatArray, is_left: BoolArray
) -> FloatArray:
    """Lay each contact's shape on the mean shape and return the moved moments.

    Parameters
    ----------
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Along forward, left, up, without gravity.
    rate_hz : float [Hz]
    centre : ndarray, shape (K,)
        First moments, in samples.
    is_left : ndarray of bool, shape (K,)

    Returns
    -------
    ndarray, shape (K,)
        In samples.

    Notes
    -----
    Both feet share one shape (lateral acceleration mirrored), so that no bias
    arises between them. (1) Cut the shapes at the present moments and take
    their mean. (2) For each contact find the shift from its first moment that
    leaves the least squared difference. (3) Repeat.
    """
    if centre.size < evidence.SHAPE_LEAST_CONTACTS.value:
        return centre
    low_hz, high_hz = evidence.SHAPE_LOW_HZ.value, evidence.SHAPE_CUTOFF_HZ.value
    x = filtered(acc_mps2, rate_hz, low_hz=low_hz, high_hz=high_hz)
    mirror = np.ones((centre.size, 1, 3))
    mirror[~is_left, :, 1] = -1.0
    half = evidence.SHAPE_HALF_S.value * rate_hz
    offset = np.arange(-np.floor(half), np.floor(half) + 1)
    n_shifts = int(evidence.SHAPE_SHIFT_S.value * rate_hz)
    shifts = np.arange(-n_shifts, n_shifts + 1)
    tried = np.stack([pieces(x, centre + s, offset) * mirror for s in shifts], axis=1)
    price = evidence.SHAPE_SHIFT_COST.value * (shifts / rate_hz) ** 2
    moved = centre
    for _ in range(evidence.SHAPE_ROUNDS.value):
        shape = (pieces(x, moved, offset) * mirror).mean(axis=0)
        error = ((tried - shape) ** 2).sum(axis=(2, 3)) / max((shape**2).sum(), 1e-12)
        moved = centre + best_shift(error + price, 1.0)
    return moved
