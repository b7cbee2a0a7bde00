"""What a file was understood to be, for a person to look at before anything is scored."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from imucarry.basics.errors import InputError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FileReading, FloatArray, Notice
from imucarry.basics.settings import ReaderSettings
from imucarry.basics.units import DEG_PER_RAD
from imucarry.readers.columns import find_roles
from imucarry.readers.entries import SensorEntry
from imucarry.readers.facts import file_reading, lone_reading, notices_of
from imucarry.readers.formats import read_table
from imucarry.readers.frozen import frozen_notices
from imucarry.readers.gravity import with_gravity
from imucarry.readers.levels import lengths
from imucarry.readers.names import placement_of
from imucarry.readers.parts import Part, RawStream, raw_streams
from imucarry.readers.physics import held_samples, rest_acceleration
from imucarry.readers.range_ends import clipped_ranges
from imucarry.readers.recording import gridded, read_part
from imucarry.readers.recording_checks import denied_rate, strange_unit
from imucarry.readers.roles import Roles, SensorColumns
from imucarry.readers.row_times import read_times
from imucarry.readers.table import Table
from imucarry.readers.units import Unit, in_si

BARS = "▁▂▃▄▅▆▇█"


@dataclass(frozen=True, slots=True)
class FilePreview:
    """One sensor of one file.

    Attributes
    ----------
    reading : FileReading
        What every column was taken for and by which rule, times, rest, notices.
    sketch : tuple of str
        The signal in small: one line a quantity.
    entry : SensorEntry
        What pins this understanding in a ``session.toml``; the placement is ""
        where neither the file's name nor its columns tell it.
    """

    reading: FileReading
    sketch: tuple[str, ...]
    entry: SensorEntry


def describe(
    files: Sequence[Path],
    settings: ReaderSettings | None = None,
    entry: SensorEntry | None = None,
) -> tuple[FilePreview, ...]:
    """Say what files were understood to be: one preview a sensor of each file.

    A file with an accelerometer or a gyroscope alone is described as such. With an `entry`,
    what it states of the files is followed, and only its sensor is described.

    Raises
    ------
    InputError
        If a file cannot be used; the message says where and what to do.
    """
    settings = settings or ReaderSettings()
    return tuple(
        preview for path in files for preview in _file_previews(path, path.name, settings, entry)
    )


def _file_previews(
    path: Path, name: str, settings: ReaderSettings, stated: SensorEntry | None
) -> list[FilePreview]:
    table = read_table(path, name)
    if stated is not None:
        return [_preview(read_part(table, stated), settings, stated)]
    blank = SensorEntry("")
    roles = find_roles(table, blank)
    return [_preview(_part(table, roles, sensor), settings, blank) for sensor in roles.sensors]


def _part(table: Table, roles: Roles, sensor: SensorColumns) -> Part:
    return Part(table, roles, sensor, *read_times(table, roles, sensor, SensorEntry("")))


def _preview(part: Part, settings: ReaderSettings, stated: SensorEntry) -> FilePreview:
    placement = (
        stated.placement
        or placement_of(part.sensor.label)
        or placement_of(part.table.file.partition(".")[0])
    )
    found = raw_streams([part], [0.0])
    if len({stream.kind for stream in found}) < len(found):
        raise InputError(
            "holds two accelerometers or two gyroscopes", file=part.table.file, where="header"
        )
    entry = replace(stated, placement=placement, files=(part.table.file,))
    if [stream.kind for stream in found] == ["gravity"]:  # described as an acceleration
        found = [replace(found[0], kind="acc")]
    found, added = with_gravity(found, entry)
    streams = {stream.kind: stream for stream in found}
    if set(streams) == {"acc", "gyr"}:
        acc, gyr = streams["acc"], streams["gyr"]
        reading, sketch, units = _both(part, acc, gyr, settings, entry, added)
    else:
        (stream,) = streams.values()
        values, unit = in_si(stream, entry, None)
        units = {stream.kind: unit}
        reading = lone_reading(part, stream, units, settings.bridged_gap_s)
        more = [*added, *strange_unit(stream, entry, unit), *denied_rate(part, [stream], entry)]
        at_rest = None
        if stream.kind == "acc":
            still = np.zeros_like(values)  # the other half is in another file
            at_rest = rest_acceleration(values, still, stream.times.period_s)
        notices = (*reading.notices, *more)
        reading = replace(reading, rest_acc_mps2=at_rest, notices=notices)
        sketch = (_sketch_line(stream.kind, values),)
    return FilePreview(reading, sketch, _pinned(entry, part, units))


def _both(
    part: Part,
    acc: RawStream,
    gyr: RawStream,
    settings: ReaderSettings,
    entry: SensorEntry,
    added: Sequence[Notice],
) -> tuple[FileReading, tuple[str, ...], dict[str, Unit]]:
    grid, units, more = gridded(acc, gyr, entry, settings)
    clipped = {s.kind: clipped_ranges(s, units[s.kind][2], grid) for s in (acc, gyr)}
    held = held_samples(grid.acc, grid.gyr, grid.period_s)
    rest = rest_acceleration(grid.acc, grid.gyr, grid.period_s)
    reading = file_reading(part, (acc, gyr), grid, units, clipped, rest)
    notices = [
        *added,
        *more,
        *denied_rate(part, (acc, gyr), entry),
        *notices_of([part], (acc, gyr), grid, clipped, held, part.table.file),
        *frozen_notices(grid, part.table.file),
    ]
    sketch = (_sketch_line("acc", grid.acc), _sketch_line("gyr", grid.gyr))
    return replace(reading, notices=tuple(notices)), sketch, dict(units)


def _sketch_line(kind: str, values: FloatArray) -> str:
    """Draw the length of a vector over time as a row of bars: its largest in each span."""
    size = lengths(values)
    n_bars = min(evidence.SKETCH_BARS.value, size.size)
    edges = np.linspace(0, size.size, n_bars, endpoint=False).astype(np.int64)
    tops = np.maximum.reduceat(size, edges)
    low, high = float(tops.min()), float(tops.max())
    level = (tops - low) / (high - low) if high > low else np.zeros(tops.size)
    bars = "".join(BARS[int(value)] for value in np.round(level * (len(BARS) - 1)))
    if kind == "acc":
        return f"acceleration {bars} peaks {low:.1f} to {high:.1f} m/s^2"
    return f"turning rate {bars} peaks {low * DEG_PER_RAD:.0f} to {high * DEG_PER_RAD:.0f} deg/s"


def _pinned(entry: SensorEntry, part: Part, units: dict[str, Unit]) -> SensorEntry:
    """Return the entry that states what was worked out."""
    by_rows = part.times.clock == "rows" and np.isnan(entry.rate_hz)
    acc, gyr = units.get("acc", ("",))[0], units.get("gyr", ("",))[0]
    several = len(part.roles.sensors) > 1
    return replace(
        entry,
        columns=_columns(part.table, part, part.sensor),
        sensor=part.sensor.label if several else "",
        acc_unit=entry.acc_unit or acc,
        gyr_unit=entry.gyr_unit or gyr,
        time_unit=part.times.unit,
        rate_hz=part.table.rate_hz if by_rows else entry.rate_hz,
    )


def _columns(table: Table, part: Part, sensor: SensorColumns) -> dict[str, tuple[str, ...]]:
    """Return the columns by name, by number where a name stands twice; none of a long file."""
    used = [column for stream in sensor.streams for column in stream.columns]
    is_long = any(stream.rows is not None for stream in sensor.streams)
    if is_long or not all(table.names[column] for column in used):
        return {}
    columns: dict[str, tuple[str, ...]] = {}
    for role, column in (("time", sensor.time), ("counter", sensor.counter)):
        if column is not None and table.names.count(table.names[column]) == 1:
            columns[role] = (table.names[column],)
    for stream in sensor.streams:
        columns[stream.kind] = tuple(_name_or_number(table, column) for column in stream.columns)
    return columns


def _name_or_number(table: Table, column: int) -> str:
    name = table.names[column]
    return name if table.names.count(name) == 1 else str(column + 1)
