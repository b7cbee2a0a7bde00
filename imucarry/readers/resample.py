"""Streams with times of their own to one even grid."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.errors import TimebaseError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, IndexRanges
from imucarry.readers.timebase import SampleTimes


@dataclass(frozen=True, slots=True)
class Stream:
    """One quantity of one sensor in SI units, on times that rise strictly."""

    kind: str
    times: SampleTimes
    values: FloatArray


@dataclass(frozen=True, slots=True)
class Grid:
    """Accelerometer and gyroscope on one even grid.

    ``gaps`` are the samples that were filled across a hole too long to bridge.
    """

    time_s: FloatArray
    period_s: float
    acc: FloatArray
    gyr: FloatArray
    gaps: IndexRanges
    n_bridged: int
    longest_gap_s: float


def on_one_grid(acc: Stream, gyr: Stream, bridged_gap_s: float, file: str) -> Grid:
    """Put both streams on the finer one's even grid, over the time that they share.

    Samples that lie evenly already stay as they are; others are interpolated
    along straight lines.

    Raises
    ------
    TimebaseError
        If the streams share too little time or have a hole that is no gap.
    """
    if acc.times is gyr.times and acc.times.is_even:
        times = acc.times
        return Grid(times.time_s, times.period_s, acc.values, gyr.values, (), 0, 0.0)
    finer = acc.times if acc.times.period_s <= gyr.times.period_s else gyr.times
    start = max(acc.times.time_s[0], gyr.times.time_s[0])
    end = min(acc.times.time_s[-1], gyr.times.time_s[-1])
    if end - start < evidence.LEAST_DURATION_S.value:
        raise TimebaseError(
            f"accelerometer and gyroscope share {max(end - start, 0):.3g} s; at least"
            f" {evidence.LEAST_DURATION_S.value:g} s are needed",
            file=file,
            where="time column",
        )
    holes = [_holes(stream.times, bridged_gap_s) for stream in (acc, gyr)]
    longest = max((high - low for pairs in holes for low, high in pairs), default=0.0)
    if longest > evidence.LONGEST_GAP_S.value:
        raise TimebaseError(
            f"has a hole of {longest / 3600:.1f} h in its times; split it into two recordings or"
            " mend the time column",
            file=file,
            where="time column",
        )
    period = finer.period_s
    time_s = start + period * np.arange(int((end - start) / period + 1e-6) + 1)
    gaps = _ranges(time_s, [pair for pairs in holes for pair in pairs])
    n_bridged = max(_n_bridged(stream.times, bridged_gap_s) for stream in (acc, gyr))
    return Grid(
        time_s, period, _sampled(acc, time_s), _sampled(gyr, time_s), gaps, n_bridged, longest
    )


def _sampled(stream: Stream, time_s: FloatArray) -> FloatArray:
    sampled = np.empty((time_s.size, 3))
    for axis in range(3):
        sampled[:, axis] = np.interp(time_s, stream.times.time_s, stream.values[:, axis])
    return sampled


def _holes(times: SampleTimes, bridged_gap_s: float) -> list[tuple[float, float]]:
    """Return start and end of every hole that is too long to bridge."""
    if times.is_even:
        return []
    steps = np.diff(times.time_s)
    rows = np.flatnonzero(steps > max(bridged_gap_s, 1.5 * times.period_s) + 1e-9)
    return [(float(times.time_s[row]), float(times.time_s[row + 1])) for row in rows]


def _n_bridged(times: SampleTimes, bridged_gap_s: float) -> int:
    steps = np.diff(times.time_s)
    longest = max(bridged_gap_s, 1.5 * times.period_s) + 1e-9
    return int(((steps > 1.5 * times.period_s) & (steps <= longest)).sum())


def _ranges(time_s: FloatArray, holes: list[tuple[float, float]]) -> IndexRanges:
    """Return the samples inside the holes as merged half-open ranges."""
    merged: list[tuple[int, int]] = []
    for low, high in sorted(holes):
        first = int(np.searchsorted(time_s, low, side="right"))
        last = int(np.searchsorted(time_s, high, side="left"))
        if merged and first <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(last, merged[-1][1]))
        elif last > first:
            merged.append((first, last))
    return tuple(merged)
