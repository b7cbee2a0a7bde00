"""Files with a row an event, and columns of two rates side by side."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion

from imucarry.basics.errors import ColumnError, TimebaseError
from imucarry.basics.records import Recording
from imucarry.readers.recording import read_recording

HEADER = "time_s,acc_x,acc_y,acc_z,gyr_x,gyr_y,gyr_z"


def written(path: Path, rows: np.ndarray, above: str = "", *, times: bool = True) -> Recording:
    """Write rows, NaN as an empty cell, and read them."""
    rows, header = (rows, HEADER) if times else (rows[:, 1:], HEADER.removeprefix("time_s,"))
    cells = [",".join("" if np.isnan(cell) else repr(float(cell)) for cell in row) for row in rows]
    path.write_text("\n".join([*([above] if above else []), header, *cells]) + "\n")
    return read_recording([path], "chest")


def events_of(motion: Motion, other: float, n_acc: int = 1) -> np.ndarray:
    """Return a row a sample of either sensor, ``other`` in the cells of the other one."""
    late_s = 0.004
    acc = np.column_stack([motion.time_s, motion.acc, np.full_like(motion.acc, other)])
    gyr = np.column_stack([motion.time_s + late_s, np.full_like(motion.gyr, other), motion.gyr])
    rows = np.concatenate([acc, gyr[::n_acc]])
    return rows[np.argsort(rows[:, 0], kind="stable")]


@pytest.mark.parametrize("other", [np.nan, 0.0, None])
def test_a_row_an_event_is_read_on_each_sensors_own_times(
    tmp_path: Path, motion: Motion, other: float | None
) -> None:
    rows = events_of(motion, np.nan if other is None else other)
    if other is None:  # each row repeats the other sensor's last sample
        for row in range(1, len(rows)):
            rows[row] = np.where(np.isnan(rows[row]), rows[row - 1], rows[row])
        rows[0, 4:] = motion.gyr[0]
    recording = written(tmp_path / "chest.csv", rows)
    assert recording.rate_hz == pytest.approx(100.0, rel=1e-3)
    for found, written_at, values in (
        (recording.acc_mps2, motion.time_s, motion.acc),
        (recording.gyr_radps, motion.time_s + 0.004, motion.gyr),
    ):
        true = [np.interp(recording.time_s, written_at, column) for column in values.T]
        np.testing.assert_allclose(found[2:-2].T, np.array(true)[:, 2:-2], atol=0.03)
    told = {notice.code for notice in recording.notices}
    assert told == (set() if other is not None and np.isnan(other) else {"event_rows"})


def test_events_without_times_each_count_their_own(tmp_path: Path, motion: Motion) -> None:
    rows = events_of(motion, np.nan)
    recording = written(tmp_path / "chest.csv", rows, "sampling rate: 100 Hz", times=False)
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=1e-6)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=1e-6)


def test_events_of_two_rates_without_times_are_refused(tmp_path: Path, motion: Motion) -> None:
    rows = events_of(motion, np.nan, n_acc=2)
    with pytest.raises(TimebaseError, match="one rate cannot be that of both"):
        written(tmp_path / "chest.csv", rows, "sampling rate: 100 Hz", times=False)


def test_columns_of_two_rates_side_by_side_are_refused(tmp_path: Path, motion: Motion) -> None:
    rows = np.column_stack([motion.time_s, motion.acc, np.full_like(motion.gyr, np.nan)])
    rows[: len(rows) // 2, 4:] = motion.gyr[::2]
    with pytest.raises(ColumnError, match="the gyroscope ends after 250 of 500 rows"):
        written(tmp_path / "chest.csv", rows)


def test_samples_of_every_second_row_are_no_columns_side_by_side(
    tmp_path: Path, motion: Motion
) -> None:
    rows = np.column_stack([motion.time_s, motion.acc, motion.gyr])
    rows[1::2, 4:] = np.nan
    recording = written(tmp_path / "chest.csv", rows)
    np.testing.assert_allclose(recording.gyr_radps[::2], motion.gyr[:-1:2], atol=1e-6)
    assert recording.notices == ()
