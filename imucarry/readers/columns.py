"""From named columns to roles: time, counter, and three axes a quantity and sensor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from difflib import get_close_matches

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.basics.records import BoolArray, FloatArray
from imucarry.readers.clock_columns import with_clocks, with_nearest_clock
from imucarry.readers.entries import SensorEntry
from imucarry.readers.lexicon import ASIDE_WORDS, AXES, AXIS_NUMBERS
from imucarry.readers.long_files import (
    find_sensor_column,
    find_type_column,
    kinds_of_words,
    words_of,
)
from imucarry.readers.names import NameParts, kind_of_word, parse_name, placement_of
from imucarry.readers.roles import (
    HOW,
    KIND_NAMES,
    Roles,
    SensorColumns,
    StreamColumns,
    readings_of,
)
from imucarry.readers.table import Table
from imucarry.readers.unnamed import guess_columns


def find_roles(table: Table, entry: SensorEntry) -> Roles:
    """Take every column for what its name, its words or its numbers say.

    Raises
    ------
    ColumnError
        If no axes are found, an axis is missing, or two columns could be one axis.
    """
    parts = [parse_name(name, unit) for name, unit in zip(table.names, table.units, strict=True)]
    if entry.columns:
        return _given(table, entry, parts)
    if not any(table.names):
        return _unnamed(table)
    live = [
        NameParts() if index not in table.text and _is_empty(table.numbers[:, index]) else part
        for index, part in enumerate(parts)
    ]
    return _named(table, live)


def _is_empty(values: FloatArray) -> bool:
    few = values[:: max(1, values.size // 16)]
    return bool(np.isnan(few).all() and np.isnan(values).all())


def _named(table: Table, parts: Sequence[NameParts]) -> Roles:
    type_column = find_type_column(table)
    sensor_column = find_sensor_column(table, parts, type_column)
    sensors = with_clocks(table, parts, _sensors(table, parts, type_column, sensor_column))
    return Roles(sensors, readings_of(table, parts, sensors, type_column, sensor_column))


def _sensors(
    table: Table, parts: Sequence[NameParts], type_column: int | None, sensor_column: int | None
) -> tuple[SensorColumns, ...]:
    sensors = _wide(table, parts, type_column)
    return sensors if sensor_column is None else _by_sensor(table, sensors, sensor_column)


def _wide(
    table: Table, parts: Sequence[NameParts], type_column: int | None
) -> tuple[SensorColumns, ...]:
    """Group the axes by sensor label, one column an axis."""
    found: dict[tuple[str, str, bool], dict[str, list[int]]] = {}
    for index, part in enumerate(parts):
        if part.axis and part.kind in ("acc", "gyr", "") and index not in table.text:
            key = (part.group, part.kind, part.free_of_gravity)
            found.setdefault(key, {}).setdefault(part.axis, []).append(index)
    found = {key: _by_letters(axes) for key, axes in _without_asides(found).items()}
    found = {key: axes for key, axes in found.items() if axes}
    bare = {key: axes for key, axes in found.items() if not key[1]}
    named = {key: axes for key, axes in found.items() if key[1]}
    streams: list[tuple[str, StreamColumns]] = []
    for (group, kind, free), axes in named.items():
        if free and (group, kind, False) in named:
            continue
        streams.append((group, _stream(table, parts, kind, axes, free)))
    for (group, _, free), axes in bare.items():
        streams += [
            (group, stream) for stream in _typed(table, parts, axes, free, type_column, bool(named))
        ]
    if not streams:
        raise ColumnError(
            f"no accelerometer or gyroscope axes among the columns {_listed(table.names)}; {HOW}",
            file=table.file,
            where="header",
        )
    return _grouped(streams)


def _without_asides(
    found: Mapping[tuple[str, str, bool], dict[str, list[int]]],
) -> dict[tuple[str, str, bool], dict[str, list[int]]]:
    """Leave out what goes beside samples, such as a gyroscope's bias, where those are there."""
    kinds = {kind for group, kind, _ in found if not _is_aside(group)}
    return {key: axes for key, axes in found.items() if not (_is_aside(key[0]) and key[1] in kinds)}


