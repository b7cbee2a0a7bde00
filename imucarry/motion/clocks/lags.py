"""Lags between the shared signals of two sensors."""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.motion import signals
from imucarry.motion.clocks.shared import JOLTS

# Peaks of the correlation that are looked at more closely.
_N_CANDIDATES = 8


@dataclass(frozen=True, slots=True)
class Match:
    """The best lag of one stretch: the other sensor's times plus `lag_s` fit the reference's."""

    lag_s: float
    clear_z: float  # by how many standard errors it beats the next best and no match at all


def best_lag(
    reference: FloatArray, other: FloatArray, rate_hz: float, largest_lag_s: float
) -> Match:
    """Find the lag at which all shared signals fit best, and how clearly.

    Parameters
    ----------
    reference, other : ndarray, shape (3, M) [1]
        Shared signals on the same grid of stamped times.
    rate_hz : float [Hz]
    largest_lag_s : float [s]

    Returns
    -------
    Match

    Notes
    -----
    1. Correlate each signal over all lags at once (FFT), and add them up.
    2. Keep the highest peaks, a step apart or more.
    3. Compare them window by window: the difference between two peaks, against
       its own scatter over windows, says whether one is really the better.
    """
    score = _correlate(reference, other, rate_hz, largest_lag_s)
    half = (score.size - 1) // 2
    apart = max(1, round(evidence.CLOCK_RIVAL_S.value * rate_hz))
    peaks = _highest_peaks(score, apart)
    if peaks.size == 0:
        return Match(0.0, 0.0)
    best = int(peaks[0]) - half
    window = round(evidence.CLOCK_COMPARE_S.value * rate_hz)
    of_best = _window_scores(reference, other, best, window)
    moved = shifted(other, best)
    size = np.sqrt(
        _window_scores(reference, reference, 0, window) * _window_scores(moved, moved, 0, window)
    )
    clear = [_clearness(of_best, size)]
    for peak in peaks[1:]:
        rival = _window_scores(reference, other, int(peak) - half, window)
        clear.append(_clearness(of_best - rival, size))
    return Match(best / rate_hz, min(clear))


