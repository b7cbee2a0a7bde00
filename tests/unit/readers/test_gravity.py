"""Acceleration and gravity that a file gives apart, and long files that hold several of a kind."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from imucarry.basics.errors import ColumnError, InputError, UnitError
from imucarry.readers.entries import SensorEntry
from imucarry.readers.preview import describe
from imucarry.readers.recording import read_recording
from imucarry.readers.session import read_session
from imucarry.readers.writing import write_session_toml

Writer = Callable[..., Path]
Parts = tuple[np.ndarray, np.ndarray, np.ndarray]
G = 9.80665
RATE_HZ = 100.0
TIME_S = np.arange(3000) / RATE_HZ


@pytest.fixture(scope="module")
def walk() -> Parts:
    """What is added to gravity, gravity, and the turning rate: of steps with short peaks up."""
    lean = 0.15 * np.sin(2 * np.pi * 0.9 * TIME_S)
    roll = 0.10 * np.sin(2 * np.pi * 0.5 * TIME_S)
    up = np.column_stack([np.sin(lean), np.sin(roll) * np.cos(lean), np.cos(roll) * np.cos(lean)])
    phase = (TIME_S * 1.8) % 1.0
    peaks = 6.0 * np.exp(-((phase - 0.5) ** 2) / 0.005)
    added = (peaks - peaks.mean())[:, None] * up
    sway = np.column_stack([np.cos(2 * np.pi * 1.8 * TIME_S), np.sin(2 * np.pi * 0.9 * TIME_S)])
    added[:, :2] += sway
    turning = np.gradient(up, TIME_S, axis=0)
    return added, G * up, -np.cross(turning, up) + 0.8 * np.sin(5.6 * TIME_S)[:, None] * up


def columns_of(
    added: np.ndarray, gravity: np.ndarray, gyr: np.ndarray, acc: str = "user_acc"
) -> dict[str, np.ndarray]:
    values = np.column_stack([added, gravity, gyr])
    names = [f"{name}_{axis}" for name in (acc, "gravity", "rotationRate") for axis in "xyz"]
    return {"time_s": TIME_S, **dict(zip(names, values.T, strict=True))}


@pytest.mark.parametrize(
    ("size", "sign_of_added", "sign_of_gravity", "said"),
    [
        (1.0, 1.0, 1.0, "taken to point up"),
        (G, -1.0, -1.0, "taken to point down"),
        (1.0, 1.0, -1.0, "was subtracted"),
        (G, 1.0, -1.0, "was subtracted"),
    ],
)
def test_both_parts_are_put_together_as_a_sensor_measures_them(
    write_columns: Writer, walk: Parts, size: float, sign_of_added: float,
    sign_of_gravity: float, said: str,
) -> None:  # fmt: skip
    added, gravity, gyr = walk
    columns = columns_of(sign_of_added * added / size, sign_of_gravity * gravity / size, gyr)
    path = write_columns("chest.csv", columns)
    recording = read_recording([path], "chest")
    np.testing.assert_allclose(recording.acc_mps2, added + gravity, atol=1e-6)
    (notice,) = recording.notices
    assert (notice.code, notice.severity) == ("gravity_added", "check")
    assert said in notice.message
    (preview,) = describe([path])
    assert preview.reading.notices == (notice,)
    assert preview.reading.columns[4].role == "gravity_x"
    assert "is gravity in" in preview.reading.columns[1].rule


def test_at_a_wrist_the_way_up_is_a_note(write_columns: Writer, walk: Parts) -> None:
    path = write_columns("left_wrist.csv", columns_of(*walk))
    (notice,) = read_recording([path], "left_wrist").notices
    assert (notice.code, notice.severity) == ("gravity_added", "note")
    assert notice.message.endswith("as the file cannot tell")


@pytest.mark.parametrize("up", ["+z", "-z"])
def test_a_stated_axis_up_settles_which_way_gravity_points(
    write_columns: Writer, walk: Parts, up: str
) -> None:
    added, gravity, gyr = walk
    path = write_columns("chest.csv", columns_of(added, gravity, gyr))
    recording = read_recording([path], "chest", SensorEntry("chest", up=up))
    sign = 1.0 if up == "+z" else -1.0
    np.testing.assert_allclose(recording.acc_mps2, sign * (added + gravity), atol=1e-6)
    assert {notice.severity for notice in recording.notices} == {"note"}


def test_the_units_of_both_parts_may_differ(tmp_path: Path, walk: Parts) -> None:
    added, gravity, gyr = walk
    units = {"linear_acc": "mps2", "gravity": "g", "gyr": "radps"}
    names = [f"{name}_{axis}_{unit}" for name, unit in units.items() for axis in "xyz"]
    values = np.column_stack([TIME_S, -added, -gravity / G, gyr])
    path = tmp_path / "chest.csv"
    np.savetxt(path, values, delimiter=",", header=",".join(["time_s", *names]), comments="")
    recording = read_recording([path], "chest")
    np.testing.assert_allclose(recording.acc_mps2, added + gravity, atol=1e-6)


def test_what_was_understood_can_be_pinned(
    write_columns: Writer, tmp_path: Path, walk: Parts
) -> None:
    added, gravity, gyr = walk
    path = write_columns("chest.csv", columns_of(-added / G, -gravity / G, gyr))
    (preview,) = describe([path])
    write_session_toml(tmp_path, [preview.entry], participant="P", session="1")
    assert "gravity = [" in (tmp_path / "session.toml").read_text()
    (recording,) = read_session(tmp_path).recordings
    np.testing.assert_allclose(recording.acc_mps2, added + gravity, atol=1e-6)


def test_gravity_beside_a_whole_acceleration_is_left_aside(
    write_columns: Writer, walk: Parts
) -> None:
    added, gravity, gyr = walk
    path = write_columns("chest.csv", columns_of(added + gravity, gravity, gyr, acc="acc"))
    recording = read_recording([path], "chest")
    np.testing.assert_allclose(recording.acc_mps2, added + gravity, atol=1e-6)
    assert recording.notices == ()
    assert recording.readings[0].columns[4].role == "ignored"


@pytest.mark.parametrize(
    ("times", "gravity_of", "error", "says"),
    [
        (0.01, lambda gravity, _: gravity, UnitError, "as in no walk"),
        (1.0, lambda gravity, _: gravity / 2, UnitError, "is gravity in none of"),
        (1.0, lambda gravity, added: gravity + added, InputError, "changes its length"),
        (1.0, lambda gravity, _: 0 * gravity + [0, 0, G], InputError, "never turns"),
    ],
)
def test_what_is_no_gravity_is_refused(
    write_columns: Writer,
    walk: Parts,
    times: float,
    gravity_of: Callable[..., np.ndarray],
    error: type[InputError],
    says: str,
) -> None:
    added, gravity, gyr = walk
    path = write_columns("chest.csv", columns_of(times * added, gravity_of(gravity, added), gyr))
    with pytest.raises(error, match=says):
        read_recording([path], "chest")


def long_file(path: Path, rows: dict[str, tuple[float, np.ndarray]]) -> Path:
    lines = [
        (time_s + late_s, f"{time_s + late_s:.4f},{word},{x!r},{y!r},{z!r}")
        for word, (late_s, values) in rows.items()
        for time_s, (x, y, z) in zip(TIME_S.tolist(), values.tolist(), strict=True)
    ]
    text = "\n".join(line for _, line in sorted(lines))
    path.write_text(f"seconds_elapsed,sensor,x,y,z\n{text}\n")
    return path


def test_of_a_long_file_only_the_whole_acceleration_is_read(tmp_path: Path, walk: Parts) -> None:
    added, gravity, gyr = walk
    rows = {
        "Accelerometer": (0.0, added + gravity),
        "AccelerometerUncalibrated": (0.002, added + gravity + 0.3),
        "Linear Acceleration": (0.003, added),
        "Gravity": (0.004, gravity),
        "Gyroscope": (0.0, gyr),
        "gyroscope uncalibrated": (0.002, gyr + 0.1),
        "rotation vector": (0.003, gyr),
    }
    recording = read_recording([long_file(tmp_path / "chest.csv", rows)], "chest")
    np.testing.assert_allclose(recording.acc_mps2, added + gravity, atol=1e-6)
    np.testing.assert_allclose(recording.gyr_radps, gyr, atol=1e-6)
    assert recording.notices == ()


def test_gravity_in_rows_of_its_own_is_added(tmp_path: Path, walk: Parts) -> None:
    added, gravity, gyr = walk
    rows = {"Linear Acceleration": (0.0, added), "gravity": (0.0, gravity), "gyroscope": (0.0, gyr)}
    recording = read_recording([long_file(tmp_path / "chest.csv", rows)], "chest")
    np.testing.assert_allclose(recording.acc_mps2, added + gravity, atol=1e-6)


def test_rows_of_two_accelerometers_are_not_mixed(tmp_path: Path, walk: Parts) -> None:
    added, gravity, gyr = walk
    total = added + gravity
    rows = {"acc low": (0.0, total), "acc high": (0.002, total), "gyro": (0.0, gyr)}
    with pytest.raises(ColumnError, match="could both be the accelerometer; keep those of one"):
        read_recording([long_file(tmp_path / "chest.csv", rows)], "chest")


def test_gravity_in_a_file_of_its_own_is_added(write_columns: Writer, walk: Parts) -> None:
    added, gravity, gyr = walk
    names = ("chest_linear_acceleration.csv", "chest_gravity.csv", "chest_gyroscope.csv")
    for name, values in zip(names, (added, gravity, gyr), strict=True):
        path = write_columns(name, {"t": TIME_S, "x": values[:, 0], "y": values[:, 1],
                                    "z": values[:, 2]})  # fmt: skip
    assert describe([path.with_name("chest_gravity.csv")])[0].entry.acc_unit == "m/s^2"
    (recording,) = read_session(path.parent).recordings
    np.testing.assert_allclose(recording.acc_mps2, added + gravity, atol=1e-6)
