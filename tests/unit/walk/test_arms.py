"""Forearm swing of each stride, against a forearm that moves as told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from moving_body import (
    about,
    course,
    forearm_quat,
    frame_of,
    multiply,
    record,
    strides_of,
    thorax_quat,
    turn,
    walking,
)

from imucarry.basics.records import Window
from imucarry.basics.settings import WalkSettings
from imucarry.motion.rotations import rotate
from imucarry.walk.arms import arm_motion, free_plane, stride_swing
from imucarry.walk.trunk import trunk_motion
from imucarry.walk.worlds import in_one_world, worlds_apart

SETTINGS = WalkSettings()
MOUNT = multiply(turn((0.6, 0.0, 0.8), 70.0), turn((1, 0, 0), 33.0))
WALK = course(14)
ON = walking(WALK)
KEPT = slice(1, -1)
WORLD_APART_DEG = 140.0


def push(heading_rad):
    """Return the body's acceleration along its way, twice a stride, in the world."""
    ahead = 1.5 * np.sin(4 * np.pi * WALK.phase) * ON
    zero = np.zeros_like(ahead)
    return np.column_stack([ahead * np.cos(heading_rad), ahead * np.sin(heading_rad), zero])


def arm_of(
    swing_deg,
    *,
    plane_deg=0.0,
    pronation_deg=0.0,
    heading_deg=0.0,
    outward_deg=5.0,
    side="left",
    up="",
    mount=MOUNT,
):
    """Return the arm; its world is turned against the chest's."""
    ones = np.ones_like(WALK.time_s)
    heading = np.radians(heading_deg * ones + WORLD_APART_DEG)
    quat = forearm_quat(
        heading,
        plane_deg,
        np.radians(swing_deg * ones),
        np.radians(pronation_deg * ones),
        outward_deg,
    )
    recording, orientation = record(
        f"{side}_wrist", quat, push(heading), WALK.time_s, mount, rest=((0, 200),)
    )
    recording = replace(recording, up=up)
    return arm_motion(recording, orientation, side, Window(0.0, float(WALK.time_s[-1])))


def trunk_of(heading_deg=0.0):
    heading = np.radians(heading_deg * np.ones_like(WALK.time_s))
    quat = thorax_quat(heading, 0 * heading, 0 * heading)
    recording, orientation = record("chest", quat, push(heading), WALK.time_s, MOUNT)
    window = Window(0.0, float(WALK.time_s[-1]))
    return trunk_motion(recording, orientation, frame_of(MOUNT), window, SETTINGS)


def swing(amplitude, at=0.5, per_stride=1, mean=0.0):
    return (mean + amplitude * np.cos(2 * np.pi * per_stride * (WALK.phase - at))) * ON


def half_turn_deg():
    return 90.0 * (1.0 + np.tanh((WALK.time_s - WALK.contact_s[7]) / 0.5))


@pytest.mark.parametrize("plane_deg", [0.0, 25.0, -40.0])
def test_a_swing_is_read_off_in_its_own_plane(plane_deg):
    arm = arm_of(swing(18.0, mean=15.0), plane_deg=plane_deg)
    found = stride_swing(arm, strides_of(WALK), SETTINGS, trunk=trunk_of())
    assert np.degrees(found.range_rad[KEPT]) == pytest.approx(36.0, abs=0.15)
    assert np.degrees(found.mean_angle_rad[KEPT]) == pytest.approx(15.0, abs=0.1)
    assert np.degrees(found.phase_rad[KEPT]) == pytest.approx(180.0, abs=0.5)
    assert np.degrees(found.amplitude_rad[KEPT]) == pytest.approx(18.0, abs=0.1)
    stride_s = np.diff(WALK.contact_s)[KEPT]
    peak = 18.0 * 2 * np.pi / stride_s
    assert np.degrees(found.peak_forward_radps[KEPT]) == pytest.approx(peak, rel=0.01)
    assert np.degrees(found.peak_backward_radps[KEPT]) == pytest.approx(peak, rel=0.01)
    assert found.plane_source == "own motion"
    assert found.direction_source == "chest"
    assert found.angle_curve_rad.shape == (14, 101)


