"""Columns that the session file names: each once, by number where names stand twice."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion

from imucarry.basics.errors import ColumnError
from imucarry.readers.entries import SensorEntry
from imucarry.readers.preview import describe
from imucarry.readers.recording import read_recording

Writer = Callable[..., Path]
ACC, GYR = ("2", "3", "4"), ("5", "6", "7")


def entry(**columns: tuple[str, ...]) -> SensorEntry:
    return SensorEntry("chest", ("chest.csv",), columns, acc_unit="m/s^2", gyr_unit="rad/s")


@pytest.fixture
def double(tmp_path: Path, motion: Motion) -> Path:
    """A file whose axes have the same names for both quantities."""
    rows = np.column_stack([motion.time_s, motion.acc, motion.gyr])
    lines = [",".join(f"{value:.6f}" for value in row) for row in rows]
    path = tmp_path / "chest.csv"
    path.write_text("\n".join(["time,X,Y,Z,X,Y,Z", *lines]) + "\n")
    return path


def test_names_that_stand_twice_are_stated_by_number(double: Path, motion: Motion) -> None:
    recording = read_recording([double], "chest", entry(acc=ACC, gyr=GYR))
    np.testing.assert_allclose(recording.acc_mps2, motion.acc, atol=1e-5)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=1e-5)
    pinned = describe([double], entry=entry(acc=ACC, gyr=GYR))[0].entry
    assert pinned.columns == {"time": ("time",), "acc": ACC, "gyr": GYR}


def test_the_message_says_how_to_state_them(double: Path) -> None:
    with pytest.raises(ColumnError) as caught:
        read_recording([double], "chest")
    assert "columns 'X', 'Y', 'Z' do not say" in str(caught.value)
    assert "columns = {acc = [2, 3, 4], gyr = [5, 6, 7]}" in str(caught.value)


def test_a_name_that_stands_twice_is_not_taken_for_the_first(double: Path) -> None:
    stated = entry(acc=ACC, gyr=("X", "Y", "Z"))
    with pytest.raises(ColumnError, match=r"columns 2 and 5 are both named 'X'; state .* number"):
        read_recording([double], "chest", stated)


@pytest.mark.parametrize(
    ("columns", "said"),
    [
        ({"acc": ("ax", "ay", "az"), "gyr": ("ax", "ay", "az")}, "'ax' is named twice, in acc and"),
        ({"acc": ("ax", "ay", "az"), "gyr": ("gx", "gy", "4")}, "'az' is named twice, in acc and"),
        ({"gyr": ("gx", "gy", "7"), "acc": ("ax", "2", "az")}, "'ax' is named twice, in acc of"),
        ({"time": ("gx",), "gyr": ("gx", "gy", "gz")}, "'gx' is named twice, in gyr and time"),
    ],
)
def test_a_column_stated_twice_is_refused(
    write_columns: Writer, motion: Motion, columns: dict[str, tuple[str, ...]], said: str
) -> None:
    named = {"t": motion.time_s}
    named |= {f"a{axis}": motion.acc[:, i] for i, axis in enumerate("xyz")}
    named |= {f"g{axis}": motion.gyr[:, i] for i, axis in enumerate("xyz")}
    path = write_columns("chest.csv", named)
    with pytest.raises(ColumnError, match=said):
        read_recording([path], "chest", entry(**columns))


def test_axes_are_named_as_the_file_names_them(write_columns: Writer, motion: Motion) -> None:
    named = {"time": motion.time_s}
    named |= {f"\u52a0\u901f\u5ea6{axis}": motion.acc[:, i] for i, axis in enumerate("XYZ")}
    path = write_columns("chest.csv", named)
    with pytest.raises(ColumnError, match="columns '\u52a0\u901f\u5ea6X', '\u52a0\u901f\u5ea6Y'"):
        read_recording([path], "chest")
