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


def shifted_pieces(
    x: FloatArray, centre: FloatArray, offset: FloatArray, shifts: FloatArray
) -> FloatArray:
    """Return a signal around some moments, and around those moments shifted.

    Parameters
    ----------
    x : ndarray, shape (N, C)
    centre : ndarray, shape (K,)
        Moments in samples, fractions allowed.
    offset, shifts : ndarray, shapes (W,) and (S,)
        In whole samples, without a step left out.

    Returns
    -------
    ndarray, shape (K, S, C, W)
        A view: whole shifts leave the fraction alone, so that one wide piece holds all.
    """
    wide = np.arange(offset[0] + shifts[0], offset[-1] + shifts[-1] + 1)
    view: FloatArray = np.lib.stride_tricks.sliding_window_view(
        pieces(x, centre, wide), offset.size, axis=1
    )
    return view


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
    """Return the contacts of a bout to a fraction of a sample.

    Parameters
    ----------
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Along forward, left, up, without gravity.
    rate_hz : float [Hz]
    centre : ndarray, shape (K,)
        The trunk's steepest answers, in samples.
    is_left : ndarray of bool, shape (K,)

    Returns
    -------
    ndarray, shape (K,)
        In samples.

    Notes
    -----
    1. Each foot's contacts are laid on that foot's mean shape.
    2. The two mean shapes are laid on each other, mirrored, in the moment of
       contact alone, so that no bias arises between the feet.
    3. 1 and 2 are repeated.
    4. All are moved together to where mean forward acceleration peaks.
    """
    if min(is_left.sum(), (~is_left).sum()) < evidence.SHAPE_LEAST_CONTACTS.value:
        return centre - evidence.CONTACT_DELAY_S.value * rate_hz
    high_hz = evidence.SHAPE_CUTOFF_HZ.value
    whole = filtered(acc_mps2, rate_hz, low_hz=evidence.SHAPE_LOW_HZ.value, high_hz=high_hz)
    quick = filtered(acc_mps2, rate_hz, low_hz=evidence.FEET_LOW_HZ.value, high_hz=high_hz)
    moved = centre
    for _ in range(evidence.SHAPE_ROUNDS.value):
        moved = moved.copy()
        for foot in (is_left, ~is_left):
            moved[foot] = laid_on_shape(whole, rate_hz, centre[foot], moved[foot])
        apart = feet_apart(quick[:, [0, 2]], rate_hz, moved[is_left], moved[~is_left])
        moved += np.where(is_left, -0.5, 0.5) * apart
    return moved + braking(acc_mps2[:, 0], rate_hz, moved)


def around(half_s: float, rate_hz: float) -> FloatArray:
    """Return whole-sample offsets to both sides, shape (W,)."""
    half = np.floor(half_s * rate_hz)
    return np.arange(-half, half + 1)


def laid_on_shape(
    x: FloatArray, rate_hz: float, first: FloatArray, moved: FloatArray
) -> FloatArray:
    """Lay each contact on the mean shape at the moved moments.

    Parameters
    ----------
    x : ndarray, shape (N, C)
    rate_hz : float [Hz]
    first, moved : ndarray, shape (K,)
        First moments, from which shifts are sought, and present ones, in samples.

    Returns
    -------
    ndarray, shape (K,)
    """
    offset = around(evidence.SHAPE_HALF_S.value, rate_hz)
    shifts = around(evidence.SHAPE_SHIFT_S.value, rate_hz)
    shape = pieces(x, moved, offset).mean(axis=0)
    apart = shifted_pieces(x, first, offset, shifts) - shape.T
    error = np.einsum("kscw,kscw->ks", apart, apart)
    price = evidence.SHAPE_SHIFT_COST.value * (shifts / rate_hz) ** 2
    return first + best_shift(error / max((shape**2).sum(), 1e-12) + price, 1.0)


def feet_apart(x: FloatArray, rate_hz: float, left: FloatArray, right: FloatArray) -> float:
    """Return by how much left contacts are put later than right ones, in samples."""
    offset = around(evidence.FEET_HALF_S.value, rate_hz)
    shifts = around(evidence.SHAPE_SHIFT_S.value, rate_hz)
    mean_right = pieces(x, right, offset).mean(axis=0)
    mean_left = shifted_pieces(x, left, offset, shifts).mean(axis=0)[::-1]
    error = ((mean_left - mean_right.T) ** 2).sum(axis=(1, 2))
    return float(best_shift(error[None], 1.0)[0])


def braking(forward_mps2: FloatArray, rate_hz: float, moved: FloatArray) -> float:
    """Return the shift from the present moments to contact, in samples."""
    smooth = filtered(forward_mps2, rate_hz, high_hz=evidence.BRAKING_CUTOFF_HZ.value)
    offset = around(evidence.BRAKING_SEARCH_S.value, rate_hz)
    shape = pieces(smooth[:, None], moved, offset).mean(axis=0)[:, 0]
    peak = parabola_peak(shape, np.array([shape.argmax()]))[0]
    return float(peak + offset[0] + evidence.BRAKING_DELAY_S.value * rate_hz)
