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
# Few enough for the processor's cache and for a day's walking in little memory.
STRIDES_AT_ONCE = 64


def harmonics_within(rate_hz: float, start_s: FloatArray, end_s: FloatArray) -> int:
    """Return how many harmonics of strides of shape (K,) the ratios are taken over.

    An even number, `N_HARMONICS` at the most; fewer below some 80 samples a stride.
    """
    samples = rate_hz * float(np.median(end_s - start_s))
    return min(evidence.N_HARMONICS.value, int(samples / SAMPLES_A_HARMONIC)) // 2 * 2


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
    n_lines = harmonics_within(rate_hz, start_s, end_s)
    n_points = 1 << int(np.ceil(np.log2(max(samples, 2.0 * n_lines + 2.0))))
    axes = np.ascontiguousarray(acc_mps2.T)
    lines = np.empty((3, start_s.size, n_lines))
    for first in range(0, start_s.size, STRIDES_AT_ONCE):
        part = slice(first, first + STRIDES_AT_ONCE)
        strides = resampled(axes, rate_hz, start_s[part], end_s[part], n_points)
        lines[:, part] = np.abs(np.fft.rfft(strides)[:, :, 1 : n_lines + 1])
    return _ratios(lines)


def resampled(
    axes: FloatArray, rate_hz: float, start_s: FloatArray, end_s: FloatArray, n_points: int
) -> FloatArray:
    """Return each stride at `n_points` equal steps, its end left out.

    Parameters
    ----------
    axes : ndarray, shape (A, N)
    start_s, end_s : ndarray, shape (K,) [s]
        From the first sample on.

    Returns
    -------
    ndarray, shape (A, K, n_points)
        Linearly interpolated.
    """
    phase = np.arange(n_points) / n_points
    place = (start_s[:, None] + (end_s - start_s)[:, None] * phase) * rate_hz
    before = np.clip(place.astype(np.int64), 0, axes.shape[1] - 2)
    low = axes[:, before]
    stretched: FloatArray = low + (place - before) * (axes[:, before + 1] - low)
    return stretched


def _ratios(lines: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return both ratios from the amplitudes of harmonics 1, 2, ..., shape (3, K, H)."""
    odd, even = lines[:, :, 0::2], lines[:, :, 1::2]
    intrinsic, extrinsic = even.sum(axis=2), odd.sum(axis=2)
    own, other = (even**2).sum(axis=2), (odd**2).sum(axis=2)
    for by_step, by_stride in ((intrinsic, extrinsic), (own, other)):
        by_step[SIDEWAYS], by_stride[SIDEWAYS] = by_stride[SIDEWAYS], by_step[SIDEWAYS].copy()
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = intrinsic / extrinsic
        improved = 100.0 * own / (own + other)
    ratio[~np.isfinite(ratio)] = np.nan
    return ratio.T, improved.T
