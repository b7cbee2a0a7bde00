"""From named columns to roles: time, counter, and three axes a quantity and sensor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from difflib import get_close_matches

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.basics.records import BoolArray, FloatArray
from imucarry.readers.axes import listed, sensors_by_name
from imucarry.readers.clock_columns import with_clocks, with_nearest_clock
from imucarry.readers.entries import SensorEntry
from imucarry.readers.gravity import without_needless_gravity
from imucarry.readers.long_files import (
    find_sensor_column,
    find_type_column,
    require_one_word_each,
    words_of,
)
from imucarry.readers.names import NameParts, parse_name
from imucarry.readers.roles import (
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
    sensors = sensors_by_name(table, parts, type_column)
    if type_column is not None and any(s.rows is not None for x in sensors for s in x.streams):
        require_one_word_each(table, type_column, sensor_column)
    sensors = tuple(without_needless_gravity(table, sensors))
    return sensors if sensor_column is None else _by_sensor(table, sensors, sensor_column)


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
    _require_apart(table, at)
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
    for kind in ("acc", "gyr", "gravity"):
        if kind in at:
            x, y, z = at[kind]
            unit = parts[x].unit if parts[x].kind == kind else ""
            strange = parts[x].strange_unit
            streams.append(StreamColumns(kind, (x, y, z), unit, strange_unit=strange))
    own = {column for stream in streams for column in stream.columns}
    others: tuple[SensorColumns, ...] = ()
    with suppress(ColumnError):
        others = tuple(
            sensor
            for sensor in sensors_by_name(table, parts, None)
            if not own & {column for stream in sensor.streams for column in stream.columns}
        )
    label = entry.sensor or parts[min(own)].group or entry.placement
    sensor = SensorColumns(label, tuple(streams))
    if "time" not in at and others:
        (sensor,) = with_clocks(table, parts, (sensor,), others)
    elif "time" not in at:
        sensor = with_nearest_clock(table, parts, sensor)
    return (replace(sensor, label=entry.sensor),)


def _require_apart(table: Table, at: Mapping[str, tuple[int, ...]]) -> None:
    """Refuse a column that is stated for two axes, or for an axis and the time."""
    stated: dict[int, str] = {}
    for role in ("acc", "gyr", "gravity", "time"):
        for column in at.get(role, ()):
            if column in stated:
                name = table.names[column] or f"{column + 1}"
                where = role if stated[column] == role else f"{stated[column]} and {role}"
                raise ColumnError(
                    f"column {name!r} is named twice, in {where} of columns in session.toml; name"
                    " each column once",
                    file=table.file,
                    where="header",
                )
            stated[column] = role


def _column_named(table: Table, name: str, role: str) -> int:
    """Return the column of a name, or of a number counted from 1 that is no column's name."""
    if role in ("acc", "gyr", "gravity") and table.names.count(name) > 1:
        numbers = [index + 1 for index, other in enumerate(table.names) if other == name]
        raise ColumnError(
            f"columns {' and '.join(map(str, numbers))} are both named {name!r}; state them by"
            f" number in session.toml, such as {role} = [2, 3, 4]",
            file=table.file,
            where="header",
        )
    if name in table.names:
        return table.names.index(name)
    if name.isdecimal() and 1 <= int(name) <= len(table.names):
        return int(name) - 1
    close = get_close_matches(name, table.names, n=1)
    hint = f"did you mean {close[0]!r}?" if close else f"the file has {listed(table.names)}"
    raise ColumnError(f"has no column {name!r} for {role}; {hint}", file=table.file, where="header")


def _unnamed(table: Table) -> Roles:
    """A table without header: told from its numbers."""
    guess = guess_columns(table)
    streams = tuple(
        StreamColumns(kind, (first, first + 1, first + 2), "")
        for kind, first in guess.triads.items()
    )
    parts = [NameParts()] * len(table.names)
    sensors = (SensorColumns("", streams, guess.time),)
    readings = tuple(
        replace(reading, rule=guess.rule if reading.role != "ignored" else "not needed")
        for reading in readings_of(table, parts, sensors, None, None)
    )
    return Roles(sensors, readings)
