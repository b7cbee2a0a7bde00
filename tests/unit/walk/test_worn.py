"""Sensors worn wrong are pointed out, and sensors worn right are not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from moving_body import (
    course,
    first_rows,
    forearm_quat,
    frame_of,
    multiply,
    record,
    strides_of,
    thorax_quat,
    turn,
    walking,
)

from imucarry.basics.records import (
    BoutData,
    BoutRow,
    Contacts,
    StrideSwing,
    Window,
)
from imucarry.basics.settings import WalkSettings
from imucarry.walk.arms import arm_motion
from imucarry.walk.trunk import trunk_motion
from imucarry.walk.worn import check_worn, opposite_leg_match

SETTINGS = WalkSettings()
WALK = course(14)
MOUNT = multiply(turn((0.6, 0.0, 0.8), 70.0), turn((1, 0, 0), 33.0))
N = 14


def swing_of(phase_deg, range_deg=36.0, direction="chest"):
    flat = np.full(N, 1.0)
    return StrideSwing(
        start_s=WALK.contact_s[:-1],
        end_s=WALK.contact_s[1:],
        range_rad=np.radians(range_deg) * flat,
        peak_forward_radps=flat,
        peak_backward_radps=flat,
        mean_angle_rad=flat,
        phase_rad=np.radians(phase_deg) * flat,
        amplitude_rad=np.radians(range_deg / 2) * flat,
        step_amplitude_rad=0 * flat,
        plane_source="own motion",
        direction_source=direction,
        angle_curve_rad=np.zeros((N, 101)),
        vertical_curve_rad=np.zeros((N, 101)),
    )


def bout(hold="free", loaded="none", *, margin=2.0, trunk=None, arms=None, **swing):
    contacts = Contacts(np.empty(0), np.empty(0, bool), np.empty(0, np.int64), margin)
    return BoutData(
        row=BoutRow("1", 0.0, 30.0, hold=hold, loaded_side=loaded),
        ordinal=0,
        trunk=trunk,
        arms=arms or {},
        passes=(),
        contacts=contacts,
        strides=strides_of(WALK),
        yaw=None,
        swing=swing,
        columns={},
    )


def codes(*bouts):
    return [(item.code, item.where) for item in check_worn(bouts)]


def test_arms_that_swing_with_the_opposite_leg_are_right():
    right_way = bout(left=swing_of(185.0), right=swing_of(350.0))
    assert codes(right_way) == []
    assert opposite_leg_match([right_way], "left") == pytest.approx(1.0, abs=0.01)


def test_swapped_wrists_are_found():
    swapped = bout(left=swing_of(350.0), right=swing_of(185.0))
    assert codes(swapped) == [
        ("wrist_swapped", "left_wrist"),
        ("wrist_swapped", "right_wrist"),
    ]
    assert all(item.severity == "check" for item in check_worn([swapped]))


@pytest.mark.parametrize(
    "unsure",
    [
        bout(margin=0.3, left=swing_of(0.0), right=swing_of(180.0)),
        bout(left=swing_of(0.0, direction="unknown"), right=swing_of(180.0, direction="unknown")),
        bout(left=swing_of(0.0, range_deg=3.0), right=swing_of(180.0, range_deg=3.0)),
        bout("suitcase", "left", left=swing_of(0.0, 10.0), right=swing_of(180.0, 30.0)),
        bout(left=swing_of(90.0), right=swing_of(270.0)),
    ],
    ids=["sides unclear", "direction unknown", "hardly swings", "loaded", "between"],
)
def test_nothing_is_said_where_the_steps_do_not_tell(unsure):
    assert codes(unsure) == []


@pytest.mark.parametrize(
    ("clock_sd_s", "told"), [(0.0, True), (0.02, True), (0.3, False), (float("nan"), False)]
)
def test_an_arm_whose_clock_is_not_known_is_not_timed_by_the_steps(clock_sd_s, told):
    swapped = bout(left=swing_of(350.0), right=swing_of(350.0))
    found = codes(replace(swapped, clock_sd_s={"left": clock_sd_s}))
    assert found == ([("wrist_swapped", "left_wrist")] if told else [])


def test_a_loaded_arm_that_swings_more_than_the_free_one():
    right_way = bout("suitcase", "left", left=swing_of(180.0, 8.0), right=swing_of(0.0, 40.0))
    assert codes(right_way) == []
    swapped = bout("suitcase", "left", left=swing_of(180.0, 40.0), right=swing_of(0.0, 8.0))
    assert [code for code, _ in codes(swapped)] == ["loaded_arm_swings_more"]


def carry(name, side, left_deg, right_deg):
    made = bout("suitcase", side, left=swing_of(180.0, left_deg), right=swing_of(0.0, right_deg))
    return replace(made, row=replace(made.row, bout=name))


def test_one_carry_whose_loaded_side_is_noted_wrong():
    right_way = [carry(name, "right", 34.0, 3.5) for name in ("a", "b", "c")]
    wrong = carry("d", "left", 22.0, 3.1)
    assert codes(*right_way) == []
    assert codes(*right_way, wrong) == [("loaded_arm_swings_more", "d")]
    both_still = carry("e", "left", 6.0, 2.5)
    assert codes(*right_way, both_still) == []


def of_cycles(made, **counts):
    few = {side: first_rows(made.swing[side], n) for side, n in counts.items()}
    return replace(made, swing={**made.swing, **few})


def test_few_cycles_of_an_arm_do_not_say_which_side_was_loaded():
    right_way = [carry(name, "right", 34.0, 3.5) for name in ("a", "b", "c")]
    wrong = carry("d", "left", 33.0, 8.0)
    assert codes(*right_way, of_cycles(wrong, left=10)) == [("loaded_arm_swings_more", "d")]
    assert codes(*right_way, of_cycles(wrong, left=9)) == []


def test_arms_that_both_hardly_swing_do_not_say_which_side_was_loaded():
    assert codes(carry("a", "right", 2.3, 5.2), carry("b", "right", 2.0, 6.0)) == []


def trunk_facing(mount_frame):
    """Return a trunk that is pushed forward a quarter of a step before it is lifted."""
    on = walking(WALK)
    lift = 2.0 * np.cos(4 * np.pi * WALK.phase) * on
    ahead = 1.5 * np.cos(4 * np.pi * WALK.phase + np.pi / 2) * on
    acc = np.column_stack([ahead, 0 * ahead, lift])
    level = 0 * ahead
    recording, orientation = record(
        "chest", thorax_quat(level, level, level), acc, WALK.time_s, MOUNT
    )
    window = Window(0.0, float(WALK.time_s[-1]))
    return trunk_motion(recording, orientation, mount_frame, window, SETTINGS)


@pytest.mark.parametrize(("up", "expected"), [("+z", []), ("-z", ["up_contradicted"])])
def test_a_wrist_sensor_upside_down_is_found(up, expected):
    swing = np.radians(18.0 * np.cos(2 * np.pi * WALK.phase))
    quat = forearm_quat(0 * swing, 0.0, swing, 0 * swing)
    upright = turn((0, 0, 1), 25.0)
    recording, orientation = record(
        "left_wrist", quat, np.zeros((swing.size, 3)), WALK.time_s, upright
    )
    window = Window(0.0, float(WALK.time_s[-1]))
    arm = arm_motion(replace(recording, up=up), orientation, "left", window)
    assert [code for code, _ in codes(bout(arms={"left": arm}))] == expected


def tilting(*, chest_deg, wrist_deg, hold="free", has_wrist=True):
    """Return a bout whose chest sensor and left wrist tilt with the stride."""
    trunk = trunk_facing(frame_of(MOUNT))
    swing = np.cos(2 * np.pi * WALK.phase)
    trunk = replace(trunk, pitch_rad=np.radians(chest_deg) * swing[: trunk.time_s.size])
    angle = np.radians(wrist_deg) * swing
    quat = forearm_quat(0 * swing, 0.0, angle, 0 * swing)
    recording, orientation = record(
        "left_wrist", quat, np.zeros((swing.size, 3)), WALK.time_s, turn((0, 0, 1), 25.0)
    )
    window = Window(0.0, float(WALK.time_s[-1]))
    arm = arm_motion(recording, orientation, "left", window)
    return bout(hold, trunk=trunk, arms={"left": arm} if has_wrist else {})


@pytest.mark.parametrize(
    ("moves", "told"),
    [
        ({"chest_deg": 18.0, "wrist_deg": 1.5}, True),
        ({"chest_deg": 18.0, "wrist_deg": 1.5, "has_wrist": False}, True),
        ({"chest_deg": 2.0, "wrist_deg": 18.0}, False),
        ({"chest_deg": 12.0, "wrist_deg": 18.0}, False),  # a trunk that sways strongly
        ({"chest_deg": 18.0, "wrist_deg": 1.5, "hold": "suitcase"}, False),
    ],
)
def test_a_chest_sensor_that_swings_like_a_forearm_is_found(moves, told):
    assert codes(tilting(**moves)) == ([("chest_swings", "chest")] if told else [])
