"""Accelerometer and gyroscope in two files: told where they have no common clock."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion

from imucarry.basics.records import Notice
from imucarry.readers.halves import HALVES_APART
from imucarry.readers.recording import read_recording
from imucarry.readers.session import read_session

Writer = Callable[..., Path]
EPOCH_S = 1773480600.0


def halves(
    write: Writer,
    motion: Motion,
    *,
    late: int = 0,
    acc_from_s: float | None = 0.0,
    gyr_from_s: float | None = 0.0,
    placement: str = "chest",
) -> list[Path]:
    """Write both halves, the gyroscope's `late` samples shorter; without a start, without times."""
    paths = []
    for kind, values, from_s in (
        ("acc", motion.acc, acc_from_s),
        ("gyr", motion.gyr[late:], gyr_from_s),
    ):
        columns = {} if from_s is None else {"time_s": from_s + np.arange(len(values)) / 100}
        columns |= {f"{kind}_{axis}": values[:, n] for n, axis in enumerate("xyz")}
        paths.append(write(f"{placement}_{kind}.csv", columns))
    return paths


def told(paths: list[Path]) -> list[Notice]:
    return [n for n in read_recording(paths, "chest").notices if n.code == HALVES_APART]


def test_halves_that_each_count_from_their_start_are_to_be_checked(
    write_columns: Writer, motion: Motion
) -> None:
    (notice,) = told(halves(write_columns, motion, late=35))
    assert notice.severity == "check"
    assert "each counts from its own first sample" in notice.message
    assert "gyroscope is 0.35 s shorter" in notice.message
    assert "wrong foot" in notice.message
    assert notice.file == "chest_acc.csv and chest_gyr.csv"


def test_halves_of_two_kinds_of_clock_are_to_be_checked(
    write_columns: Writer, motion: Motion
) -> None:
    (notice,) = told(halves(write_columns, motion, late=35, gyr_from_s=EPOCH_S))
    assert notice.severity == "check"
    assert "one has times from some start, the other date and time" in notice.message


def test_halves_of_one_length_are_only_noted(write_columns: Writer, motion: Motion) -> None:
    (notice,) = told(halves(write_columns, motion, late=1))
    assert notice.severity == "note"
    assert "equally long" in notice.message


@pytest.mark.parametrize(("acc", "gyr"), [(0.0, 0.35), (12.5, 12.85), (EPOCH_S, EPOCH_S + 0.35)])
def test_halves_of_one_clock_are_not_told(
    write_columns: Writer, motion: Motion, acc: float, gyr: float
) -> None:
    paths = halves(write_columns, motion, late=35, acc_from_s=acc, gyr_from_s=gyr)
    assert not told(paths)


def test_several_sensors_are_told_once(
    write_columns: Writer, motion: Motion, tmp_path: Path
) -> None:
    for late, placement in ((35, "chest"), (20, "left_wrist")):
        halves(write_columns, motion, late=late, placement=placement)
    session = read_session(tmp_path)
    every = [n for r in session.recordings for n in r.notices] + list(session.notices)
    (notice,) = [n for n in every if n.code == HALVES_APART]
    assert "not equally long" in notice.message
    assert "chest_acc.csv" in notice.file
    assert "left_wrist_gyr.csv" in notice.file
