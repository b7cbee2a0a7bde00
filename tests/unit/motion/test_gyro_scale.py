"""Errors of scale and alignment of a gyroscope: taken out where gravity shows them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from motion_builder import (
    angle_between,
    recording_of,
    same_heading,
    smooth_turn,
    trunk_walk,
    turned,
    walk_acc,
)

from imucarry.basics.records import FloatArray, Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion import rotations
from imucarry.motion.orientation import estimate_orientation

RATE_HZ = 100.0
SCALE = np.array([[0.004, -0.002, 0.001], [0.002, -0.003, 0.003], [-0.001, 0.002, 0.004]])
WRONG_SCALES = {"right": np.zeros((3, 3)), "wrong": SCALE, "the other way": -SCALE}


def misread(recording: Recording, scale: FloatArray) -> Recording:
    """What a gyroscope with these errors makes of the same motion."""
    return replace(recording, gyr_radps=recording.gyr_radps @ (np.eye(3) + scale).T)


def handled(time_s: FloatArray) -> FloatArray:
    """A sensor that is turned over by hand, about all axes in turn, and laid down again."""
    quat = np.tile([1.0, 0.0, 0.0, 0.0], (time_s.size, 1))
    for index, start_s in enumerate(range(5, int(time_s[-1]) - 5, 2)):
        axis = np.eye(3)[index % 3] + 0.3 * np.eye(3)[(index + index // 3) % 3]
        angle = smooth_turn(time_s, start_s, 1.8, np.pi / 2)
        quat = rotations.multiply(quat, turned(axis, angle))
    return quat


@pytest.mark.parametrize("name", WRONG_SCALES)
def test_a_sensor_that_is_turned_over_shows_its_scale(name: str) -> None:
    time_s = np.arange(0, 120, 1 / RATE_HZ)
    quat = handled(time_s)
    got = estimate_orientation(
        misread(recording_of(quat, RATE_HZ), WRONG_SCALES[name]), MotionSettings()
    )
    # Drawn towards zero: SCALE is several times what is believed beforehand.
    left = np.linalg.norm(got.rate_scale - WRONG_SCALES[name])
    assert left < max(0.75 * np.linalg.norm(WRONG_SCALES[name]), 1e-5)
    away_deg = np.rad2deg(angle_between(same_heading(got.quat, quat), quat))
    # Left in, these errors turn it by 2.4 deg (root mean square).
    assert np.sqrt((away_deg**2).mean()) < 2.4 / 5


@pytest.mark.parametrize("name", WRONG_SCALES)
def test_a_trunk_that_stays_upright_shows_no_scale_about_the_vertical(name: str) -> None:
    time_s = np.arange(0, 90, 1 / RATE_HZ)
    ideal = recording_of(trunk_walk(time_s), RATE_HZ, acc_world_mps2=walk_acc(time_s))
    got = estimate_orientation(misread(ideal, WRONG_SCALES[name]), MotionSettings())
    # Gravity cannot tell it: what the gyroscope says of yaw is left as it is.
    assert abs(got.rate_scale[2, 2]) < 1e-3


def test_an_accelerometer_that_errs_is_hardly_taken_for_an_error_of_scale() -> None:
    time_s = np.arange(0, 90, 1 / RATE_HZ)
    ideal = recording_of(trunk_walk(time_s), RATE_HZ, acc_world_mps2=walk_acc(time_s))
    acc = ideal.acc_mps2 * [1.005, 0.995, 1.005] + [0.05, -0.05, 0.05]
    got = estimate_orientation(replace(ideal, acc_mps2=acc), MotionSettings())
    assert np.abs(got.rate_scale).max() < 2e-3


@pytest.mark.parametrize("bias_degps", [-0.5, 0.0, 0.5])
def test_a_bias_is_not_taken_for_an_error_of_scale(bias_degps: float) -> None:
    time_s = np.arange(0, 120, 1 / RATE_HZ)
    bias = np.full(3, np.deg2rad(bias_degps))
    ideal = recording_of(handled(time_s), RATE_HZ)
    biased = replace(ideal, gyr_radps=ideal.gyr_radps + bias)
    got = estimate_orientation(biased, MotionSettings())
    assert np.abs(got.rate_scale).max() < 5e-4
    assert np.abs(np.rad2deg(got.bias_radps - bias)).max() < 0.01
