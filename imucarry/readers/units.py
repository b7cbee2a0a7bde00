"""Streams into SI units: stated by the session, the header, or told by physics."""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.basics.units import ACC_UNITS_MPS2, GYR_UNITS_RADPS
from imucarry.readers.entries import SensorEntry
from imucarry.readers.parts import RawStream
from imucarry.readers.told_units import acc_unit, gyr_unit

Unit = tuple[str, str, float]  # as written, the rule that told it, its size in SI units


def in_si(
    stream: RawStream, entry: SensorEntry, acc_mps2: FloatArray | None
) -> tuple[FloatArray, Unit]:
    """Return a stream in m/s^2 or rad/s, and its unit.

    Parameters
    ----------
    stream : RawStream
    entry : SensorEntry
        Its ``acc_unit``, ``gyr_unit`` and scales go before the file's own words.
    acc_mps2 : ndarray, shape (N, 3), optional [m/s^2]
        Acceleration at the same samples, to tell the unit of a rate.

    Raises
    ------
    UnitError
        If the unit cannot be told, or is contradicted by the numbers.
    """
    is_acc = stream.kind == "acc"
    scale = entry.acc_scale if is_acc else entry.gyr_scale
    counts = 1.0 if np.isnan(scale) else scale
    values = stream.values if counts == 1.0 else stream.values * counts
    given = entry.acc_unit if is_acc else entry.gyr_unit
    stated = given or stream.unit
    if is_acc:
        unit, rule = acc_unit(values, stated, stream.file)
        size = ACC_UNITS_MPS2[unit]
    else:
        unit, rule = gyr_unit(values, acc_mps2, stream.times.period_s, stated, stream.file)
        size = GYR_UNITS_RADPS[unit]
    rule = rule or ("unit in session.toml" if given else "unit in the header")
    written = unit if counts == 1.0 else f"{counts:g} {unit} a count"
    return _times(stream.values, counts * size), (written, rule, counts * size)


def _times(values: FloatArray, factor: float) -> FloatArray:
    """Return a multiple, samples in a row; column by column takes half the time."""
    result = np.empty(values.shape)
    for column, target in zip(values.T, result.T, strict=True):
        np.multiply(column, factor, out=target)
    return result
