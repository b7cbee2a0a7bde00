"""The time of every row of a table: from its column, a counter, or a stated rate."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np

from imucarry.basics.errors import TimebaseError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray
from imucarry.readers.entries import SensorEntry
from imucarry.readers.instants import RowTimes, number_times, text_times, unwrapped
from imucarry.readers.lexicon import TIME_WORDS
from imucarry.readers.names import parse_name, plain_words
from imucarry.readers.roles import TWO_CLOCKS, Roles, SensorColumns
from imucarry.readers.set_back import are_equal_wraps
from imucarry.readers.split_times import holds_times, is_date_alone, seconds_and_parts
from imucarry.readers.table import Table


def read_times(
    table: Table, roles: Roles, sensor: SensorColumns, entry: SensorEntry
) -> tuple[RowTimes, FloatArray | None]:
    """Return the times of the rows for a sensor, and the count of samples if a counter tells it.

    Raises
    ------
    TimebaseError
        If there is neither a time nor a stated rate, or the times make no sense.
    """
    rate_hz = entry.rate_hz if not np.isnan(entry.rate_hz) else table.rate_hz
    counts = _counts(table, sensor.counter)
    time = sensor.time
    unit = entry.time_unit or roles.time_unit(sensor)
    if time is not None and time not in table.text and not unit and not np.isnan(rate_hz):
        as_counts = _counts(table, time)
        if as_counts is not None and _median_step(table.numbers[:, time]) == 1.0:
            time, counts = None, as_counts
    if time is not None and not is_date_alone(table, time):
        return _of_column(table, time, unit), counts
    if np.isnan(rate_hz):
        raise TimebaseError(_no_time(table, roles), file=table.file, where="header")
    if rate_hz <= 0:
        raise TimebaseError(
            f"states a rate of {rate_hz:g} Hz; state a positive rate",
            file=table.file,
            where="sampling rate",
        )
    if counts is None and sensor.counter is not None:
        _require_one_count(table, sensor.counter)
    index = counts if counts is not None else np.arange(len(table.numbers), dtype=np.float64)
    how = "counter" if counts is not None else "rows"
    times_s = index / rate_hz
    return RowTimes(
        times_s - times_s[:1], 0.0, "rows", f"{how} at the stated {rate_hz:g} Hz"
    ), counts


def _of_column(table: Table, time: int, unit: str) -> RowTimes:
    if time in table.text:
        return text_times(table, time)
    joined = seconds_and_parts(table, time)
    if joined is None:
        return number_times(table, time, unit)
    column, part, values = joined
    times = number_times(table, column, "s", values)
    return replace(times, rule=f"{times.rule}, {table.names[part]!r} added")


def _no_time(table: Table, roles: Roles) -> str:
    """Say that no time was found, and which column holds times or rises as one does, if one does.

    Columns of dates and times come first.
    """
    own = [_own_time(table, kind) for kind in ("acc", "gyr")]
    if all(own):
        return TWO_CLOCKS.format(acc=own[0], gyr=own[1])
    ignored = [
        column
        for column, reading in enumerate(roles.readings)
        if reading.role == "ignored" and table.names[column]
    ]
    found = [(c, "holds dates or times") for c in ignored if holds_times(table, c)]
    found += [(c, "rises throughout") for c in ignored if c not in table.text and _rises(table, c)]
    if found:
        column, how = found[0]
        name = json.dumps(table.names[column], ensure_ascii=False)
        return (
            f"has no column that is known for a time; if {table.names[column]!r}, which {how}, is"
            f" it, add columns = {{ time = {name} }} to its [[sensor]] in session.toml, else"
            " rate_hz = ..."
        )
    return (
        "has no time column and states no rate, or more than one; add rate_hz = ... to its"
        " [[sensor]] in session.toml"
    )


def _own_time(table: Table, kind: str) -> str:
    """Return the name of a column that holds the times of one quantity alone, "" without one."""
    for name, unit in zip(table.names, table.units, strict=True):
        part = parse_name(name, unit)
        if part.kind == kind and not part.axis and TIME_WORDS & set(plain_words(name)):
            return name
    return ""


def _rises(table: Table, column: int) -> bool:
    values = table.numbers[:, column]
    steps = np.diff(values[np.isfinite(values)])
    return steps.size > 0 and bool((steps >= 0).all() and (steps > 0).mean() > 0.5)


def _counts(table: Table, column: int | None) -> FloatArray | None:
    """Return a counter's unwrapped counts in samples, or None where it does not count them."""
    if column is None or not len(table.numbers):
        return None
    counts = table.numbers[:, column]
    if not (np.abs(counts) < 2.0**53).all() or (counts != np.floor(counts)).any():
        return None
    counts = unwrapped(counts)
    step = _median_step(counts)
    steps = np.diff(counts)
    usual = (steps == step).mean() if steps.size else 0.0
    if step <= 0 or usual < evidence.COUNTER_EVEN_FRAC.value or (steps < 0).any():
        return None
    return np.asarray((counts - counts[0]) / step, dtype=np.float64)


def _require_one_count(table: Table, column: int) -> None:
    """Refuse a counter that begins anew where it is all that tells the time, unless it wraps.

    Raises
    ------
    TimebaseError
        If it goes back to its first count.
    """
    counts = table.numbers[:, column]
    rows = np.flatnonzero(~np.isnan(counts))
    counts = unwrapped(counts[rows])
    back = np.flatnonzero(np.diff(counts) < 0)
    anew = back[counts[back + 1] == counts[0]]
    if not anew.size:
        return
    step = _median_step(counts)
    sizes = counts[back] - counts[back + 1] + step
    near = evidence.MOST_LOST_AT_WRAP.value * step
    if are_equal_wraps(counts, back, step, near) or float(np.log10(sizes[0])).is_integer():
        return
    raise TimebaseError(
        f"the counter begins anew at {counts[0]:g} after {counts[anew[0]]:g}, as where two"
        " recordings stand in one file; split it there into a file for each, or delete this column"
        " if it is one recording",
        file=table.file,
        where=f"column {table.names[column]}, near row {rows[anew[0]] + 2}",
    )


def _median_step(values: FloatArray) -> float:
    with np.errstate(invalid="ignore"):
        steps = np.diff(values)
    return float(np.median(steps)) if steps.size else 0.0
