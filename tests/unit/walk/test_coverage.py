"""Bouts that a sensor did not record are told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from motion_builder import recording_of

from imucarry.basics.records import BoutData, BoutRow, ClockFit, Contacts, Orientation, SensorResult
from imucarry.walk.coverage import check_covered
from imucarry.walk.strides import no_strides


def sensor(start_s: float, end_s: float) -> SensorResult:
    time_s = np.arange(start_s, end_s, 0.02)
    upright = np.tile([1.0, 0.0, 0.0, 0.0], (time_s.size, 1))
    recording = replace(recording_of(upright, 50.0, placement="left_wrist"), time_s=time_s)
    still = Orientation(upright, np.zeros(3), 0.0, ())
    return SensorResult(recording, still, ClockFit("left_wrist", 0.0, 0.0, 0.0, "reference"), None)


def bout(name: str, start_s: float, end_s: float) -> BoutData:
    contacts = Contacts(np.empty(0), np.empty(0, bool), np.empty(0, np.int64))
    row = BoutRow(name, start_s, end_s)
    return BoutData(row, 0, None, {}, (), contacts, no_strides(), None, {}, {})


BOUTS = [bout("a", 10.0, 40.0), bout("b", 60.0, 90.0), bout("c", 100.0, 130.0)]


@pytest.mark.parametrize(
    ("start_s", "end_s", "said"),
    [
        (0.0, 140.0, []),
        (11.0, 129.0, []),
        (0.0, 70.0, ["ends at 70 s: it lacks part or all of bouts b, c."]),
        (20.0, 140.0, ["begins at 20 s: it lacks part or all of bout a."]),
        (65.0, 70.0, ["begins at 65 s", "ends at 70 s"]),
    ],
)
def test_a_sensor_that_was_off_is_told(start_s: float, end_s: float, said: list[str]) -> None:
    found = check_covered(BOUTS, [sensor(start_s, end_s)])
    assert [notice.code for notice in found] == ["sensor_not_recording"] * len(said)
    assert all(words in notice.message for words, notice in zip(said, found, strict=True))
    assert all((n.where, n.message[:14]) == ("left_wrist", "The recording ") for n in found)
