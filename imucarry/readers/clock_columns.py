"""Which column of times, and which counter, belongs to which sensor of a file."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.readers.lexicon import CLOCK_WORDS
from imucarry.readers.names import NameParts, placement_of
from imucarry.readers.roles import TWO_CLOCKS, SensorColumns
from imucarry.readers.table import Table

Runs = Sequence[Sequence[int]]


def with_clocks(
    table: Table,
    parts: Sequence[NameParts],
    sensors: Sequence[SensorColumns],
    others: Sequence[SensorColumns] = (),
) -> tuple[SensorColumns, ...]:
    """Return sensors with their columns of times and counters.

    Parameters
    ----------
    table : Table
    parts : sequence of NameParts
        What the columns' names say.
    sensors : sequence of SensorColumns
    others : sequence of SensorColumns, optional
        Further sensors of the file, which may have columns of their own.

    Raises
    ------
    ColumnError
        If there are several columns of times and it cannot be told whose each one is.

    Notes
    -----
    1. A column that bears a sensor's word or number is that sensor's.
    2. Columns with axes between them are each the next sensor's, if each sensor has one.
    3. Columns that all hold the same numbers are one clock, which serves every sensor.
    4. Columns side by side are one clock, written in several ways: the one that changes most
       often is taken, then the first.
    """
    everyone = (*sensors, *others)
    times = _of_each(table, parts, "time", everyone)
    counters = _of_each(table, parts, "counter", everyone)
    return tuple(
        replace(sensor, time=times[index], counter=counters[index])
        for index, sensor in enumerate(sensors)
    )


def with_nearest_clock(
    table: Table, parts: Sequence[NameParts], sensor: SensorColumns
) -> SensorColumns:
    """Return a sensor with its times where the names of the other sensors are not understood.

    Raises
    ------
    ColumnError
        If there are several columns of times and none stands before its axes.
    """
    times = [index for index, part in enumerate(parts) if part.kind == "time"]
    runs = _runs(times, [index for index in range(len(parts)) if index not in times])
    if len(runs) < 2:
        return with_clocks(table, parts, (sensor,))[0]
    at = _run_before(runs, min(c for stream in sensor.streams for c in stream.columns))
    if at is None and _are_same(table, parts, times):
        return replace(sensor, time=times[0])
    if at is None:
        raise _unclear(table, times, [sensor.label])
    return replace(sensor, time=_most_changing(table, "time", runs[at]))


def _of_each(
    table: Table, parts: Sequence[NameParts], kind: str, sensors: Sequence[SensorColumns]
) -> list[int | None]:
    """Return the column of one kind for each sensor."""
    found = [index for index, part in enumerate(parts) if part.kind == kind]
    if kind == "counter":
        found = [index for index in found if index not in table.text]
    if len(found) < 2 and len(sensors) > 0:
        return [found[0] if found else None] * len(sensors)
    own = [[c for c in found if _is_of(parts[c].group, s.label)] for s in sensors]
    if len(sensors) == 1:
        own = [[]]
    left = [column for column in found if not any(column in columns for columns in own)]
    lacking = [index for index, columns in enumerate(own) if not columns]
    for index, columns in zip(
        lacking, _by_place(table, parts, left, sensors, lacking), strict=True
    ):
        own[index] = list(columns)
    unclear = [sensor.label for sensor, columns in zip(sensors, own, strict=True) if not columns]
    if unclear and kind == "time":
        if not _are_same(table, parts, found):
            _refuse_two_clocks(table, parts, found, sensors)
            raise _unclear(table, found, unclear)
        own = [columns or found[:1] for columns in own]
    return [_most_changing(table, kind, columns) if columns else None for columns in own]


def _is_of(group: str, label: str) -> bool:
    """Whether the word or number beside a time is that of a sensor."""
    if not group or not label:
        return False
    placement = placement_of(group)
    return group == label.lower() or (placement != "" and placement == placement_of(label))


def _by_place(
    table: Table,
    parts: Sequence[NameParts],
    columns: Sequence[int],
    sensors: Sequence[SensorColumns],
    lacking: Sequence[int],
) -> Runs:
    """Return the columns that stand where they belong to each sensor; none where it is unclear."""
    unclear: Runs = [()] * len(lacking)
    if not columns or not lacking:
        return unclear
    axes = [sorted(c for stream in s.streams for c in stream.columns) for s in sensors]
    runs = _runs(columns, sorted(c for of_one in axes for c in of_one))
    before = [_run_before(runs, axes[index][0]) for index in lacking]
    if len(sensors) == 1:
        return unclear if _has_two_clocks(table, parts, runs, sensors[0]) else [columns]
    if len(set(before)) == len(lacking) > 1 and None not in before:
        return [runs[at] for at in before if at is not None]
    if len(set(before)) > 1:
        return unclear
    words = {parts[column].group for column in columns if not _tells_a_clock(parts[column].group)}
    return unclear if len(words) > 1 else [columns] * len(lacking)


def _are_same(table: Table, parts: Sequence[NameParts], columns: Sequence[int]) -> bool:
    """Whether columns of times hold the same numbers in the same unit."""
    first, *others = columns
    if any(column in table.text or parts[column].unit != parts[first].unit for column in columns):
        return False
    times = table.numbers
    return all(np.array_equal(times[:, first], times[:, c], equal_nan=True) for c in others)


def _tells_a_clock(group: str) -> bool:
    """Whether the words beside a time say which clock it is, or nothing, and so no sensor."""
    return set(group.split("_")) <= {*CLOCK_WORDS, ""}


def _runs(columns: Sequence[int], axes: Sequence[int]) -> list[list[int]]:
    """Cut columns where an axis stands between them."""
    runs: list[list[int]] = []
    for column in columns:
        if runs and not any(runs[-1][-1] < axis < column for axis in axes):
            runs[-1].append(column)
        else:
            runs.append([column])
    return runs


def _run_before(runs: Runs, first_axis: int) -> int | None:
    """Return which run of columns is the last before an axis."""
    return next((n for n in reversed(range(len(runs))) if runs[n][0] < first_axis), None)


def _has_two_clocks(
    table: Table, parts: Sequence[NameParts], runs: Runs, sensor: SensorColumns
) -> bool:
    """Whether accelerometer and gyroscope of one sensor each have different times before them."""
    before = {_run_before(runs, min(stream.columns)) for stream in sensor.streams}
    if len(before) < 2 or None in before:
        return False
    first, second = (runs[at][0] for at in sorted(at for at in before if at is not None)[:2])
    return not _are_same(table, parts, (first, second))


def _refuse_two_clocks(
    table: Table, parts: Sequence[NameParts], found: Sequence[int], sensors: Sequence[SensorColumns]
) -> None:
    """Refuse an accelerometer and a gyroscope that each have times of their own before them."""
    if len(sensors) != 1 or len(sensors[0].streams) != 2:
        return
    firsts = {stream.kind: min(stream.columns) for stream in sensors[0].streams}
    runs = _runs(found, sorted(c for stream in sensors[0].streams for c in stream.columns))
    at = {kind: _run_before(runs, first) for kind, first in firsts.items()}
    names = {kind: table.names[runs[n][0]] for kind, n in at.items() if n is not None}
    if len(set(at.values())) == 2 and set(names) == {"acc", "gyr"}:
        raise ColumnError(TWO_CLOCKS.format(**names), file=table.file, where="header")


def _most_changing(table: Table, kind: str, columns: Sequence[int]) -> int:
    """Return the column that changes most often, then the first; of counters the first."""
    if kind == "counter" or len(columns) == 1:
        return columns[0]
    return max(columns, key=lambda column: (_n_changes(table, column), -column))


def _n_changes(table: Table, column: int) -> int:
    if column in table.text:
        return int(np.count_nonzero(np.diff(table.text[column].codes)))
    with np.errstate(invalid="ignore"):
        return int(np.count_nonzero(np.diff(table.numbers[:, column]) > 0))


def _unclear(table: Table, columns: Sequence[int], labels: Sequence[str]) -> ColumnError:
    names = [table.names[column] for column in columns]
    whose = " and ".join(repr(label) for label in labels[:4] if label) or "the samples"
    return ColumnError(
        f"has {len(names)} columns of times ({', '.join(map(repr, names[:8]))}), and which is that"
        f" of {whose} cannot be told; state it in session.toml, in the [[sensor]]: columns ="
        f" {{time = {json.dumps(names[0], ensure_ascii=False)}}}",
        file=table.file,
        where="header",
    )
