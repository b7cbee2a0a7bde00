"""Times that go back: another recording is refused, a clock that was set or wrapped runs on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion

from imucarry.basics.errors import TimebaseError
from imucarry.readers.entries import SensorEntry
from imucarry.readers.recording import read_recording
from imucarry.readers.timebase import SampleTimes, sample_times

Writer = Callable[..., Path]
PERIOD_S = 0.02
TRUE = np.arange(4000) * PERIOD_S


def read(stamps: np.ndarray) -> SampleTimes:
    return sample_times(stamps, None, None, "chest.csv")


@pytest.mark.parametrize("first_s", [0.0, 12.34, 1.7e9])
@pytest.mark.parametrize("length", [150, 3000])
def test_a_second_recording_from_the_same_start_is_refused(first_s: float, length: int) -> None:
    stamps = first_s + np.concatenate([TRUE[:length], TRUE])
    with pytest.raises(TimebaseError, match=rf"near row {length + 1}: the times begin anew.*split"):
        read(stamps)


def test_parts_in_the_wrong_order_are_refused() -> None:
    with pytest.raises(TimebaseError, match="begin anew"):
        read(np.concatenate([TRUE[2000:], TRUE[:2000]]))


def test_a_second_recording_that_starts_elsewhere_is_refused() -> None:
    with pytest.raises(TimebaseError, match="begin anew"):
        read(np.concatenate([TRUE + 5.0, TRUE + 31.0]))


@pytest.mark.parametrize("lengths", [(4000, 3990, 4000), (500, 500, 4000), (3000, 500, 3000)])
def test_three_recordings_are_refused(lengths: tuple[int, ...]) -> None:
    with pytest.raises(TimebaseError, match="begin anew"):
        read(np.concatenate([TRUE[:length] for length in lengths]))


@pytest.mark.parametrize("first_s", [0.0, 12.34, 1.7e9])
@pytest.mark.parametrize("base_s", [0.0, 1000.0])
@pytest.mark.parametrize("length", [10, 50, 98])
def test_first_rows_too_few_for_a_recording_are_left_out(
    first_s: float, base_s: float, length: int
) -> None:
    stamps = first_s + np.concatenate([base_s + TRUE[:length], TRUE])
    times = read(stamps)
    assert [code for code, _ in times.found] == ["first_rows_left_out"]
    assert f"the first {length} rows" in times.found[0][1]
    np.testing.assert_array_equal(times.rows, length + np.arange(TRUE.size))
    np.testing.assert_allclose(times.time_s, first_s + TRUE, atol=1e-5)


def test_a_recording_of_a_minute_before_another_is_refused() -> None:
    with pytest.raises(TimebaseError, match="begin anew"):
        read(np.concatenate([TRUE[: round(60 / PERIOD_S)], TRUE]))


@pytest.mark.parametrize("back_s", [0.3, 2.0, 9.0, 3600.0, 7200.0])
def test_a_clock_that_was_set_back_runs_on(back_s: float) -> None:
    stamps = TRUE + 1.7e9
    stamps[2000:] -= back_s
    times = read(stamps)
    assert [code for code, _ in times.found] == ["clock_set_back"]
    np.testing.assert_allclose(times.time_s - times.time_s[0], TRUE, atol=1e-5)


@pytest.mark.parametrize(
    ("wrap_s", "first_s"),
    [
        (65.536, 0.0),
        (65.536, 11.0),
        (60.0, 11.0),
        (30.0, 11.0),
        (60.0, 0.0),
        (16.384, 0.0),
        (10.0, 0.0),
        (2.0, 0.0),
    ],
)
def test_times_that_wrap_run_on(wrap_s: float, first_s: float) -> None:
    rows = np.arange(8000) * PERIOD_S
    times = read(np.mod(first_s + rows, wrap_s))
    assert [code for code, _ in times.found] == ["clock_set_back"]
    np.testing.assert_allclose(times.time_s - times.time_s[0], rows, atol=0.05)


def test_seconds_that_wrap_once_at_a_minute_run_on() -> None:
    rows = TRUE[:3000]
    times = read(np.mod(45.0 + rows, 60.0))
    assert [code for code, _ in times.found] == ["clock_set_back"]
    np.testing.assert_allclose(times.time_s - times.time_s[0], rows, atol=0.05)


def two_in_one(path: Path, between: list[str]) -> Path:
    """Put a first recording of two and a half seconds, with other values, before a file's own."""
    header, *rows = path.read_text().splitlines()
    times = [row.partition(",")[0] for row in rows[:250]]
    other = [row.partition(",")[2] for row in rows[250:500]]
    first = [f"{time},{values}" for time, values in zip(times, other, strict=True)]
    path.write_text("\n".join([header, *first, *between, *rows]) + "\n")
    return path


@pytest.mark.parametrize("again", [True, False])
def test_a_file_of_two_recordings_is_refused(write_layout: Writer, again: bool) -> None:
    path = write_layout()
    header = path.read_text().splitlines()[0]
    with pytest.raises(TimebaseError, match="begin anew"):
        read_recording([two_in_one(path, [header] if again else ["", ""])], "chest")


def test_first_rows_that_were_left_out_are_a_check(write_layout: Writer, motion: Motion) -> None:
    path = write_layout()
    header, *rows = path.read_text().splitlines()
    first = [row + "1" for row in rows[:50]]  # other values, so not the same rows twice
    path.write_text("\n".join([header, *first, *rows]) + "\n")
    recording = read_recording([path], "chest")
    assert {n.severity for n in recording.notices if n.code == "first_rows_left_out"} == {"check"}
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=2e-5)


@pytest.mark.parametrize("again", [True, False])
def test_rows_sent_twice_are_no_second_recording(
    write_layout: Writer, motion: Motion, again: bool
) -> None:
    path = write_layout()
    header, *rows = path.read_text().splitlines()
    path.write_text("\n".join([header, *rows[:150], *([header] if again else []), *rows]) + "\n")
    recording = read_recording([path], "chest")
    assert "rows_twice" in {notice.code for notice in recording.notices}
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=2e-5)


@pytest.mark.parametrize(
    ("counts", "is_refused"),
    [
        (np.concatenate([np.arange(170), np.arange(330)]), True),
        (np.concatenate([np.arange(170), np.arange(120), np.arange(210)]), True),
        (np.mod(np.arange(500), 256), False),
        (np.mod(np.arange(500), 100), False),
        (np.mod(np.arange(500) + 7, 300), False),
        (np.arange(500), False),
    ],
)
def test_a_counter_that_begins_anew_is_refused_where_it_tells_the_time(
    write_columns: Writer, motion: Motion, counts: np.ndarray, is_refused: bool
) -> None:
    axes = np.column_stack([motion.acc, motion.gyr]).T
    names = [f"{kind}_{axis}" for kind in ("acc", "gyr") for axis in "xyz"]
    path = write_columns("chest.csv", {"counter": counts, **dict(zip(names, axes, strict=True))})
    entry = SensorEntry("chest", rate_hz=100.0)
    if is_refused:
        with pytest.raises(
            TimebaseError, match=r"row 171: the counter begins anew.*split.*delete this"
        ):
            read_recording([path], "chest", entry)
    else:
        assert read_recording([path], "chest", entry).time_s.size == 500
