"""Unbiased autocorrelation of trunk acceleration at a lag, never across runs of strides."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.records import FloatArray, IndexRanges, IntArray
from imucarry.basics.statistics import Interval, Neighbours, influence_interval, subset


def autocorrelation(signal: FloatArray, runs: IndexRanges, lags: IntArray) -> FloatArray:
    """Return the autocorrelation at each lag, pooled over runs.

    Parameters
    ----------
    signal : ndarray, shape (N,)
    runs : index ranges
        Each run's own mean is taken out; no product reaches from one into another.
    lags : ndarray of int, shape (L,) [samples]

    Returns
    -------
    ndarray, shape (L,)
        NaN where no run is longer than the longest lag or nothing moves.

    Notes
    -----
    A(m) / A(0) with A(m) = sum of x_i x_(i+m) / number of products (the unbiased form of
    Moe-Nilssen & Helbostad 2004, J Biomech 37:121-126), sums over all runs.
    """
    lengths = np.array([b - a for a, b in runs], dtype=np.int64)
    longest_lag = int(lags.max())
    apart, n_samples = _apart(signal, runs, longest_lag), int(lengths.sum())
    power = _product(apart, apart) / n_samples if n_samples else 0.0
    counts = np.maximum(lengths[:, None] - lags, 0).sum(axis=0)
    if power <= 0.0 or (counts == 0).any():
        return np.full(lags.size, np.nan)
    sums = np.array([_product(apart[: apart.size - lag], apart[lag:]) for lag in lags])
    found: FloatArray = sums / counts / power
    return found


def _product(one: FloatArray, other: FloatArray) -> float:
    """Return the sum of products, without the threads that a matrix library would start.

    Dozens of such sums on a busy machine wait longer for the threads than they compute.
    """
    return float(np.einsum("i,i->", one, other))


def _apart(signal: FloatArray, runs: IndexRanges, space: int) -> FloatArray:
    """Return the runs behind each other, means taken out, with so many zeros after each."""
    gap = np.zeros(space)
    parts = [part for a, b in runs for part in (signal[a:b] - signal[a:b].mean(), gap)]
    return np.concatenate(parts) if parts else np.zeros(space + 1)


def peak_near(signal: FloatArray, runs: IndexRanges, lag: float) -> tuple[int, float]:
    """Return the lag of the highest autocorrelation near a lag, and its height.

    Notes
    -----
    Sought within `LAG_SEARCH_FRAC` of the lag; a parabola through the highest sample and
    its neighbours gives the height. Where the highest sample is the last one searched there
    is no peak, and the value at the lag itself is taken.
    """
    reach = max(round(lag * evidence.LAG_SEARCH_FRAC.value), 1)
    middle = round(lag)
    lags = np.arange(max(middle - reach, 1), middle + reach + 1)
    heights = autocorrelation(signal, runs, lags)
    if not np.isfinite(heights).all():
        return middle, float("nan")
    top = int(np.argmax(heights))
    if top in (0, lags.size - 1):
        return middle, float(np.interp(lag, lags, heights))
    before, peak, after = heights[top - 1 : top + 2]
    bend = before - 2.0 * peak + after
    lift = 0.0 if bend == 0.0 else (before - after) ** 2 / (-8.0 * bend)
    return int(lags[top]), min(float(peak + lift), 1.0)


def regularity(
    signal: FloatArray, starts: IntArray, ends: IntArray, order: Neighbours, lag: float
) -> Interval:
    """Return the autocorrelation near a lag with its interval.

    Parameters
    ----------
    signal : ndarray, shape (N,)
    starts, ends : ndarray of int, shape (K,)
        First sample of each stride, and the one after its last.
    order : Neighbours
        Strides that do not follow each other belong to different runs.
    lag : float [samples]

    Notes
    -----
    The interval rests on what each stride adds to the ratio of mean product and mean
    power (delta method), the power being that of both ends of each product: a stride
    louder than its neighbours then does not pass for an unlike one. Strides whose products
    would leave the run add nothing.
    """
    heads = np.flatnonzero(np.concatenate(([True], ~order.adjacent)))
    tails = np.concatenate((heads[1:], [starts.size])) - 1
    runs = tuple((int(starts[h]), int(ends[t])) for h, t in zip(heads, tails, strict=True))
    best, value = peak_near(signal, runs, lag)
    products, power = _per_stride(signal, runs, starts, ends, best)
    used = np.isfinite(products)
    if not np.isfinite(value) or used.sum() < 2:
        return Interval(n=int(used.sum()))
    mean_power = float(power[used].mean())
    ratio = float(products[used].mean()) / mean_power
    influence = (products[used] - ratio * power[used]) / mean_power
    return influence_interval(value, influence, subset(order, used))


def _per_stride(
    signal: FloatArray, runs: IndexRanges, starts: IntArray, ends: IntArray, lag: int
) -> tuple[FloatArray, FloatArray]:
    """Return each stride's mean product at a lag and mean power of the two samples multiplied.

    NaN where it leaves its run.
    """
    centred = np.zeros(signal.size + lag)
    last = np.zeros(starts.size, dtype=np.int64)
    for a, b in runs:
        centred[a:b] = signal[a:b] - signal[a:b].mean()
        last[(starts >= a) & (starts < b)] = b
    summed = np.concatenate(([0.0], np.cumsum(centred[: signal.size] * centred[lag:])))
    both = 0.5 * (centred[: signal.size] ** 2 + centred[lag:] ** 2)
    squared = np.concatenate(([0.0], np.cumsum(both)))
    stop = np.minimum(ends, last - lag)
    # Half a stride of products at least, or the stride's power is not that of the products.
    whole = 2 * (stop - starts) >= ends - starts
    count = np.where(whole, stop - starts, 1)
    stop = np.where(whole, stop, starts)
    products = np.where(whole, (summed[stop] - summed[starts]) / count, np.nan)
    power = np.where(whole, (squared[stop] - squared[starts]) / count, np.nan)
    return products, power
