"""The files of one sensor to one `Recording`."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import Notice, Recording
from imucarry.basics.settings import ReaderSettings
from imucarry.readers.columns import find_roles
from imucarry.readers.entries import SensorEntry
from imucarry.readers.facts import file_reading, notices_of
from imucarry.readers.formats import read_table
from imucarry.readers.gravity import with_gravity
from imucarry.readers.halves import halves_apart
from imucarry.readers.implausible import without_absurd
from imucarry.readers.instants import past_midnight
from imucarry.readers.names import placement_of
from imucarry.readers.parts import Part, RawStream, later, raw_streams
from imucarry.readers.physics import (
    held_samples,
    require_live,
    rest_acceleration,
)
from imucarry.readers.plan import IF_PARTS
from imucarry.readers.range_ends import clipped_ranges
from imucarry.readers.recording_checks import (
    check_length_and_rate,
    contradicted_unit,
    denied_rate,
    doubtful_unit,
    low_rate,
    strange_unit,
)
from imucarry.readers.resample import Grid, Stream, on_one_grid
from imucarry.readers.roles import HOW, KIND_NAMES, Roles, SensorColumns
from imucarry.readers.row_times import read_times
from imucarry.readers.runs import merged_ranges
from imucarry.readers.table import Table
from imucarry.readers.units import Unit, in_si

TableReader = Callable[[Path, str], Table]


@dataclass(frozen=True, slots=True)
class SensorReading:
    """A recording whose times count from ``start_s`` on the clock of its file."""

    recording: Recording
    start_s: float
    clock: str
    hashes: tuple[tuple[str, str], ...]


def read_recording(
    files: Sequence[Path],
    placement: str,
    overrides: SensorEntry | None = None,
    settings: ReaderSettings | None = None,
) -> Recording:
    """Read the files of one sensor.

    Parameters
    ----------
    files : sequence of Path
        One file, or one with the accelerometer and one with the gyroscope.
    placement : str
        One of ``PLACEMENTS``.
    overrides : SensorEntry, optional
        What the session states about this sensor.
    settings : ReaderSettings, optional

    Returns
    -------
    Recording
        Its times count from its own first stamp.

    Raises
    ------
    InputError
        If the files cannot be read as one sensor; the message says where and what to do.
    """
    entry = overrides or SensorEntry(placement)
    return read_sensor(files, entry, settings or ReaderSettings(), read_table).recording


def read_sensor(
    files: Sequence[Path], entry: SensorEntry, settings: ReaderSettings, reader: TableReader
) -> SensorReading:
    """Read the files of one sensor with the clock on which they are stamped."""
    names = entry.files or tuple(path.name for path in files)
    parts = [read_part(reader(path, name), entry) for path, name in zip(files, names, strict=True)]
    start_s, clock, shifts = _common_clock(parts)
    streams = raw_streams(parts, shifts)
    first_s = min((float(stream.times.time_s[0]) for stream in streams), default=0.0)
    if first_s:
        streams = later(streams, -first_s)
    streams, added = with_gravity(streams, entry)
    acc, gyr = _pair(streams, parts)
    grid, units, more = gridded(acc, gyr, entry, settings)
    odd = [*halves_apart(parts, (acc, gyr)), *_odd_times(streams, parts, entry), *added, *more]
    recording = _as_recording(entry, grid, (acc, gyr), units, parts, odd)
    hashes = tuple(pair for part in parts for pair in part.table.hashes)
    return SensorReading(recording, start_s + first_s, clock, hashes)


def read_part(table: Table, entry: SensorEntry) -> Part:
    """Find roles and times of one file, and the sensor of it that is meant."""
    roles = find_roles(table, entry)
    sensor = pick_sensor(table, roles, entry)
    times, counts = read_times(table, roles, sensor, entry)
    return Part(table, roles, sensor, times, counts)


def pick_sensor(table: Table, roles: Roles, entry: SensorEntry) -> SensorColumns:
    """Return the sensor of a file that an entry means.

    Raises
    ------
    ColumnError
        If the file holds several sensors and none or more than one is meant.
    """
    labels = [sensor.label for sensor in roles.sensors]
    if entry.sensor and len(labels) > 1:
        found = [s for s in roles.sensors if s.label.lower() == entry.sensor.lower()]
        if not found:
            raise ColumnError(
                f"has no sensor {entry.sensor!r}; it has {', '.join(map(repr, labels))}",
                file=table.file,
                where="names of its sensors",
            )
        return found[0]
    if len(labels) == 1:
        return roles.sensors[0]
    found = [s for s in roles.sensors if placement_of(s.label) == entry.placement]
    if len(found) == 1:
        return found[0]
    _require_pairs(table, roles.sensors)
    raise ColumnError(
        f"holds several sensors ({', '.join(map(repr, labels[:8]))}), so two columns could be x,"
        f' and none is named {entry.placement}; add sensor = "..." to its [[sensor]] in'
        f" session.toml, or {HOW}",
        file=table.file,
        where="header",
    )


def _require_pairs(table: Table, sensors: Sequence[SensorColumns]) -> None:
    """Refuse a file with more of one quantity than of the other: which one is meant?"""
    labels = {
        kind: [s.label for s in sensors if kind in {stream.kind for stream in s.streams}]
        for kind in KIND_NAMES
    }
    most = max(labels, key=lambda kind: len(labels[kind]))
    if len({len(found) for found in labels.values()}) > 1:
        listed = ", ".join(repr(label) for label in labels[most][:8])
        raise ColumnError(
            f"holds {len(labels[most])} {KIND_NAMES[most]}s ({listed}), and one is needed; {HOW}",
            file=table.file,
            where="header",
        )


def _common_clock(parts: Sequence[Part]) -> tuple[float, str, list[float]]:
    """Return start and clock of a sensor and how much later each of its files starts."""
    clocks = {part.times.clock for part in parts}
    starts = [part.times.start_s for part in parts]
    if len(clocks) > 1:
        return starts[0], parts[0].times.clock, [0.0] * len(parts)
    if clocks == {"day"}:
        starts = past_midnight(starts)
    first = min(starts)
    return first, parts[0].times.clock, [start - first for start in starts]


def _odd_times(
    streams: Sequence[RawStream], parts: Sequence[Part], entry: SensorEntry
) -> list[Notice]:
    """Tell where samples begin long after their file, and a stated rate that the times deny."""
    notices = []
    first_s = _time_without_samples(streams, parts)
    if first_s > evidence.LATE_START_S.value:
        message = (
            f"the first {first_s:.1f} s of the file hold no samples; the sensor's time begins with"
            " its first sample"
        )
        notices.append(Notice("starts_late", message, file=streams[0].file, severity="check"))
    for part in parts:
        mine = [stream for stream in streams if stream.file == part.table.file]
        notices += denied_rate(part, mine, entry)
    return notices


def _time_without_samples(streams: Sequence[RawStream], parts: Sequence[Part]) -> float:
    """Return the time from a file's first row to its first sample, of the file with the least."""
    found = []
    for part in parts:
        rows = [s.times.rows for s in streams if s.file == part.table.file]
        first = min((0 if kept is None else int(kept[0]) for kept in rows), default=0)
        timed = np.flatnonzero(np.isfinite(part.times.time_s))
        found.append(float(part.times.time_s[first] - part.times.time_s[timed[0]]))
    return min(found, default=0.0)


