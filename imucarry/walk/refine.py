"""Contact times to a fraction of a sample, from the mean shape of the bout's contacts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.candidates import peaks
from imucarry.walk.grid import Spectrum, band, mixed


def parabola_peak(x: FloatArray, index: IntArray) -> FloatArray:
    """Return peaks between the samples, from the parabola through three of them."""
    inside = np.clip(index, 1, x.size - 2)
    before, at, after = x[inside - 1], x[inside], x[inside + 1]
    bend = before - 2.0 * at + after
    shift = 0.5 * (before - after) / np.where(bend < 0, bend, -np.inf)
    return np.asarray(inside + np.clip(shift, -1.0, 1.0), dtype=np.float64)


def pieces(x: FloatArray, centre: FloatArray, half: int) -> FloatArray:
    """Return a signal around some moments, by linear interpolation.

    Parameters
    ----------
    x : ndarray, shape (C, N)
        Before its start and after its end its first and last sample go on.
    centre : ndarray, shape (K,)
        Moments in samples, fractions allowed.
    half : int
        Samples to either side, W = 2 half + 1 together.

    Returns
    -------
    ndarray, shape (C, K, W)
    """
    n_samples = x.shape[1]
    wide = 2 * half + 2  # one more, to interpolate
    low = np.floor(centre).astype(np.int64)
    first = low - half
    if not first.size or first.min() < 0 or first.max() > n_samples - wide:
        ends = np.ones(wide)
        x = np.concatenate([x[:, :1] * ends, x, x[:, -1:] * ends], axis=1)
        first = np.minimum(np.maximum(first, -wide), n_samples) + wide
    both = sliding_window_view(x, wide, axis=1)[:, first]
    part = (centre - low)[:, None]
    return np.asarray(both[..., :-1] + part * (both[..., 1:] - both[..., :-1]))


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


def refine_times(acc: Spectrum, centre: FloatArray, is_left: BoolArray) -> tuple[FloatArray, float]:
    """Return the contacts of a bout to a fraction of a sample.

    Parameters
    ----------
    acc : Spectrum
        Of acceleration along forward, left, up, without gravity [m/s^2].
    centre : ndarray, shape (K,)
        The trunk's steepest answers, in samples.
    is_left : ndarray of bool, shape (K,)

    Returns
    -------
    times : ndarray, shape (K,)
        In samples.
    moment : float
        From the trunk's steepest answer to contact, the same for all, in samples.

    Notes
    -----
    1. Each foot's contacts are laid on that foot's mean shape.
    2. The two mean shapes are laid on each other, mirrored, in the moment of
       contact alone, so that no bias arises between the feet.
    3. 1 and 2 are repeated.
    4. All are moved together to where mean forward acceleration peaks.
    """
    rate_hz = acc.rate_hz
    if min(is_left.sum(), (~is_left).sum()) < evidence.SHAPE_LEAST_CONTACTS.value:
        moment = -evidence.CONTACT_DELAY_S.value * rate_hz
        return centre + moment, moment
    high_hz = evidence.SHAPE_CUTOFF_HZ.value
    whole = band(acc, low_hz=evidence.SHAPE_LOW_HZ.value, high_hz=high_hz)
    quick = band(acc, low_hz=evidence.FEET_LOW_HZ.value, high_hz=high_hz)[[0, 2]]
    feet = is_left, ~is_left
    searched = [Searched.around(whole, rate_hz, centre[foot]) for foot in feet]
    moved = centre
    for _ in range(evidence.SHAPE_ROUNDS.value):
        moved = moved.copy()
        for foot, found in zip(feet, searched, strict=True):
            moved[foot] = centre[foot] + laid_on_shape(whole, rate_hz, found, moved[foot])
        apart = feet_apart(quick, rate_hz, moved[is_left], moved[~is_left])
        moved += np.where(is_left, -0.5, 0.5) * apart
    smooth = band(mixed(acc, (1.0, 0.0, 0.0)), high_hz=evidence.BRAKING_CUTOFF_HZ.value)
    moment = braking(smooth, rate_hz, moved)
    return moved + moment, moment


def samples_in(length_s: float, rate_hz: float) -> int:
    """Return how many whole samples a time holds."""
    return int(np.floor(length_s * rate_hz))


@dataclass(frozen=True, slots=True)
class Searched:
    """A signal around some moments and, wide enough, around those moments shifted.

    Attributes
    ----------
    shifted : ndarray, shape (C, K, S, W)
        A view: whole shifts leave the fraction alone, so that one wide piece holds all.
    squares : ndarray, shape (K, S)
        Sum of squares of each.
    """

    shifted: FloatArray
    squares: FloatArray

    @classmethod
    def around(cls, x: FloatArray, rate_hz: float, centre: FloatArray) -> Searched:
        """Search around moments, shape (K,), in samples of `x`, shape (C, N)."""
        half = samples_in(evidence.SHAPE_HALF_S.value, rate_hz)
        shift = samples_in(evidence.SHAPE_SHIFT_S.value, rate_hz)
        wide = pieces(x, centre, half + shift)
        total = np.zeros((centre.size, wide.shape[2] + 1))
        np.cumsum(np.einsum("ckw,ckw->kw", wide, wide), axis=1, out=total[:, 1:])
        width = 2 * half + 1
        return cls(sliding_window_view(wide, width, axis=2), total[:, width:] - total[:, :-width])


def laid_on_shape(
    x: FloatArray, rate_hz: float, searched: Searched, moved: FloatArray
) -> FloatArray:
    """Lay each contact on the mean shape at the moved moments.

    Parameters
    ----------
    x : ndarray, shape (C, N)
    rate_hz : float [Hz]
    searched : Searched
        Around the first moments, from which shifts are sought.
    moved : ndarray, shape (K,)
        Present moments, in samples.

    Returns
    -------
    ndarray, shape (K,)
        From the first moments to the ones that fit best.
    """
    shape = pieces(x, moved, samples_in(evidence.SHAPE_HALF_S.value, rate_hz)).mean(axis=1)
    size = float(np.sum(shape**2))
    error = searched.squares + size - 2.0 * np.einsum("cksw,cw->ks", searched.shifted, shape)
    half = samples_in(evidence.SHAPE_SHIFT_S.value, rate_hz)
    shifts_s = np.arange(-half, half + 1) / rate_hz
    price = evidence.SHAPE_SHIFT_COST.value * shifts_s**2
    return best_shift(error / max(size, 1e-12) + price, 1.0)


def feet_apart(x: FloatArray, rate_hz: float, left: FloatArray, right: FloatArray) -> float:
    """Return by how much left contacts are put later than right ones, in samples."""
    half = samples_in(evidence.FEET_HALF_S.value, rate_hz)
    shift = samples_in(evidence.SHAPE_SHIFT_S.value, rate_hz)
    mean_right = pieces(x, right, half).mean(axis=1)
    mean_left = pieces(x, left, half + shift).mean(axis=1)
    shifted = sliding_window_view(mean_left, 2 * half + 1, axis=1)[:, ::-1]
    error = ((shifted - mean_right[:, None]) ** 2).sum(axis=(0, 2))
    return float(best_shift(error[None], 1.0)[0])


def braking(forward_mps2: FloatArray, rate_hz: float, moved: FloatArray) -> float:
    """Return the shift from the present moments to contact, in samples.

    Of forward acceleration, shape (1, N). Where its mean only rises or falls, as it
    may in quick or rolling steps, contact is put where it usually is.
    """
    half = samples_in(evidence.BRAKING_SEARCH_S.value, rate_hz)
    shape = pieces(forward_mps2, moved, half)[0].mean(axis=0)
    tops = peaks(shape)
    if not tops.size:
        return -evidence.CONTACT_DELAY_S.value * rate_hz
    top = tops[shape[tops].argmax()]
    peak = parabola_peak(shape, np.array([top]))[0]
    return float(peak - half + evidence.BRAKING_DELAY_S.value * rate_hz)
