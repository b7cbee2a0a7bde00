"""Closed-form motions of a sensor, for the tests of the room `motion`."""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import FloatArray, IndexRanges, Recording
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.motion import rotations


def recording_of(
    quat: FloatArray,
    rate_hz: float,
    *,
    placement: str = "chest",
    bias_radps: FloatArray | None = None,
    acc_world_mps2: FloatArray | None = None,
    gaps: IndexRanges = (),
) -> Recording:
    """Return what an ideal sensor of a given orientation records.

    Parameters
    ----------
    quat : ndarray, shape (N, 4) [1]
        Sensor to world at each sample. A rate sample is the mean since the one before.
    rate_hz : float [Hz]
    bias_radps : ndarray, shape (3,) [rad/s], optional
        Added to the rate.
    acc_world_mps2 : ndarray, shape (N, 3) [m/s^2], optional
        Acceleration in the world, without gravity.
    """
    step = rotations.multiply(rotations.conjugate(quat[:-1]), quat[1:])
    step = step * np.sign(step[:, :1])
    half = np.arctan2(np.linalg.norm(step[:, 1:], axis=1), step[:, 0])
    gyr = step[:, 1:] * (2 * rate_hz / rotations.sine_ratio(half))[:, None]
    gyr = np.concatenate([gyr[:1], gyr])
    force = np.zeros((quat.shape[0], 3)) if acc_world_mps2 is None else acc_world_mps2.copy()
    force[:, 2] += STANDARD_GRAVITY_MPS2
    return Recording(
        placement=placement,
        rate_hz=rate_hz,
        time_s=np.arange(quat.shape[0]) / rate_hz,
        acc_mps2=rotations.rotate(rotations.conjugate(quat), force),
        gyr_radps=gyr + (0.0 if bias_radps is None else bias_radps),
        gaps=gaps,
    )


def turned(axis: FloatArray, angle_rad: FloatArray) -> FloatArray:
    """Return rotations about one axis by each angle, shape (N, 4)."""
    unit = np.asarray(axis, dtype=np.float64) / np.linalg.norm(axis)
    return rotations.from_rotation_vector(np.asarray(angle_rad)[:, None] * unit)


def smooth_turn(
    time_s: FloatArray, start_s: float, length_s: float, angle_rad: float
) -> FloatArray:
    """Return an angle that goes from 0 to `angle_rad` along a half cosine, shape (N,)."""
    share = np.clip((time_s - start_s) / length_s, 0, 1)
    return np.asarray(angle_rad * 0.5 * (1 - np.cos(np.pi * share)))


def trunk_walk(time_s: FloatArray, *, from_s: float = 5.0) -> FloatArray:
    """Return a trunk that stands, then sways and turns with each stride, shape (N, 4)."""
    going = np.clip(time_s - from_s, 0, 1)
    phase = 2 * np.pi * 0.9 * time_s
    yaw = turned(np.array([0.0, 0, 1]), np.deg2rad(5) * going * np.sin(phase))
    lean = turned(np.array([1.0, 0, 0]), np.deg2rad(3) * going * np.sin(phase + 1))
    pitch = turned(np.array([0.0, 1, 0]), np.deg2rad(2) * going * np.sin(2 * phase))
    return rotations.multiply(yaw, rotations.multiply(lean, pitch))


def walk_acc(time_s: FloatArray, *, from_s: float = 5.0) -> FloatArray:
    """Return a walking trunk's acceleration in a world that goes straight, shape (N, 3)."""
    going = np.clip(time_s - from_s, 0, 1)
    phase = 2 * np.pi * 0.9 * time_s
    parts = [1.5 * np.sin(2 * phase + 0.5), 1.2 * np.sin(phase), 2.5 * np.cos(2 * phase)]
    return np.stack([going * part for part in parts], axis=1)


def angle_between(first: FloatArray, second: FloatArray) -> FloatArray:
    """Return the angle of the rotation between orientations [rad], shape (N,)."""
    apart = rotations.multiply(rotations.conjugate(first), second)
    return np.asarray(2 * np.arctan2(np.linalg.norm(apart[:, 1:], axis=1), np.abs(apart[:, 0])))


def same_heading(quat: FloatArray, truth: FloatArray) -> FloatArray:
    """Return `quat` turned about the vertical so that headings agree on the whole."""
    apart = rotations.multiply(truth, rotations.conjugate(quat))
    turn = 2 * np.arctan2(apart[:, 3], apart[:, 0])
    mean = np.angle(np.exp(1j * turn).mean())
    return rotations.multiply(rotations.about_vertical(mean), quat)


def tilt_error(quat: FloatArray, truth: FloatArray) -> FloatArray:
    """Return the angle between estimated and true vertical [rad], shape (N,)."""
    up = np.array([0.0, 0.0, 1.0])
    seen = rotations.rotate(rotations.conjugate(quat), up)
    true = rotations.rotate(rotations.conjugate(truth), up)
    across, along = np.linalg.norm(np.cross(seen, true), axis=1), (seen * true).sum(axis=1)
    return np.asarray(np.arctan2(across, along))
