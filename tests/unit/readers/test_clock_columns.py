"""Files with several columns of times: each sensor takes its own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion

from imucarry.basics.errors import ColumnError, TimebaseError
from imucarry.readers.columns import find_roles
from imucarry.readers.entries import SensorEntry
from imucarry.readers.formats import read_table
from imucarry.readers.names import parse_name
from imucarry.readers.preview import describe
from imucarry.readers.recording import pick_sensor, read_recording
from imucarry.readers.roles import Roles, SensorColumns

Columns = dict[str, np.ndarray]
Writer = Callable[..., Path]
CLOCKS = {"chest": 50.0, "left_wrist": 100.0, "right_wrist": 25.0}  # rate of each sensor [Hz]


@pytest.fixture
def columns(motion: Motion) -> dict[str, Columns]:
    """Times and axes of three sensors, with blank cells where the quickest is longer."""
    n_rows = len(motion.time_s)
    found = {}
    for name, rate_hz in CLOCKS.items():
        n_mine = round(n_rows * rate_hz / 100)
        few = np.full((n_rows, 7), np.nan)
        few[:n_mine, 0] = np.arange(n_mine) / rate_hz
        few[:n_mine, 1:4] = motion.acc[:: round(100 / rate_hz)][:n_mine]
        few[:n_mine, 4:] = motion.gyr[:: round(100 / rate_hz)][:n_mine]
        keys = ("time_s", *(f"{kind}_{axis}" for kind in ("acc", "gyr") for axis in "xyz"))
        found[name] = dict(zip(keys, few.T, strict=True))
    return found


def named(columns: dict[str, Columns], words: dict[str, str]) -> Columns:
    return {
        f"{words[sensor]}_{name}": values
        for sensor, own in columns.items()
        for name, values in own.items()
    }


def rates(path: Path, **stated: object) -> dict[str, float]:
    return {
        placement: read_recording([path], placement, SensorEntry(placement, **stated)).rate_hz  # type: ignore[arg-type]
        for placement in CLOCKS
    }


def test_a_time_column_with_the_word_of_a_sensor_is_that_sensors(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    path = write_columns("all.csv", named(columns, {name: name for name in CLOCKS}))
    assert rates(path) == CLOCKS
    previews = describe([path])
    shown = [[c.name for c in p.reading.columns if c.role == "time"] for p in previews]
    assert shown == [[f"{name}_time_s"] for name in CLOCKS]
    assert [p.entry.columns["time"] for p in previews] == [(f"{name}_time_s",) for name in CLOCKS]


def test_a_time_column_with_the_number_of_a_sensor_is_that_sensors(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    numbers = dict(zip(CLOCKS, ("1", "2", "3"), strict=True))
    path = write_columns("all.csv", named(columns, numbers))
    for placement, number in numbers.items():
        entry = SensorEntry(placement, sensor=number)
        assert read_recording([path], placement, entry).rate_hz == CLOCKS[placement]


def test_times_without_a_word_are_of_the_sensor_whose_axes_come_next(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    words = named(columns, {name: name for name in CLOCKS})
    plain = {"chest_time_s": "time", "left_wrist_time_s": "t", "right_wrist_time_s": "timestamp"}
    path = write_columns("all.csv", {plain.get(key, key): v for key, v in words.items()})
    assert rates(path) == CLOCKS


def test_one_shared_time_serves_those_without_their_own(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    words = named(columns, {name: name for name in CLOCKS})
    del words["left_wrist_time_s"]
    words = {"time_s": columns["left_wrist"]["time_s"], **words}
    assert rates(write_columns("all.csv", words)) == CLOCKS


def test_several_times_that_belong_to_no_sensor_are_refused_by_name(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    words = named(columns, {name: name for name in CLOCKS})
    times = {f"time_{n}": words.pop(f"{name}_time_s") for n, name in enumerate(CLOCKS)}
    path = write_columns("all.csv", {**times, **words})
    with pytest.raises(ColumnError, match=r"'time_0', 'time_1', 'time_2'.*'chest'.*columns = "):
        read_recording([path], "chest")
    for n, (placement, rate_hz) in enumerate(CLOCKS.items()):
        stated = SensorEntry(placement, columns={"time": (f"time_{n}",)})
        assert read_recording([path], placement, stated).rate_hz == rate_hz


def test_a_time_between_the_sensors_is_refused_where_one_has_none(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    words = named(columns, {name: name for name in CLOCKS})
    del words["left_wrist_time_s"]
    plain = {"chest_time_s": "time", "right_wrist_time_s": "timestamp"}
    path = write_columns("all.csv", {plain.get(key, key): v for key, v in words.items()})
    with pytest.raises(ColumnError, match="2 columns of times"):
        read_recording([path], "chest")


def test_stated_time_and_sensor_pick_the_axes_of_that_sensor(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    path = write_columns("all.csv", named(columns, {name: name for name in CLOCKS}))
    entry = SensorEntry("chest", sensor="right_wrist", columns={"time": ("right_wrist_time_s",)})
    assert read_recording([path], "chest", entry).rate_hz == CLOCKS["right_wrist"]


def test_stated_axes_take_the_time_before_them(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    strange = {"time_s": "t", "acc_x": "p", "acc_y": "q1", "acc_z": "u"}
    strange |= {"gyr_x": "e", "gyr_y": "f", "gyr_z": "h"}
    path = write_columns(
        "all.csv",
        {f"{strange[k]}{n}": v for n, own in enumerate(columns.values()) for k, v in own.items()},
    )
    for n, (placement, rate_hz) in enumerate(CLOCKS.items()):
        axes = {"acc": (f"p{n}", f"q1{n}", f"u{n}"), "gyr": (f"e{n}", f"f{n}", f"h{n}")}
        entry = SensorEntry(placement, columns=axes)
        assert read_recording([path], placement, entry).rate_hz == rate_hz


def test_two_clocks_of_one_sensors_halves_are_refused(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    own = dict(columns["left_wrist"])
    halves = {
        "time": own.pop("time_s"),
        **{key: own[key] for key in ("acc_x", "acc_y", "acc_z")},
        "timestamp": columns["chest"]["time_s"],
        **{key: own[key] for key in ("gyr_x", "gyr_y", "gyr_z")},
    }
    with pytest.raises(
        ColumnError, match=r"accelerometer \('time'\) and others of the gyroscope \('timestamp'\)"
    ):
        read_recording([write_columns("chest.csv", halves)], "chest")
    halves["timestamp"] = halves["time"]
    assert read_recording([write_columns("chest.csv", halves)], "chest").rate_hz == 100.0


@pytest.mark.parametrize("names", [("host time", "device time"), ("date", "time_s")])
def test_one_clock_written_twice_serves_all_sensors(
    columns: dict[str, Columns], write_columns: Writer, names: tuple[str, str]
) -> None:
    words = named(columns, {name: name for name in CLOCKS})
    axes = {key: values for key, values in words.items() if not key.endswith("time_s")}
    times = dict.fromkeys(names, columns["left_wrist"]["time_s"])
    roles = _roles(write_columns("all.csv", {**times, **axes}))
    assert {sensor.time for sensor in roles.sensors} == {0}


def test_counters_go_with_their_sensors(columns: dict[str, Columns], write_columns: Writer) -> None:
    words = named(columns, {name: name for name in CLOCKS})
    renamed = {key.replace("time_s", "sample_counter"): v for key, v in words.items()}
    roles = _roles(write_columns("all.csv", renamed))
    assert [sensor.counter for sensor in roles.sensors] == [0, 7, 14]


@pytest.mark.parametrize(
    ("name", "group"),
    [("t1", "1"), ("Time 2 [ms]", "2"), ("left_wrist_timestamp_us", "left_wrist"), ("time", "")],
)
def test_the_word_beside_a_time_is_kept(name: str, group: str) -> None:
    assert (parse_name(name).kind, parse_name(name).group) == ("time", group)


def _roles(path: Path) -> Roles:
    return find_roles(read_table(path, path.name), SensorEntry(""))


def test_the_header_tells_each_time_its_unit(
    columns: dict[str, Columns], write_columns: Writer
) -> None:
    words = named(columns, {name: name for name in CLOCKS})
    ms = {
        key.replace("left_wrist_time_s", "left_wrist_time_ms"): (
            values * 1000 if key == "left_wrist_time_s" else values
        )
        for key, values in words.items()
    }
    path = write_columns("all.csv", ms)
    assert rates(path) == CLOCKS
    roles = _roles(path)
    left: SensorColumns = pick_sensor(read_table(path, path.name), roles, SensorEntry("left_wrist"))
    assert roles.time_unit(left) == "ms"


@pytest.mark.parametrize("shift_s", [0.0, 0.01])
def test_times_of_two_of_three_serve_the_third_where_they_are_the_same(
    columns: dict[str, Columns], write_columns: Writer, shift_s: float
) -> None:
    same = {sensor: dict(columns["left_wrist"]) for sensor in CLOCKS}
    words = named(same, {name: name for name in CLOCKS})
    del words["right_wrist_time_s"]
    words["left_wrist_time_s"] = words["left_wrist_time_s"] + shift_s
    path = write_columns("all.csv", words)
    if shift_s:
        with pytest.raises(ColumnError, match="of 'right_wrist' cannot be told"):
            read_recording([path], "right_wrist")
    else:
        assert read_recording([path], "right_wrist").rate_hz == 100.0


@pytest.mark.parametrize("names", [("acc_time", "gyr_time"), ("t_acc", "t_gyr"), ("time", "time")])
def test_times_of_each_quantity_ask_for_files_of_their_own(
    tmp_path: Path, motion: Motion, names: tuple[str, str]
) -> None:
    acc, gyr = names
    header = f"{acc},acc_x,acc_y,acc_z,{gyr},gyr_x,gyr_y,gyr_z"
    rows = np.column_stack([motion.time_s, motion.acc, motion.time_s + 0.004, motion.gyr])
    path = tmp_path / "chest.csv"
    np.savetxt(path, rows, delimiter=",", header=header, comments="")
    with pytest.raises(ColumnError if acc == gyr else TimebaseError) as caught:
        read_recording([path], "chest")
    said = f"holds times of the accelerometer ({acc!r}) and others of the gyroscope ({gyr!r})"
    assert said in caught.value.message
    assert "into a file of its own" in caught.value.message
