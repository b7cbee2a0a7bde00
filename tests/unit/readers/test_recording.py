"""Files of one sensor to one recording: what is read, and what is refused and why."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import FileLayout, Motion, invented_motion, written_bytes

from imucarry.basics.errors import ColumnError, InputError, TimebaseError, UnitError
from imucarry.basics.records import Recording
from imucarry.readers import text
from imucarry.readers.entries import SensorEntry
from imucarry.readers.preview import describe
from imucarry.readers.recording import read_recording

Writer = Callable[..., Path]


def columns_of(motion: Motion, **more: np.ndarray) -> dict[str, np.ndarray]:
    columns = {"time_s": motion.time_s}
    columns |= {f"acc_{axis}": motion.acc[:, i] for i, axis in enumerate("xyz")}
    columns |= {f"gyr_{axis}": motion.gyr[:, i] for i, axis in enumerate("xyz")}
    return columns | more


def codes(recording: Recording) -> set[str]:
    return {notice.code for notice in recording.notices}


def assert_same(recording: Recording, motion: Motion) -> None:
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=2e-5)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=2e-5)
    np.testing.assert_allclose(recording.time_s, motion.time_s, atol=1e-6)


def test_plain_file(write_layout: Writer, motion: Motion) -> None:
    recording = read_recording([write_layout()], "chest")
    assert_same(recording, motion)
    assert recording.rate_hz == pytest.approx(100.0)
    (reading,) = recording.readings
    assert [column.role for column in reading.columns] == [
        "time", "acc_x", "acc_y", "acc_z", "gyr_x", "gyr_y", "gyr_z",
    ]  # fmt: skip
    assert {column.unit for column in reading.columns[1:4]} == {"m/s^2"}
    assert "gravity" in reading.columns[1].rule
    assert recording.gaps == recording.acc_clipped == recording.gyr_clipped == ()


def test_accelerometer_and_gyroscope_in_two_files_at_two_rates(write_columns: Writer) -> None:
    slow, fast = invented_motion(1000, 100.0), invented_motion(2000, 200.0)
    acc = columns_of(slow)
    gyr = columns_of(fast)
    first = write_columns("chest_acc.csv", {key: acc[key] for key in list(acc)[:4]})
    second = write_columns("chest_gyr.csv", {key: gyr[key] for key in ["time_s", *list(gyr)[4:]]})
    recording = read_recording([first, second], "chest")
    assert recording.rate_hz == pytest.approx(200.0)
    at = np.searchsorted(fast.time_s, recording.time_s + 1e-9) - 1
    np.testing.assert_allclose(recording.gyr_radps, fast.gyr[at], atol=1e-6)
    # Between samples 10 ms apart a straight line stands for a 0.9 Hz swing with noise of 0.05.
    np.testing.assert_allclose(recording.acc_mps2[::2], slow.acc[: len(at[::2])], atol=1e-6)
    assert len(recording.readings) == 2


def test_axes_xyz_take_their_quantity_from_the_files_names(
    write_columns: Writer, motion: Motion
) -> None:
    acc = {"t": motion.time_s, **{axis: motion.acc[:, i] for i, axis in enumerate("xyz")}}
    gyr = {"t": motion.time_s, **{axis: motion.gyr[:, i] for i, axis in enumerate("xyz")}}
    files = [write_columns("left_wrist_acc.csv", acc), write_columns("left_wrist_gyr.csv", gyr)]
    assert_same(read_recording(files, "left_wrist"), motion)


def test_wide_file_of_all_sensors(write_columns: Writer) -> None:
    motions = {p: invented_motion(400, seed=i) for i, p in enumerate(("chest", "lw", "rw"))}
    columns: dict[str, np.ndarray] = {"time": motions["chest"].time_s}
    for prefix, motion in motions.items():
        named = columns_of(motion)
        del named["time_s"]
        columns |= {f"{prefix}_{name}": values for name, values in named.items()}
    path = write_columns("all.csv", columns)
    for prefix, placement in (("chest", "chest"), ("lw", "left_wrist"), ("rw", "right_wrist")):
        recording = read_recording([path], placement)
        assert_same(recording, motions[prefix])
        roles = [column.role for column in recording.readings[0].columns]
        assert roles.count("acc_x") == 1
        assert roles.count("ignored") == 12


def test_long_file_with_a_sensor_column(write_columns: Writer) -> None:
    motions = {"chest": invented_motion(300, seed=1), "left wrist": invented_motion(300, seed=2)}
    parts = [columns_of(motion) for motion in motions.values()]
    columns = {key: np.column_stack([part[key] for part in parts]).ravel() for key in parts[0]}
    columns["device"] = np.tile(np.array(list(motions), dtype=object), 300)
    path = write_columns("all.csv", columns)
    assert_same(read_recording([path], "chest"), motions["chest"])
    assert_same(read_recording([path], "left_wrist"), motions["left wrist"])


def test_long_file_with_a_type_column(write_columns: Writer, motion: Motion) -> None:
    values = np.stack([motion.acc, motion.gyr], axis=1).reshape(-1, 3)
    columns = {
        "timestamp": np.repeat(motion.time_s, 2),
        "sensor": np.tile(np.array(["accelerometer", "gyroscope"], dtype=object), 500),
        **{axis: values[:, i] for i, axis in enumerate("xyz")},
    }
    assert_same(read_recording([write_columns("chest.csv", columns)], "chest"), motion)


def test_blank_cells_where_only_one_quantity_was_sampled(write_columns: Writer) -> None:
    motion = invented_motion(800, 200.0)
    columns = columns_of(motion)
    for axis in "xyz":
        columns[f"acc_{axis}"] = np.where(np.arange(800) % 2, np.nan, columns[f"acc_{axis}"])
    recording = read_recording([write_columns("chest.csv", columns)], "chest")
    assert recording.rate_hz == pytest.approx(200.0)
    np.testing.assert_allclose(recording.acc_mps2[::2], motion.acc[:-1:2], atol=1e-6)
    assert recording.gaps == ()


def test_thousands_of_empty_rows_at_the_start(write_columns: Writer) -> None:
    motion = invented_motion(500)
    columns = {"time_s": np.arange(5500) / 100}
    for name, values in list(columns_of(motion).items())[1:]:
        columns[name] = np.concatenate([np.full(5000, np.nan), values])
    recording = read_recording([write_columns("chest.csv", columns)], "chest")
    assert_same(recording, motion)


def test_raw_counts_with_a_stated_scale(write_columns: Writer, motion: Motion) -> None:
    counts = replace(
        motion,
        acc=np.round(motion.acc / 9.80665 * 16384),
        gyr=np.round(motion.gyr * 57.29578 * 16.4),
    )
    path = write_columns("chest.csv", columns_of(counts))
    with pytest.raises(UnitError, match="state acc_unit"):
        read_recording([path], "chest")
    entry = SensorEntry(
        "chest", acc_unit="g", acc_scale=1 / 16384, gyr_unit="deg/s", gyr_scale=1 / 16.4
    )
    recording = read_recording([path], "chest", entry)
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=0.001)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=0.001)


def in_header(motion: Motion, unit: str) -> dict[str, np.ndarray]:
    """Return columns of rates in rad/s whose names say another unit."""
    columns = columns_of(motion)
    return {f"{name}_{unit}" if name.startswith("gyr") else name: columns[name] for name in columns}


@pytest.mark.parametrize(
    ("header", "stated", "found"),
    [("radps", "rad/s", False), ("degps", "rad/s", True), ("radps", "", False)],
)
def test_a_stated_unit_that_the_header_contradicts_is_told(
    write_columns: Writer, motion: Motion, header: str, stated: str, found: bool
) -> None:
    entry = SensorEntry("chest", gyr_unit=stated)
    path = write_columns("chest.csv", in_header(motion, header))
    recording = read_recording([path], "chest", entry)
    assert ("unit_contradicted" in codes(recording)) is found
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=1e-6)


@pytest.mark.parametrize(("header", "stated"), [("degps", ""), ("radps", "deg/s")])
def test_a_unit_in_which_gravity_turns_too_fast_is_refused(
    write_columns: Writer, motion: Motion, header: str, stated: str
) -> None:
    path = write_columns("chest.csv", in_header(motion, header))
    with pytest.raises(UnitError, match="as if it were in rad/s; state the true gyr_unit"):
        read_recording([path], "chest", SensorEntry("chest", gyr_unit=stated))


@pytest.mark.parametrize("per_degps", [16.4, 32.768, 131.0])
def test_whole_numbers_without_a_unit_are_no_degrees_a_second(
    write_columns: Writer, motion: Motion, per_degps: float
) -> None:
    counts = np.round(np.rad2deg(motion.gyr) * per_degps)
    path = write_columns("chest.csv", columns_of(replace(motion, gyr=counts)))
    with pytest.raises(UnitError, match="may be raw counts; state gyr_unit"):
        read_recording([path], "chest")
    entry = SensorEntry("chest", gyr_unit="deg/s", gyr_scale=1 / per_degps)
    recording = read_recording([path], "chest", entry)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=0.002)


def test_a_rate_in_which_gravity_turns_too_fast_is_not_guessed(
    write_columns: Writer, motion: Motion
) -> None:
    path = write_columns("chest.csv", columns_of(replace(motion, gyr=motion.gyr * 300.0)))
    with pytest.raises(
        UnitError, match="is not stated, and deg/s, which alone is plausible, turns"
    ):
        read_recording([path], "chest")


def test_a_gyroscope_that_hardly_turns_is_told(write_columns: Writer, motion: Motion) -> None:
    slow = replace(motion, gyr=motion.gyr * np.radians(1.0) / 4.0)
    columns = columns_of(slow)
    named = {f"{k}_radps" if k.startswith("gyr") else k: v for k, v in columns.items()}
    recording = read_recording([write_columns("chest.csv", named)], "chest")
    (said,) = [item for item in recording.notices if item.code == "unit_doubtful"]
    assert "rad/s (unit in the header), slower than in most walks" in said.message
    assert "not a very slow one" in said.message
    quick = read_recording([write_columns("chest.csv", columns_of(motion))], "chest")
    assert "unit_doubtful" not in codes(quick)


@pytest.mark.parametrize(("unit", "walks"), [("deg/s", True), ("deg/s", False), ("rad/s", True)])
def test_a_gyroscope_that_hardly_turns_in_a_walk_is_refused(
    write_columns: Writer, unit: str, walks: bool
) -> None:
    time_s = np.arange(1500) / 100.0
    step = 2.0 * np.sin(2 * np.pi * 1.9 * time_s) if walks else 0.01 * np.sin(time_s)
    acc = np.column_stack([0.1 * np.cos(7 * time_s), 0.1 * np.sin(5 * time_s), 9.81 + step])
    gyr = 0.8 * np.sin(np.outer(2 * np.pi * time_s, [0.9, 1.0, 1.1]))  # in rad/s, truly
    path = write_columns("chest.csv", columns_of(Motion(100.0, time_s, acc, gyr)))
    entry = SensorEntry("chest", gyr_unit=unit)
    if unit == "deg/s" and walks:
        with pytest.raises(UnitError, match="accelerometer shows walking; state the true gyr_unit"):
            read_recording([path], "chest", entry)
    else:
        found = "unit_doubtful" in codes(read_recording([path], "chest", entry))
        assert found is (unit == "deg/s")


@pytest.mark.parametrize(
    "beside", ["gyr_bias", "gyr_uncalibrated", "acc_offset", "free_acc", "acc_dyn", "acc_nograv"]
)
def test_what_goes_beside_the_samples_is_left_aside(
    write_columns: Writer, motion: Motion, beside: str
) -> None:
    more = {f"{beside}_{axis}": 0.01 * motion.acc[:, i] for i, axis in enumerate("xyz")}
    recording = read_recording([write_columns("chest.csv", columns_of(motion, **more))], "chest")
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=1e-6)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=1e-6)


@pytest.mark.parametrize("form", ["Acc{}|Gyr{}", "acc_{} [g]|gyro {} (deg/s)"])
def test_axes_that_are_numbered(write_columns: Writer, motion: Motion, form: str) -> None:
    acc, gyr = form.split("|")
    scale = (9.80665, np.radians(1.0)) if "[g]" in form else (1.0, 1.0)
    columns = {"time_s": motion.time_s}
    columns |= {acc.format(i + 1): motion.acc[:, i] / scale[0] for i in range(3)}
    columns |= {gyr.format(i + 1): motion.gyr[:, i] / scale[1] for i in range(3)}
    recording = read_recording([write_columns("chest.csv", columns)], "chest")
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=1e-4)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=1e-4)
    assert "1 2 3 taken for x y z" in recording.readings[0].columns[1].rule


def test_a_lone_numbered_column_is_no_axis(write_columns: Writer, motion: Motion) -> None:
    columns = columns_of(motion, acc1=motion.acc[:, 0], acc2=motion.acc[:, 1])
    recording = read_recording([write_columns("chest.csv", columns)], "chest")
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=1e-6)


def test_two_columns_that_could_be_x_are_refused(write_columns: Writer, motion: Motion) -> None:
    more = {f"acc_{axis}_raw": motion.acc[:, i] for i, axis in enumerate("xyz")}
    with pytest.raises(ColumnError, match="two columns could be acc x: 'acc_x' and 'acc_x_raw'"):
        read_recording([write_columns("chest.csv", columns_of(motion, **more))], "chest")


def test_samples_beyond_any_sensor_are_missing(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    acc, gyr = motion.acc.copy(), motion.gyr.copy()
    acc[[300, 301, 700], 1] = -9999.0
    gyr[500, 2] = 1e6
    path = write_columns("chest.csv", columns_of(replace(motion, acc=acc, gyr=gyr)))
    recording = read_recording([path], "chest")
    said = [item.message for item in recording.notices if item.code == "absurd_values"]
    assert [message.split()[0] for message in said] == ["3", "1"]
    assert recording.gaps == ()  # as short as they are they are bridged
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=0.5)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=0.05)


def test_rows_of_zeros_are_missing(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    acc, gyr = motion.acc.copy(), motion.gyr.copy()
    lost = np.r_[100:104, 400:450]
    acc[lost], gyr[lost] = 0.0, 0.0
    path = write_columns("chest.csv", columns_of(replace(motion, acc=acc, gyr=gyr)))
    recording = read_recording([path], "chest")
    (said,) = [item for item in recording.notices if item.code == "fill_rows"]
    assert said.message.startswith("54 rows")
    assert said.severity == "check"
    assert recording.gaps == ((400, 450),)
    outside = np.setdiff1d(np.arange(1000), np.arange(399, 451))
    np.testing.assert_allclose(recording.acc_mps2[outside], motion.acc[outside], atol=0.5)


@pytest.mark.parametrize("fill", [-9999.0, 32767.0])
def test_rows_that_stand_for_none_are_missing(write_columns: Writer, fill: float) -> None:
    motion = invented_motion(1000)
    acc, gyr = motion.acc.copy(), motion.gyr.copy()
    # Of a twentieth of the rows, such a number makes a mean that looks like no gravity.
    lost = np.random.default_rng(5).permutation(np.arange(5, 995, 4))[:50]
    acc[lost], gyr[lost] = fill, fill
    path = write_columns("chest.csv", columns_of(replace(motion, acc=acc, gyr=gyr)))
    recording = read_recording([path], "chest")
    assert codes(recording) == {"fill_rows", "gaps_bridged"}
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=0.5)


def test_raw_counts_that_are_the_same_once_are_a_sample(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    counts = np.round(motion.acc * 2000)
    counts[500] = 4321
    columns = columns_of(replace(motion, acc=counts))
    entry = SensorEntry("chest", acc_unit="m/s^2", acc_scale=1 / 2000)
    recording = read_recording([write_columns("chest.csv", columns)], "chest", entry)
    assert "fill_rows" not in codes(recording)
    np.testing.assert_allclose(recording.acc_mps2[500], 4321 / 2000)


def test_an_axis_that_is_another_one_is_refused(write_columns: Writer, motion: Motion) -> None:
    gyr = motion.gyr.copy()
    gyr[:, 2] = gyr[:, 1]
    path = write_columns("chest.csv", columns_of(replace(motion, gyr=gyr)))
    with pytest.raises(InputError, match="gyroscope axes y and z hold the same numbers"):
        read_recording([path], "chest")


def test_zeros_on_two_axes_are_samples(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    acc = motion.acc.copy()
    acc[100:110, :2] = 0.0
    recording = read_recording(
        [write_columns("chest.csv", columns_of(replace(motion, acc=acc)))], "chest"
    )
    assert codes(recording) == set()
    np.testing.assert_array_equal(recording.acc_mps2[100:110, :2], 0.0)


@pytest.mark.parametrize("n_empty", [3, 200])
def test_a_late_first_sample_is_told(write_columns: Writer, n_empty: int) -> None:
    columns = columns_of(invented_motion(1000))
    empty = {
        name: np.where(np.arange(1000) < n_empty, np.nan, values) if name != "time_s" else values
        for name, values in columns.items()
    }
    recording = read_recording([write_columns("chest.csv", empty)], "chest")
    assert recording.readings[0].columns[1].name == "acc_x"
    said = [item.message for item in recording.notices if item.code == "starts_late"]
    assert [f"{n_empty / 100:.1f} s of the file hold no samples" in text for text in said] == (
        [True] if n_empty > 50 else []
    )


def test_a_clock_that_wraps_at_the_hour_starts_on_time(write_columns: Writer) -> None:
    columns = columns_of(invented_motion(1000))
    into_hour_s = (columns["time_s"] + 3595.0) % 3600.0
    stamps = [f"{int(t // 60):02d}:{t % 60:06.3f}" for t in into_hour_s]
    path = write_columns("chest.csv", {**columns, "time_s": np.array(stamps)})
    recording = read_recording([path], "chest")
    assert recording.time_s[-1] == pytest.approx(9.99)
    assert "starts_late" not in codes(recording)


def test_a_column_that_rises_is_offered_as_the_time(write_columns: Writer, motion: Motion) -> None:
    columns = columns_of(motion)
    named = {"moment" if name == "time_s" else name: columns[name] for name in columns}
    path = write_columns("chest.csv", named)
    with pytest.raises(TimebaseError, match="if 'moment', which rises") as refused:
        read_recording([path], "chest")
    offered = tomllib.loads(str(refused.value).partition("add ")[2].partition(" to its")[0])
    entry = SensorEntry("chest", columns={"time": (offered["columns"]["time"],)})
    assert read_recording([path], "chest", entry).rate_hz == pytest.approx(100.0)


@pytest.mark.parametrize("packet", [2, 8])
def test_only_the_first_row_of_a_packet_is_stamped(write_columns: Writer, packet: int) -> None:
    motion = invented_motion(1000)
    columns = columns_of(motion)
    columns["time_s"] = np.where(np.arange(1000) % packet == 0, motion.time_s, np.nan)
    recording = read_recording([write_columns("chest.csv", columns)], "chest")
    assert codes(recording) == {"packets"}
    assert recording.rate_hz == pytest.approx(100.0, rel=2e-3)
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=1e-6)


def test_a_stated_rate_that_the_times_deny_is_told(write_columns: Writer) -> None:
    path = write_columns("chest.csv", columns_of(invented_motion(1000)))
    (said,) = read_recording([path], "chest", SensorEntry("chest", rate_hz=50.0)).notices
    assert said.code == "rate_contradicted"
    assert "states a rate of 50 Hz, the times step at 100 Hz" in said.message
    assert codes(read_recording([path], "chest", SensorEntry("chest", rate_hz=103.0))) == set()


@pytest.mark.parametrize(("rate_hz", "told"), [(100.0, False), (101.5, False), (103.0, True)])
def test_a_rate_above_the_table_that_its_times_deny_is_told(
    write_columns: Writer, rate_hz: float, told: bool
) -> None:
    path = write_columns("chest.csv", columns_of(invented_motion(1000)))
    path.write_text(f"# sampling rate: {rate_hz} Hz\n{path.read_text()}")
    said = "the file states a rate of 103 Hz, its times step at 100 Hz"
    for notices in (read_recording([path], "chest").notices, describe([path])[0].reading.notices):
        assert {notice.code for notice in notices} == ({"rate_contradicted"} if told else set())
        assert all(said in n.message and n.severity == "check" for n in notices)


def test_short_gap_is_bridged_and_long_gap_is_listed(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    columns = columns_of(motion)
    kept = np.r_[0:200, 208:600, 640:1000]
    path = write_columns("chest.csv", {name: values[kept] for name, values in columns.items()})
    recording = read_recording([path], "chest")
    assert recording.time_s.size == 1000
    assert recording.gaps == ((600, 640),)
    assert codes(recording) == {"gaps_bridged", "gaps"}
    (reading,) = recording.readings
    assert (reading.n_gaps_bridged, reading.n_gaps) == (1, 1)
    assert reading.longest_gap_s == pytest.approx(0.41)
    np.testing.assert_allclose(recording.acc_mps2[kept], motion.acc[kept], atol=1e-6)


def test_clipping_is_flagged(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    gyr = motion.gyr.copy()
    gyr[:, 1] = np.clip(gyr[:, 1], -2.182, 2.182)
    recording = read_recording(
        [write_columns("chest.csv", columns_of(replace(motion, gyr=gyr)))], "chest"
    )
    hit = np.zeros(1000, dtype=bool)
    assert recording.acc_clipped == ()
    for first, last in recording.gyr_clipped:
        hit[first:last] = True
    np.testing.assert_array_equal(hit, np.abs(motion.gyr[:, 1]) >= 2.182)
    assert recording.readings[0].clipped_frac == pytest.approx(hit.mean())
    assert "clipped" in codes(recording)


def test_what_the_accelerometer_cut_off_is_kept_apart(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    acc = motion.acc.copy()
    acc[:, 2] += 12.0 * np.sin(2.0 * np.pi * 1.8 * motion.time_s)
    whole, acc[:, 2] = acc[:, 2].copy(), np.minimum(acc[:, 2], 19.6)
    path = write_columns("chest.csv", columns_of(replace(motion, acc=acc)))
    recording = read_recording([path], "chest")
    hit = sum(last - first for first, last in recording.acc_clipped)
    assert hit == np.count_nonzero(whole >= 19.6)
    assert recording.gyr_clipped == ()
    (told,) = (n.message for n in recording.notices if n.code == "clipped")
    assert told.startswith(f"{hit / 10.0:.2g} % of the accelerations")


def test_sleeping_sensor_is_a_gap(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    acc, gyr = motion.acc.copy(), motion.gyr.copy()
    acc[400:600], gyr[400:600] = acc[400], gyr[400]
    path = write_columns("chest.csv", columns_of(replace(motion, acc=acc, gyr=gyr)))
    recording = read_recording([path], "chest")
    assert recording.gaps == ((400, 600),)
    assert "held_values" in codes(recording)


def test_stuck_axis_for_a_while_is_a_gap(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    gyr = motion.gyr.copy()
    gyr[300:500, 2] = 0.0
    recording = read_recording(
        [write_columns("chest.csv", columns_of(replace(motion, gyr=gyr)))], "chest"
    )
    assert recording.gaps == ((300, 500),)


def test_quiet_standing_is_no_gap(write_columns: Writer, motion: Motion) -> None:
    still = replace(motion, acc=motion.acc.copy(), gyr=motion.gyr.copy())
    still.acc[:300], still.gyr[:300] = (0.0, 0.0, 9.81), (0.0, 0.0, 0.0)
    recording = read_recording([write_columns("chest.csv", columns_of(still))], "chest")
    assert recording.gaps == ()
    assert recording.readings[0].rest_acc_mps2 == pytest.approx((0.0, 0.0, 9.81))


def test_cut_last_row_is_left_out(write_layout: Writer, motion: Motion) -> None:
    path = write_layout()
    path.write_bytes(path.read_bytes()[:-12])
    recording = read_recording([path], "chest")
    assert recording.time_s.size == 499
    assert "cut_row" in codes(recording)


def test_broken_cells_are_missing_samples(write_layout: Writer, motion: Motion) -> None:
    path = write_layout()
    lines = path.read_text().split("\n")
    lines[100] = lines[100].replace(lines[100].split(",")[3], "ERR")
    lines[200] = "# a remark amid the rows, with, too, many, cells, in, it, and, more"
    path.write_text("\n".join(lines))
    recording = read_recording([path], "chest")
    assert {"broken_rows"} <= codes(recording)
    np.testing.assert_allclose(recording.acc_mps2[110:190], motion.acc[110:190], atol=1e-6)


@pytest.mark.parametrize("rate_hz", [15.5, 30.0])
def test_low_rate_is_read_with_a_warning(write_columns: Writer, rate_hz: float) -> None:
    path = write_columns("chest.csv", columns_of(invented_motion(200, rate_hz)))
    assert "low_rate" in codes(read_recording([path], "chest"))


def test_a_low_rate_is_told_once_a_sensor_of_its_slower_signal(write_columns: Writer) -> None:
    fast, slow = (columns_of(invented_motion(400, rate_hz)) for rate_hz in (33.0, 30.0))
    time = next(iter(fast))
    acc = {key: fast[key] for key in list(fast)[:4]}
    gyr = {key: slow[key] for key in (time, *list(slow)[4:])}
    files = [write_columns("chest_acc.csv", acc), write_columns("chest_gyr.csv", gyr)]
    told = [n for n in read_recording(files, "chest").notices if n.code == "low_rate"]
    assert [(n.file, n.message.split(" only")[0]) for n in told] == [
        ("chest_gyr.csv", "samples at 30 Hz")
    ]


def test_overrides_go_before_the_header(write_columns: Writer, motion: Motion) -> None:
    names = ["t", "p", "q", "r", "u", "v", "w"]
    path = write_columns("chest.csv", dict(zip(names, columns_of(motion).values(), strict=True)))
    with pytest.raises(ColumnError, match="no accelerometer or gyroscope axes among the columns"):
        read_recording([path], "chest")
    entry = SensorEntry(
        "chest", columns={"time": ("t",), "acc": ("p", "q", "r"), "gyr": ("u", "v", "w")}
    )
    assert_same(read_recording([path], "chest", entry), motion)
    wrong = replace(entry, columns={**entry.columns, "time": ("tt",)})
    with pytest.raises(ColumnError, match="did you mean 't'"):
        read_recording([path], "chest", wrong)


def test_counter_with_a_stated_rate_shows_lost_samples(write_columns: Writer) -> None:
    motion = invented_motion(1000)
    kept = np.delete(np.arange(1000), [50, 51, 700])
    columns = {k: v[kept] for k, v in columns_of(motion).items() if k != "time_s"}
    columns = {"packet": (kept + 65000) % 65536, **columns}
    path = write_columns("chest.csv", columns)
    with pytest.raises(TimebaseError, match="add rate_hz"):
        read_recording([path], "chest")
    recording = read_recording([path], "chest", SensorEntry("chest", rate_hz=100.0))
    assert recording.time_s.size == 1000
    assert "lost_samples" in codes(recording)
    np.testing.assert_allclose(recording.acc_mps2[kept], motion.acc[kept], atol=1e-6)


def refusals() -> list[tuple[str, Callable[[dict[str, np.ndarray]], None], type[InputError], str]]:
    def without(*names: str) -> Callable[[dict[str, np.ndarray]], None]:
        return lambda columns: [columns.pop(name) for name in names] and None

    def scaled(prefix: str, size: float) -> Callable[[dict[str, np.ndarray]], None]:
        return lambda columns: columns.update(
            {name: values * size for name, values in columns.items() if name.startswith(prefix)}
        )

    def added(name: str, copy: str) -> Callable[[dict[str, np.ndarray]], None]:
        return lambda columns: columns.update({name: columns[copy]})

    def flattened(*names: str) -> Callable[[dict[str, np.ndarray]], None]:
        return lambda columns: columns.update({name: columns[name] * 0 for name in names})

    def level_removed(columns: dict[str, np.ndarray]) -> None:
        for axis in "xyz":
            values = columns[f"acc_{axis}"]
            columns[f"acc_{axis}"] = np.diff(values, prepend=values[0]) * 20

    gyr = ("gyr_x", "gyr_y", "gyr_z")
    return [
        ("no gyroscope", without(*gyr), ColumnError, "no gyroscope was found"),
        ("no z", without("acc_z"), ColumnError, "has no z axis"),
        ("two x", added("accel_x", "acc_y"), ColumnError, "two columns could be acc x"),
        ("unknown unit", scaled("acc", 37.0), UnitError, "state acc_unit"),
        ("absurd rates", scaled("gyr", 1e7), UnitError, "state gyr_unit"),
        ("no gravity", level_removed, InputError, "gravity seems removed"),
        ("gyro zero", flattened(*gyr), InputError, "gyroscope is zero throughout"),
        ("stuck axis", flattened("gyr_y"), InputError, "gyroscope axis y is stuck"),
        ("no time", without("time_s"), TimebaseError, "add rate_hz"),
        ("too slow", scaled("time", 20.0), TimebaseError, "at least 15 Hz"),
        ("too short", scaled("time", 0.3), TimebaseError, "at least 2 s are needed"),
    ]


@pytest.mark.parametrize(
    ("change", "error", "words"), [case[1:] for case in refusals()], ids=[c[0] for c in refusals()]
)
def test_refusal_says_where_and_what_to_do(
    write_columns: Writer,
    motion: Motion,
    change: Callable[[dict[str, np.ndarray]], None],
    error: type[InputError],
    words: str,
) -> None:
    columns = columns_of(motion)
    change(columns)
    path = write_columns("chest.csv", columns)
    with pytest.raises(error, match=words) as caught:
        read_recording([path], "chest")
    assert str(caught.value).startswith("chest.csv")
    assert "\n" not in str(caught.value)
    assert ";" in caught.value.message or ":" in caught.value.message


@pytest.mark.parametrize(("unit_text", "factor"), [("g", 1.0), ("m/s^2", 1 / 9.80665), ("mg", 1.0)])
def test_header_that_contradicts_gravity_is_refused(
    write_columns: Writer, motion: Motion, unit_text: str, factor: float
) -> None:
    columns = columns_of(motion)
    for axis in "xyz":
        columns[f"acc_{axis} ({unit_text})"] = columns.pop(f"acc_{axis}") * factor
    with pytest.raises(UnitError, match="times gravity"):
        read_recording([write_columns("chest.csv", columns)], "chest")


def test_two_files_with_the_same_quantity_are_refused(write_layout: Writer) -> None:
    with pytest.raises(ColumnError, match="two files for one placement"):
        read_recording([write_layout("a.csv"), write_layout("b.csv")], "chest")


def test_files_that_never_overlap_are_refused(write_columns: Writer, motion: Motion) -> None:
    columns = columns_of(motion)
    acc = {k: v for k, v in columns.items() if not k.startswith("gyr")}
    gyr = {k: v for k, v in columns.items() if not k.startswith("acc")}
    gyr["time_s"] = gyr["time_s"] + 500
    files = [write_columns("chest_acc.csv", acc), write_columns("chest_gyr.csv", gyr)]
    with pytest.raises(TimebaseError, match="share 0 s"):
        read_recording(files, "chest")


@pytest.mark.parametrize(
    "above",
    [
        "",
        "\n\n",
        "Recorded by: nobody\n\nUnit no, 5\n",
        'A strap of 5" width\nNo: 3\n',
        "\r\nNotes: none\r\n",
        "# a, b\r# c\r",
    ],
)
@pytest.mark.parametrize("large_bytes", [0, 1 << 23])
def test_lines_above_the_table(
    write_layout: Writer,
    motion: Motion,
    above: str,
    large_bytes: int,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(text, "LARGE_BYTES", large_bytes)
    path = write_layout()
    path.write_bytes(above.encode() + path.read_bytes())
    recording = read_recording([path], "chest")
    assert_same(recording, motion)
    assert (
        f"first row on line {len((above + '.').splitlines()) + 1}" in recording.readings[0].layout
    )


@pytest.mark.parametrize("cell", ["inf", "-inf", "1e308", "9" * 400])
@pytest.mark.parametrize("column", range(7))
@pytest.mark.parametrize("header", ["short", "none"])
def test_absurd_numbers_are_missing_samples(
    write_layout: Writer, motion: Motion, cell: str, column: int, header: str
) -> None:
    path = write_layout(header=header)
    lines = path.read_text().split("\n")
    for number in (100, 101):
        cells = lines[number].split(",")
        cells[column] = cell
        lines[number] = ",".join(cells)
    path.write_text("\n".join(lines))
    recording = read_recording([path], "chest")
    assert recording.time_s.size == 500
    np.testing.assert_allclose(recording.acc_mps2[:95], motion.acc[:95], atol=2e-5)
    np.testing.assert_allclose(recording.gyr_radps[110:], motion.gyr[110:], atol=2e-5)


@pytest.mark.parametrize("broken", [False, True])
def test_large_file_reads_as_a_small_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: bool
) -> None:
    long = invented_motion(80_000)
    lines = written_bytes(long, FileLayout()).decode().splitlines()
    if broken:
        for number in (20_000, 40_001):
            lines[number] = lines[number].replace(".", "?", 3)
    path = tmp_path / "chest.csv"
    path.write_text("\n".join(lines))
    assert path.stat().st_size > text.LARGE_BYTES
    large = read_recording([path], "chest")
    monkeypatch.setattr(text, "LARGE_BYTES", 1 << 30)
    small = read_recording([path], "chest")
    np.testing.assert_array_equal(large.acc_mps2, small.acc_mps2)
    np.testing.assert_array_equal(large.gyr_radps, small.gyr_radps)
    assert large.notices == small.notices
    assert [notice.code for notice in large.notices if notice.code == "broken_rows"] == (
        ["broken_rows"] if broken else []
    )


def test_a_block_of_rows_that_was_sent_twice_counts_once(
    write_columns: Writer, motion: Motion
) -> None:
    again = {k: np.insert(v, 320, v[300:320]) for k, v in columns_of(motion).items()}
    recording = read_recording([write_columns("chest.csv", again)], "chest")
    assert "rows_twice" in codes(recording)
    assert "clock_set_back" not in codes(recording)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=1e-6)


@pytest.mark.parametrize(
    ("name", "size"), [("time_s", 1000.0), ("time_s", 1e6), ("time_ms", 0.001), ("time_us", 0.001)]
)
def test_times_in_another_unit_than_their_name_says(
    write_columns: Writer, motion: Motion, name: str, size: float
) -> None:
    columns = columns_of(motion)
    columns = {name: columns.pop("time_s") * size} | columns
    with pytest.raises(TimebaseError, match="state time_unit"):
        read_recording([write_columns("chest.csv", columns)], "chest")


def test_times_that_are_slow_in_truth_are_of_no_other_unit(
    write_columns: Writer, motion: Motion
) -> None:
    slow = columns_of(motion) | {"time_s": motion.time_s * 10.0}
    with pytest.raises(TimebaseError, match=r"record at 50 Hz or more$"):
        read_recording([write_columns("chest.csv", slow)], "chest")


@pytest.mark.parametrize("kind", ["acc", "gyr"])
@pytest.mark.parametrize("names", [("1", "2"), ("_low", "_high")])
def test_two_of_one_quantity_and_one_of_the_other(
    write_columns: Writer, motion: Motion, kind: str, names: tuple[str, str]
) -> None:
    columns = columns_of(motion)
    doubled = {
        f"{kind}{label}_{axis}": columns.pop(f"{kind}_{axis}") if label == names[1] else values
        for label in names
        for axis, values in zip("xyz", getattr(motion, kind).T, strict=True)
    }
    path = write_columns("chest.csv", columns | doubled)
    what = {"acc": "accelerometers", "gyr": "gyroscopes"}[kind]
    with pytest.raises(ColumnError, match=f"holds 2 {what} .* and one is needed; name the columns"):
        read_recording([path], "chest")
    acc, gyr = (
        [f"{one}{names[0] if one == kind else ''}_{axis}" for axis in "xyz"]
        for one in ("acc", "gyr")
    )
    entry = SensorEntry("chest", columns={"acc": tuple(acc), "gyr": tuple(gyr)})
    assert_same(read_recording([path], "chest", entry), motion)


def test_numbered_names_are_one_sensor(write_columns: Writer, motion: Motion) -> None:
    columns = {
        name.replace("acc", "acc1").replace("gyr", "gyro2"): values
        for name, values in columns_of(motion).items()
    }
    assert_same(read_recording([write_columns("chest.csv", columns)], "chest"), motion)


@pytest.mark.parametrize(("missing_s", "is_told"), [(3600, True), (3000, False)])
def test_a_missing_hour_of_local_times_is_named(
    write_columns: Writer, motion: Motion, missing_s: int, is_told: bool
) -> None:
    columns = columns_of(motion)
    seconds = columns.pop("time_s")
    stamps = np.datetime64("2026-03-29T01:59:58", "ms") + np.round(
        1000 * (seconds + missing_s * (seconds > 2))
    ).astype("timedelta64[ms]")
    path = write_columns("chest.csv", {"datetime": stamps.astype(str), **columns})
    (gaps,) = [n for n in read_recording([path], "chest").notices if n.code == "gaps"]
    assert ("daylight saving" in gaps.message) is is_told
