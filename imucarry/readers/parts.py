"""One file of a sensor, and the streams that it holds, on their own times."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray
from imucarry.basics.words import counted
from imucarry.readers.event_rows import event_rows, require_equal_counts, require_equal_ends
from imucarry.readers.instants import RowTimes
from imucarry.readers.levels import fill_rows
from imucarry.readers.packets import rows_twice
from imucarry.readers.roles import KIND_NAMES, STREAM_NAMES, Roles, SensorColumns, StreamColumns
from imucarry.readers.table import Table
from imucarry.readers.timebase import SampleTimes, sample_times

EVENTS: Final = (
    "event_rows",
    "each row is a sample of one sensor; what it repeats of the other, or 0, was taken as missing",
)


@dataclass(frozen=True, slots=True)
class Part:
    """One file: its table, what its columns are, the sensor that is meant, the times."""

    table: Table
    roles: Roles
    sensor: SensorColumns
    times: RowTimes
    counts: FloatArray | None


@dataclass(frozen=True, slots=True)
class RawStream:
    """One quantity as written in its file; ``unit`` is "" where the file is silent."""

    kind: str
    file: str
    times: SampleTimes
    values: FloatArray
    unit: str
    free_of_gravity: bool
    largest: float = float("inf")  # no value is larger in size; infinite where not looked at
    strange_unit: str = ""  # named in the header and not known


def raw_streams(parts: Sequence[Part], shifts_s: Sequence[float]) -> list[RawStream]:
    """Return every stream of the parts, on the clock of the earliest.

    Streams of one file that have the same rows share one `SampleTimes`.
    """
    return [
        stream
        for part, shift in zip(parts, shifts_s, strict=True)
        for stream in _streams(part, shift)
    ]


def later(streams: Sequence[RawStream], shift_s: float) -> list[RawStream]:
    """Return streams shifted in time; those that share their times still do."""
    known: dict[int, SampleTimes] = {}
    for stream in streams:
        times = stream.times
        known[id(times)] = known.get(id(times)) or replace(times, time_s=times.time_s + shift_s)
    return [replace(stream, times=known[id(stream.times)]) for stream in streams]


def _streams(part: Part, shift_s: float) -> list[RawStream]:
    found: list[tuple[BoolArray | None, SampleTimes]] = []
    streams = []
    events = _events(part)
    filled = None if events else _filled(part)
    known: dict[str, BoolArray | None] = {}
    for columns in part.sensor.streams:
        largest = _largest(part, columns)
        present = _present(part, columns, filled, largest, events.get(columns.kind))
        known[columns.kind] = present
        times = next((t for rows, t in found if _same(rows, present)), None)
        if times is None:
            times = _times(part, columns, present, shift_s)
            if filled is not None:
                times = replace(times, found=(*times.found, _fill_found(int(filled.sum()))))
            if events and not found:
                times = replace(times, found=(*times.found, EVENTS))
            found.append((present, times))
        streams.append(_stream(part, columns, times, largest))
    _require_equal(part, known)
    return streams


def _events(part: Part) -> Mapping[str, BoolArray]:
    """Return the rows of each sensor where a row holds an event of one of them."""
    wide = {c.kind: _axes(part, c) for c in part.sensor.streams if c.rows is None}
    return event_rows(wide["acc"], wide["gyr"]) if {"acc", "gyr"} <= set(wide) else {}


def _require_equal(part: Part, known: Mapping[str, BoolArray | None]) -> None:
    """Refuse sensors in the rows of one file that cannot have one clock."""
    rows = {kind: rows for kind, rows in known.items() if rows is not None and kind in KIND_NAMES}
    is_long = any(columns.rows is not None for columns in part.sensor.streams)
    if rows and not is_long:
        every = np.ones(len(part.table.numbers), dtype=np.bool_)
        kinds = [kind for kind in KIND_NAMES if kind in known]
        require_equal_ends({kind: rows.get(kind, every) for kind in kinds}, part.table.file)
    if part.times.clock == "rows" and part.counts is None and (is_long or _in_turn(part)):
        require_equal_counts(rows, part.table.file)


def _filled(part: Part) -> BoolArray | None:
    """Return the rows that stand for missing samples of the sensor, None without any."""
    for columns in part.sensor.streams:
        if columns.kind == "acc" and columns.rows is None:
            return fill_rows(_axes(part, columns))
    return None


def _fill_found(n_rows: int) -> tuple[str, str]:
    return "fill_rows", (
        f"{counted(n_rows, 'row')} with one and the same number on all axes of the accelerometer"
        " (0, or such as -9999), taken as missing"
    )


def _axes(part: Part, columns: StreamColumns) -> list[FloatArray]:
    return [part.table.numbers[:, column] for column in columns.columns]


def _largest(part: Part, columns: StreamColumns) -> float:
    """Return the largest size of any value of a stream; infinite where one is no number."""
    axes = _axes(part, columns)
    ends = [end for axis in axes if axis.size for end in (-axis.min(), axis.max())]
    largest = float(max(ends, default=np.inf))
    return largest if not np.isnan(ends).any() else np.inf


def _present(
    part: Part,
    columns: StreamColumns,
    filled: BoolArray | None,
    largest: float,
    events: BoolArray | None,
) -> BoolArray | None:
    """Return the rows that hold a sample, None for all."""
    limit = evidence.LARGEST_NUMBER.value
    if columns.rows is None and filled is None and events is None and largest <= limit / 3:
        return None
    # NaN and absurd numbers in any axis show in the sum: one pass over the samples.
    x, y, z = _axes(part, columns)
    with np.errstate(invalid="ignore", over="ignore"):
        present = np.abs(x + y + z) <= limit
    if columns.rows is not None:
        present &= columns.rows
    if filled is not None:
        present &= ~filled
    if events is not None:
        present &= events
    return None if present.all() else present


def _same(first: BoolArray | None, second: BoolArray | None) -> bool:
    if first is None or second is None:
        return first is second
    return bool(np.array_equal(first, second))


def _times(
    part: Part, columns: StreamColumns, present: BoolArray | None, shift_s: float
) -> SampleTimes:
    stamps = _carried_on(_own_stamps(part, columns, present))
    if present is not None:
        if not present.any():
            raise ColumnError(
                f"the {STREAM_NAMES[columns.kind]} columns hold no numbers; export them again",
                file=part.table.file,
                where="every row",
            )
        stamps = np.where(present, stamps, np.nan)
    counts = part.counts if columns.rows is None else None  # a long file counts all its sensors
    times = sample_times(stamps, counts, _repeated(part, stamps), part.table.file)
    return replace(times, time_s=times.time_s + shift_s) if shift_s else times


def _own_stamps(part: Part, columns: StreamColumns, present: BoolArray | None) -> FloatArray:
    """Return the rows' times; without a clock streams with rows of their own each count those."""
    if part.times.clock != "rows" or part.counts is not None:
        return part.times.time_s
    rows = present if columns.rows is None and _in_turn(part) else columns.rows
    if rows is None:
        return part.times.time_s
    step = float(part.times.time_s[1]) if part.times.time_s.size > 1 else 0.0
    return np.asarray((np.cumsum(rows) - 1) * step, dtype=np.float64)


