"""The chest's axes, told from standing and walking, in a sensor mounted anyhow."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from moving_body import multiply, record, thorax_quat, turn
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import Window
from imucarry.basics.settings import WalkSettings
from imucarry.motion.rotations import rotate, to_matrix
from imucarry.walk.placement import axis_vector, chest_frame, nearest_axis
from imucarry.walk.standing import geometric_median

SETTINGS = WalkSettings()
WALK = stepping(told_contacts(n=30, start_s=8.0))
WALKING = (Window(7.0, 25.0),)
STANDING = ((100, 600),)


def worn(mount, *, lean_deg=0.0, pitch_deg=0.0, heading_deg=40.0, rest=STANDING, **given):
    """Return what a chest sensor records in the walk, and its exact orientation."""
    n_samples = WALK.trunk.time_s.size
    angles = [np.radians(np.full(n_samples, item)) for item in (heading_deg, pitch_deg, lean_deg)]
    thorax = thorax_quat(angles[0], angles[2], angles[1])
    acc_world = rotate(turn((0, 0, 1), heading_deg), WALK.trunk.acc_mps2)
    recording, orientation = record("chest", thorax, acc_world, WALK.trunk.time_s, mount, rest)
    if given:
        recording = replace(recording, **given)
    return recording, orientation


MOUNTS = [
    turn((0, 0, 1), 0.0),
    turn((1, 0, 0), 90.0),
    turn((0, 1, 0), -110.0),
    multiply(turn((0.6, 0.0, 0.8), 130.0), turn((0, 1, 0), -20.0)),
    multiply(turn((0, 0, 1), 180.0), turn((1, 1, 1), 77.0)),
]


@pytest.mark.parametrize("mount", MOUNTS)
def test_any_mounting(mount):
    frame = chest_frame(*worn(mount), WALKING)
    # Exact orientation and a sway that is not at step rate: what is left is the sway's leakage.
    np.testing.assert_allclose(frame.sensor_to_body, to_matrix(mount), atol=0.02)
    assert frame.levelled_in == "quiet_standing"
    assert frame.forward_source == "walking"
    assert frame.notices == ()
    assert np.linalg.det(frame.sensor_to_body) == pytest.approx(1.0)


@pytest.mark.parametrize("lean_deg", [-12.0, 12.0])
def test_a_lean_to_the_load_does_not_turn_forward(lean_deg):
    walks = (WALK.trunk.time_s > 7.0) & (WALK.trunk.time_s < 25.0)
    frame = chest_frame(*worn(MOUNTS[3], lean_deg=walks * lean_deg), WALKING)
    # On the axes of standing, a fifth of the lift would be sideways.
    np.testing.assert_allclose(frame.sensor_to_body[0], to_matrix(MOUNTS[3])[0], atol=0.02)


def test_the_level_of_a_rest_is_the_accelerometers():
    # The orientation's vertical is smoothed over seconds: a push off tilts it before it comes.
    recording, orientation = worn(MOUNTS[3])
    tilted = multiply(turn((0, 1, 0), 1.4), orientation.quat)
    frame = chest_frame(recording, replace(orientation, quat=tilted), WALKING)
    np.testing.assert_allclose(frame.sensor_to_body[2], to_matrix(MOUNTS[3])[2], atol=1e-9)


def test_level_is_the_persons_own_standing():
    # A sternum that slopes by 20 deg: the frame is level all the same, the slope is told.
    mount = turn((0, 1, 0), -20.0)
    frame = chest_frame(*worn(mount, out="+x"), WALKING)
    up = frame.sensor_to_body[2]
    np.testing.assert_allclose(up, to_matrix(mount)[2], atol=1e-9)
    assert np.degrees(frame.sensor_slope_rad) == pytest.approx(20.0, abs=1e-6)


def test_what_the_session_gives_wins():
    mount = turn((0, 0, 1), 90.0)
    frame = chest_frame(*worn(mount, out="+x"), WALKING)
    assert frame.forward_source == "given"
    np.testing.assert_allclose(frame.sensor_to_body[0], [1.0, 0.0, 0.0], atol=1e-9)


@pytest.mark.parametrize(("turned_deg", "told"), [(0, False), (40, False), (60, True), (90, True)])
def test_an_outward_axis_across_the_walk_is_said(turned_deg, told):
    frame = chest_frame(*worn(turn((0, 0, 1), turned_deg), out="+x"), WALKING)
    assert ([notice.code for notice in frame.notices] == ["out_contradicted"]) is told


def test_an_outward_axis_that_points_up_is_no_help():
    frame = chest_frame(*worn(turn((0, 0, 1), 90.0), out="+z"), WALKING)
    assert frame.forward_source == "walking"


def test_an_upward_axis_against_gravity_is_said():
    frame = chest_frame(*worn(turn((0, 0, 1), 0.0), up="-z"), WALKING)
    assert [notice.code for notice in frame.notices] == ["up_contradicted"]
    np.testing.assert_allclose(frame.sensor_to_body[2], [0.0, 0.0, 1.0], atol=1e-9)
    assert not chest_frame(*worn(turn((0, 0, 1), 0.0), up="+z"), WALKING).notices


def test_without_standing_the_bout_levels():
    frame = chest_frame(*worn(MOUNTS[3], rest=()), WALKING)
    assert frame.levelled_in == "bout_mean"
    assert [notice.code for notice in frame.notices] == ["no_quiet_standing"]
    np.testing.assert_allclose(frame.sensor_to_body[2], to_matrix(MOUNTS[3])[2], atol=1e-6)


def test_standing_that_contradicts_the_walking_is_said():
    walks = (WALK.trunk.time_s > 7.0) & (WALK.trunk.time_s < 25.0)
    frame = chest_frame(*worn(MOUNTS[3], lean_deg=walks * 40.0), WALKING)
    assert frame.levelled_in == "bout_mean"
    assert [notice.code for notice in frame.notices] == ["standing_contradicts"]
    assert "40 deg" in frame.notices[0].message
    assert "the person walks bent, stood bent or sat" in frame.notices[0].message
    assert "No quiet standing" not in frame.notices[0].message


def test_rest_far_from_walking_is_no_standing():
    late = (Window(22.0, 25.0),)
    frame = chest_frame(*worn(MOUNTS[0], rest=((0, 500),)), late)
    assert frame.levelled_in == "bout_mean"


def test_without_walking_forward_is_assumed():
    frame = chest_frame(*worn(MOUNTS[0]), ())
    assert frame.forward_source == "assumed"
    assert "forward_assumed" in [notice.code for notice in frame.notices]


def test_rest_spent_leaning_hardly_tilts_the_level():
    # Two of seven rests leaning by 10 deg: a mean would tilt by 2.9 deg.
    upright = np.tile([0.0, 0.0, 1.0], (5, 1)) + 0.001 * np.eye(3)[[0, 1, 0, 1, 0]]
    leaning = np.tile([0.0, np.sin(np.radians(10.0)), np.cos(np.radians(10.0))], (2, 1))
    level = geometric_median(np.concatenate([upright, leaning]), np.ones(7))
    assert np.degrees(np.arcsin(level[1])) < 0.3


def test_axis_names():
    assert axis_vector("-y").tolist() == [0.0, -1.0, 0.0]
    assert nearest_axis(np.array([0.2, -0.9, 0.3])).tolist() == [0.0, -1.0, 0.0]