def _correlate(
    reference: FloatArray, other: FloatArray, rate_hz: float, largest_lag_s: float
) -> FloatArray:
    """Return the summed correlation at lags from -L to L grid steps, shape (2 L + 1,)."""
    n = reference.shape[1]
    n_lag = min(round(largest_lag_s * rate_hz), n // 2)
    length = signals.fast_length(n + n_lag)
    spectrum = np.conj(np.fft.rfft(other, length)) * np.fft.rfft(reference, length)
    together = np.fft.irfft(spectrum.sum(axis=0), length) / n
    return np.concatenate([together[-n_lag:], together[: n_lag + 1]])


def _highest_peaks(score: FloatArray, apart: int) -> IntArray:
    """Return the indices of the highest local maxima, highest first, at least `apart` apart."""
    inner = score[1:-1]
    peaks = 1 + np.flatnonzero((inner > score[:-2]) & (inner >= score[2:]) & (inner > 0))
    chosen: list[int] = []
    for peak in peaks[np.argsort(score[peaks])[::-1]]:
        if all(abs(int(peak) - other) >= apart for other in chosen):
            chosen.append(int(peak))
        if len(chosen) == _N_CANDIDATES:
            break
    return np.array(chosen, dtype=np.int64)


def shifted(other: FloatArray, lag: int) -> FloatArray:
    """Return the signals moved later by `lag` grid steps, 0 where nothing is known."""
    moved = np.zeros_like(other)
    if lag >= 0:
        moved[..., lag:] = other[..., : other.shape[-1] - lag]
    else:
        moved[..., :lag] = other[..., -lag:]
    return moved


def _window_scores(reference: FloatArray, other: FloatArray, lag: int, window: int) -> FloatArray:
    """Return the products of each window, the other signals moved by a lag, shape (W,)."""
    window = max(1, min(window, other.shape[1]))
    products = np.einsum("ij,ij->j", reference, shifted(other, lag))
    return signals.block_means(products, window)


def _clearness(product: FloatArray, size: FloatArray) -> float:
    """Return by how many standard errors windows agree that products are positive.

    Notes
    -----
    The ratio of sums ``r = sum(product) / sum(size)`` and its standard error from
    the scatter of ``product - r size``; Student's t of n - 1 degrees of freedom is
    then put on the normal scale (Wallace 1959, Ann. Math. Statist. 30:1121-1130;
    from memory, not confirmed; tested against exact quantiles).
    """
    n = product.size
    total = float(size.sum())
    if n < 3 or total <= 0:
        return 0.0
    ratio = float(product.sum()) / total
    residual = product - ratio * size
    error = float(np.sqrt((residual @ residual) * n / (n - 1))) / total
    # Plain floats: windows that agree in full make a t whose square is silently infinite.
    t = ratio / max(error, sys.float_info.min)
    return normal_from_t(t, n - 1)


def normal_from_t(t: float, df: int) -> float:
    """Return the normal quantile that is as rare as a Student quantile, approximately."""
    z = math.sqrt(df * math.log1p(t * t / df)) * (8 * df + 1) / (8 * df + 3)
    return math.copysign(z, t)


# --- lags of windows -------------------------------------------------------------


def window_lags(
    reference: FloatArray, other: FloatArray, rate_hz: float, expected_s: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Measure a lag of the jolts in each window, near an expected one.

    Parameters
    ----------
    reference, other : ndarray, shape (3, M) [1]
    rate_hz : float [Hz]
    expected_s : ndarray, shape (W,) [s]
        Expected lag of each whole window of ``CLOCK_WINDOW_S``.

    Returns
    -------
    lag_s : ndarray, shape (W,) [s]
        NaN where the window shows no peak of its own.
    weight : ndarray, shape (W,) [1]
        Correlation at the peak, 0 where there is none.
    """
    window = round(evidence.CLOCK_WINDOW_S.value * rate_hz)
    reach = max(2, round(0.5 * evidence.CLOCK_RIVAL_S.value * rate_hz))
    n_windows = expected_s.size
    around = np.round(expected_s * rate_hz).astype(np.int64)
    ours, theirs = reference[JOLTS, : n_windows * window].reshape(n_windows, window), other[JOLTS]
    first = np.arange(n_windows) * window - around - reach
    source = first[:, None] + np.arange(window + 2 * reach)
    known = (source >= 0) & (source < theirs.size)
    wide = np.where(known, theirs[np.clip(source, 0, theirs.size - 1)], 0.0)
    # The farther along the wide piece, the smaller the lag.
    pieces = sliding_window_view(wide, window, axis=1)[:, ::-1]
    scores = np.einsum("wsn,wn->ws", pieces, ours) / window
    peak, height, found = _parabola_peaks(scores)
    lag_s = np.where(found, (around + peak - reach) / rate_hz, np.nan)
    return lag_s, np.where(found, height, 0.0)


def _parabola_peaks(scores: FloatArray) -> tuple[FloatArray, FloatArray, BoolArray]:
    """Return place and height of each row's highest inner maximum, and whether there is one."""
    rows = np.arange(scores.shape[0])
    top = scores.argmax(axis=1)
    inner: BoolArray = (top > 0) & (top < scores.shape[1] - 1)
    top = np.clip(top, 1, scores.shape[1] - 2)
    left, middle, right = scores[rows, top - 1], scores[rows, top], scores[rows, top + 1]
    bend = left - 2 * middle + right
    found = inner & (bend < 0) & (middle > 0)
    shift = np.where(found, 0.5 * (left - right) / np.where(bend < 0, bend, -1.0), 0.0)
    return np.asarray(top + shift), middle, found
