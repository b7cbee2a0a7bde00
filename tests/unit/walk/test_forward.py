"""Which way the chest faces: steps, the trunk's pitch taken out, speed and turns."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from moving_body import multiply, record, thorax_quat, turn
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import Window
from imucarry.motion.rotations import rotate, to_matrix
from imucarry.walk.forward import ForwardAxis, ForwardHints, forward_hints, tell_forward
from imucarry.walk.placement import chest_frame
from imucarry.walk.set_off import speed_clearness, speeds_beside_standing
from imucarry.walk.walking_line import mean_direction

STEP_S = 0.55
WALK = stepping(told_contacts(step_s=STEP_S, n=30, start_s=8.0))
TIME_S = WALK.trunk.time_s
WALKING = (Window(7.0, 25.0),)
REST = ((100, 700), (2560, 2690))
MOUNT = multiply(turn((0.6, 0.0, 0.8), 130.0), turn((0, 1, 0), -20.0))
AHEAD = to_matrix(MOUNT)[0]
HIPS_TO_CHEST_M = 0.3


def chest(
    *, speed_mps=0.9, pitches=False, bends=False, bent_deg=0.0, sideways=0.0, rest=REST, **given
):
    """Return what a chest sensor records of a walk out of standing and into it.

    A trunk that pitches at the step rate moves the sensor against the braking of each step;
    one that yaws or rolls at it moves the sensor sideways, here by so much of the braking.
    """
    zero = np.zeros(TIME_S.size)
    on = np.clip((TIME_S - 7.5) / 0.5, 0, 1) * np.clip((24.5 - TIME_S) / 0.5, 0, 1)
    rate = 2 * np.pi / STEP_S
    pitch = -0.056 * on * np.sin(rate * (TIME_S - 8.0)) * pitches
    pitch += 0.9 * np.exp(-(((TIME_S - 8.0) / 0.4) ** 2)) * bends
    pitch += np.radians(bent_deg) * on
    started, stopped = (np.clip((TIME_S - at) / 1.2, 0, 1) for at in (7.2, 24.0))
    speed = speed_mps * (started - stopped)
    acc = WALK.trunk.acc_mps2.copy()
    acc[:, 1] += sideways * acc[:, 0]
    acc[:, 0] += np.gradient(speed, TIME_S)
    acc[:, 0] += HIPS_TO_CHEST_M * np.gradient(np.gradient(pitch, TIME_S), TIME_S) * pitches
    thorax = thorax_quat(zero + np.radians(40.0), zero, pitch)
    acc_world = rotate(turn((0, 0, 1), 40.0), acc)
    recording, orientation = record("chest", thorax, acc_world, TIME_S, MOUNT, rest)
    return replace(recording, **given), orientation


def codes(frame):
    return [notice.code for notice in frame.notices]


def slices():
    return [slice(700, 2500)]


def test_a_trunk_that_pitches_against_the_steps_does_not_turn_forward_round():
    recording, orientation = chest(pitches=True)
    hints = forward_hints(recording, orientation, slices(), to_matrix(MOUNT)[2])
    assert hints.steps.direction @ AHEAD < -0.9, "the steps alone say backward"
    assert hints.steps.certainty > 0.3
    frame = chest_frame(recording, orientation, WALKING)
    assert frame.sensor_to_body[0] @ AHEAD > 0.99
    assert codes(frame) == []


def test_without_speed_it_is_said_that_forward_is_unclear():
    # As on a treadmill: nothing but the steps, which contradict themselves.
    assert codes(chest_frame(*chest(pitches=True, speed_mps=0.0), WALKING)) == ["forward_unclear"]
    assert codes(chest_frame(*chest(speed_mps=0.0), WALKING)) == []


@pytest.mark.parametrize("speed_mps", [0.9, 0.0])
@pytest.mark.parametrize("pitches", [False, True])
def test_a_true_outward_axis_is_never_called_backward(speed_mps, pitches):
    # The sensor's x axis is not far from forward here: it is stated as it is.
    recording, orientation = chest(speed_mps=speed_mps, pitches=pitches)
    axis = int(np.abs(AHEAD).argmax())
    name = ("+" if AHEAD[axis] > 0 else "-") + "xyz"[axis]
    assert "chest_backwards" not in codes(
        chest_frame(replace(recording, out=name), orientation, WALKING)
    )


@pytest.mark.parametrize(
    ("speed_mps", "pitches", "told"),
    [(0.9, False, True), (0.9, True, True), (0.0, False, True), (0.0, True, False)],
)
def test_a_sensor_worn_back_to_front_is_found(speed_mps, pitches, told):
    recording, orientation = chest(speed_mps=speed_mps, pitches=pitches)
    axis = int(np.abs(AHEAD).argmax())
    name = ("-" if AHEAD[axis] > 0 else "+") + "xyz"[axis]
    frame = chest_frame(replace(recording, out=name), orientation, WALKING)
    assert ("chest_backwards" in codes(frame)) is told
    assert frame.forward_source == "given"


def test_a_trunk_that_turns_at_the_step_rate_does_not_turn_forward_aside():
    recording, orientation = chest(sideways=0.7)
    hints = forward_hints(recording, orientation, slices(), to_matrix(MOUNT)[2])
    assert hints.steps.direction @ AHEAD < np.cos(np.radians(30.0)), "the steps alone are off"
    frame = chest_frame(recording, orientation, WALKING)
    assert frame.sensor_to_body[0] @ AHEAD > np.cos(np.radians(8.0))
    assert codes(frame) == []


def test_forward_is_level_in_standing_where_the_trunk_walks_bent():
    recording, orientation = chest(bent_deg=12.0, sideways=2.0)
    frame = chest_frame(recording, orientation, WALKING)
    np.testing.assert_allclose(frame.sensor_to_body @ frame.sensor_to_body.T, np.eye(3), atol=1e-9)
    walked = to_matrix(orientation.quat[1500]) @ frame.sensor_to_body[0]
    assert np.degrees(np.arcsin(-walked[2])) == pytest.approx(12.0, abs=1.0)


# --- speed ------------------------------------------------------------------------------


def test_speed_out_of_standing_and_before_it():
    speeds = speeds_beside_standing(*chest(), slices())
    assert speeds.shape == (2, 3)
    np.testing.assert_allclose(speeds @ AHEAD, 0.9, atol=0.15)
    np.testing.assert_allclose(speeds @ to_matrix(MOUNT)[1], 0.0, atol=0.25)
    np.testing.assert_allclose(speeds @ to_matrix(MOUNT)[2], 0.0, atol=1e-9)


def test_a_trunk_that_bends_down_tells_no_speed():
    assert speeds_beside_standing(*chest(bends=True), slices()).shape == (1, 3)


def test_lost_samples_tell_no_speed():
    assert speeds_beside_standing(*chest(gaps=((800, 830),)), slices()).shape == (1, 3)


def test_standing_that_is_not_beside_the_walk_tells_no_speed():
    assert speeds_beside_standing(*chest(rest=((100, 500),)), slices()).shape == (0, 3)


def test_speeds_that_scatter_are_less_clear():
    assert speed_clearness(np.array([])) == 0.0
    assert speed_clearness(np.array([0.9])) == pytest.approx(3.0)
    assert speed_clearness(np.full(4, 0.6)) == pytest.approx(4.0)
    assert abs(speed_clearness(np.array([1.2, -0.9, 1.0, -1.0]))) < 0.5


# --- what they say together ---------------------------------------------------------


X, Y = np.eye(3)[0], np.eye(3)[1]
NO_SPEED = np.empty((0, 3))


def hints(*, steps=0.7, steadied=0.7, speeds=NO_SPEED, turning=0.0):
    """Return hints along x; a negative certainty points backward."""
    axes = [ForwardAxis(np.sign(c) * X, abs(c)) for c in (steps, steadied)]
    return ForwardHints(axes[0], axes[1], np.asarray(speeds), turning * X)


@pytest.mark.parametrize(
    ("of", "forward", "is_sure"),
    [
        (hints(), True, True),
        (hints(steps=0.2), True, False),
        (hints(steps=0.2, speeds=[0.8 * X] * 2), True, True),
        (hints(steps=-0.7, speeds=[0.8 * X] * 2), True, True),  # steadied steps agree
        (hints(steps=-0.7, steadied=-0.7, turning=0.3, speeds=[0.8 * X] * 2), True, True),
        (hints(steps=-0.7, steadied=-0.7, speeds=[0.8 * X] * 2), False, False),  # alone
        (hints(steps=-0.7, steadied=-0.7, speeds=[0.8 * X] * 6), True, False),  # clearer
        (hints(turning=-0.1, speeds=[0.4 * X] * 4), True, True),  # slow steps round a turn
        (hints(speeds=[0.8 * X, -0.8 * X, 0.6 * X]), True, True),  # says nothing
        (hints(steadied=-0.7), True, False),
        (hints(steadied=-0.7, turning=0.3), True, True),
        (hints(steadied=-0.2), True, True),
        (hints(turning=-0.3), True, True),
        (hints(steadied=-0.7, turning=-0.3), False, False),
    ],
)
def test_the_weight_of_the_hints(of, forward, is_sure):
    told = tell_forward(of)
    assert bool(told.direction @ X > 0) is forward
    assert told.is_sure is is_sure


def aside(deg, size_mps=0.8):
    """Return a speed so many deg to the left of the steps' line."""
    return size_mps * (np.cos(np.radians(deg)) * X + np.sin(np.radians(deg)) * Y)


