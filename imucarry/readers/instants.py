"""A column of times to seconds: text or numbers, elapsed or absolute."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from imucarry.basics.errors import TimebaseError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, IntArray
from imucarry.basics.units import TIME_UNITS_S
from imucarry.readers.table import Table

ISO_DATE = re.compile(r"\d{4}-\d\d-\d\d[T ]\d\d|\d{8}[T ]\d{6}(?!\d)")
ZONE = re.compile(r"(?:[Zz]|(?<=\d\d)[+-]\d\d(?::?\d\d)?)$")
DAY_TIME = r"(?:^|[T ])(\d{1,3}):(\d{2})(?::(\d{2})(?:[.,:](\d{1,9}))?|[.,](\d{1,9}))\s*([AaPp])?"
DAY_S = 86400.0
DAYS_SINCE = {"1899-12-30": 25569.0, "year 0": 719529.0}  # the number of 1970-01-01


@dataclass(frozen=True, slots=True)
class RowTimes:
    """The time of every row.

    Attributes
    ----------
    time_s : ndarray, shape (N,) [s]
        Since the first time that was read; NaN where a row has none.
    start_s : float [s]
        The first time itself: since 1970 for "utc" and "local", since midnight
        for "day", as stamped for "elapsed", 0 for "rows".
    clock : str
        "utc", "local" (date and time without zone), "day", "elapsed" or "rows".
    rule : str
        How the times were read.
    """

    time_s: FloatArray
    start_s: float
    clock: str
    rule: str
    unit: str = ""  # of a column of numbers


def text_times(table: Table, column: int) -> RowTimes:
    """Read a text column of instants or times of day.

    Raises
    ------
    TimebaseError
        If most cells are no time.
    """
    text = table.text[column]
    first = next((word for word in text.words if word), "")
    if ISO_DATE.match(first):
        stamps = _iso_ns(text.words)
        clock = "utc" if ZONE.search(first) else "local"
        rule = "ISO 8601 " + ("with zone" if clock == "utc" else "without zone")
    else:
        stamps = _day_seconds(text.words)
        clock, rule = "day", "time of day"
    times = np.append(stamps, np.nan)[text.codes]
    if np.isnan(times).mean() > evidence.UNREADABLE_FRAC.value:
        bad = int(np.argmax(np.isnan(times)))
        raise TimebaseError(
            f"{_cell(text.words, text.codes[bad])!r} is no time that is understood; write seconds,"
            " or ISO 8601 such as 2026-03-14T10:00:00.010",
            file=table.file,
            where=f"line {table.first_line + bad}, column {table.names[column] or column + 1}",
        )
    if clock == "day":
        return _relative(_over_midnight(times), 1.0, clock, rule)
    return _relative(times, 1e-9, clock, rule)


def number_times(
    table: Table, column: int, unit: str, values: FloatArray | None = None
) -> RowTimes:
    """Read a column of numbers as times, in a unit that is stated or told from their size.

    Parameters
    ----------
    table : Table
    column : int
    unit : str
        "" where none is stated.
    values : ndarray, shape (N,), optional
        In place of the column's numbers.

    Raises
    ------
    TimebaseError
        If no unit makes the times plausible.
    """
    values = table.numbers[:, column] if values is None else values
    is_time = np.abs(values) <= evidence.LARGEST_TIME.value
    finite = values
    if not is_time.all():
        finite, values = values[is_time], np.where(is_time, values, np.nan)
    if finite.size < 2:
        _refuse(table, column, "has no times; state rate_hz in session.toml if samples are even")
    if _are_dates(finite):
        _refuse(
            table,
            column,
            f"holds dates and times in figures alone, such as {finite[0]:.0f}; write ISO 8601 such"
            " as 2026-03-14T10:00:00.010",
        )
    step = float(np.median(_forward_steps(values)))
    if since := _day_count(finite, step) if unit in ("", "d") else "":
        return _relative(
            values - DAYS_SINCE[since], DAY_S, "local", f"days since {since}, told by size"
        )
    epoch = _epoch_unit(finite, step, unit)
    clock = "utc" if epoch else "elapsed"
    values = unwrapped(values) if not epoch else values
    how = ", unit stated" if unit else ", told by size"
    unit = epoch or unit or _unit_by_step(table, column, step)
    rule = (f"since 1970 in {unit}" if epoch else f"counted in {unit}") + how
    return replace(_relative(values, TIME_UNITS_S[unit], clock, rule), unit=unit)


def _are_dates(values: FloatArray) -> bool:
    """Whether numbers are the figures of dates and times, year first, with or without parts of s.

    Their minutes and seconds end at 59: as a count they leap.
    """
    values = values[:: max(1, values.size // 500)]
    size = 10.0 ** (np.floor(np.log10(max(float(values[0]), 1.0))) - 13)  # 14 figures without parts
    if size < 1 or values[0] != np.floor(values[0]):
        return False
    rest = np.floor(values / size)
    fits = np.ones(values.size, dtype=np.bool_)
    for divisor, low, high in (
        (100, 0, 59),
        (100, 0, 59),
        (100, 0, 23),
        (100, 1, 31),
        (100, 1, 12),
    ):
        fits &= (low <= rest % divisor) & (rest % divisor <= high)
        rest = np.floor(rest / divisor)
    return bool((fits & (rest >= 2000) & (rest < 2100)).all())


def unwrapped(counts: FloatArray) -> FloatArray:
    """Undo the wrapping of a whole-number counter of 8, 16 or 32 bit.

    Notes
    -----
    A step back counts as a wrap when the step modulo 2^bits is a usual step
    forward. The result is the cumulative sum of the differences modulo 2^bits.
    """
    steps = np.diff(counts)
    back = steps < 0
    if not back.any() or np.isnan(steps).any():
        return counts
    most = evidence.MOST_LOST_AT_WRAP.value * float(np.median(_forward_steps(counts)))
    for bits in evidence.WRAP_BITS.value:
        size = float(2**bits)
        wraps = back & (np.mod(steps, size) <= min(most, size / 2))
        if size / 2 < counts.max() < size and 2 * wraps.sum() > back.sum():
            forward = np.where(wraps, np.mod(steps, size), steps)
            return np.asarray(counts[0] + np.concatenate([[0.0], np.cumsum(forward)]))
    return counts


def _forward_steps(values: FloatArray) -> FloatArray:
    """Return the steps ahead; of a long recording those of its first part tell the usual one."""
    with np.errstate(invalid="ignore"):
        steps = np.diff(values[: evidence.USUAL_STEP_ROWS.value])
        forward = steps[steps > 0]
    return forward if forward.size else np.ones(1)


def _epoch_unit(values: FloatArray, step: float, stated: str) -> str:
    """Return the unit in which the times fall into the years 2000 to 2100, or "".

    The step from row to row must fit too: nanoseconds since switching on may be
    of the size of seconds since 1970. Whole seconds are stamps that rows share.
    """
    low, high = evidence.EPOCH_YEARS_S.value
    largest = evidence.STEP_RANGE_S.value[1]
    middle = float(np.median(values[:: max(1, values.size // 100)]))
    for unit in (stated,) if stated else ("s", "ms", "us", "ns"):
        size = TIME_UNITS_S[unit]
        if low <= middle * size <= high and (step * size <= largest or step * size == 1.0):
            return unit
    return ""


def _day_count(values: FloatArray, step: float) -> str:
    """Return since when the times count days, "" where they do not.

    They must fall into the years 2000 to 2100 and step like samples: in any unit of
    seconds numbers of that size would step faster than a sensor can.
    """
    low, high = evidence.EPOCH_YEARS_S.value
    least, largest = evidence.STEP_RANGE_S.value
    middle = float(np.median(values[:: max(1, values.size // 100)]))
    if not least <= step * DAY_S <= largest:
        return ""
    found = [since for since, zero in DAYS_SINCE.items() if low <= (middle - zero) * DAY_S <= high]
    return found[0] if found else ""


def _unit_by_step(table: Table, column: int, step: float) -> str:
    """Return the unit that makes the step from sample to sample plausible."""
    low, high = evidence.STEP_RANGE_S.value
    units = [u for u in ("s", "ms", "us", "ns") if low <= step * TIME_UNITS_S[u] <= high]
    if step == 1.0 or not units:
        return _refuse(
            table,
            column,
            f"steps by {step:g} a row, and its unit is not stated; state time_unit"
            f" ({', '.join(TIME_UNITS_S)}) or rate_hz in session.toml",
        )
    return units[0]


def _refuse(table: Table, column: int, message: str) -> str:
    name = table.names[column] or f"{column + 1}"
    raise TimebaseError(f"the time column {message}", file=table.file, where=f"column {name}")


def _relative(times: FloatArray, unit_s: float, clock: str, rule: str) -> RowTimes:
    first = times[0] if times.size else 0.0
    if np.isnan(first):
        known = times[~np.isnan(times)]
        first = known[0] if known.size else 0.0
    return RowTimes((times - first) * unit_s, float(first * unit_s), clock, rule)


def _cell(words: tuple[str, ...], code: int) -> str:
    return words[code][:40] if code >= 0 else ""


def _iso_ns(words: tuple[str, ...]) -> FloatArray:
    """Parse ISO 8601 texts, fractions mixed or missing, to nanoseconds since 1970."""
    series = pd.Series(words, dtype="str").str.replace(",", ".", regex=False)
    stamps = pd.to_datetime(series, format="ISO8601", utc=True, errors="coerce")
    ticks = stamps.dt.tz_localize(None).to_numpy()
    size_ns = TIME_UNITS_S[np.datetime_data(ticks.dtype)[0]] * 1e9
    whole = ticks.astype(np.int64).astype(np.float64) * size_ns
    return np.asarray(np.where(np.isnat(ticks), np.nan, whole), dtype=np.float64)


def _day_seconds(words: tuple[str, ...]) -> FloatArray:
    """Parse times of day (H:M:S, with fraction; M:S with fraction) to seconds."""
    parts = pd.Series(words, dtype="str").str.extract(DAY_TIME)
    first, second, third = (pd.to_numeric(parts[i], errors="coerce") for i in range(3))
    fraction = pd.to_numeric("0." + parts[3].fillna(parts[4]).fillna("0"), errors="coerce")
    afternoon = parts[5].str.lower().eq("p") & (first < 12)
    morning = parts[5].str.lower().eq("a") & (first == 12)
    whole = (first + 12 * afternoon - 12 * morning) * 3600 + second * 60 + third
    return np.asarray(whole.fillna(first * 60 + second) + fraction, dtype=np.float64)


def _over_midnight(times: FloatArray) -> FloatArray:
    """Add a day wherever the time of day falls by more than half a day."""
    known = ~np.isnan(times)
    steps = np.diff(times[known], prepend=times[known][:1])
    days: IntArray = np.cumsum(steps < -DAY_S / 2) - np.cumsum(steps > DAY_S / 2)
    lifted = times.copy()
    lifted[known] += DAY_S * days
    return lifted


def past_midnight(starts_s: Sequence[float]) -> list[float]:
    """Return times of day [s] of one session, those after midnight a day later."""
    latest = max(starts_s)
    return [start + DAY_S if start < latest - DAY_S / 2 else start for start in starts_s]