def _by_letters(axes: dict[str, list[int]]) -> dict[str, list[int]]:
    """Return axes numbered 1, 2, 3 as x, y, z where all three are there, else without."""
    if set(axes) == set(AXIS_NUMBERS):
        return {letter: axes[number] for letter, number in zip(AXES, AXIS_NUMBERS, strict=True)}
    return {axis: columns for axis, columns in axes.items() if axis in AXES}


def _is_aside(group: str) -> bool:
    return bool(group) and set(group.split("_")) <= ASIDE_WORDS


def _stream(
    table: Table, parts: Sequence[NameParts], kind: str, axes: Mapping[str, list[int]], free: bool
) -> StreamColumns:
    for axis, found in axes.items():
        if len(found) > 1:
            first, second = (table.names[column] for column in found[:2])
            how = HOW if first != second else "give every column a name of its own, in one row"
            raise ColumnError(
                f"two columns could be {kind} {axis}: {first!r} and {second!r}; {how}",
                file=table.file,
                where="header",
            )
    missing = [axis for axis in AXES if axis not in axes]
    if missing:
        known = next(iter(axes.values()))[0]
        raise ColumnError(
            f"the {KIND_NAMES.get(kind, 'sensor')} of {table.names[known]!r} has no"
            f" {' and no '.join(missing)} axis; {HOW}",
            file=table.file,
            where="header",
        )
    columns = (axes["x"][0], axes["y"][0], axes["z"][0])
    units = {parts[column].unit for column in columns} - {""}
    if len(units) > 1:
        raise ColumnError(
            f"the three {kind} axes have different units ({', '.join(sorted(units))});"
            f" set {kind}_unit and mend the file",
            file=table.file,
            where="header",
        )
    strange = next((parts[c].strange_unit for c in columns if parts[c].strange_unit), "")
    return StreamColumns(kind, columns, next(iter(units), ""), "header", None, free, strange)


def _typed(
    table: Table,
    parts: Sequence[NameParts],
    axes: Mapping[str, list[int]],
    free: bool,
    type_column: int | None,
    others_named: bool,
) -> list[StreamColumns]:
    """Columns that are only x, y, z: their quantity stands in a type column or the file's name."""
    if type_column is not None:
        base = _stream(table, parts, "", axes, free)
        kinds = kinds_of_words(table.text[type_column])
        codes = table.text[type_column].codes
        return [
            replace(
                base, kind=kind, rows=np.isin(codes, [c for c, k in kinds.items() if k == kind])
            )
            for kind in ("acc", "gyr")
            if kind in kinds.values()
        ]
    kind = kind_of_word(table.file.rsplit("/", 1)[-1].partition(".")[0])
    if others_named or not kind:
        if others_named:
            return []
        raise ColumnError(
            "columns x, y, z do not say whether they are acceleration or angular rate;"
            f" put acc or gyr into the names, or {HOW}",
            file=table.file,
            where="header",
        )
    return [_stream(table, parts, kind, axes, free)]


def _grouped(streams: Sequence[tuple[str, StreamColumns]]) -> tuple[SensorColumns, ...]:
    """Put the streams of one label together; lone labels of one acc and one gyr are one sensor."""
    kinds = [stream.kind for _, stream in streams]
    if kinds.count("acc") <= 1 and kinds.count("gyr") <= 1:
        label = next((group for group, _ in streams if placement_of(group)), streams[0][0])
        return (SensorColumns(label, tuple(stream for _, stream in streams)),)
    labels = list(dict.fromkeys(group for group, _ in streams))
    return tuple(
        SensorColumns(label, tuple(stream for group, stream in streams if group == label))
        for label in labels
    )


def _by_sensor(
    table: Table, sensors: Sequence[SensorColumns], column: int
) -> tuple[SensorColumns, ...]:
    words = words_of(table, column)
    if len(words.words) < 2:
        label = words.words[0] if words.words else ""
        return tuple(replace(sensor, label=sensor.label or label) for sensor in sensors)
    return tuple(
        SensorColumns(word, tuple(_in_rows(s, words.codes == code) for s in sensor.streams))
        for code, word in enumerate(words.words)
        for sensor in sensors
    )


