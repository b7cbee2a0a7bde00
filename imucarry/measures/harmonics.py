"""Harmonic ratios of trunk acceleration: how alike the two steps of a stride are.

Notes
-----
1. Each stride is resampled to a whole number of samples, so that its harmonics fall on
   the lines of an unwindowed discrete Fourier transform.
2. Forward and vertical acceleration repeat every step: even harmonics are intrinsic,
   odd ones extrinsic. Sideways it is the other way round (Menz et al. 2003; Bellanca
   et al. 2013, J Biomech 46:828-831).
3. Harmonic ratio: sum of intrinsic amplitudes / sum of extrinsic ones. Improved
   harmonic ratio: intrinsic power as % of all power (Pasciuto et al. 2017,
   J Biomech 53:84-89), which stays finite when the steps are equal.
"""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.records import FloatArray

SIDEWAYS = 1
# Linear interpolation keeps 95 % and more of a harmonic that has this many samples.
SAMPLES_A_HARMONIC = 4


def stride_harmonic_ratios(
    acc_mps2: FloatArray, rate_hz: float, start_s: FloatArray, end_s: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the harmonic ratio and the improved one of each stride.

    Parameters
    ----------
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Along forward, left, up.
    rate_hz : float
    start_s, end_s : ndarray, shape (K,) [s]
        From the first sample on.

    Returns
    -------
    ratio : ndarray, shape (K, 3) [1]
    improved : ndarray, shape (K, 3) [%]
        Both NaN where there is no motion; the ratio too where the steps are equal.
    """
    samples = rate_hz * float(np.median(end_s - start_s))
    n_harmonics = min(evidence.N_HARMONICS.value, int(samples / SAMPLES_A_HARMONIC))
    n_points = 1 << int(np.ceil(np.log2(max(samples, 2.0 * n_harmonics + 2.0))))
    strides = resampled(acc_mps2, rate_hz, start_s, end_s, n_points)
    lines = np.abs(np.fft.rfft(strides, axis=1))[:, 1 : n_harmonics // 2 * 2 + 1]
    return _ratios(lines)


def resampled(
    signal: FloatArray, rate_hz: float, start_s: FloatArray, end_s: FloatArray, n_points: int
) -> FloatArray:
    """Return each stride at `n_points` equal steps, its end left out; shape (K, n_points, 3)."""
    phase = np.arange(n_points) / n_points
    place = (start_s[:, None] + (end_s - start_s)[:, None] * phase) * rate_hz
    before = np.clip(place.astype(np.int64), 0, signal.shape[0] - 2)
    weight = (place - before)[:, :, None]
    low = signal[before]
    stretched: FloatArray = low + weight * (signal[before + 1] - low)
    return stretched


def _ratios(lines: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return both ratios from the amplitudes of harmonics 1, 2, ..., shape (K, H, 3)."""
    odd, even = lines[:, 0::2], lines[:, 1::2]
    odd_sum, even_sum = odd.sum(axis=1), even.sum(axis=1)
    odd_power, even_power = (odd**2).sum(axis=1), (even**2).sum(axis=1)
    for by_step, by_stride in ((even_sum, odd_sum), (even_power, odd_power)):
        by_step[:, SIDEWAYS], by_stride[:, SIDEWAYS] = (
            by_stride[:, SIDEWAYS].copy(),
            by_step[:, SIDEWAYS].copy(),
        )
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = even_sum / odd_sum
        improved = 100.0 * even_power / (even_power + odd_power)
    ratio[~np.isfinite(ratio)] = np.nan
    return ratio, improved
