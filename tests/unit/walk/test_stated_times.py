"""A stated rate that makes people walk faster than they can is told."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from imucarry.basics.records import FileReading, Notice, Recording
from imucarry.basics.settings import Settings
from imucarry.pipeline import run
from imucarry.readers.session import read_session
from imucarry.walk.stated_times import check_stated_times

EXAMPLE = Path(__file__).parents[3] / "data" / "example"
READING = FileReading(
    "a.csv", "", "", (), "rows at the stated 200 Hz", 200.0, 0.0, 9, 1.0, 0, 0, 0.0, 0.0, None
)
NAN = float("nan")


def worn(placement: str, *, stated: bool) -> Recording:
    samples = np.zeros((9, 3))
    reading = replace(READING, file=f"{placement}.csv")
    return Recording(placement, 200.0, np.arange(9) / 200, samples, samples.copy(),
                     readings=(reading,), times_are_stated=stated)  # fmt: skip


def told(*recordings: Recording, **cadence_spm: float) -> list[str]:
    notices = check_stated_times(recordings, cadence_spm)
    assert {item.severity for item in notices} <= {"check"}
    return [item.file for item in notices]


def test_the_sensor_that_tells_the_cadence_is_named() -> None:
    chest, left = worn("chest", stated=True), worn("left_wrist", stated=True)
    own = worn("chest", stated=False)
    assert told(chest, left, a=151.0) == ["chest.csv"]
    assert told(left, a=100.0, b=222.0) == ["left_wrist.csv"]
    assert told(own, left, a=222.0) == []  # the chest's own times tell the cadence
    assert told(chest, a=149.0, b=NAN) == []
    (notice,) = check_stated_times([chest], {"a": 180.0, "b": 222.0, "c": NAN})
    assert "bout b has 222 steps/min" in notice.message
    assert "rows at the stated 200 Hz" in notice.message
    assert "check rate_hz or time_unit" in notice.message


@pytest.mark.parametrize(("rate_hz", "found"), [(50, False), (100, True)])
def test_rows_at_a_wrong_rate(tmp_path: Path, rate_hz: int, found: bool) -> None:
    rows = (EXAMPLE / "chest.csv").read_text(encoding="utf-8").splitlines()
    without_time = "\n".join(row.split(",", 1)[1] for row in rows) + "\n"
    (tmp_path / "chest.csv").write_text(without_time, encoding="utf-8")
    (tmp_path / "session.toml").write_text(
        'participant = "P"\nsession = "1"\n[[sensor]]\nplacement = "chest"\n'
        f'file = "chest.csv"\nrate_hz = {rate_hz}\n',
        encoding="utf-8",
    )
    notices: tuple[Notice, ...] = run(read_session(tmp_path), Settings()).notices
    assert ("too_quick_to_walk" in {item.code for item in notices}) is found