def drifting(arm, drift_degps, sd_degps):
    """Return the arm in a world that turns about the vertical, as by a bias that is left."""
    turned = about((0.0, 0.0, 1.0), np.radians(drift_degps) * arm.time_s)
    return replace(
        arm,
        quat=multiply(turned, arm.quat),
        gyr_world_radps=rotate(turned, arm.gyr_world_radps),
        acc_world_mps2=rotate(turned, arm.acc_world_mps2),
        heading_drift_sd_radps=np.radians(sd_degps),
    )


@pytest.mark.parametrize("drift_degps", [-4.0, 3.0])
@pytest.mark.parametrize("turn_deg", [0.0, 1.0])
def test_worlds_that_turn_apart_without_rest_leave_the_swing(drift_degps, turn_deg):
    """Without rest a bias about the vertical is unknown: over this walk it makes 60 to 80 deg."""
    ahead, strides = turn_deg * half_turn_deg(), strides_of(WALK)
    arm, trunk = arm_of(swing(18.0), heading_deg=ahead), trunk_of(ahead)
    steady = stride_swing(arm, strides, SETTINGS, trunk=trunk)
    brought = in_one_world(drifting(arm, drift_degps, 3.0), trunk)
    found = stride_swing(brought, strides, SETTINGS, trunk=trunk)
    # What may be posture, a tenth of it in so short a walk, is left of the drift.
    assert np.degrees(found.range_rad - steady.range_rad)[KEPT] == pytest.approx(0.0, abs=0.3)
    left = in_one_world(drifting(arm, drift_degps, 0.0), trunk)
    unknown = stride_swing(left, strides, SETTINGS, trunk=trunk)
    assert np.degrees(unknown.range_rad - steady.range_rad)[KEPT].min() < -0.7


def test_after_a_rest_an_arm_that_turns_against_the_trunk_is_posture():
    arm = drifting(arm_of(swing(18.0)), 3.0, sd_degps=0.04)
    assert not worlds_apart(arm, trunk_of()).any()
    assert not worlds_apart(replace(arm, usable=np.zeros_like(arm.usable)), trunk_of()).any()


@pytest.mark.parametrize("jump_deg", [-70.0, 110.0])
def test_a_long_gap_that_hides_a_turn_of_the_world_leaves_the_swing(jump_deg):
    """Across a long gap the turning is unknown: both sides of it have a heading of their own."""
    arm, trunk, strides = arm_of(swing(18.0)), trunk_of(), strides_of(WALK)
    steady = stride_swing(arm, strides, SETTINGS, trunk=trunk)
    middle_s = float(WALK.contact_s[7])
    turned = about((0.0, 0.0, 1.0), np.radians(jump_deg) * (arm.time_s > middle_s))
    torn = replace(
        arm,
        quat=multiply(turned, arm.quat),
        gyr_world_radps=rotate(turned, arm.gyr_world_radps),
        acc_world_mps2=rotate(turned, arm.acc_world_mps2),
        usable=np.abs(arm.time_s - middle_s) > 0.75,
    )
    found = stride_swing(in_one_world(torn, trunk), strides, SETTINGS, trunk=trunk)
    whole = np.isfinite(found.range_rad)
    assert whole.sum() >= 10
    assert np.degrees(found.range_rad - steady.range_rad)[whole] == pytest.approx(0.0, abs=0.01)
    assert found.direction_source == "chest"
    apart = stride_swing(torn, strides, SETTINGS, trunk=trunk)
    assert np.degrees(apart.range_rad - steady.range_rad)[whole].min() < -3.0


def test_a_world_that_turned_since_the_free_walk_keeps_its_plane():
    """A long gap between two walks: the plane of the free walk is found by the way of both."""
    trunk, strides = trunk_of(), strides_of(WALK)
    free = free_plane([arm_of(swing(18.0))], [strides], SETTINGS, trunks=[trunk])
    held = arm_of(swing(1.5))
    turned = turn((0.0, 0.0, 1.0), 110.0)
    later = replace(
        held,
        quat=multiply(turned, held.quat),
        gyr_world_radps=rotate(turned, held.gyr_world_radps),
        acc_world_mps2=rotate(turned, held.acc_world_mps2),
    )
    steady, found = (
        stride_swing(arm, strides, SETTINGS, trunk=trunk, free_normal=free) for arm in (held, later)
    )
    assert steady.plane_source == found.plane_source == "free walk"
    assert np.degrees(steady.range_rad[KEPT]) == pytest.approx(3.0, abs=0.1)
    assert np.degrees(found.range_rad - steady.range_rad)[KEPT] == pytest.approx(0.0, abs=0.05)


