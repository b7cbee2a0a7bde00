"""Times under other names, and times that stand in two columns."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion

from imucarry.basics.errors import TimebaseError
from imucarry.readers.entries import SensorEntry
from imucarry.readers.names import parse_name
from imucarry.readers.preview import describe
from imucarry.readers.recording import read_recording

Writer = Callable[..., Path]
START = datetime(2026, 4, 3, 9, 30)


def axes_of(motion: Motion) -> dict[str, np.ndarray]:
    columns = {f"acc_{axis}": motion.acc[:, i] for i, axis in enumerate("xyz")}
    return columns | {f"gyr_{axis}": motion.gyr[:, i] for i, axis in enumerate("xyz")}


def dates(motion: Motion) -> list[str]:
    stamps = [START + timedelta(seconds=round(time, 3)) for time in motion.time_s]
    return [stamp.strftime("%d.%m.%Y %H:%M:%S.%f")[:-3] for stamp in stamps]


NAMES = (
    "Datum", "Fecha", "Fecha y hora", "Zeitpunkt", "Messzeit", "Laufzeit", "heure", "Sekunden",
    "Date heure", "Datum/Uhrzeit",
)  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("as_dates", [True, False])
def test_words_for_a_time(write_columns: Writer, motion: Motion, name: str, as_dates: bool) -> None:
    times = dates(motion) if as_dates else motion.time_s
    recording = read_recording(
        [write_columns("chest.csv", {name: times, **axes_of(motion)})], "chest"
    )
    assert recording.rate_hz == pytest.approx(100.0)
    assert not recording.times_are_stated


@pytest.mark.parametrize("name", ["y", "acc y", "y hora"])
def test_an_axis_beside_a_time_stays_an_axis(name: str) -> None:
    assert parse_name(name).axis == "y"


def test_a_column_of_dates_is_offered_as_the_time(write_columns: Writer, motion: Motion) -> None:
    columns = {"\u65e5\u6642": dates(motion), "rises": motion.time_s, **axes_of(motion)}
    path = write_columns("chest.csv", columns)
    with pytest.raises(TimebaseError) as caught:
        read_recording([path], "chest")
    assert "if '\u65e5\u6642', which holds dates or times, is it" in caught.value.message
    assert 'columns = { time = "\u65e5\u6642" }' in caught.value.message
    entry = SensorEntry("chest", columns={"time": ("\u65e5\u6642",)})
    assert read_recording([path], "chest", entry).rate_hz == pytest.approx(100.0)


def test_a_date_alone_is_no_time(write_columns: Writer, motion: Motion) -> None:
    path = write_columns("chest.csv", {"Datum": ["03.04.2026"] * 500, **axes_of(motion)})
    entry = SensorEntry("chest", rate_hz=100.0)
    assert read_recording([path], "chest", entry).rate_hz == 100.0
    with pytest.raises(TimebaseError, match="has no time column and states no rate"):
        read_recording([path], "chest")


def in_two(
    write: Writer, motion: Motion, names: tuple[str, str], per_s: float, start_s: float = 1.7e9
) -> Path:
    whole = np.floor(motion.time_s + 0.3)
    part = np.round((motion.time_s + 0.3 - whole) * per_s)
    columns = {names[0]: (whole + start_s).astype(int), names[1]: part.astype(int)}
    return write("chest.csv", {**columns, **axes_of(motion)})


@pytest.mark.parametrize(
    ("names", "per_s"),
    [
        (("sec", "nanosec"), 1e9),
        (("stamp.secs", "stamp.nsecs"), 1e9),
        (("seconds", "microseconds"), 1e6),
        (("time_s", "time_ms"), 1e3),
    ],
)
def test_seconds_and_their_fraction_are_one_time(
    write_columns: Writer, motion: Motion, names: tuple[str, str], per_s: float
) -> None:
    path = in_two(write_columns, motion, names, per_s)
    recording = read_recording([path], "chest")
    assert {notice.code for notice in recording.notices} == set()
    np.testing.assert_allclose(recording.time_s, motion.time_s, atol=1e-5)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=1e-6)
    (found,) = describe([path])
    assert f"{names[1]!r} added" in str(found.reading)
    assert read_recording([path], "chest", found.entry).rate_hz == pytest.approx(100.0)


def test_times_in_two_units_are_not_added(write_columns: Writer, motion: Motion) -> None:
    columns = {"time_s": motion.time_s, "time_ms": motion.time_s * 1000, **axes_of(motion)}
    recording = read_recording([write_columns("chest.csv", columns)], "chest")
    np.testing.assert_allclose(recording.time_s, motion.time_s, atol=1e-9)
