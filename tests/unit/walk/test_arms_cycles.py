"""An arm's own cycles, without a chest sensor."""

from __future__ import annotations

import numpy as np
import pytest
from moving_body import RATE_HZ, course, forearm_quat, multiply, record, turn, walking

from imucarry.basics.records import Window
from imucarry.basics.settings import WalkSettings
from imucarry.walk.arm_cycles import own_cycles, stride_period
from imucarry.walk.arms import arm_motion, stride_swing

SETTINGS = WalkSettings()
MOUNT = multiply(turn((0.6, 0.0, 0.8), 70.0), turn((1, 0, 0), 33.0))


def arm_on(walk, amplitude=18.0, per_stride=1):
    swing = np.radians(amplitude * np.cos(2 * np.pi * per_stride * walk.phase)) * walking(walk)
    quat = forearm_quat(0 * swing, 0.0, swing, 0 * swing)
    bounce = 2.0 * np.cos(4 * np.pi * walk.phase) * walking(walk)
    acc = np.column_stack([0 * bounce, 0 * bounce, bounce])
    recording, orientation = record("left_wrist", quat, acc, walk.time_s, MOUNT)
    return arm_motion(recording, orientation, "left", Window(0.0, float(walk.time_s[-1])))


@pytest.mark.parametrize("stride_s", [0.7, 1.1, 1.6])
def test_cycles_last_as_long_as_strides(stride_s):
    walk = course(16, stride_s)
    start_s, end_s = own_cycles(arm_on(walk), SETTINGS)
    assert start_s.size >= 12
    assert np.mean(end_s - start_s) == pytest.approx(stride_s, rel=0.02)
    found = stride_swing(arm_on(walk), None, SETTINGS)
    assert np.degrees(found.range_rad) == pytest.approx(36.0, abs=0.3)


def test_a_walk_of_three_seconds_has_cycles():
    walk = course(3, 1.0, stand_s=2.0)
    found = stride_swing(arm_on(walk), None, SETTINGS)
    assert found.range_rad.size >= 2
    assert np.degrees(np.median(found.range_rad)) == pytest.approx(36.0, abs=1.0)


def test_what_moves_an_arm_that_holds_a_load_for_a_few_cycles_is_no_swing():
    few, many = arm_on(course(3, 1.0, stand_s=2.0)), arm_on(course(16, 1.0))
    assert stride_swing(few, None, SETTINGS, held=True).range_rad.size == 0
    held = stride_swing(many, None, SETTINGS, held=True)
    np.testing.assert_array_equal(held.range_rad, stride_swing(many, None, SETTINGS).range_rad)


def test_a_swing_at_the_step_rate_still_has_cycles_as_long_as_a_period():
    walk = course(16, 1.1)
    start_s, end_s = own_cycles(arm_on(walk, 6.0, per_stride=2), SETTINGS)
    # Nothing in such a motion tells a step from a stride: two steps are taken.
    assert np.mean(end_s - start_s) == pytest.approx(1.1, rel=0.1)


def test_an_arm_at_rest_has_none():
    walk = course(10)
    start_s, end_s = own_cycles(arm_on(walk, 0.0), SETTINGS)
    assert start_s.size == end_s.size == 0


def test_the_period_is_not_doubled():
    time_s = np.arange(2000) / RATE_HZ
    rng = np.random.default_rng(3)
    for period_s in (0.9, 1.2, 1.5):
        wave = np.sin(2 * np.pi * time_s / period_s)[:, None] + 0.2 * rng.standard_normal((2000, 1))
        assert stride_period(wave, RATE_HZ) == pytest.approx(period_s, abs=0.02)


def test_noise_has_no_period():
    noise = np.random.default_rng(4).standard_normal((3000, 3))
    assert np.isnan(stride_period(noise, RATE_HZ))
