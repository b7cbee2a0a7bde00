"""Walking as long as a bout that stands in no row of the sheet is told."""

from __future__ import annotations

import math

import numpy as np
import pytest
from moving_body import multiply, record, thorax_quat, turn
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import BoutRow, ClockFit, SensorResult
from imucarry.basics.settings import WalkSettings
from imucarry.walk.not_in_sheet import check_forgotten

SETTINGS = WalkSettings()
STEP_S = 0.55
WALKS = ((20.0, 50), (70.0, 50), (120.0, 50))
MOUNT = multiply(turn((0.6, 0.0, 0.8), 130.0), turn((0, 1, 0), -20.0))


def chest(walks=WALKS, length_s=170.0):
    contact_s = np.concatenate([told_contacts(n=n, start_s=start) for start, n in walks])
    walk = stepping(contact_s, length_s=length_s)
    level = np.zeros(walk.trunk.time_s.size)
    thorax = thorax_quat(level, level, level)
    recording, orientation = record("chest", thorax, walk.trunk.acc_mps2, walk.trunk.time_s, MOUNT)
    return [
        SensorResult(recording, orientation, ClockFit("chest", 0.0, 0.0, 0.0, "reference"), None)
    ]


def sheet(*walks, shift_s=0.0):
    return [
        BoutRow(str(k), start + shift_s, start + n * STEP_S + shift_s)
        for k, (start, n) in enumerate(walks, 1)
    ]


@pytest.fixture(scope="module")
def sensors():
    return chest()


def test_a_bout_that_was_forgotten_is_told_with_its_time(sensors):
    (notice,) = check_forgotten(sheet(WALKS[0], WALKS[2]), sensors, SETTINGS)
    assert (notice.code, notice.severity) == ("walk_not_in_sheet", "check")
    start_s, end_s = (float(x) for x in notice.message.split(": ")[1].split(" s")[0].split(" to "))
    assert 66.0 < start_s <= 70.0  # with the margin of a bout that is found
    assert 97.0 <= end_s < 101.5
    assert notice.message == (
        f"Walking outside the rows of the bouts sheet: {start_s:.0f} to {end_s:.0f} s. "
        "Was a bout forgotten? It was not scored."
    )


@pytest.mark.parametrize("shift_s", [0.0, 5.0, -5.0])
def test_a_whole_sheet_says_nothing(sensors, shift_s):
    assert check_forgotten(sheet(*WALKS, shift_s=shift_s), sensors, SETTINGS) == ()


def test_a_sheet_without_times_says_nothing(sensors):
    assert check_forgotten([BoutRow("1", math.nan, math.nan)], sensors, SETTINGS) == ()
    assert check_forgotten([], sensors, SETTINGS) == ()


def test_a_few_steps_and_a_short_walk_to_the_weight_are_no_bout():
    sensors = chest(walks=((20.0, 50), (58.0, 6), (70.0, 14), (120.0, 50)))
    assert check_forgotten(sheet(WALKS[0], WALKS[2]), sensors, SETTINGS) == ()


def test_a_short_walk_between_short_bouts_is_no_bout():
    sensors = chest(walks=((20.0, 25), (48.0, 12), (70.0, 25)), length_s=100.0)
    assert check_forgotten(sheet((20.0, 25), (70.0, 25)), sensors, SETTINGS) == ()


def test_ways_back_are_only_noted():
    walks = tuple((20.0 + 45.0 * k, 50) for k in range(6))
    (notice,) = check_forgotten(sheet(*walks[::2]), chest(walks, 300.0), SETTINGS)
    assert notice.severity == "note"
    assert notice.message.endswith(" s. Were bouts forgotten? They were not scored.")
    assert notice.message.count(" to ") == 3
    assert notice.message.count(" and ") == 1
