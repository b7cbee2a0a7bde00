"""Acceleration that a file gives in two parts: what the wearer adds, and gravity."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final, Literal

import numpy as np

from imucarry.basics.errors import InputError, UnitError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, Notice
from imucarry.basics.units import ACC_UNITS_MPS2
from imucarry.readers.entries import SensorEntry
from imucarry.readers.levels import gravity_marks, lengths
from imucarry.readers.parts import RawStream
from imucarry.readers.roles import SensorColumns, StreamColumns
from imucarry.readers.table import Table
from imucarry.readers.told_units import unit_of_gravity

GRAVITY_ADDED: Final = "gravity_added"
WHERE: Final = "gravity columns"
HOW_ADDED: Final = {
    1.0: "gravity was added to the acceleration, which the file gives without it",
    -1.0: "gravity was subtracted from the acceleration, which the file gives without it: with the "
    "sum, steps would push the body down",
}
ASSUMED: Final = "; it was taken to point {}, as the file cannot tell"
IF_WRONG: Final = (
    ": if that is wrong, left and right are exchanged; up = ... in session.toml settles it"
)
AS_MOST: Final = {True: "down, as in most files in g", False: "up, as in most files in m/s^2"}


def without_needless_gravity(table: Table, sensors: Sequence[SensorColumns]) -> list[SensorColumns]:
    """Leave out columns of gravity beside an acceleration that holds it already.

    Parameters
    ----------
    table : Table
    sensors : sequence of SensorColumns
    """
    return [_without_needless(table, sensor) for sensor in sensors]


def _without_needless(table: Table, sensor: SensorColumns) -> SensorColumns:
    without = tuple(s for s in sensor.streams if s.kind != "gravity")
    if len(without) == len(sensor.streams):
        return sensor
    holds_it = any(s.kind == "acc" and not _lacks_gravity(table, s) for s in without)
    return replace(sensor, streams=without) if holds_it else sensor


def _lacks_gravity(table: Table, columns: StreamColumns) -> bool:
    values = table.numbers[:, list(columns.columns)]
    values = values if columns.rows is None else values[columns.rows]
    return _is_free(values[np.isfinite(values).all(axis=1)])


def _is_free(values: FloatArray) -> bool:
    """Whether an acceleration shows no gravity."""
    return len(values) > 0 and gravity_marks(values)[1] < evidence.GRAVITY_SHARE.value


def with_gravity(
    streams: Sequence[RawStream], entry: SensorEntry
) -> tuple[list[RawStream], list[Notice]]:
    """Put acceleration and gravity together where a sensor's files give them apart.

    Parameters
    ----------
    streams : sequence of RawStream
        Of one sensor, on one clock.
    entry : SensorEntry
        Its ``up``, ``acc_unit`` and ``acc_scale`` are followed.

    Returns
    -------
    streams : list of RawStream
        Without gravity as a stream of its own.
    notices : list of Notice

    Raises
    ------
    InputError
        If what is called gravity is none, or the units do not fit each other.

    Notes
    -----
    A sensor at rest measures the reaction to gravity, which points up. Files that give both
    parts in g mostly hold gravity itself, which points down, and both parts reversed; those in
    m/s^2 hold the reaction. Steps throw the trunk and the arms up in shorter and larger peaks
    than down: where the sum would have it the other way round, only one part is reversed.
    """
    others = [stream for stream in streams if stream.kind != "gravity"]
    gravity = [stream for stream in streams if stream.kind == "gravity"]
    acc = [stream for stream in others if stream.kind == "acc"]
    if len(gravity) != 1 or len(acc) != 1 or not _is_free(acc[0].values):
        return others, []
    total, notice = _added(acc[0], gravity[0], entry)
    return [total if stream is acc[0] else stream for stream in others], [notice]


def _added(acc: RawStream, gravity: RawStream, entry: SensorEntry) -> tuple[RawStream, Notice]:
    unit = _unit_of(gravity)
    acc_unit = entry.acc_unit or acc.unit or unit
    count = 1.0 if np.isnan(entry.acc_scale) else entry.acc_scale
    size = ACC_UNITS_MPS2[acc_unit] * count
    if not (entry.acc_unit or acc.unit):
        _require_one_unit(acc.values * size, acc.file)
    at = _at_times_of(acc, gravity) * (ACC_UNITS_MPS2[unit] / size)
    sign = _sign(acc.values * size, at, acc.times.period_s)
    total = acc.values + at if sign > 0 else acc.values - at
    points_down = sign > 0 and unit != "m/s^2"
    if entry.up:
        points_down = _along(total, entry.up) < 0
    total = -total if points_down else total
    at_wrist = entry.placement.endswith("wrist")  # which has no left and right to exchange
    message = HOW_ADDED[sign]
    if not entry.up and sign > 0:
        message += ASSUMED.format(AS_MOST[points_down]) + ("" if at_wrist else IF_WRONG)
    elif points_down:
        message += "; both were reversed, as up in session.toml asks for"
    severity: Literal["note", "check"] = "note" if entry.up or at_wrist else "check"
    stream = replace(
        acc,
        values=np.asarray(total, dtype=np.float64),
        free_of_gravity=False,
        largest=float(np.abs(total).max()),
    )
    return stream, Notice(GRAVITY_ADDED, message, file=acc.file, severity=severity)


def _unit_of(gravity: RawStream) -> str:
    """Return the unit of gravity, whose length must be that of gravity throughout."""
    size = lengths(gravity.values)
    level = float(np.median(size))
    unit = gravity.unit or unit_of_gravity(level)
    low, high = evidence.ACC_LEVELS_MPS2.value
    if not unit or not low <= level * ACC_UNITS_MPS2[unit] <= high:
        told = f" in {unit}" if unit else ", which is gravity in none of m/s^2, g, mg"
        raise UnitError(
            f"gravity is {level:.4g} long{told}; export the acceleration with gravity, or state"
            " its columns: columns = {gravity = [...]}",
            file=gravity.file,
            where=WHERE,
        )
    if (np.ptp(gravity.values, axis=0) <= evidence.GRAVITY_STILL_FRAC.value * level).all():
        raise InputError(
            "what is named gravity never turns in the sensor, so it is not in the sensor's axes;"
            " export the acceleration with gravity, in the sensor's own axes",
            file=gravity.file,
            where=WHERE,
        )
    uneven = np.abs(size / level - 1.0) > evidence.GRAVITY_LENGTH_FRAC.value
    if uneven.mean() > evidence.UNREADABLE_FRAC.value:
        raise InputError(
            "what is named gravity changes its length, as gravity does not; export the"
            " acceleration with gravity",
            file=gravity.file,
            where=WHERE,
        )
    return unit


def _require_one_unit(acc_mps2: FloatArray, file: str) -> None:
    """Refuse an acceleration without a unit whose size does not fit that of gravity."""
    size = float(np.percentile(lengths(acc_mps2), 95))
    low, high = evidence.ADDED_ACC_MPS2.value
    if not low <= size <= high:
        raise UnitError(
            f"the acceleration without gravity, taken in the unit of gravity, reaches {size:.3g}"
            " m/s^2, as in no walk; state acc_unit (m/s^2, g, mg) in session.toml",
            file=file,
            where="accelerometer columns",
        )


def _at_times_of(acc: RawStream, gravity: RawStream) -> FloatArray:
    if gravity.times is acc.times:
        return gravity.values
    times = acc.times.time_s, gravity.times.time_s
    return np.column_stack([np.interp(*times, column) for column in gravity.values.T])


def _sign(acc_mps2: FloatArray, gravity: FloatArray, period_s: float) -> float:
    """Return 1 where both parts are to be added, -1 where gravity is to be taken off.

    Notes
    -----
    By the skewness of the part along gravity in the seconds that shake as walking does.
    """
    n_rows = max(2, round(1.0 / period_s))
    along = np.einsum("ij,ij->i", acc_mps2, gravity) / np.maximum(lengths(gravity), 1e-12)
    seconds = along[: along.size // n_rows * n_rows].reshape(-1, n_rows)
    shaking = seconds[seconds.std(axis=1) > evidence.WALK_SHAKES_MPS2.value]
    if shaking.size * period_s < evidence.WALK_SHAKES_S.value:
        return 1.0
    off = shaking - shaking.mean()
    skewness = float(np.mean(off**3) / np.mean(off**2) ** 1.5)
    return -1.0 if skewness < evidence.REVERSED_SKEWNESS.value else 1.0


def _along(total: FloatArray, axis: str) -> float:
    """Return the median of a vector along a signed axis such as "-y"."""
    value = float(np.median(total[:, "xyz".index(axis[-1])]))
    return -value if axis.startswith("-") else value