def test_worlds_that_turn_apart_faster_and_slower_are_followed():
    """A gyroscope that warms up over four minutes: 60 deg in a curve."""
    time_s = np.arange(24000) / 100.0
    apart = np.radians(60.0) * (1.0 - np.exp(-time_s / 80.0))
    still, flag = np.zeros_like(time_s), np.ones(time_s.size, dtype=bool)
    short = trunk_of()
    trunk = replace(
        short, time_s=time_s, acc_mps2=np.zeros((time_s.size, 3)), usable=flag, clipped=~flag,
        gyr_radps=np.zeros((time_s.size, 3)), heading_rad=still, yaw_rad=still, lean_rad=still,
        pitch_rad=still,
    )  # fmt: skip
    arm = replace(
        arm_of(swing(0.0)), time_s=time_s, quat=about((0.0, 0.0, 1.0), apart), usable=flag,
        clipped=~flag, gyr_world_radps=np.zeros((time_s.size, 3)),
        acc_world_mps2=np.zeros((time_s.size, 3)), heading_drift_sd_radps=np.radians(0.5),
    )  # fmt: skip
    left = np.degrees(worlds_apart(arm, trunk) - apart)
    assert np.ptp(left) < 3.0


def test_pronation_does_not_leak_in():
    steady = stride_swing(arm_of(swing(18.0)), strides_of(WALK), SETTINGS, trunk=trunk_of())
    turning = arm_of(swing(18.0), pronation_deg=swing(15.0, at=0.4))
    pronating = stride_swing(turning, strides_of(WALK), SETTINGS, trunk=trunk_of())
    assert np.degrees(np.abs(pronating.range_rad - steady.range_rad)[KEPT]).max() < 0.25


@pytest.mark.parametrize("outward_deg", [0.0, 8.0])
def test_what_gravity_cannot_tell_leaks_by_its_sine(outward_deg):
    # A forearm that hangs other than 5 deg outward: its long axis is off by the difference.
    turning = arm_of(swing(18.0), pronation_deg=swing(10.0, at=0.5), outward_deg=outward_deg)
    found = stride_swing(turning, strides_of(WALK), SETTINGS, trunk=trunk_of())
    leak = 20.0 * np.sin(np.radians(outward_deg - 5.0))
    assert np.degrees(found.range_rad[KEPT]) - 36.0 == pytest.approx(leak, abs=0.4)


def test_a_turn_of_the_body_does_not_enter():
    heading = half_turn_deg()
    trunk = trunk_of(heading)
    for amplitude in (18.0, 1.5):
        arm = arm_of(swing(amplitude), heading_deg=heading)
        found = stride_swing(arm, strides_of(WALK), SETTINGS, trunk=trunk)
        straight = np.r_[1:5, 10:13]
        wanted = 2 * amplitude
        assert np.degrees(found.range_rad[straight]) == pytest.approx(wanted, abs=0.1, rel=0.01)


@pytest.mark.parametrize(
    ("mean", "amplitude"), [(3.0, 1.0), (90.0, 2.0), (155.0, 1.5), (178.0, 2.5)]
)
def test_held_arms_hanging_level_upright_and_overhead(mean, amplitude):
    free = plane_of_free_walk()
    # the hold is taken before the walk, so the arm is never seen to hang in this bout
    told = mean + amplitude * np.cos(2 * np.pi * (WALK.phase - 0.3)) * ON
    arm = arm_of(told, pronation_deg=swing(2.0))
    found = stride_swing(arm, strides_of(WALK), SETTINGS, trunk=trunk_of(), free_normal=free)
    assert np.degrees(found.range_rad[KEPT]) == pytest.approx(2 * amplitude, abs=0.1)
    assert np.degrees(found.mean_angle_rad[KEPT]) == pytest.approx(mean, abs=0.5)


def plane_of_free_walk(plane_deg=0.0):
    arm = arm_of(swing(18.0, mean=15.0), plane_deg=plane_deg)
    found = free_plane([arm], [strides_of(WALK)], SETTINGS, trunks=[trunk_of()])
    assert found is not None
    return found


