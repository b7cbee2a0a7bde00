"""Sensors whose gyroscopes contradict each other in the turns are pointed out."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from imucarry.basics.records import (
    ArmMotion,
    BoutData,
    BoutRow,
    Contacts,
    Pass,
    TrunkMotion,
)
from imucarry.walk.strides import no_strides
from imucarry.walk.turned_alike import check_turned_alike

RATE_HZ = 50.0
TIME_S = np.arange(0.0, 60.0, 1 / RATE_HZ)
TURNS_S = (12.0, 24.0, 36.0, 48.0)


def path_rate(n_turns=4, sway_radps=0.3):
    """Return the rate about the vertical of a walk there and back, with the trunk's swing."""
    signs = np.array([1, -1, 1, 1])[:n_turns, None]
    bumps = np.exp(-0.5 * ((TIME_S - np.array(TURNS_S)[:n_turns, None]) / 0.6) ** 2)
    turning = (signs * bumps).sum(axis=0) * np.pi / (0.6 * np.sqrt(2 * np.pi))
    return turning + sway_radps * np.sin(2 * np.pi * 0.9 * TIME_S)


def trunk(rate):
    flat, level = np.zeros(TIME_S.size), np.zeros((TIME_S.size, 3))
    seen = np.ones(TIME_S.size, bool)
    return TrunkMotion(
        time_s=TIME_S,
        rate_hz=RATE_HZ,
        acc_mps2=level,
        gyr_radps=np.column_stack([flat, flat, rate]),
        heading_rad=flat,
        yaw_rad=np.cumsum(rate) / RATE_HZ,
        lean_rad=flat,
        pitch_rad=flat,
        usable=seen,
        clipped=~seen,
        levelled_in="standing",
    )


def arm(side, rate):
    flat, level = np.zeros(TIME_S.size), np.zeros((TIME_S.size, 3))
    seen = np.ones(TIME_S.size, bool)
    return ArmMotion(
        side=side,
        time_s=TIME_S,
        rate_hz=RATE_HZ,
        quat=np.tile([1.0, 0.0, 0.0, 0.0], (TIME_S.size, 1)),
        gyr_world_radps=np.column_stack([flat, flat, rate]),
        acc_world_mps2=level,
        usable=seen,
        clipped=~seen,
    )


def bout(chest=None, left=None, right=None, lane_m=float("nan")):
    rates = {"left": left, "right": right}
    edges = (0.0, *TURNS_S, 60.0)
    return BoutData(
        row=BoutRow("1", 0.0, 60.0, hold="free"),
        ordinal=0,
        trunk=None if chest is None else trunk(chest),
        arms={side: arm(side, rate) for side, rate in rates.items() if rate is not None},
        passes=tuple(Pass(k, a + 2.0, b - 2.0) for k, (a, b) in enumerate(pairwise(edges), 1)),
        contacts=Contacts(np.empty(0), np.empty(0, bool), np.empty(0, np.int64)),
        strides=no_strides(),
        yaw=None,
        swing={},
        columns={},
        lane_m=lane_m,
    )


def told(*bouts):
    return [(item.code, item.where) for item in check_turned_alike(bouts)]


RATE = path_rate()


def test_sensors_that_turn_alike_are_right():
    assert told(bout(RATE, 0.95 * RATE, 1.06 * RATE, lane_m=15.0)) == []


@pytest.mark.parametrize("times", [0.5, 0.75, 1.35, 2.0, -1.0, -0.7])
@pytest.mark.parametrize("odd", ["chest", "left", "right"])
def test_the_sensor_that_two_others_contradict_is_named(times, odd):
    rates = {"chest": RATE, "left": 1.03 * RATE, "right": 0.98 * RATE}
    rates[odd] = times * rates[odd]
    where = odd if odd == "chest" else f"{odd}_wrist"
    assert told(bout(**rates)) == [("turns_contradict", where)]


def test_how_far_it_turns_is_told():
    (found,) = check_turned_alike([bout(0.5 * RATE, RATE, RATE)])
    assert "the chest sensor turns 0.5 times as far as the two others" in found.message
    (found,) = check_turned_alike([bout(-RATE, RATE, RATE)])
    assert "the chest sensor turns the other way round from the two others" in found.message
    assert found.severity == "check"


def test_two_sensors_are_named_together():
    assert told(bout(0.5 * RATE, RATE)) == [("turns_contradict", "chest, left_wrist")]
    assert told(bout(None, RATE, -RATE)) == [("turns_contradict", "left_wrist, right_wrist")]


def test_three_that_all_differ_name_none():
    assert told(bout(RATE, 0.5 * RATE, 2 * RATE)) == []


def test_a_walk_without_turns_says_nothing():
    straight = path_rate(n_turns=0)
    assert told(bout(straight, 0.4 * straight, straight)) == []
    gesture = straight + np.where(np.abs(TIME_S - 58.0) < 1.0, 1.2, 0.0)
    assert told(bout(straight, gesture)) == []


def test_clocks_that_are_apart_are_no_contradiction():
    assert told(bout(RATE, np.roll(RATE, 300), np.roll(RATE, 300))) == []


def test_what_was_lost_or_clipped_does_not_count():
    lost = np.abs(TIME_S - TURNS_S[1]) < 4.0
    whole = bout(RATE, np.where(lost, 0.0, RATE), RATE)
    holed = replace(whole.arms["left"], usable=~lost)
    assert told(replace(whole, arms={**whole.arms, "left": holed})) == []


@pytest.mark.parametrize("times", [0.5, 0.8, 1.25, 2.0])
def test_a_lane_contradicts_the_chest_alone(times):
    assert told(bout(times * RATE, lane_m=15.0)) == [("turns_contradict", "chest")]
    assert told(bout(times * RATE)) == []


def test_a_lane_contradicts_sensors_that_are_all_wrong_alike():
    assert told(bout(*[0.5 * RATE] * 3, lane_m=15.0)) == [("turns_contradict", "chest")]


def test_no_bout_and_no_sample_are_no_harm():
    assert told() == []
    assert told(bout()) == []
