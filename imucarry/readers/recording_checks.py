"""What the samples of one sensor say against its stated units, times and rate."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from imucarry.basics.errors import TimebaseError, UnitError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, Notice
from imucarry.basics.settings import ReaderSettings
from imucarry.readers.entries import SensorEntry
from imucarry.readers.parts import Part, RawStream
from imucarry.readers.physics import hardly_turns, shakes_as_walking
from imucarry.readers.resample import Stream
from imucarry.readers.roles import KIND_NAMES
from imucarry.readers.units import Unit

STRANGE_UNIT: Final = "unit_not_known"


def contradicted_unit(stream: RawStream, entry: SensorEntry) -> list[Notice]:
    """Tell of a unit in the header that the session file contradicts."""
    given = entry.acc_unit if stream.kind == "acc" else entry.gyr_unit
    if not (given and stream.unit) or given == stream.unit:
        return []
    message = (
        f"the header gives the {KIND_NAMES[stream.kind]} in {stream.unit}, session.toml in {given};"
        " session.toml was followed"
    )
    return [Notice("unit_contradicted", message, file=stream.file, severity="check")]


def strange_unit(stream: RawStream, entry: SensorEntry, unit: Unit) -> list[Notice]:
    """Tell of a unit in the header that is not known, in whose place another was assumed."""
    given = entry.acc_unit if stream.kind == "acc" else entry.gyr_unit
    if given or not stream.strange_unit:
        return []
    message = (
        f"the header gives the {KIND_NAMES[stream.kind]} in {stream.strange_unit!r}, a unit that is"
        f" not known; {unit[0]} was assumed, and if that is wrong so is every angle: state"
        f" {stream.kind}_unit and {stream.kind}_scale in session.toml"
    )
    return [Notice(STRANGE_UNIT, message, file=stream.file, severity="check")]


def doubtful_unit(
    stream: RawStream, gyr_radps: FloatArray, unit: Unit, acc_mps2: Stream
) -> list[Notice]:
    """Refuse a rate too slow for the walking that the accelerometer shows, else tell of it.

    Raises
    ------
    UnitError
        If the gyroscope hardly turns while the accelerometer shakes as in walking.
    """
    if not hardly_turns(gyr_radps):
        return []
    slow = f"the gyroscope hardly turns in {unit[0]} ({unit[1]}), slower than in most walks"
    if shakes_as_walking(acc_mps2.values, acc_mps2.times.period_s):
        raise UnitError(
            f"{slow}, while the accelerometer shows walking; state the true gyr_unit (deg/s, rad/s,"
            " mdeg/s) in session.toml",
            file=stream.file,
            where="gyroscope columns",
        )
    message = (
        f"{slow}; if there was a walk, and not a very slow one, state the true gyr_unit in"
        " session.toml"
    )
    return [Notice("unit_doubtful", message, file=stream.file, severity="check")]


def check_length_and_rate(stream: RawStream, settings: ReaderSettings) -> None:
    """Refuse a stream that is too short or too slow.

    Raises
    ------
    TimebaseError
        If it is.
    """
    duration = float(stream.times.time_s[-1] - stream.times.time_s[0])
    rate = 1.0 / stream.times.period_s
    if rate < settings.least_rate_hz:
        raise TimebaseError(
            f"samples at {rate:.3g} Hz; at least {settings.least_rate_hz:g} Hz is needed: record at"
            f" 50 Hz or more{_other_unit(stream)}",
            file=stream.file,
            where=f"{KIND_NAMES[stream.kind]} columns",
        )
    if duration + stream.times.period_s < settings.least_duration_s:
        raise TimebaseError(
            f"holds {duration:.3g} s of data; at least {settings.least_duration_s:g} s are needed"
            f"{_other_unit(stream)}",
            file=stream.file,
            where=f"{stream.values.shape[0]} rows",
        )


def _other_unit(stream: RawStream) -> str:
    """Return what to do where the times would fit a sensor in another unit."""
    low, high = evidence.STEP_RANGE_S.value
    steps_s = [stream.times.period_s * 1000.0**power for power in (-3, -2, -1, 1, 2, 3)]
    odd = not low <= stream.times.period_s <= high
    if not (odd and any(low <= step_s <= high for step_s in steps_s)):
        return ""
    return "; if the times are in another unit, state time_unit (s, ms, us, ns) in session.toml"


def low_rate(slower: RawStream, settings: ReaderSettings) -> list[Notice]:
    """Tell a low rate once a sensor, of the slower of its two signals."""
    rate = 1.0 / slower.times.period_s
    if rate >= settings.low_rate_hz:
        return []
    message = f"samples at {rate:.3g} Hz only; contacts are timed coarsely below 40 Hz"
    return [Notice("low_rate", message, file=slower.file, severity="check")]


def denied_rate(part: Part, streams: Sequence[RawStream], entry: SensorEntry) -> tuple[Notice, ...]:
    """Tell of a rate that the session file, or the file above its table, states and its times deny.

    Parameters
    ----------
    part : Part
    streams : sequence of RawStream
        Those of this file.
    entry : SensorEntry
        Its rate goes before the file's own.
    """
    of_entry = not np.isnan(entry.rate_hz)
    stated_hz = entry.rate_hz if of_entry else part.table.rate_hz
    if part.times.clock == "rows" or not streams or not stated_hz > 0:
        return ()
    rates_hz = [1.0 / stream.times.period_s for stream in streams]
    rate_hz = min(rates_hz, key=lambda rate: abs(stated_hz / rate - 1.0))
    limit = evidence.RATE_CONTRADICTED_FRAC if of_entry else evidence.FILE_RATE_DENIED_FRAC
    if abs(stated_hz / rate_hz - 1.0) <= limit.value:
        return ()
    said = f"states a rate of {stated_hz:g} Hz"
    message = (
        f"session.toml {said}, the times step at {rate_hz:.4g} Hz; the times were followed"
        if of_entry
        else f"the file {said}, its times step at {rate_hz:.4g} Hz; the times were"
        " followed, and if they are wrong so are cadence and all angles"
    )
    return (Notice("rate_contradicted", message, file=part.table.file, severity="check"),)
