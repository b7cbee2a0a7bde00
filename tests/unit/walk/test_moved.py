"""Sensors that moved are pointed out, sensors that stayed are not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from invented_clients import random_client
from moving_body import frame_of, multiply, record, turn

from imucarry.basics.records import (
    BoutData,
    BoutRow,
    ClockFit,
    Contacts,
    SensorResult,
    Session,
)
from imucarry.basics.settings import Settings
from imucarry.motion.rotations import from_rotation_vector, rotate
from imucarry.pipeline import run
from imucarry.simulate.session import simulate_session
from imucarry.walk.moved import check_moved
from imucarry.walk.strides import no_strides

MOUNT = multiply(turn((0.6, 0.0, 0.8), 70.0), turn((1, 0, 0), 33.0))
RATE_HZ = 100
STAND_S, WALK_S = 5.0, 15.0
PERIOD_S = STAND_S + WALK_S
SWAY_DEG = (0.4, -0.7, 0.9, -0.3, 0.6, -0.8)


def worn(placement, holds, tilt_at=None, *, tilt=(0.0, 0.0, 0.0), standing_deg=SWAY_DEG):
    """Return a sensor and bouts: standing and walking in turn, standing last.

    Parameters
    ----------
    placement : str
    holds : sequence of str
        One a bout.
    tilt_at : float, optional [s]
        When the sensor turns on the body, for good.
    tilt : tuple [deg]
        By how much, a rotation vector in the body's axes.
    standing_deg : sequence of float
        Lean in each standing.
    """
    n_bouts = len(holds)
    time_s = np.arange(int((n_bouts * PERIOD_S + STAND_S) * RATE_HZ)) / RATE_HZ
    nth = (time_s // PERIOD_S).astype(int)
    stands = time_s % PERIOD_S < STAND_S
    lean_deg = np.where(stands, np.resize(standing_deg, n_bouts + 1)[nth], 0.0)
    turned = np.zeros((time_s.size, 3))
    if tilt_at is not None:
        turned[time_s >= tilt_at] = np.radians(tilt)
    body = from_rotation_vector(np.radians(lean_deg)[:, None] * np.array([1.0, 0.0, 0.0]))
    segment = multiply(body, from_rotation_vector(turned))
    edges = np.arange(n_bouts + 1) * PERIOD_S
    rest = tuple((round(a * RATE_HZ), round((a + STAND_S) * RATE_HZ)) for a in edges)
    recording, orientation = record(
        placement, segment, np.zeros((time_s.size, 3)), time_s, MOUNT, rest
    )
    clock = ClockFit(placement, 0.0, 0.0, 0.0, "reference")
    frame = frame_of(MOUNT) if placement == "chest" else None
    bouts = [
        bout_of(str(k + 1), edges[k] + STAND_S, edges[k + 1], hold) for k, hold in enumerate(holds)
    ]
    return SensorResult(recording, orientation, clock, frame), bouts


def bout_of(name, start_s, end_s, hold):
    return BoutData(
        row=BoutRow(name, start_s, end_s, hold=hold),
        ordinal=0,
        trunk=None,
        arms={},
        passes=(),
        contacts=Contacts(np.empty(0), np.empty(0, bool), np.empty(0, np.int64)),
        strides=no_strides(),
        yaw=None,
        swing={},
        columns={},
    )


def notices(placement, holds, tilt_at=None, **how):
    sensor, bouts = worn(placement, holds, tilt_at, **how)
    return check_moved(bouts, [sensor])


def codes(*args, **how):
    return [(item.code, item.where, item.severity) for item in notices(*args, **how)]


SESSION = ("free", "free", "suitcase", "free")
CHEST_MOVED = [("sensor_moved", "chest", "check")]
BEFORE_CARRY_S = 2 * PERIOD_S


def test_a_sensor_that_stayed_is_not_questioned():
    for placement in ("chest", "left_wrist"):
        assert codes(placement, SESSION) == []


@pytest.mark.parametrize("tilt", [(10, 0, 0), (0, -10, 0), (0, 20, 0), (45, 0, 0), (0, 90, 0)])
@pytest.mark.parametrize(
    "holds", [SESSION, ("free", "suitcase", "rack"), ("suitcase", "suitcase", "rack", "rack")]
)
def test_a_chest_sensor_that_slipped_is_found_once(tilt, holds):
    found = codes("chest", holds, BEFORE_CARRY_S, tilt=tilt)
    assert [item for item in found if item[0] == "sensor_moved"] == CHEST_MOVED


def test_the_notice_says_when_by_how_much_and_what_else_it_may_be():
    (notice,) = notices("chest", SESSION, BEFORE_CARRY_S, tilt=(20, 0, 0))
    # The second standing ends at 25 s, the third begins at 40 s.
    for said in ("25.0 and 40.0 s", "20 deg", "free walks 1 ", "4 (from", "with the load in hand"):
        assert said in notice.message
    for suffers in ("Lean", "pitch", "left and right"):
        assert suffers in notice.message


def test_standing_tells_where_the_free_walks_cannot():
    holds = ("free", "suitcase", "rack")
    assert codes("chest", holds, BEFORE_CARRY_S, tilt=(10, 0, 0)) == CHEST_MOVED
    (notice,) = notices("chest", holds, BEFORE_CARRY_S, tilt=(10, 0, 0))
    assert "free walks" not in notice.message.split(":")[0]


def test_free_walks_tell_where_nobody_stands():
    sensor, bouts = worn("chest", SESSION, BEFORE_CARRY_S, tilt=(8, 0, 0))
    restless = replace(sensor, orientation=replace(sensor.orientation, rest=()))
    assert [item.code for item in check_moved(bouts, [restless])] == ["sensor_moved"]


def test_small_slips_are_within_what_people_do():
    assert codes("chest", SESSION, BEFORE_CARRY_S, tilt=(4, 0, 0)) == []
    assert codes("left_wrist", SESSION, BEFORE_CARRY_S, tilt=(10, 0, 0)) == []


@pytest.mark.parametrize(
    "standing_deg",
    [
        pytest.param((0, 8, 0, 8, 0), id="now this way, now that"),
        pytest.param((0, 0, 9, 9, 0), id="leans beside the carry"),
        pytest.param((0, 5, 10, 3, 8), id="no two alike"),
        pytest.param((0, 0, 0, 0, 12), id="bends after the last walk"),
        pytest.param((12, 0, 0, 0, 0), id="bends before the first walk"),
        pytest.param((0, 0, 0, 60, 60), id="sits"),
    ],
)
def test_standing_otherwise_now_and_then_is_no_slip(standing_deg):
    assert codes("chest", SESSION, standing_deg=standing_deg) == []


def test_standing_otherwise_from_some_time_on_is_told():
    assert codes("chest", SESSION, standing_deg=(0, 0, 9, 9, 9)) == CHEST_MOVED


def test_a_slip_within_the_last_walk_is_found():
    amid_s = 2 * PERIOD_S + STAND_S + 0.5 * WALK_S
    assert codes("chest", SESSION[:3], amid_s, tilt=(10, 0, 0)) == CHEST_MOVED


@pytest.mark.parametrize("tilt", [(20, 0, 0), (0, 20, 0), (0, -45, 0)])
def test_a_wrist_sensor_that_moved_between_free_walks_is_found(tilt):
    found = codes("left_wrist", SESSION, BEFORE_CARRY_S, tilt=tilt)
    assert found == [("sensor_moved", "left_wrist", "check")]


def test_what_a_wrist_does_beside_carries_tells_nothing():
    holds = ("free", "suitcase", "rack")
    assert codes("left_wrist", holds, BEFORE_CARRY_S, tilt=(60, 0, 0)) == []


def test_standing_of_a_session_of_carries_may_be_loaded():
    loaded = [("standing_loaded", "chest", "note")]
    assert codes("chest", ("suitcase",)) == loaded
    assert codes("chest", ("suitcase", "unknown")) == loaded
    assert codes("chest", ("suitcase", "free")) == []
    assert codes("chest", ("unknown", "unknown")) == []
    sensor, bouts = worn("chest", ("suitcase",))
    unlevelled = replace(sensor, frame=replace(sensor.frame, levelled_in="bout_mean"))
    assert check_moved(bouts, [unlevelled]) == ()


@pytest.mark.parametrize(("tilt_deg", "told"), [(0.0, False), (12.0, True)])
def test_a_session_is_told_of_a_chest_sensor_that_slipped(tilt_deg, told):
    invented = simulate_session(random_client(1000), 1000)
    chest, *wrists = invented.recordings
    slips_s = invented.bout_rows[1].start_s - 1.0
    turned = np.zeros((chest.time_s.size, 3))
    turned[chest.time_s >= slips_s, 0] = np.radians(tilt_deg)
    back = from_rotation_vector(-turned)
    chest = replace(
        chest,
        acc_mps2=rotate(back, chest.acc_mps2),
        gyr_radps=rotate(back, chest.gyr_radps),
    )
    session = Session("P", "1", (chest, *wrists), bout_rows=invented.bout_rows)
    found = [item for item in run(session, Settings()).notices if item.code == "sensor_moved"]
    assert [item.where for item in found] == (["chest"] if told else [])
