"""Even samples whose stamps come late, in packets or out of order."""

from __future__ import annotations

import itertools

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, IntArray

CHUNK = 4096


def smooth_stamps(
    stamps_s: FloatArray, index: FloatArray, period_s: float
) -> tuple[FloatArray, float, int]:
    """Put even samples on a clock that follows their stamps slowly.

    Parameters
    ----------
    stamps_s : ndarray, shape (N,) [s]
    index : ndarray, shape (N,)
        Count of samples: rows, or a counter.
    period_s : float [s]

    Returns
    -------
    time_s : ndarray, shape (N,) [s]
        Strictly rising.
    period_s : float [s]
        As fitted.
    n_lost : int
        Samples that are missing between rows.

    Notes
    -----
    1. The lag of each stamp behind an even clock is taken.
    2. A lag that stays higher from one row on is a hole: the rows are split there.
    3. The period is fitted to all pieces by least squares.
    4. In each piece the lag is averaged over blocks and joined by straight lines.
    """
    splits = _holes(stamps_s, stamps_s - period_s * index, period_s)
    edges = [0, *splits.tolist(), stamps_s.size]
    period_s = _slope(stamps_s, index, edges, period_s)
    lag = stamps_s - period_s * index
    smooth = np.empty_like(lag)
    block = max(2, round(evidence.SMOOTHING_S.value / period_s))
    for first, last in itertools.pairwise(edges):
        smooth[first:last] = _block_line(lag[first:last], index[first:last], block)
    times = smooth + period_s * index
    n_lost = round(float(np.diff(index).sum() - (index.size - 1)))
    n_lost += sum(round((smooth[at] - smooth[at - 1]) / period_s) for at in splits.tolist())
    return _rising(times, period_s), period_s, max(n_lost, 0)


def _slope(stamps_s: FloatArray, index: FloatArray, edges: list[int], period_s: float) -> float:
    """Return the common slope of the pieces; `period_s` where they are too short for one."""
    shared = spread = 0.0
    for first, last in itertools.pairwise(edges):
        count = index[first:last] - index[first:last].mean()
        shared += float(count @ (stamps_s[first:last] - stamps_s[first]))
        spread += float(count @ count)
    slope = shared / spread if spread > 0 else period_s
    return slope if 0.5 * period_s < slope < 2.0 * period_s else period_s


def _block_line(lag: FloatArray, index: FloatArray, block: int) -> FloatArray:
    """Average in blocks and join the means by straight lines, level at both ends."""
    n_blocks = max(1, lag.size // block)
    starts = np.arange(n_blocks) * block
    counts = np.diff(np.append(starts, lag.size))
    means = np.add.reduceat(lag, starts) / counts
    centres = np.add.reduceat(index, starts) / counts
    return np.asarray(np.interp(index, centres, means), dtype=np.float64)


def _holes(stamps_s: FloatArray, lag: FloatArray, period_s: float) -> IntArray:
    """Return the rows at which a hole ends."""
    fresh = np.flatnonzero(np.diff(stamps_s) > 0) + 1
    if fresh.size < 2:
        return np.zeros(0, dtype=np.int64)
    packet_s = max(float(np.median(np.diff(stamps_s[fresh]))), period_s)
    jump = stamps_s[fresh] - stamps_s[fresh - 1]
    candidates = fresh[jump > packet_s + period_s / 2]
    width = max(round(4 * packet_s / period_s), round(0.5 / period_s), 4)
    rise = rises(lag, candidates, width)
    least = max(0.75 * period_s, 0.5 * packet_s)
    return _strongest(candidates[rise > least], rise[rise > least], width)


def rises(lag: FloatArray, rows: IntArray, width: int) -> FloatArray:
    """Return by how much the median lag after each row exceeds the one before it."""
    found = np.empty(rows.size)
    offsets = np.arange(width)
    for start in range(0, rows.size, CHUNK):
        part = rows[start : start + CHUNK, np.newaxis]
        after = lag[np.minimum(part + offsets, lag.size - 1)]
        before = lag[np.maximum(part - 1 - offsets, 0)]
        found[start : start + CHUNK] = np.median(after, axis=1) - np.median(before, axis=1)
    return found


def _strongest(rows: IntArray, rises: FloatArray, width: int) -> IntArray:
    """Keep the largest rise of every cluster of neighbouring rows."""
    if rows.size == 0:
        return rows
    cluster = np.concatenate([[0], np.cumsum(np.diff(rows) > width)])
    order = np.lexsort((-rises, cluster))
    first = np.concatenate([[True], np.diff(cluster[order]) > 0])
    return np.sort(rows[order][first])


def _rising(times: FloatArray, period_s: float) -> FloatArray:
    """Guard the strict rise across pieces: a sample comes at least a hundredth of a period on."""
    steps = np.maximum(np.diff(times), period_s / 100)
    return np.concatenate([times[:1], times[0] + np.cumsum(steps)])
