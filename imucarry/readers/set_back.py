"""Times that go back: a clock that was set, a counter that wrapped, or another recording."""

from __future__ import annotations

import numpy as np

from imucarry.basics.errors import TimebaseError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.basics.words import counted

Found = tuple[str, str]  # code and message of a notice


def without_set_back(
    stamps_s: FloatArray, rows: IntArray, file: str
) -> tuple[FloatArray, int, tuple[Found, ...]]:
    """Let a clock run on where it was set back or wrapped.

    Parameters
    ----------
    stamps_s : ndarray, shape (N,) [s]
    rows : ndarray of int, shape (N,)
        The rows of the file that they stand in, counted from 0.
    file : str

    Returns
    -------
    stamps_s : ndarray, shape (N - n_first,) [s]
    n_first : int
        How many stamps at the beginning were left out, as of an earlier recording that is too
        short to be one.
    found : tuple of Found

    Raises
    ------
    TimebaseError
        If the times begin anew, as where two recordings stand in one file.
    """
    steps = np.diff(stamps_s)
    back = np.flatnonzero(_set_back(stamps_s, steps))
    if not back.size:
        return stamps_s, 0, ()
    usual = float(np.median(steps[steps > 0])) if (steps > 0).any() else 0.0
    found: list[Found] = []
    n_first = _n_of_short_first(stamps_s, back, usual)
    if n_first:
        stamps_s, steps, rows = stamps_s[n_first:], steps[n_first:], rows[n_first:]
        back = back[1:] - n_first
        message = (
            f"the times begin anew after the first {counted(n_first, 'row')}; too few to be a"
            " recording, they were left out"
        )
        found.append(("first_rows_left_out", message))
    if back.size:
        _require_one_recording(stamps_s, back, usual, rows, file)
        steps[back] = usual
        stamps_s = np.concatenate([stamps_s[:1], stamps_s[0] + np.cumsum(steps)])
        n_back = counted(back.size, "time")
        message = f"the clock was set back {n_back}; it was let run on as if without a pause"
        found.append(("clock_set_back", message))
    return stamps_s, n_first, tuple(found)


def are_equal_wraps(values: FloatArray, back: IntArray, step: float, near: float) -> bool:
    """Whether a clock or a counter goes back as one that wraps.

    Parameters
    ----------
    values : ndarray, shape (N,)
    back : ndarray of int, shape (K,)
        The last places before it goes back.
    step : float
        The usual step.
    near : float
        By how much the sizes of wraps may differ.

    Notes
    -----
    It goes back twice or more by the same, each part between holds about as many values, and the
    last part is no longer than a wrap: second recordings hardly agree in all of that.
    """
    if back.size < 2:
        return False
    sizes = values[back] - values[back + 1] + step
    n_each = np.diff(back)
    if abs(values[back[0] + 1] - values[0]) <= near:
        n_each = np.append(n_each, back[0] + 1)
    full = n_each.min() >= evidence.SET_BACK_FULL_FRAC.value * n_each.max()
    last = values[-1] - values[back[-1] + 1] + step
    return bool(np.ptp(sizes) <= near and full and last <= sizes.max() + near)


def period_of(stamps_s: FloatArray) -> float:
    """Return the sample period: the median over a lag of many rows, so that packets even out."""
    lag = max(1, min(100, stamps_s.size // 4))
    return float(np.median(stamps_s[lag:] - stamps_s[:-lag])) / lag


def _set_back(stamps_s: FloatArray, steps_s: FloatArray) -> BoolArray:
    """Tell which steps are a clock that was set back, not rows out of order.

    Long ones are; a short one is where the same span of time is full of rows on both
    sides of the step. Rows out of order fill a hole that they left.
    """
    back = steps_s < -evidence.SET_BACK_S.value
    period = period_of(stamps_s)
    if not period > 0:
        return back
    for k in np.flatnonzero((steps_s < -evidence.SET_BACK_STEPS.value * period) & ~back):
        low_s, high_s = stamps_s[k + 1] - 0.5 * period, stamps_s[k] + 0.5 * period
        n_span = round((high_s - low_s) / period)
        sides = stamps_s[max(k + 1 - n_span, 0) : k + 1], stamps_s[k + 1 : k + 1 + n_span]
        n_least = evidence.SET_BACK_FULL_FRAC.value * n_span
        back[k] = all(np.sum((side > low_s) & (side < high_s)) >= n_least for side in sides)
    return back


def _n_of_short_first(stamps_s: FloatArray, back: IntArray, period_s: float) -> int:
    """Return the number of first stamps after which the times begin anew, if they are few."""
    first = back[:1]
    size_s = float(stamps_s[first[0]] - stamps_s[0]) + period_s
    if size_s >= evidence.LEAST_DURATION_S.value or are_equal_wraps(
        stamps_s, back, period_s, evidence.BEGINS_ANEW_STEPS.value * period_s
    ):
        return 0
    return int(first[0]) + 1 if _begins_anew(stamps_s, first, period_s).any() else 0


def _require_one_recording(
    stamps_s: FloatArray, back: IntArray, period_s: float, rows: IntArray, file: str
) -> None:
    """Refuse times that begin anew."""
    anew = _begins_anew(stamps_s, back, period_s)
    if anew.any():
        at = back[int(np.argmax(anew))]
        raise TimebaseError(
            f"the times begin anew: {stamps_s[at] - stamps_s[0]:.1f} s after the first they go back"
            f" by {stamps_s[at] - stamps_s[at + 1]:.1f} s, as where two recordings stand in one"
            " file; split it there into a file for each, or mend the times if the clock was set",
            file=file,
            where=f"time column, near row {rows[at] + 2}",
        )


def _begins_anew(stamps_s: FloatArray, back: IntArray, period_s: float) -> BoolArray:
    """Tell which steps back are the start of another recording.

    Notes
    -----
    1. A step back of whole hours, or of what a usual counter holds, is a clock that changed
       its hour or wrapped; so is one of a minute that does not lead to the first time, and so
       are equal wraps.
    2. Other steps back to the first time, and long ones, are another recording.
    """
    size_s = stamps_s[back] - stamps_s[back + 1] + period_s
    near_s = evidence.BEGINS_ANEW_STEPS.value * period_s
    if are_equal_wraps(stamps_s, back, period_s, near_s):
        return np.zeros(back.size, dtype=np.bool_)
    to_first = np.abs(stamps_s[back + 1] - stamps_s[0]) <= near_s
    usual = np.min([_off_multiple(size_s, whole) for whole in evidence.WRAPS_S.value], axis=0)
    wraps = usual <= near_s
    wraps |= ~to_first & (np.abs(size_s - evidence.MINUTE_WRAP_S.value) <= near_s)
    return np.asarray(~wraps & (to_first | (size_s > evidence.SET_BACK_MOST_S.value)))


def _off_multiple(sizes_s: FloatArray, whole_s: float) -> FloatArray:
    """Return how far sizes are from the nearest multiple of another, once or more."""
    times = np.maximum(np.round(sizes_s / whole_s), 1.0)
    return np.asarray(np.abs(sizes_s - times * whole_s), dtype=np.float64)
