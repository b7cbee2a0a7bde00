"""From the times of rows to the times of samples.

Stamps may be uneven for two reasons. A phone that samples unevenly stamps
truly: its stamps are kept. A sensor that samples evenly may be stamped late, in
packets, twice or out of order: there the samples are put on an even clock that
follows the stamps slowly.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.errors import TimebaseError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.basics.words import counted
from imucarry.readers.late import smooth_stamps
from imucarry.readers.packets import short_packets
from imucarry.readers.set_back import Found, period_of, without_set_back
from imucarry.readers.shuffled import TOLD, order_of_shuffled

TIMES = "time column"


@dataclass(frozen=True, slots=True)
class SampleTimes:
    """Times of the samples of one stream.

    ``rows`` are the rows kept, in time order (None: all as they stand);
    ``time_s`` rises strictly; ``is_even`` says that it lies on an even grid.
    """

    rows: IntArray | None
    time_s: FloatArray
    period_s: float
    jitter_s: float
    is_even: bool
    found: tuple[Found, ...] = ()


def sample_times(
    stamps_s: FloatArray, counts: FloatArray | None, repeated: BoolArray | None, file: str
) -> SampleTimes:
    """Put the rows of one stream into time.

    Parameters
    ----------
    stamps_s : ndarray, shape (N,) [s]
        NaN where a row is missing or has no time.
    counts : ndarray, shape (N,) or None
        Unwrapped count of samples.
    repeated : ndarray of bool, shape (N,) or None
        Where a row repeats time and values of one before it.

    Raises
    ------
    TimebaseError
        If fewer than three rows have a time, or the times begin anew.
    """
    rows = None
    if np.isnan(stamps_s).any():
        rows = np.flatnonzero(~np.isnan(stamps_s))
        stamps_s = stamps_s[rows]
        counts = None if counts is None else counts[rows]
        repeated = None if repeated is None else repeated[rows]
    if stamps_s.size < 3:
        raise TimebaseError(
            "has fewer than three rows with a time; record longer", file=file, where=TIMES
        )
    even = _if_even(stamps_s)
    if even is not None:
        return replace(even, rows=rows)
    order = order_of_shuffled(stamps_s, repeated, file)
    if order is not None:
        twice = None if repeated is None else repeated[order]
        ordered = sample_times(stamps_s[order], None, twice, file)
        order = order if ordered.rows is None else order[ordered.rows]
        rows = order if rows is None else rows[order]
        return replace(ordered, rows=rows, found=(TOLD, *ordered.found))
    kept, found = _without_strays(stamps_s, repeated)
    if kept.size < 3:
        raise TimebaseError(
            "has times that make no sense; check the time column", file=file, where=TIMES
        )
    stamps_s = stamps_s[kept]
    counts = None if counts is None else counts[kept]
    rows = kept if rows is None else rows[kept]
    stamps_s, n_first, more = without_set_back(stamps_s, rows, file)
    rows = rows[n_first:]
    counts = None if counts is None else counts[n_first:]
    result = (_if_even(stamps_s) if n_first else None) or _uneven(stamps_s, counts)
    if not result.period_s > 0:
        raise TimebaseError(
            "has one and the same time in every row; check the time column",
            file=file,
            where=TIMES,
        )
    if result.period_s < evidence.LEAST_STEP_S.value:
        raise TimebaseError(
            f"has times that step by {result.period_s:.3g} s, faster than any sensor samples;"
            " check the time column",
            file=file,
            where=TIMES,
        )
    rows = rows if result.rows is None else rows[result.rows]
    return replace(result, rows=rows, found=(*found, *more, *result.found))


def _if_even(stamps_s: FloatArray) -> SampleTimes | None:
    """Return the stamps as an even clock if they are one but for rounding."""
    n = stamps_s.size
    period = float(stamps_s[-1] - stamps_s[0]) / (n - 1)
    if not period > 0:
        return None
    grid = np.asarray(stamps_s[0] + np.arange(n) * period, dtype=np.float64)
    deviation = stamps_s - grid
    if max(deviation.max(), -deviation.min()) > evidence.EVEN_STAMPS_FRAC.value * period:
        return None
    return SampleTimes(None, grid, period, float(deviation.std()), True)


def _without_strays(
    stamps_s: FloatArray, repeated: BoolArray | None
) -> tuple[IntArray, tuple[Found, ...]]:
    """Return the rows without lone stamps far off and without rows written twice."""
    far = evidence.SET_BACK_S.value
    steps = np.abs(np.diff(stamps_s))
    off = np.concatenate([[True], steps > far]) & np.concatenate([steps > far, [True]])
    across = np.concatenate([[0.0], np.abs(stamps_s[2:] - stamps_s[:-2]), [0.0]])
    stray = off & (across <= far)
    twice = np.zeros(stamps_s.size, dtype=np.bool_) if repeated is None else repeated
    found = []
    if stray.any():
        left_out = counted(int(stray.sum()), "row")
        found.append(("stray_times", f"{left_out} with a time far off left out"))
    if twice.any():
        left_out = counted(int(twice.sum()), "row")
        found.append(("rows_twice", f"{left_out} written twice left out"))
    return np.flatnonzero(~(stray | twice)), tuple(found)


def _uneven(stamps_s: FloatArray, counts: FloatArray | None) -> SampleTimes:
    """Tell late stamps of even samples from true stamps of uneven ones."""
    steps = np.diff(stamps_s)
    n_repeats, n_back = int((steps == 0).sum()), int((steps < 0).sum())
    shared = n_repeats > evidence.SHARED_STAMPS_FRAC.value * steps.size
    found: list[Found] = []
    period = period_of(stamps_s)
    usual = steps[np.abs(steps - period) < evidence.BRIDGED_GAP_S.value]
    jitter = float(usual.std()) if usual.size else 0.0
    if period >= evidence.LEAST_STEP_S.value and (shared or _is_late(stamps_s, period)):
        rows = None
        if shared and counts is None:
            rows, found = _without_short_packets(stamps_s, period)
            stamps_s = stamps_s if rows is None else stamps_s[rows]
        index = np.arange(stamps_s.size, dtype=np.float64) if counts is None else counts
        if counts is not None:
            period = _period_of_counts(stamps_s, counts, period)
        times, period, n_lost = smooth_stamps(stamps_s, index, period)
        found += [_late_notice(n_repeats, n_back, shared)]
        n_lost -= 0 if rows is None else steps.size + 1 - rows.size
        if n_lost > 0:
            found.append(("lost_samples", f"about {n_lost} samples are missing between the rows"))
        even = _if_even(times) or SampleTimes(None, times, period, jitter, False)
        return replace(even, rows=rows, jitter_s=jitter, found=tuple(found))
    n_lost = 0 if counts is None else round(float(counts[-1] - counts[0])) - (counts.size - 1)
    if n_lost > 0:
        found.append(("lost_samples", f"the counter tells of {counted(n_lost, 'lost sample')}"))
    return _sorted_stamps(stamps_s, jitter, n_repeats, n_back, found)


def _without_short_packets(
    stamps_s: FloatArray, period_s: float
) -> tuple[IntArray | None, list[Found]]:
    """Return the rows without packets that lost samples, None where all are whole."""
    short, n_packets = short_packets(stamps_s, period_s)
    if short is None:
        return None, []
    lost = f"{counted(n_packets, 'packet')} lost samples and {'was' if n_packets == 1 else 'were'}"
    left_out = f"{lost} left out: where in a packet samples are missing is not known"
    return np.flatnonzero(~short), [("short_packets", left_out)]


def _sorted_stamps(
    stamps_s: FloatArray, jitter: float, n_repeats: int, n_back: int, found: list[Found]
) -> SampleTimes:
    """Put rows into the order of their stamps; of rows with one stamp the first is kept."""
    if n_back:
        at = counted(n_back, "row")
        found.append(("rows_out_of_order", f"times step back at {at}; rows were put in order"))
    if n_repeats:
        told = f"{counted(n_repeats, 'row')} left out that repeated an earlier time"
        found.append(("times_repeat", told))
    order = np.argsort(stamps_s, kind="stable")
    ordered = stamps_s[order]
    first = np.concatenate([[True], np.diff(ordered) > 0])
    kept = ordered[first]
    period = _usual_step(kept) if kept.size > 1 else 0.0
    return SampleTimes(order[first], kept, period, jitter, False, tuple(found))


def _late_notice(n_repeats: int, n_back: int, shared: bool) -> Found:
    if shared:
        return (
            "packets",
            f"packets share one time ({n_repeats} repeats); samples were spread evenly",
        )
    return (
        "late_stamps",
        f"times come unevenly for even samples ({n_repeats} repeat, {n_back} step back);"
        " samples were spread evenly",
    )


def _usual_step(stamps_s: FloatArray) -> float:
    """Return the mean of the steps near the usual one, so that lost samples do not lengthen it."""
    steps = np.diff(stamps_s)
    usual = float(np.median(steps))
    near = np.abs(steps - usual) <= evidence.USUAL_STEP_FRAC.value * usual
    return float(steps[near].mean()) if 2 * near.sum() > steps.size else period_of(stamps_s)


def _period_of_counts(stamps_s: FloatArray, counts: FloatArray, period: float) -> float:
    lag = max(1, min(100, stamps_s.size // 4))
    spans = counts[lag:] - counts[:-lag]
    known = spans > 0
    if not known.any():
        return period
    return float(np.median((stamps_s[lag:] - stamps_s[:-lag])[known] / spans[known]))


def _is_late(stamps_s: FloatArray, period: float) -> bool:
    """Whether the scatter of the stamps does not grow with the lag: even samples, late stamps."""
    near_lag, far_lag = evidence.GROWTH_LAGS.value
    if stamps_s.size < 4 * far_lag:
        return False
    near = _scatter(stamps_s[near_lag:] - stamps_s[:-near_lag])
    far = _scatter(stamps_s[far_lag:] - stamps_s[:-far_lag])
    return near > evidence.EVEN_STAMPS_FRAC.value * period and (
        far < evidence.EVEN_GROWTH.value * near
    )


def _scatter(values: FloatArray) -> float:
    """Return the span of the middle four fifths, which single holes do not widen."""
    low, high = np.percentile(values, (10, 90))
    return float(high - low)