def _pair(streams: Sequence[RawStream], parts: Sequence[Part]) -> tuple[RawStream, RawStream]:
    """Return the one accelerometer and the one gyroscope."""
    found = {}
    for kind in ("acc", "gyr"):
        mine = [stream for stream in streams if stream.kind == kind]
        name = KIND_NAMES[kind]
        if not mine:
            raise ColumnError(
                f"no {name} was found, and both are needed; export it too, or {HOW}",
                file=", ".join(part.table.file for part in parts),
                where="header",
            )
        if len(mine) > 1:
            raise ColumnError(
                f"two files for one placement hold the {name}: {mine[0].file} and {mine[1].file};"
                f" {IF_PARTS}, else list one",
                file=mine[1].file,
                where="header",
            )
        found[kind] = mine[0]
    return found["acc"], found["gyr"]


def gridded(
    acc: RawStream, gyr: RawStream, entry: SensorEntry, settings: ReaderSettings
) -> tuple[Grid, Mapping[str, Unit], list[Notice]]:
    """Check both streams, turn them into SI units and put them on one grid.

    Raises
    ------
    InputError
        If a stream is too short, too slow, dead, without gravity or of unknown unit.
    """
    notices: list[Notice] = []
    for stream in (acc, gyr):
        check_length_and_rate(stream, settings)
        notices += contradicted_unit(stream, entry)
    notices += low_rate(max(acc, gyr, key=lambda stream: stream.times.period_s), settings)
    for stream in (acc, gyr):
        require_live(stream.values, stream.kind, stream.file)
    acc_mps2, acc_unit = in_si(acc, entry, None)
    gyr_radps, gyr_unit = in_si(gyr, entry, acc_mps2 if acc.times is gyr.times else None)
    acc_si, acc_more = without_absurd(Stream("acc", acc.times, acc_mps2), acc, acc_unit[2])
    gyr_si, gyr_more = without_absurd(Stream("gyr", gyr.times, gyr_radps), gyr, gyr_unit[2])
    grid = on_one_grid(acc_si, gyr_si, settings.bridged_gap_s, acc.file)
    notices += [*strange_unit(acc, entry, acc_unit), *strange_unit(gyr, entry, gyr_unit)]
    notices += [*acc_more, *gyr_more, *doubtful_unit(gyr, gyr_si.values, gyr_unit, acc_si)]
    return grid, {"acc": acc_unit, "gyr": gyr_unit}, notices


def _as_recording(
    entry: SensorEntry,
    grid: Grid,
    streams: tuple[RawStream, RawStream],
    units: Mapping[str, Unit],
    parts: Sequence[Part],
    notices: list[Notice],
) -> Recording:
    file = streams[0].file
    clipped = {s.kind: clipped_ranges(s, units[s.kind][2], grid) for s in streams}
    held = held_samples(grid.acc, grid.gyr, grid.period_s)
    rest = rest_acceleration(grid.acc, grid.gyr, grid.period_s)
    gaps = merged_ranges([*grid.gaps, *held])
    readings = tuple(file_reading(part, streams, grid, units, clipped, rest) for part in parts)
    notices = [*notices, *notices_of(parts, streams, grid, clipped, held, file)]
    return Recording(
        placement=entry.placement,
        rate_hz=float(f"{1.0 / grid.period_s:.9g}"),
        time_s=grid.time_s,
        acc_mps2=grid.acc,
        gyr_radps=grid.gyr,
        gaps=gaps,
        acc_clipped=clipped["acc"],
        gyr_clipped=clipped["gyr"],
        up=entry.up,
        out=entry.out,
        clock_is_given=not np.isnan(entry.clock_offset_s),
        clock_is_event=not np.isnan(entry.event_s),
        times_are_stated=bool(entry.time_unit) or any(p.times.clock == "rows" for p in parts),
        readings=readings,
        notices=tuple(notices),
    )
