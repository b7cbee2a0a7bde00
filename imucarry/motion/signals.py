"""Zero-phase filters, block means and rest, without a signal-processing import.

The filters multiply the spectrum by the squared magnitude of a Butterworth
filter, which is what running that filter forwards and backwards does, and so
have neither lag nor start-up. At both ends the signal is continued by its
mirror image.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from imucarry.basics.records import BoolArray, FloatArray, IndexRanges
from imucarry.basics.units import RAD_PER_DEG

# Signals longer than this are filtered in overlapping windows, to bound the memory.
_WINDOW = 1 << 17
# Samples of a block up to which they are added one after the other.
_SHORT_BLOCK = 32
# Mirror length in periods of the lowest cut-off: the answer has died away by then.
_MIRROR_PERIODS = 2.0


# --- filters -------------------------------------------------------------------


def low_pass(x: FloatArray, *, rate_hz: float, cutoff_hz: float, order: int = 2) -> FloatArray:
    """Smooth a signal without lag.

    Parameters
    ----------
    x : ndarray, shape (N, ...) [any]
        Time runs along the first axis.
    rate_hz : float [Hz]
    cutoff_hz : float [Hz]
        Where the gain of both directions together is one half.
    order : int
        Of the Butterworth filter that runs once each way.

    Returns
    -------
    ndarray, shape (N, ...) [as `x`]
    """
    return _filtered(x, Band(0.0, cutoff_hz, order), rate_hz=rate_hz, slowest_hz=cutoff_hz)


def band_pass(
    x: FloatArray, *, rate_hz: float, low_hz: float, high_hz: float, order: int = 2
) -> FloatArray:
    """Keep the part of a signal between two frequencies, without lag; as `low_pass` otherwise."""
    return _filtered(x, Band(low_hz, high_hz, order), rate_hz=rate_hz, slowest_hz=low_hz)


@dataclass(frozen=True, slots=True)
class Band:
    """The frequencies that a filter keeps; a low edge of 0 keeps all slow ones."""

    low_hz: float
    high_hz: float
    order: int

    def gain(self, f_hz: FloatArray) -> FloatArray:
        """Return the squared magnitude of the Butterworth filters at each frequency."""
        gain = self._below(self.high_hz, f_hz)
        if self.low_hz:
            gain = gain * (1 - self._below(self.low_hz, f_hz))
        return gain

    def _below(self, edge_hz: float, f_hz: FloatArray) -> FloatArray:
        return np.asarray(1 / (1 + np.square(f_hz / edge_hz) ** self.order))


@lru_cache(maxsize=32)
def _gains(band: Band, length: int, rate_hz: float) -> FloatArray:
    """Return the gain at each frequency of a transform; the same few come over and over."""
    gains = band.gain(np.asarray(np.fft.rfftfreq(length, 1 / rate_hz), np.float64))
    gains.setflags(write=False)
    return gains


def _filtered(x: FloatArray, band: Band, *, rate_hz: float, slowest_hz: float) -> FloatArray:
    """Multiply the spectrum of a signal by the gain of a band, shape (N, ...).

    `slowest_hz` is the lowest edge; it sets how far the signal is mirrored.
    """
    x = np.asarray(x, dtype=np.float64)
    margin = math.ceil(_MIRROR_PERIODS * rate_hz / slowest_hz)
    window = max(_WINDOW, 8 * margin)
    if x.shape[0] <= window:
        return _filter_window(x, band, rate_hz, margin)
    answer = np.empty_like(x)
    for start in range(0, x.shape[0], window):
        stop = min(start + window, x.shape[0])
        first, last = max(start - margin, 0), min(stop + margin, x.shape[0])
        part = _filter_window(x[first:last], band, rate_hz, margin)
        answer[start:stop] = part[start - first : stop - first]
    return answer


def _filter_window(x: FloatArray, band: Band, rate_hz: float, margin: int) -> FloatArray:
    n = x.shape[0]
    mirror = min(margin, n - 1)
    length = fast_length(n + 2 * mirror)
    # One piece of memory for each column: transforms along it need no copy.
    columns = x.reshape(n, -1).T
    padded = np.empty((columns.shape[0], length))
    padded[:, mirror : mirror + n] = columns
    padded[:, :mirror] = columns[:, mirror:0:-1]
    padded[:, mirror + n : n + 2 * mirror] = columns[:, -2 : -mirror - 2 : -1]
    padded[:, n + 2 * mirror :] = padded[:, n + 2 * mirror - 1, None]
    spectrum = np.fft.rfft(padded)
    spectrum *= _gains(band, length, rate_hz)
    filtered = np.fft.irfft(spectrum, length)[:, mirror : mirror + n]
    return filtered.T.reshape(x.shape)


@lru_cache(maxsize=256)
def fast_length(n: int) -> int:
    """Return a length of at least `n`, little more, that has no prime factor above 5."""
    return min(factor << max(-(-n // factor) - 1, 0).bit_length() for factor in (1, 3, 5, 9, 15))


# --- block means ---------------------------------------------------------------


def block_means(x: FloatArray, n_block: int) -> FloatArray:
    """Average blocks of `n_block` samples; a remainder at the end is left out.

    Parameters
    ----------
    x : ndarray, shape (N, ...) [any]
    n_block : int

    Returns
    -------
    ndarray, shape (N // n_block, ...) [as `x`]
    """
    n_blocks = x.shape[0] // n_block
    grouped = x[: n_blocks * n_block].reshape(n_blocks, n_block, -1)
    if n_block > _SHORT_BLOCK:
        return np.asarray(grouped.mean(axis=1)).reshape(n_blocks, *x.shape[1:])
    # An explicit sum over the few samples of a block is faster than a mean along an inner axis.
    total = grouped[:, 0].copy()
    for index in range(1, n_block):
        total += grouped[:, index]
    total /= n_block
    return total.reshape(n_blocks, *x.shape[1:])


def block_length(n_samples: int, rate_hz: float, block_rate_hz: float) -> int:
    """Return the samples of a block so that blocks come at about `block_rate_hz`."""
    return max(1, min(n_samples, round(rate_hz / block_rate_hz)))


# --- rest ----------------------------------------------------------------------


def still_blocks(
    acc_mps2: FloatArray,
    gyr_radps: FloatArray,
    *,
    block_rate_hz: float,
    shortest_s: float,
    gyr_sd_degps: float,
    acc_sd_mps2: float,
) -> BoolArray:
    """Tell for each block of samples, shape (K,), whether it belongs to a rest.

    Parameters
    ----------
    acc_mps2, gyr_radps : ndarray, shape (3, K) [m/s^2], [rad/s]
        Means over blocks: they take out the noise of the sensor, whatever its rate.
    shortest_s : float [s]
        Shortest rest; every block of a window of that length that is still belongs to one.
    gyr_sd_degps, acc_sd_mps2 : float [deg/s], [m/s^2]
        Largest standard deviation, three axes together, within `shortest_s`. Means are not
        judged, as a bias is not known yet.
    """
    n_window = max(2, math.ceil(shortest_s * block_rate_hz))
    n_blocks = gyr_radps.shape[1]
    if n_blocks < n_window:
        return np.zeros(n_blocks, dtype=np.bool_)
    is_still = (_running_variance(gyr_radps, n_window) < (gyr_sd_degps * RAD_PER_DEG) ** 2) & (
        _running_variance(acc_mps2, n_window) < acc_sd_mps2**2
    )
    edges = np.zeros(n_blocks + 1, dtype=np.int64)
    edges[: is_still.size] += is_still
    edges[n_window : n_window + is_still.size] -= is_still
    return np.asarray(np.cumsum(edges)[:n_blocks] > 0)


def _running_variance(x: FloatArray, n_window: int) -> FloatArray:
    """Return the variance, all rows together, of each window of `n_window` columns."""
    # About a value of its own, so that the difference of running sums keeps its digits.
    centred = x - x[:, x.shape[1] // 2, None]
    sums = np.zeros((x.shape[0] + 1, x.shape[1] + 1))
    np.cumsum(centred, axis=1, out=sums[:-1, 1:])
    np.cumsum(np.einsum("ik,ik->k", centred, centred), out=sums[-1, 1:])
    means = (sums[:, n_window:] - sums[:, :-n_window]) / n_window
    return np.asarray(means[-1] - np.einsum("ik,ik->k", means[:-1], means[:-1]))


def ranges_of(mask: BoolArray) -> IndexRanges:
    """Return the half-open index ranges where a mask, shape (N,), is true."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]])))
    return tuple((int(a), int(b)) for a, b in edges.reshape(-1, 2))


def mask_of(ranges: IndexRanges, n_samples: int) -> BoolArray:
    """Return a mask of shape (N,) that is true inside index ranges."""
    mask = np.zeros(n_samples, dtype=np.bool_)
    for start, stop in ranges:
        mask[start:stop] = True
    return mask
