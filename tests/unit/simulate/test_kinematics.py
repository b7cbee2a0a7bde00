"""Rates and accelerations of rigid bodies against closed forms."""

from __future__ import annotations

import numpy as np
from scipy.spatial.transform import Rotation

from imucarry.simulate.kinematics import body_rate, derivative, second_derivative

RATE_HZ = 400.0
TIME_S = np.arange(4000) / RATE_HZ


def test_constant_rate_about_a_tilted_axis() -> None:
    rate = np.array([0.3, -1.2, 0.8])
    start = Rotation.from_euler("ZYX", [0.4, -0.7, 1.1])
    turn = start * Rotation.from_rotvec(TIME_S[:, None] * rate)
    found = body_rate(turn, RATE_HZ)[2:-2]
    np.testing.assert_allclose(found, np.tile(rate, (found.shape[0], 1)), atol=1e-9)


def test_rate_of_yaw_pitch_roll_is_the_textbook_one() -> None:
    # Body rates of an intrinsic z-y-x sequence: any textbook of rigid bodies,
    # for example Diebel 2006, "Representing Attitude", section 5.6.
    yaw, pitch, roll = (
        0.5 * np.sin(5.0 * TIME_S),
        0.3 * np.cos(4.0 * TIME_S),
        0.2 * np.sin(9.0 * TIME_S),
    )
    yaw_rate, pitch_rate, roll_rate = (
        2.5 * np.cos(5.0 * TIME_S),
        -1.2 * np.sin(4.0 * TIME_S),
        1.8 * np.cos(9.0 * TIME_S),
    )
    turn = Rotation.from_euler("ZYX", np.column_stack([yaw, pitch, roll]))
    expected = np.column_stack(
        [
            roll_rate - yaw_rate * np.sin(pitch),
            pitch_rate * np.cos(roll) + yaw_rate * np.cos(pitch) * np.sin(roll),
            -pitch_rate * np.sin(roll) + yaw_rate * np.cos(pitch) * np.cos(roll),
        ]
    )
    np.testing.assert_allclose(body_rate(turn, RATE_HZ)[2:-2], expected[2:-2], atol=2e-6)


def test_derivatives_of_a_sine() -> None:
    values = np.sin(20.0 * TIME_S)[:, None] * np.ones(3)
    first = 20.0 * np.cos(20.0 * TIME_S)[:, None] * np.ones(3)
    np.testing.assert_allclose(derivative(values, RATE_HZ)[2:-2], first[2:-2], atol=1e-5 * 20.0)
    second = -400.0 * values
    found = second_derivative(values, RATE_HZ)[2:-2]
    np.testing.assert_allclose(found, second[2:-2], atol=1e-5 * 400.0)
