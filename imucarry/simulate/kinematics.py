"""Rigid bodies: rate and acceleration from a course of orientations and points."""

from __future__ import annotations

import numpy as np
from scipy.spatial.transform import Rotation

from imucarry.basics.records import FloatArray


def body_rate(turn: Rotation, rate_hz: float) -> FloatArray:
    """Return the angular rate in the body's own axes, shape (N, 3) [rad/s].

    Fourth order: rotation vectors across 2 and 4 samples combined so that the
    leading error cancels.
    """
    near = _across(turn, 1) * (rate_hz / 2.0)
    far = _across(turn, 2) * (rate_hz / 4.0)
    return np.asarray((4.0 * near - far) / 3.0)


def _across(turn: Rotation, n_samples: int) -> FloatArray:
    """Return the rotation vector from n samples before to n samples after each, shape (N, 3)."""
    index = np.arange(len(turn))
    before = turn[np.maximum(index - n_samples, 0)]
    after = turn[np.minimum(index + n_samples, index[-1])]
    return np.asarray((before.inv() * after).as_rotvec())


def second_derivative(points: FloatArray, rate_hz: float) -> FloatArray:
    """Return the acceleration of a point, shape (N, 3); fourth order, zero at the ends."""
    out = np.zeros_like(points)
    out[2:-2] = (
        -(points[4:] + points[:-4]) + 16.0 * (points[3:-1] + points[1:-3]) - 30.0 * points[2:-2]
    ) * (rate_hz**2 / 12.0)
    return out


def derivative(values: FloatArray, rate_hz: float) -> FloatArray:
    """Return the first derivative along axis 0; fourth order, zero at the ends."""
    out = np.zeros_like(values)
    out[2:-2] = (8.0 * (values[3:-1] - values[1:-3]) - (values[4:] - values[:-4])) * (
        rate_hz / 12.0
    )
    return out
