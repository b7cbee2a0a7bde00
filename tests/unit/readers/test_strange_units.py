"""Units that a header names and that are not known."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion

from imucarry.readers.entries import SensorEntry
from imucarry.readers.names import parse_name
from imucarry.readers.preview import describe
from imucarry.readers.recording import read_recording
from imucarry.readers.recording_checks import STRANGE_UNIT

Writer = Callable[..., Path]


@pytest.mark.parametrize(
    ("name", "unit", "group"),
    [
        ("gyr_x_rpm", "rpm", ""),
        ("chest Gyr X (rpm)", "rpm", "chest"),
        ("chest gyr x [u/min]", "u/min", "chest"),
        ("acc x [ft/s2]", "ft/s2", ""),
        ("left_wrist_acc_y_cm_s2", "cm s2", "left_wrist"),
        ("gyr z [deg/s]", "", ""),
        ("acc_x (100Hz)", "", ""),
        ("chest gyr x [100 Hz]", "", "chest"),
        ("gyr_x_hz", "hz", ""),
        ("acc_x_filtered", "", "filtered"),
        ("acc x (left)", "", "left"),
    ],
)
def test_a_unit_that_is_not_known_is_kept_apart(name: str, unit: str, group: str) -> None:
    parts = parse_name(name)
    assert (parts.strange_unit, parts.group) == (unit, group)


def test_a_rate_in_the_row_of_units_is_no_unit() -> None:
    assert parse_name("acc_x", "[100 Hz]").strange_unit == ""
    assert parse_name("acc_x", "[rpm]").strange_unit == "rpm"


def in_rpm(write: Writer, motion: Motion, *kinds: str) -> Path:
    columns = {"time_s": np.arange(len(motion.acc)) / 100}
    for n, axis in enumerate("xyz"):
        columns[f"acc_{axis}"] = motion.acc[:, n]
        columns[f"gyr_{axis}_rpm"] = motion.gyr[:, n]
    wanted = ("time_s", *kinds)
    return write("chest.csv", {k: v for k, v in columns.items() if k.startswith(wanted)})


def test_a_unit_that_is_not_known_is_told(write_columns: Writer, motion: Motion) -> None:
    path = in_rpm(write_columns, motion, "acc", "gyr")
    for notices in (read_recording([path], "chest").notices, describe([path])[0].reading.notices):
        (notice,) = [n for n in notices if n.code == STRANGE_UNIT]
        assert notice.severity == "check"
        assert "'rpm'" in notice.message
        assert "gyr_unit" in notice.message


def test_it_is_told_of_a_gyroscope_alone(write_columns: Writer, motion: Motion) -> None:
    (preview,) = describe([in_rpm(write_columns, motion, "gyr")])
    assert [n.code for n in preview.reading.notices] == [STRANGE_UNIT]


def test_a_stated_unit_stands(write_columns: Writer, motion: Motion) -> None:
    path = in_rpm(write_columns, motion, "acc", "gyr")
    stated = SensorEntry("chest", gyr_unit="rad/s")
    codes = {n.code for n in read_recording([path], "chest", stated).notices}
    assert STRANGE_UNIT not in codes
