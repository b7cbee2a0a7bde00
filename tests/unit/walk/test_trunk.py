"""Heading, lean and pitch of a thorax that moves as told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from moving_body import (
    RATE_HZ,
    angular_rate,
    course,
    frame_of,
    multiply,
    record,
    thorax_quat,
    turn,
    walking,
)

from imucarry.basics.records import Window
from imucarry.basics.settings import WalkSettings
from imucarry.motion.rotations import rotate
from imucarry.walk.trunk import in_ranges, trunk_motion, window_slices

SETTINGS = WalkSettings()
MOUNT = multiply(turn((0, 1, 0), -20.0), turn((0.6, 0.0, 0.8), 130.0))


def moving(yaw_deg, lean_deg, pitch_deg, acc=None, mount=MOUNT, walk=None):
    walk = walk or course()
    told = (yaw_deg, lean_deg, pitch_deg)
    angles = (np.radians(item) * np.ones_like(walk.time_s) for item in told)
    acc = np.zeros((walk.time_s.size, 3)) if acc is None else acc
    recording, orientation = record("chest", thorax_quat(*angles), acc, walk.time_s, mount)
    window = Window(0.0, float(walk.time_s[-1]) + 1.0)
    return trunk_motion(recording, orientation, frame_of(mount), window, SETTINGS)


@pytest.mark.parametrize("slope_deg", [0.0, 20.0, 30.0])
def test_leaning_does_not_show_as_yaw(slope_deg):
    # A sensor that slopes 20 deg with the sternum, read along its own outward axis,
    # would show 2.8 deg of yaw for 8 deg of lean; levelled in standing it shows none.
    walk = course()
    mount = multiply(turn((0, 1, 0), -slope_deg), turn((1, 0, 0), 40.0))
    lean = 4.0 * np.cos(2 * np.pi * walk.phase) * walking(walk)
    trunk = moving(0.0, lean, 0.0, mount=mount, walk=walk)
    assert np.ptp(np.degrees(trunk.yaw_rad)) < 1e-9
    sensor_out = mount_axis_heading(mount, lean)
    expected = 2 * np.degrees(np.arctan(np.tan(np.radians(slope_deg)) * np.sin(np.radians(4.0))))
    assert np.ptp(np.degrees(sensor_out)) == pytest.approx(expected, abs=0.02)


def mount_axis_heading(mount, lean_deg):
    """Return the heading of the axis that slopes with the sternum, not levelled."""
    out = rotate(mount, np.array([1.0, 0.0, 0.0]))
    level = np.zeros_like(lean_deg)
    ahead = rotate(thorax_quat(level, np.radians(lean_deg), level), out)
    return np.arctan2(ahead[:, 1], ahead[:, 0])


def test_signs_left_right_forward():
    trunk = moving(30.0, 6.0, 10.0)
    middle = trunk.time_s.size // 2
    assert np.degrees(trunk.yaw_rad[middle]) == pytest.approx(30.0, abs=1e-6)
    assert np.degrees(trunk.lean_rad[middle]) == pytest.approx(6.0, abs=1e-6)
    assert np.degrees(trunk.pitch_rad[middle]) == pytest.approx(10.0, abs=1e-6)
    up = rotate(thorax_quat(*(np.radians([v]) for v in (0.0, 6.0, 10.0)))[0], np.array([0, 0, 1.0]))
    assert up[1] < 0  # the head is to the right
    assert up[0] > 0  # and to the front


def test_yaw_that_went_in_comes_out():
    walk = course()
    yaw = 5.0 * np.cos(2 * np.pi * walk.phase) * walking(walk) + 3.0 * walk.time_s
    trunk = moving(yaw, 0.0, 0.0, walk=walk)
    assert np.abs(np.degrees(trunk.yaw_rad) - yaw)[100:-100].max() < 0.02


def test_ringing_above_the_cutoff_is_taken_out():
    walk = course()
    ringing = np.sin(2 * np.pi * 11.0 * walk.time_s)
    trunk = moving(ringing, 0.0, 0.0, walk=walk)
    assert np.abs(np.degrees(trunk.yaw_rad[200:-200])).max() < 0.1


def test_acceleration_turns_with_the_walk():
    walk = course()
    heading = np.radians(20.0 * walk.time_s)
    acc = np.column_stack([np.cos(heading), np.sin(heading), 0.5 * np.ones_like(heading)])
    trunk = moving(20.0 * walk.time_s, 0.0, 0.0, acc=acc, walk=walk)
    assert np.abs(trunk.acc_mps2[500:-500] - [1.0, 0.0, 0.5]).max() < 0.01
    assert np.abs(trunk.gyr_radps[500:-500, 2] - np.radians(20.0)).max() < 1e-3


def test_bias_is_taken_out_of_the_rate():
    walk = course()
    level = np.zeros_like(walk.time_s)
    recording, orientation = record(
        "chest", thorax_quat(level, level, level), np.zeros((level.size, 3)), walk.time_s, MOUNT
    )
    bias = np.array([0.01, -0.02, 0.03])
    biased = replace(recording, gyr_radps=recording.gyr_radps + bias)
    trunk = trunk_motion(
        biased, replace(orientation, bias_radps=bias), frame_of(MOUNT), Window(2.0, 6.0), SETTINGS
    )
    assert np.abs(trunk.gyr_radps).max() < 1e-12


def test_window_gaps_and_clipping_fall_on_their_samples():
    walk = course()
    level = np.zeros_like(walk.time_s)
    recording, orientation = record(
        "chest", thorax_quat(level, level, level), np.zeros((level.size, 3)), walk.time_s, MOUNT
    )
    marked = replace(
        recording,
        gaps=((250, 270), (2000, 2100)),
        acc_clipped=((260, 310),),
        gyr_clipped=((300, 301),),
    )
    trunk = trunk_motion(marked, orientation, frame_of(MOUNT), Window(2.0, 6.0), SETTINGS)
    assert trunk.time_s[0] == 2.0
    assert trunk.time_s.size == 4 * RATE_HZ
    assert np.flatnonzero(~trunk.usable).tolist() == list(range(50, 70))
    assert np.flatnonzero(trunk.clipped).tolist() == [100]


def test_window_outside_the_recording_is_empty():
    time_s = np.arange(100) / RATE_HZ
    inside, padded = window_slices(time_s, Window(5.0, 6.0), 1.0)
    assert time_s[padded][inside].size == 0


def test_ranges_before_a_part_mark_nothing():
    assert not in_ranges(((0, 5),), slice(5, 10)).any()
    assert in_ranges(((3, 7),), slice(5, 10)).tolist() == [True, True, False, False, False]


def test_the_known_body_is_consistent():
    walk = course()
    angle = np.radians(10.0) * np.sin(2 * np.pi * walk.phase)
    quat = thorax_quat(angle, 0 * angle, 0 * angle)
    rate = np.gradient(angle) * RATE_HZ
    assert np.abs(angular_rate(quat)[:, 2] - rate)[1:-1].max() < 1e-9