def _in_turn(part: Part) -> bool:
    """Whether hardly a row holds numbers of both sensors."""
    wide = [_axes(part, c) for c in part.sensor.streams if c.kind in KIND_NAMES]
    held = [np.isfinite(x + y + z) for x, y, z in wide]
    both = np.logical_and.reduce(held) if len(held) > 1 else np.ones(1, dtype=np.bool_)
    return bool(both.mean() < evidence.UNREADABLE_FRAC.value) or bool(_events(part))


def _carried_on(stamps: FloatArray) -> FloatArray:
    """Return stamps with that of its packet in each row where only a packet's first row has one."""
    stamped = ~np.isnan(stamps)
    if stamped.all() or not stamped.any():
        return stamps
    if 1.0 - stamped.mean() < evidence.UNSTAMPED_LEAST_FRAC.value:
        return stamps
    row = np.where(stamped, np.arange(stamps.size), np.argmax(stamped))
    return np.asarray(stamps[np.maximum.accumulate(row)])


def _repeated(part: Part, stamps: FloatArray) -> BoolArray | None:
    """Return where a row was written before, None where no time comes twice."""
    with np.errstate(invalid="ignore"):
        if (np.diff(stamps) > 0).all():
            return None
    columns = [column for stream in part.sensor.streams for column in stream.columns]
    values = part.table.numbers[:, columns]
    if part.counts is not None:
        values = np.column_stack([values, part.counts])
    return rows_twice(stamps, values)


def _stream(part: Part, columns: StreamColumns, times: SampleTimes, largest: float) -> RawStream:
    first, _, last = columns.columns
    block = part.table.numbers[:, first : last + 1]
    if columns.columns != (first, first + 1, first + 2):
        block = part.table.numbers[:, list(columns.columns)]
    values = block if times.rows is None else block[times.rows]
    return RawStream(
        columns.kind,
        part.table.file,
        times,
        values,
        columns.unit,
        columns.free_of_gravity,
        largest,
        columns.strange_unit,
    )
