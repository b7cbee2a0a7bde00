"""One grid for every sensor rate, and the small filters that walking needs on it."""

from __future__ import annotations

import math
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


def filtered(
    x: FloatArray, rate_hz: float, *, low_hz: float = 0.0, high_hz: float = 0.0, times: int = 1
) -> FloatArray:
    """Filter without delay along axis 0, and raise the rate by a whole number.

    Parameters
    ----------
    x : ndarray, shape (N,) or (N, C)
    rate_hz : float [Hz]
    low_hz, high_hz : float [Hz]
        Edges of the band; 0 leaves that edge open.
    times : int
        By how much the rate is raised (band-limited interpolation).

    Returns
    -------
    ndarray, shape ((N - 1) * times + 1,) or ((N - 1) * times + 1, C)
    """
    n_samples = x.shape[0]
    if n_samples < 2:
        return x.copy()
    pad = min(n_samples - 1, int(3.0 * rate_hz))
    # A transform of a length without large prime factors takes half the time.
    after = min(fast_length(n_samples + 2 * pad) - n_samples - pad, n_samples - 1)
    # An odd reflection keeps level and slope at the ends.
    padded = np.concatenate([2 * x[:1] - x[pad:0:-1], x, 2 * x[-1:] - x[-2 : -after - 2 : -1]])
    spectrum = np.fft.rfft(padded, axis=0)
    gain = response(np.fft.rfftfreq(padded.shape[0], 1.0 / rate_hz), low_hz, high_hz)
    spectrum *= gain.reshape((-1,) + (1,) * (x.ndim - 1))
    n_out = padded.shape[0] * times
    result: FloatArray = np.fft.irfft(spectrum, n_out, axis=0) * times
    return result[pad * times : (pad + n_samples - 1) * times + 1]


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