def test_an_arm_that_hardly_moves_takes_the_plane_of_its_free_walk():
    plane = plane_of_free_walk(plane_deg=20.0)
    assert np.degrees(plane.heading_rad) == pytest.approx(WORLD_APART_DEG - 70.0, abs=1.0)
    arm = arm_of(swing(0.5), plane_deg=20.0)
    found = stride_swing(arm, strides_of(WALK), SETTINGS, trunk=trunk_of(), free_normal=plane)
    assert found.plane_source == "free walk"
    assert np.degrees(found.range_rad[KEPT]) == pytest.approx(1.0, abs=0.03)


def test_the_free_plane_follows_the_walk_not_the_forearm():
    # the hand is turned by 90 deg for the carry: in sensor axes the plane has moved
    plane = plane_of_free_walk()
    arm = arm_of(swing(0.5), pronation_deg=90.0)
    found = stride_swing(arm, strides_of(WALK), SETTINGS, trunk=trunk_of(), free_normal=plane)
    assert np.degrees(found.range_rad[KEPT]) == pytest.approx(1.0, abs=0.03)


def test_without_a_chest_the_free_plane_is_taken_from_the_sensor():
    free = arm_of(swing(18.0))
    plane = free_plane([free], [None], SETTINGS)
    assert plane is not None
    assert plane.heading_rad.size == 0
    held = arm_of(swing(0.5))
    found = stride_swing(held, strides_of(WALK), SETTINGS, free_normal=plane)
    assert found.plane_source == "free walk"
    assert np.degrees(found.range_rad[KEPT]) == pytest.approx(1.0, abs=0.03)


def test_no_motion_at_all_is_no_swing():
    still = arm_of(0.0)
    found = stride_swing(still, strides_of(WALK), SETTINGS, trunk=trunk_of())
    assert np.degrees(found.range_rad[KEPT]).max() < 1e-3
    assert found.plane_source == "assumed"
    alone = stride_swing(still, None, SETTINGS)
    assert alone.range_rad.size == 0


def test_a_swing_at_the_step_rate_is_found():
    arm = arm_of(swing(8.0, per_stride=2))
    found = stride_swing(arm, strides_of(WALK), SETTINGS, trunk=trunk_of())
    assert np.degrees(found.range_rad[KEPT]) == pytest.approx(16.0, abs=0.15)
    assert np.degrees(found.step_amplitude_rad[KEPT]) == pytest.approx(8.0, abs=0.1)
    assert np.degrees(found.amplitude_rad[KEPT]).max() < 0.1


def test_forward_is_unknown_without_a_chest():
    found = stride_swing(arm_of(swing(18.0)), strides_of(WALK), SETTINGS)
    assert found.direction_source == "unknown"
    assert np.degrees(found.range_rad[KEPT]) == pytest.approx(36.0, abs=0.15)


def test_rotation_about_the_vertical_leaves_out_the_path():
    turned = swing(3.0, at=0.25)
    arm = arm_of(swing(2.0), heading_deg=turned + 4.0 * WALK.time_s)
    found = stride_swing(arm, strides_of(WALK), SETTINGS, trunk=trunk_of(4.0 * WALK.time_s))
    curve = np.degrees(found.vertical_curve_rad[KEPT])
    assert np.ptp(curve, axis=1) == pytest.approx(6.0, abs=0.1)
    assert np.argmax(curve, axis=1) == pytest.approx(25, abs=2)


def test_a_gap_leaves_its_stride_undefined():
    arm = arm_of(swing(18.0))
    usable = arm.usable.copy()
    usable[(arm.time_s > WALK.contact_s[5] + 0.2) & (arm.time_s < WALK.contact_s[5] + 0.5)] = False
    broken = replace(arm, usable=usable)
    found = stride_swing(broken, strides_of(WALK), SETTINGS, trunk=trunk_of())
    assert np.flatnonzero(np.isnan(found.range_rad)).tolist() == [5]


def test_a_stated_axis_is_used():
    upright = turn((0, 0, 1), 25.0)  # sensor z is the forearm's own upward axis
    arm = arm_of(swing(18.0, mean=15.0), up="+z", mount=upright)
    assert arm.down_sensor == (0.0, 0.0, -1.0)
    found = stride_swing(arm, strides_of(WALK), SETTINGS, trunk=trunk_of())
    # The plane of a forearm that hangs outward is 1 deg off: its rotation is that of its axis.
    assert np.degrees(found.mean_angle_rad[KEPT]) == pytest.approx(15.0, abs=0.15)


def test_no_free_walks_no_plane():
    assert free_plane([], [], SETTINGS) is None
    assert free_plane([arm_of(0.0)], [None], SETTINGS) is None