def _in_rows(stream: StreamColumns, rows: BoolArray) -> StreamColumns:
    return replace(stream, rows=rows if stream.rows is None else stream.rows & rows)


def _given(table: Table, entry: SensorEntry, parts: Sequence[NameParts]) -> Roles:
    """Columns as the session file names them; those that it does not name are still found."""
    at = {
        role: tuple(_column_named(table, name, role) for name in names)
        for role, names in entry.columns.items()
    }
    type_column = find_type_column(table)
    sensor_column = find_sensor_column(table, parts, type_column)
    if "acc" in at or "gyr" in at:
        sensors = _stated(table, entry, parts, at)
        type_column = sensor_column = None
    else:
        sensors = _sensors(table, parts, type_column, sensor_column)
        sensors = sensors if "time" in at else with_clocks(table, parts, sensors)
    if "time" in at:
        sensors = tuple(replace(sensor, time=at["time"][0], counter=None) for sensor in sensors)
    counter = at["counter"][0] if "counter" in at else None
    sensors = tuple(replace(sensor, counter=counter) for sensor in sensors)
    readings = readings_of(table, parts, sensors, type_column, sensor_column)
    named = {column for columns in at.values() for column in columns}
    return Roles(
        sensors,
        tuple(
            replace(reading, rule="session.toml") if index in named else reading
            for index, reading in enumerate(readings)
        ),
    )


def _stated(
    table: Table,
    entry: SensorEntry,
    parts: Sequence[NameParts],
    at: Mapping[str, tuple[int, ...]],
) -> tuple[SensorColumns, ...]:
    """Return the sensor whose axes the session file names, with its times if they are not named."""
    streams = []
    for kind in ("acc", "gyr"):
        if kind in at:
            x, y, z = at[kind]
            unit = parts[x].unit if parts[x].kind == kind else ""
            strange = parts[x].strange_unit
            streams.append(
                StreamColumns(kind, (x, y, z), unit, "header", None, strange_unit=strange)
            )
    own = {column for stream in streams for column in stream.columns}
    others: tuple[SensorColumns, ...] = ()
    with suppress(ColumnError):
        others = tuple(
            sensor
            for sensor in _wide(table, parts, None)
            if not own & {column for stream in sensor.streams for column in stream.columns}
        )
    label = entry.sensor or parts[min(own)].group or entry.placement
    sensor = SensorColumns(label, tuple(streams))
    if "time" not in at and others:
        (sensor,) = with_clocks(table, parts, (sensor,), others)
    elif "time" not in at:
        sensor = with_nearest_clock(table, parts, sensor)
    return (replace(sensor, label=entry.sensor),)


def _column_named(table: Table, name: str, role: str) -> int:
    if name in table.names:
        return table.names.index(name)
    if not any(table.names) and name.isdecimal() and 1 <= int(name) <= len(table.names):
        return int(name) - 1
    close = get_close_matches(name, table.names, n=1)
    hint = f"did you mean {close[0]!r}?" if close else f"the file has {_listed(table.names)}"
    raise ColumnError(f"has no column {name!r} for {role}; {hint}", file=table.file, where="header")


def _unnamed(table: Table) -> Roles:
    """A table without header: told from its numbers."""
    guess = guess_columns(table)
    streams = tuple(
        StreamColumns(kind, (first, first + 1, first + 2), "", "numbers")
        for kind, first in guess.triads.items()
    )
    parts = [NameParts()] * len(table.names)
    sensors = (SensorColumns("", streams, guess.time),)
    readings = tuple(
        replace(reading, rule=guess.rule if reading.role != "ignored" else "not needed")
        for reading in readings_of(table, parts, sensors, None, None)
    )
    return Roles(sensors, readings)


def _listed(names: Sequence[str]) -> str:
    shown = [repr(name[:40]) for name in names if name][:12]
    return ", ".join(shown) + (", ..." if len(names) > len(shown) else "")
