"""A gyroscope whose rates do not belong to the accelerometer's gravity is told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from accuracy_orientation import load
from motion_builder import recording_of, trunk_walk
from open_recordings import make_sessions

from imucarry.basics.records import FloatArray, IndexRanges, Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion.orientation import estimate_orientation
from imucarry.readers.session import read_session

CODE = "gyro_contradicts_gravity"
EXAMPLE = Path(__file__).parents[3] / "data" / "example"
WRONG = {
    "x reversed": np.diag([-1.0, 1.0, 1.0]),
    "y reversed": np.diag([1.0, -1.0, 1.0]),
    "z reversed": np.diag([1.0, 1.0, -1.0]),
    "x and y exchanged": np.eye(3)[[1, 0, 2]],
    "y and z exchanged": np.eye(3)[[0, 2, 1]],
    "axes moved on by one": np.eye(3)[[1, 2, 0]],
}


def told(recording: Recording, matrix: FloatArray | None = None) -> list[str]:
    rates = recording.gyr_radps if matrix is None else recording.gyr_radps @ matrix.T
    got = estimate_orientation(replace(recording, gyr_radps=rates), MotionSettings())
    return [notice.where for notice in got.notices if notice.code == CODE]


def boards(folder: Path) -> Iterator[Recording]:
    for path in sorted((folder / "board_optical").glob("*.mat")):
        yield load(path)[0]


@pytest.mark.parametrize("matrix", WRONG.values(), ids=WRONG)
def test_a_board_moved_by_hand(open_data: Path, matrix: FloatArray) -> None:
    for recording in boards(open_data):
        assert told(recording) == []
        assert told(recording, matrix) == ["chest"]


@pytest.mark.parametrize("kind", ["trunk_steps", "watch_walks"])
def test_real_walks_are_right(open_data: Path, tmp_path: Path, kind: str) -> None:
    sessions = make_sessions(kind, tmp_path, data_dir=open_data)
    assert len(sessions) > 40
    for folder in sessions:
        for recording in read_session(folder).recordings:
            assert told(recording) == []


def test_exchanged_axes_of_a_real_trunk(open_data: Path, tmp_path: Path) -> None:
    # The vertical lies near the sensor's x: exchanging x and another shows in every turn.
    for folder in make_sessions("trunk_steps", tmp_path, ["1-1", "4-2", "7-3"], data_dir=open_data):
        (recording,) = read_session(folder).recordings
        assert told(recording, np.eye(3)[[1, 0, 2]]) == ["chest"]


def test_samples_at_the_end_of_the_range_are_told_otherwise() -> None:
    time_s = np.arange(0.0, 40.0, 0.02)
    recording = recording_of(trunk_walk(time_s, from_s=8), 50)
    wrong = replace(recording, gyr_radps=recording.gyr_radps @ WRONG["x and y exchanged"].T)
    assert told(recording) == []
    assert told(wrong) == ["chest"]
    assert told(replace(wrong, gyr_clipped=((500, 510),))) == []


def with_gaps(recording: Recording, every_s: float, length_s: float) -> Recording:
    """Lose samples again and again, and fill them by straight lines as the reader does."""
    rate_hz, n_all = recording.rate_hz, recording.time_s.size
    starts = np.arange(30 * rate_hz, n_all - 5 * rate_hz, every_s * rate_hz).astype(int)
    gaps: IndexRanges = tuple((int(a), int(a + length_s * rate_hz)) for a in starts)
    there = np.ones(n_all, dtype=bool)
    for start, stop in gaps:
        there[start:stop] = False
    values = [
        np.column_stack([np.interp(recording.time_s, recording.time_s[there], x) for x in part.T])
        for part in (recording.acc_mps2[there], recording.gyr_radps[there])
    ]
    return replace(recording, acc_mps2=values[0], gyr_radps=values[1], gaps=gaps)


@pytest.mark.parametrize(
    ("every_s", "length_s"), [(34.0, 0.8), (34.0, 0.4), (12.0, 0.3), (17.0, 0.6)]
)
def test_what_turned_within_gaps_is_no_drift(every_s: float, length_s: float) -> None:
    for recording in read_session(EXAMPLE).recordings:
        gappy = with_gaps(recording, every_s, length_s)
        assert told(gappy) == []
        assert told(gappy, WRONG["axes moved on by one"]) == [recording.placement]


def test_a_chest_that_loses_a_tenth_of_its_samples() -> None:
    recording = next(r for r in read_session(EXAMPLE).recordings if r.placement == "chest")
    assert told(with_gaps(recording, 8.6, 0.9)) == []
