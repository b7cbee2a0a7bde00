"""What the columns of one table are, and how that is said to people."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from imucarry.basics.records import BoolArray, ColumnReading
from imucarry.readers.lexicon import AXES, AXIS_NUMBERS
from imucarry.readers.names import NameParts
from imucarry.readers.table import Table

KIND_NAMES = {"acc": "accelerometer", "gyr": "gyroscope"}
STREAM_NAMES = {**KIND_NAMES, "gravity": "gravity"}
TWO_CLOCKS = (
    "holds times of the accelerometer ({acc!r}) and others of the gyroscope ({gyr!r}); write each"
    " with its axes into a file of its own, and list both: file = [..., ...] in session.toml"
)
HOW = 'name the columns in session.toml: columns = {acc = ["..."], gyr = ["..."]}'


def how_by_number(axes: Mapping[str, Sequence[int]]) -> str:
    """Say how axes whose names stand twice are told apart: by the numbers of their columns.

    Parameters
    ----------
    axes : mapping of "x", "y" and "z" to their columns, counted from 0
    """
    if set(axes) != set(AXES) or any(len(columns) != 2 for columns in axes.values()):
        return ""
    first, second = ([axes[axis][at] + 1 for axis in AXES] for at in (0, 1))
    return (
        f", or state them by number in session.toml: columns = {{acc = {first}, gyr = {second}}}"
        " where the acceleration stands first"
    )


@dataclass(frozen=True, slots=True)
class StreamColumns:
    """Three axes of one quantity: their columns and, in a long file, their rows."""

    kind: str  # "acc", "gyr" or "gravity"
    columns: tuple[int, int, int]
    unit: str
    rows: BoolArray | None = None
    free_of_gravity: bool = False
    strange_unit: str = ""  # named in the header and not known


@dataclass(frozen=True, slots=True)
class SensorColumns:
    """The streams of one sensor of a file, its column of times and its counter.

    ``label`` is what the file calls it.
    """

    label: str
    streams: tuple[StreamColumns, ...]
    time: int | None = None
    counter: int | None = None


@dataclass(frozen=True, slots=True)
class Roles:
    """What the columns of one table are: its sensors, and what is said of every column."""

    sensors: tuple[SensorColumns, ...]
    readings: tuple[ColumnReading, ...]

    def time_unit(self, sensor: SensorColumns) -> str:
        """Return the unit that the header gives a sensor's times in, or ""."""
        return "" if sensor.time is None else self.readings[sensor.time].unit or ""


def readings_of(
    table: Table,
    parts: Sequence[NameParts],
    sensors: Sequence[SensorColumns],
    type_column: int | None,
    sensor_column: int | None,
) -> tuple[ColumnReading, ...]:
    """Say for every column what it was taken for and by which rule."""
    role_of = {
        column: f"{stream.kind}_{axis}"
        for sensor in sensors
        for stream in sensor.streams
        for axis, column in zip(AXES, stream.columns, strict=True)
    }
    single = {type_column: "type", sensor_column: "sensor"}
    single |= {sensor.counter: "counter" for sensor in sensors}
    single |= {sensor.time: "time" for sensor in sensors}
    role_of.update({column: role for column, role in single.items() if column is not None})
    return tuple(
        ColumnReading(
            name=name or f"column {index + 1}",
            role=role_of.get(index, "ignored"),
            unit=parts[index].unit if index in role_of else "",
            rule=_rule(parts[index], index in role_of, index in (type_column, sensor_column)),
        )
        for index, name in enumerate(table.names)
    )


def _rule(part: NameParts, used: bool, by_words: bool) -> str:
    if by_words:
        return "words in the column"
    if used:
        name = "name, 1 2 3 taken for x y z" if part.axis in AXIS_NUMBERS else "name"
        return f"{name}, unit in the header" if part.unit else name
    return f"taken for another quantity ({part.kind})" if part.kind else "name not understood"