@pytest.mark.parametrize(
    ("speeds", "told_deg", "is_sure"),
    [
        ([aside(90)] * 6, 90.0, True),
        ([aside(-40, 0.5)] * 8, -40.0, True),
        ([aside(140)] * 6, 140.0, False),  # as where the steps say backward
        ([aside(25), aside(35)] * 4, 30.0, True),
        ([aside(6)] * 6, 2.5, True),  # 5 and 5.8 deg of error: between the two
        ([aside(30, 0.2)] * 4, 0.0, True),  # too slow: good to 27 deg only
        ([aside(90), aside(-60), aside(10)], 0.0, True),  # they scatter
        ([aside(10)], 0.0, True),
        ([aside(60)], 0.0, False),  # one alone turns nothing
    ],
)
def test_the_line_of_walking_is_weighed_by_the_errors_of_steps_and_speed(speeds, told_deg, is_sure):
    told = tell_forward(hints(speeds=speeds))
    off = np.degrees(np.arctan2(told.direction @ Y, told.direction @ X)) - told_deg
    assert abs(off) < 2.0
    assert told.is_sure is is_sure


@pytest.mark.parametrize(("apart_deg", "is_sure"), [(15, True), (170, True), (40, False)])
def test_without_speed_the_line_is_unsure_where_pitch_and_roll_have_turned_it(apart_deg, is_sure):
    turned = ForwardAxis(aside(apart_deg, 1.0), 0.7)
    told = tell_forward(replace(hints(turning=0.3), steadied=turned))
    assert told.is_sure is is_sure
    np.testing.assert_allclose(told.direction, X)
    unclear = replace(turned, certainty=0.2)
    assert tell_forward(replace(hints(), steadied=unclear)).is_sure
    fast = hints(speeds=[0.8 * X] * 6)
    assert tell_forward(replace(fast, steadied=turned)).is_sure


