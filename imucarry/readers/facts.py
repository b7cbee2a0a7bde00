"""What was understood of a file, for people: readings and notices."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import ColumnReading, FileReading, IndexRanges, Notice
from imucarry.basics.words import counted
from imucarry.readers.parts import Part, RawStream
from imucarry.readers.resample import Grid
from imucarry.readers.runs import merged_ranges
from imucarry.readers.units import Unit

# Of what is odd about times and rows: what may put bouts in the wrong place, or is a defect.
TO_CHECK = ("clock_set_back", "first_rows_left_out", "fill_rows", "rows_shuffled")
_AT_END = {
    "acc": "the accelerations are at the end of the sensor's range: step times and tilt may be "
    "less exact; rotation rests on the gyroscope",
    "gyr": "the turning rates are at the end of the sensor's range; strides that this touches are "
    "left out",
}


def file_reading(
    part: Part,
    streams: Sequence[RawStream],
    grid: Grid,
    units: Mapping[str, Unit],
    clipped: Mapping[str, IndexRanges],
    rest: tuple[float, float, float] | None,
) -> FileReading:
    """Describe one file of a sensor."""
    mine = [stream for stream in streams if stream.file == part.table.file] or list(streams)
    times = mine[0].times
    ends = merged_ranges([run for runs in clipped.values() for run in runs])
    return FileReading(
        file=part.table.file,
        sha256=part.table.hashes[0][1],
        layout=part.table.layout,
        columns=tuple(_with_unit(reading, units) for reading in _own_columns(part)),
        time_rule=part.times.rule,
        rate_hz=1.0 / times.period_s,
        jitter_ms=1000.0 * times.jitter_s,
        n_rows=len(part.table.numbers),
        duration_s=float(times.time_s[-1] - times.time_s[0]),
        n_gaps_bridged=grid.n_bridged,
        n_gaps=len(grid.gaps),
        longest_gap_s=grid.longest_gap_s,
        clipped_frac=_frac(ends, grid),
        rest_acc_mps2=rest,
        notices=part.table.notices,
    )


def lone_reading(
    part: Part, stream: RawStream, units: Mapping[str, Unit], bridged_gap_s: float
) -> FileReading:
    """Describe a file that holds one quantity alone."""
    times = stream.times
    steps = np.diff(times.time_s)
    late = steps[steps > 1.5 * times.period_s]
    gaps = late[late > max(bridged_gap_s, 1.5 * times.period_s) + 1e-9]
    return FileReading(
        file=part.table.file,
        sha256=part.table.hashes[0][1],
        layout=part.table.layout,
        columns=tuple(_with_unit(reading, units) for reading in _own_columns(part)),
        time_rule=part.times.rule,
        rate_hz=1.0 / times.period_s,
        jitter_ms=1000.0 * times.jitter_s,
        n_rows=len(part.table.numbers),
        duration_s=float(times.time_s[-1] - times.time_s[0]),
        n_gaps_bridged=late.size - gaps.size,
        n_gaps=gaps.size,
        longest_gap_s=float(gaps.max()) if gaps.size else 0.0,
        clipped_frac=0.0,
        rest_acc_mps2=None,
        notices=(
            *part.table.notices,
            *(time_notice(code, message, stream.file) for code, message in times.found),
        ),
    )


def _own_columns(part: Part) -> tuple[ColumnReading, ...]:
    """Columns of other sensors of the same file are ignored in this sensor's reading."""
    own = {column for stream in part.sensor.streams for column in stream.columns}
    own |= {column for column in (part.sensor.time, part.sensor.counter) if column is not None}
    return tuple(
        reading
        if index in own or reading.role[:4] not in ("acc_", "gyr_", "grav", "time", "coun")
        else replace(reading, role="ignored", rule="another sensor of the file")
        for index, reading in enumerate(part.roles.readings)
    )


def _with_unit(reading: ColumnReading, units: Mapping[str, Unit]) -> ColumnReading:
    kind = reading.role[:3]
    if reading.role[3:4] != "_" or kind not in units:
        return reading
    unit, rule, _ = units[kind]
    own = reading.rule.removesuffix(", unit in the header")
    return replace(reading, unit=unit, rule=f"{own}; {rule}")


def time_notice(code: str, message: str, file: str) -> Notice:
    """Return what was odd about the times of a file as a notice."""
    severity: Literal["note", "check"] = "check" if code in TO_CHECK else "note"
    return Notice(code, message, file=file, severity=severity)


def notices_of(
    parts: Sequence[Part],
    streams: Sequence[RawStream],
    grid: Grid,
    clipped: Mapping[str, IndexRanges],
    held: IndexRanges,
    file: str,
) -> list[Notice]:
    """Return what was odd about a sensor's files and was gone on from."""
    notices = [notice for part in parts for notice in part.table.notices]
    seen: set[int] = set()
    for stream in streams:
        if id(stream.times) not in seen:
            seen.add(id(stream.times))
            notices += [
                time_notice(code, message, stream.file) for code, message in stream.times.found
            ]
    if grid.n_bridged:
        message = f"{counted(grid.n_bridged, 'short gap')} bridged"
        notices.append(Notice("gaps_bridged", message, file=file))
    if grid.gaps:
        message = (
            f"{counted(len(grid.gaps), 'gap')}, the longest {grid.longest_gap_s:.2f} s; strides"
            f" that this touches are left out{_if_hour(parts, grid.longest_gap_s)}"
        )
        notices.append(Notice("gaps", message, file=file, severity="check"))
    for kind, ranges in clipped.items():
        if ranges:
            message = f"{100.0 * _frac(ranges, grid):.2g} % of {_AT_END[kind]}"
            notices.append(Notice("clipped", message, file=file, severity="check"))
    if held:
        message = (
            f"values were held {counted(len(held), 'time')} amid motion, as by a sleeping sensor or"
            " a stuck axis; strides that this touches are left out"
        )
        notices.append(Notice("held_values", message, file=file, severity="check"))
    return notices


def _frac(ranges: IndexRanges, grid: Grid) -> float:
    return sum(last - first for first, last in ranges) / grid.time_s.size


def _if_hour(parts: Sequence[Part], gap_s: float) -> str:
    """Return what to do where a gap is that of daylight saving, else ""."""
    low_s, high_s = evidence.HOUR_GAP_S.value
    is_local = any(part.times.clock in ("local", "day") for part in parts)
    if not (is_local and low_s <= gap_s <= high_s):
        return ""
    return "; an hour is missing as where daylight saving begins: export the times with their zone"
