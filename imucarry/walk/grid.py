"""One grid for every sensor rate, and the small filters that walking needs on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import FloatArray
from imucarry.motion.signals import fast_length


def response(frequency_hz: NDArray[np.floating[Any]], low_hz: float, high_hz: float) -> FloatArray:
    """Return the zero-phase gain of a band: a second-order Butterworth run both ways.

    Parameters
    ----------
    frequency_hz : ndarray, shape (F,) [Hz]
    low_hz, high_hz : float [Hz]
        Edges of the band; 0 leaves that edge open.

    Returns
    -------
    ndarray, shape (F,)
    """
    gain = np.ones(frequency_hz.shape)
    if high_hz > 0:
        gain = gain / (1.0 + (frequency_hz / high_hz) ** 4)
    if low_hz > 0:
        gain = gain * (1.0 - 1.0 / (1.0 + (frequency_hz / low_hz) ** 4))
    return gain


@dataclass(frozen=True, slots=True)
class Spectrum:
    """The spectrum of a signal, from which any number of its bands are made.

    Attributes
    ----------
    values : ndarray of complex, shape (C, F)
        Of the signal with a mirror image at both ends.
    n_samples : int
        Of the signal itself.
    n_before, n_padded : int
        Samples of the mirror image before it, and of all together.
    rate_hz : float [Hz]
    """

    values: NDArray[np.complex128]
    n_samples: int
    n_before: int
    n_padded: int
    rate_hz: float


def spectrum_of(rows: FloatArray, rate_hz: float) -> Spectrum:
    """Return the spectrum of a signal of at least two samples, shape (C, N)."""
    n_samples = rows.shape[1]
    before = min(n_samples - 1, int(3.0 * rate_hz))
    # A transform of a length without large prime factors takes half the time.
    n_padded = fast_length(n_samples + 2 * before)
    after = min(n_padded - n_samples - before, n_samples - 1)
    # An odd reflection keeps level and slope at the ends.
    first = 2.0 * rows[:, :1] - rows[:, before:0:-1]
    last = 2.0 * rows[:, -1:] - rows[:, -2 : -after - 2 : -1]
    padded = np.concatenate([first, rows, last], axis=1)
    return Spectrum(np.fft.rfft(padded), n_samples, before, padded.shape[1], rate_hz)


def mixed(spectrum: Spectrum, weights: Sequence[float]) -> Spectrum:
    """Return the spectrum of the weighted sum of a signal's rows: one row."""
    sums = np.tensordot(np.asarray(weights), spectrum.values, axes=1)
    return replace(spectrum, values=sums[None])


def band(
    spectrum: Spectrum, *, low_hz: float = 0.0, high_hz: float = 0.0, times: int = 1
) -> FloatArray:
    """Return a band of a signal, without delay, at a rate raised by a whole number.

    Parameters
    ----------
    spectrum : Spectrum
    low_hz, high_hz : float [Hz]
        Edges of the band; 0 leaves that edge open.
    times : int
        By how much the rate is raised (band-limited interpolation).

    Returns
    -------
    ndarray, shape (C, (N - 1) * times + 1)
    """
    values = spectrum.values * _gains(spectrum.n_padded, spectrum.rate_hz, low_hz, high_hz)
    whole: FloatArray = np.fft.irfft(values, spectrum.n_padded * times)
    if times > 1:
        whole *= times
    first = spectrum.n_before * times
    return whole[:, first : first + (spectrum.n_samples - 1) * times + 1]


@lru_cache(maxsize=32)
def _gains(n_padded: int, rate_hz: float, low_hz: float, high_hz: float) -> FloatArray:
    """Return `response` at each frequency of a transform; the same few come over and over."""
    gains = response(np.fft.rfftfreq(n_padded, 1.0 / rate_hz), low_hz, high_hz)
    gains.setflags(write=False)
    return gains


def filtered(
    x: FloatArray, rate_hz: float, *, low_hz: float = 0.0, high_hz: float = 0.0, times: int = 1
) -> FloatArray:
    """Filter along axis 0; as `band` otherwise.

    Parameters
    ----------
    x : ndarray, shape (N,) or (N, C)
    rate_hz : float [Hz]
    low_hz, high_hz, times
        As in `band`.

    Returns
    -------
    ndarray, shape ((N - 1) * times + 1,) or ((N - 1) * times + 1, C)
    """
    if x.shape[0] < 2:
        return x.copy()
    spectrum = spectrum_of(x.reshape(x.shape[0], -1).T, rate_hz)
    rows = band(spectrum, low_hz=low_hz, high_hz=high_hz, times=times)
    return rows.T.reshape(-1, *x.shape[1:])


def grid_factors(rate_hz: float) -> tuple[int, int]:
    """Return by how much a rate is raised, and then thinned, to reach the common grid."""
    grid_hz = evidence.GRID_RATE_HZ.value
    # A hair below the grid rate still counts as the grid rate.
    raised = max(1, math.ceil(grid_hz / rate_hz - 0.05))
    thinned = max(1, math.floor(rate_hz * raised / grid_hz + 0.05))
    return raised, thinned


def on_grid(x: FloatArray, rate_hz: float, *, high_hz: float) -> FloatArray:
    """Low-pass an array and put it on the common grid; sample 0 stays sample 0.

    Parameters
    ----------
    x : ndarray, shape (N,) or (N, C)
    rate_hz, high_hz : float [Hz]

    Returns
    -------
    ndarray
        At ``rate_hz * raised / thinned`` of `grid_factors`.
    """
    raised, thinned = grid_factors(rate_hz)
    return filtered(x, rate_hz, high_hz=high_hz, times=raised)[::thinned]


def moving_mean(x: FloatArray, width: int) -> FloatArray:
    """Centred moving mean along axis 0, over what there is at the ends.

    Parameters
    ----------
    x : ndarray, shape (N,) or (N, C)
    width : int
        Samples; made odd.
    """
    n_samples = x.shape[0]
    total = np.concatenate([np.zeros_like(x[:1]), np.cumsum(x, axis=0)])
    index = np.arange(n_samples)
    low = np.maximum(index - width // 2, 0)
    high = np.minimum(index + width // 2 + 1, n_samples)
    count = (high - low).reshape((-1,) + (1,) * (x.ndim - 1))
    mean: FloatArray = (total[high] - total[low]) / count
    return mean