@pytest.mark.parametrize(("turned_deg", "told_deg"), [(0, 6.4), (15, 13.2)])
def test_the_steps_weigh_less_where_pitch_and_roll_have_turned_their_line(turned_deg, told_deg):
    steadied = ForwardAxis(aside(turned_deg, 1.0), 0.7)
    told = tell_forward(replace(hints(speeds=[aside(15)] * 6), steadied=steadied))
    off = np.degrees(np.arctan2(told.direction @ Y, told.direction @ X)) - told_deg
    assert abs(off) < 0.5
    assert told.is_sure


def test_the_error_of_a_direction_is_the_scatter_across_it():
    few = np.array([[1.0, 0.0, 0.0], [1.0, 0.0, 0.0]])
    direction, error_rad = mean_direction(few)
    np.testing.assert_allclose(direction, X)
    assert error_rad == pytest.approx(np.arctan(0.2 / np.sqrt(2)))
    _, error_rad = mean_direction(few + np.array([[0.7, 0.5, 0.0], [-0.7, -0.5, 0.0]]))
    assert error_rad == pytest.approx(np.arctan(0.5))
    assert mean_direction(NO_SPEED)[1] == np.pi / 2


def test_turns_show_speed():
    # A circle to the left: the pull to its inside is speed times the rate of turning.
    rate, speed_mps = 0.6, 0.8
    zero = np.zeros(TIME_S.size)
    thorax = thorax_quat(rate * TIME_S, zero, zero)
    acc = np.column_stack([zero, zero + rate * speed_mps, zero])
    acc_world = rotate(thorax, acc)
    recording, orientation = record("chest", thorax, acc_world, TIME_S, MOUNT, ())
    hints_ = forward_hints(recording, orientation, slices(), to_matrix(MOUNT)[2])
    np.testing.assert_allclose(hints_.turning_mps, speed_mps * AHEAD, atol=0.02)
