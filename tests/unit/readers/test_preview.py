"""The preview of a file, and the session file that pins it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random

import numpy as np
import pytest
from fuzz_layouts import Motion, random_layout, written_bytes

from imucarry.basics.errors import OutputError, SessionError
from imucarry.readers.entries import SensorEntry
from imucarry.readers.preview import describe
from imucarry.readers.session import read_session
from imucarry.readers.writing import session_toml, write_session_toml

Writer = Callable[..., Path]


def test_preview_says_what_and_why(write_layout: Writer) -> None:
    (preview,) = describe(
        [write_layout("left_wrist.csv", acc_unit="g", gyr_unit="deg/s", time="ms")]
    )
    reading = preview.reading
    assert reading.layout.startswith("ASCII, separated by comma, decimal point, names above")
    assert reading.time_rule == "counted in ms, told by size"
    assert {column.unit for column in reading.columns} == {"", "g", "deg/s"}
    assert "plausible only in deg/s" in reading.columns[4].rule
    assert reading.rate_hz == pytest.approx(100)
    assert reading.duration_s == pytest.approx(4.99)
    assert [line.split()[0] for line in preview.sketch] == ["acceleration", "turning"]
    entry = preview.entry
    assert (entry.placement, entry.acc_unit, entry.gyr_unit, entry.time_unit) == (
        "left_wrist", "g", "deg/s", "ms",
    )  # fmt: skip
    assert entry.columns["acc"] == ("acc_x", "acc_y", "acc_z")


def test_preview_of_an_accelerometer_alone(write_columns: Writer, motion: Motion) -> None:
    path = write_columns(
        "chest_acc.csv",
        {"t": motion.time_s, **{axis: motion.acc[:, i] for i, axis in enumerate("xyz")}},
    )
    (preview,) = describe([path])
    assert (preview.entry.acc_unit, preview.entry.gyr_unit) == ("m/s^2", "")
    assert len(preview.sketch) == 1


@pytest.mark.parametrize("seed", range(40))
def test_pinned_session_reads_the_same(tmp_path: Path, motion: Motion, seed: int) -> None:
    layout = replace(random_layout(Random(seed)), final_newline=True)
    path = tmp_path / "chest.csv"
    path.write_bytes(written_bytes(motion, layout))
    (preview,) = describe([path])
    before = read_session(tmp_path).recordings[0]
    write_session_toml(tmp_path, [preview.entry], participant='a "b"', session="1")
    session = read_session(tmp_path)
    assert session.participant == 'a "b"'
    np.testing.assert_array_equal(session.recordings[0].acc_mps2, before.acc_mps2)
    np.testing.assert_array_equal(session.recordings[0].gyr_radps, before.gyr_radps)
    np.testing.assert_array_equal(session.recordings[0].time_s, before.time_s)


def test_an_existing_session_file_stays(tmp_path: Path) -> None:
    entry = SensorEntry("chest", files=("chest.csv",))
    (tmp_path / "session.toml").write_text("mine")
    with pytest.raises(OutputError, match="is there already"):
        write_session_toml(tmp_path, [entry], participant="a", session="1")
    assert (tmp_path / "session.toml").read_text() == "mine"
    other = write_session_toml(tmp_path / "other.toml", [entry], participant="a", session="1")
    assert other == tmp_path / "other.toml"
    assert "chest.csv" in other.read_text()
    new = write_session_toml(tmp_path / "new" / "visit", [entry], participant="a", session="1")
    assert new == tmp_path / "new" / "visit" / "session.toml"


def test_files_of_one_placement_are_put_together() -> None:
    acc = SensorEntry("chest", files=("acc.csv",), acc_unit="g", columns={"acc": ("x", "y", "z")})
    gyr = SensorEntry("chest", files=("gyr.csv",), gyr_unit="rad/s")
    text = session_toml([acc, gyr], participant="a", session="1", bouts="bouts.csv")
    assert 'file = ["acc.csv", "gyr.csv"]' in text
    assert text.count("[[sensor]]") == 1
    assert "columns" not in text


def test_untold_placements_are_marked() -> None:
    lone = SensorEntry("", files=("a.csv",))
    text = session_toml([lone], participant="a", session="1")
    assert 'placement = ""  # not told by the file: chest, left_wrist, right_wrist' in text
    with pytest.raises(SessionError, match="more sensors than placements"):
        session_toml([lone] * 4, participant="a", session="1")


def test_a_placement_that_is_not_known_is_filled_in_before_scoring(
    write_layout: Writer, tmp_path: Path
) -> None:
    path = write_layout("imu_00a3.csv")
    (preview,) = describe([path])
    toml = write_session_toml(tmp_path, [preview.entry], participant="a", session="1")
    with pytest.raises(SessionError, match=r"no placement for imu_00a3\.csv; write chest"):
        read_session(tmp_path)
    text = toml.read_text()
    toml.write_text(text.replace('placement = ""', 'placement = "left_wrist"'))
    assert read_session(tmp_path).recordings[0].placement == "left_wrist"


def test_two_parts_of_one_recording_are_not_pinned_as_halves(write_layout: Writer) -> None:
    entries = [
        preview.entry
        for name in ("chest_part1.csv", "chest_part2.csv")
        for preview in describe([write_layout(name)])
    ]
    with pytest.raises(SessionError, match=r"both hold the accelerometer.*join them into one file"):
        session_toml(entries, participant="a", session="1")


def test_an_accelerometer_alone_tells_its_rest_and_a_gyroscope_alone_says_nothing_of_it(
    write_columns: Writer, motion: Motion
) -> None:
    from imucarry.report.preview import lines

    time = {"time_s": np.arange(len(motion.acc)) / 100}
    still = {f"acc_{axis}": 9.81 * (axis == "z") + motion.acc[:, n] * 1e-3
             for n, axis in enumerate("xyz")}  # fmt: skip
    turns = {f"gyr_{axis}": motion.gyr[:, n] for n, axis in enumerate("xyz")}
    acc = describe([write_columns("chest_acc.csv", {**time, **still})])
    gyr = describe([write_columns("chest_gyr.csv", {**time, **turns})])
    assert acc[0].reading.rest_acc_mps2 is not None
    assert any(line.startswith("  at rest") for line in lines(acc))
    assert not any("rest" in line for line in lines(gyr))
    assert max(len(line) for line in (*acc[0].sketch, *gyr[0].sketch)) < 80
