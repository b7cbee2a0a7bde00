"""The axes of a table, put together by quantity and sensor from the columns' names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.readers.lexicon import ASIDE_WORDS, AXES, AXIS_NUMBERS
from imucarry.readers.long_files import kinds_of_words
from imucarry.readers.names import NameParts, kind_of_word, placement_of
from imucarry.readers.roles import (
    HOW,
    KIND_NAMES,
    SensorColumns,
    StreamColumns,
    how_by_number,
)
from imucarry.readers.table import Table


def sensors_by_name(
    table: Table, parts: Sequence[NameParts], type_column: int | None
) -> tuple[SensorColumns, ...]:
    """Group the axes by sensor label, one column an axis.

    Raises
    ------
    ColumnError
        If no axes are found, an axis is missing, or two columns could be one axis.
    """
    found: dict[tuple[str, str, bool], dict[str, list[int]]] = {}
    for index, part in enumerate(parts):
        if part.axis and part.kind in ("acc", "gyr", "gravity", "") and index not in table.text:
            key = (part.group, part.kind, part.free_of_gravity)
            found.setdefault(key, {}).setdefault(part.axis, []).append(index)
    found = {key: _by_letters(axes) for key, axes in _without_asides(found).items()}
    found = {key: axes for key, axes in found.items() if axes}
    bare = {key: axes for key, axes in found.items() if not key[1]}
    named = {
        key: axes
        for key, axes in found.items()
        if key[1] and (key[1] != "gravity" or _is_whole(axes))
    }
    streams: list[tuple[str, StreamColumns]] = []
    for (group, kind, free), axes in named.items():
        if free and (group, kind, False) in named:
            continue
        streams.append((group, _stream(table, parts, kind, axes, free)))
    for (group, _, free), axes in bare.items():
        streams += [
            (group, stream)
            for stream in _typed(
                table, parts, axes, free, type_column, any(key[1] != "gravity" for key in named)
            )
        ]
    if all(stream.kind == "gravity" for _, stream in streams) and not _is_of_gravity(table):
        raise ColumnError(
            f"no accelerometer or gyroscope axes among the columns {listed(table.names)}; {HOW}",
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


def _is_whole(axes: Mapping[str, list[int]]) -> bool:
    return set(axes) == set(AXES) and all(len(columns) == 1 for columns in axes.values())


def _is_of_gravity(table: Table) -> bool:
    """Whether a file's name says that it holds gravity alone, beside that of the acceleration."""
    return kind_of_word(table.file.rsplit("/", 1)[-1].partition(".")[0]) == "gravity"


def _is_aside(group: str) -> bool:
    return bool(group) and set(group.split("_")) <= ASIDE_WORDS


def _stream(
    table: Table, parts: Sequence[NameParts], kind: str, axes: Mapping[str, list[int]], free: bool
) -> StreamColumns:
    for axis, found in axes.items():
        if len(found) > 1:
            first, second = (table.names[column] for column in found[:2])
            own = f"give every column a name of its own, in one row{how_by_number(axes)}"
            how = HOW if first != second else own
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
    return StreamColumns(kind, columns, next(iter(units), ""), None, free, strange)


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
            for kind in ("acc", "gyr", "gravity")
            if kind in kinds.values()
        ]
    kind = kind_of_word(table.file.rsplit("/", 1)[-1].partition(".")[0])
    if others_named or not kind:
        if others_named:
            return []
        found = sorted(column for columns in axes.values() for column in columns)
        names = list(dict.fromkeys(table.names[column] for column in found))
        twice = len(names) < len(found)
        raise ColumnError(
            f"columns {listed(names)} do not say whether they are acceleration or angular rate;"
            f" put acc or gyr into the names{how_by_number(axes) if twice else f', or {HOW}'}",
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


def listed(names: Sequence[str]) -> str:
    """Return the first names of columns, quoted."""
    shown = [repr(name[:40]) for name in names if name][:12]
    return ", ".join(shown) + (", ..." if len(names) > len(shown) else "")
