"""Which way the walk goes, seen from a wrist: its slow heading and its direction.

Told in the arm's *walking frame*: the wrist sensor's world, turned back by the
slow heading of the walk, so that a turn does not turn the swing plane.
"""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import ArmMotion, FloatArray, TrunkMotion
from imucarry.motion.signals import band_pass, block_length, block_means
from imucarry.walk.standing import mean_vertical
from imucarry.walk.stride_grid import ComplexArray, harmonics, sample, stride_times
from imucarry.walk.trunk import smooth_heading
from imucarry.walk.worlds import level_heading

UP = np.array([0.0, 0.0, 1.0])


def slow_heading(
    arm: ArmMotion, trunk: TrunkMotion | None, start_s: FloatArray, end_s: FloatArray
) -> FloatArray:
    """Return the slow heading of the walk on the arm's grid, shape (N,) [rad].

    The trunk's mean over a stride, where there is a trunk: what swings with the
    stride cancels, and a turn reaches no farther than half a stride. Else the
    slow heading of the arm's own most level axis.
    """
    if not arm.time_s.size:
        return np.empty(0)
    if trunk is not None and trunk.time_s.size:
        stride_s = float(np.median(end_s - start_s)) if start_s.size else 0.0
        yaw = running_mean(trunk.yaw_rad, round(stride_s * trunk.rate_hz))
        return np.interp(arm.time_s, trunk.time_s, yaw)
    return smooth_heading(level_heading(arm), arm.rate_hz)


def running_mean(x: FloatArray, n_window: int) -> FloatArray:
    """Return the mean over `n_window` samples around each, fewer at the ends, shape (N,)."""
    half = n_window // 2
    total = np.concatenate([[0.0], np.cumsum(x)])
    index = np.arange(x.size)
    first, last = np.maximum(index - half, 0), np.minimum(index + half + 1, x.size)
    return np.asarray((total[last] - total[first]) / (last - first))


def carried_heading(
    arm: ArmMotion, axis: FloatArray, course: FloatArray, trunk: TrunkMotion | None
) -> FloatArray:
    """Return the course with so much of the trunk's yaw as turns the forearm, shape (N,) [rad].

    A forearm that is held up turns with the trunk, one that hangs hardly does:
    the share grows with the height of its hand over its elbow. That turn
    carries the swing plane with it; it is no swing.
    """
    if trunk is None or not trunk.time_s.size or not arm.time_s.size:
        return course
    height = 0.5 * (1.0 + float(mean_vertical(arm.quat) @ axis))
    hanging, raised = evidence.CARRIED_FRAC.value
    share = hanging + (raised - hanging) * height
    yaw = np.interp(arm.time_s, trunk.time_s, trunk.yaw_rad)
    return np.asarray(course + share * (yaw - course))


def walk_heading(
    arm: ArmMotion,
    trunk: TrunkMotion | None,
    course: FloatArray,
    start_s: FloatArray,
    end_s: FloatArray,
) -> float:
    """Return the heading of the walk in the arm's walking frame [rad], NaN if unclear.

    Chest and wrist each have a world of their own, apart by a turn about the
    vertical. What accelerates the whole body is in both: the start, the stop and
    the turns, far below the stride rate, and the push and landing of each step,
    at four and six times the stride rate. The turn that lays the chest's
    horizontal acceleration on the wrist's is the one looked for. At the stride
    and step rate the arm's own swing would drown it.
    """
    if trunk is None or not trunk.time_s.size or not start_s.size:
        return float("nan")
    forward, left, heading = (
        np.interp(arm.time_s, trunk.time_s, values)
        for values in (*trunk.acc_mps2.T[:2], trunk.heading_rad)
    )
    chest = (forward + 1j * left) * np.exp(1j * heading)
    wrist = arm.acc_world_mps2[:, 0] + 1j * arm.acc_world_mps2[:, 1]
    both = np.stack([chest, wrist], axis=1)
    walking = both * np.exp(-1j * course)[:, None]
    quick = _likeness(_step_harmonics(arm, walking, start_s, end_s))
    slow = _likeness(_slow_part(both, arm.rate_hz))
    shared = (quick + slow) / 2.0
    if np.abs(shared) < evidence.SHARED_LEAST.value:
        return float("nan")
    return float(np.angle(shared))


def _likeness(both: ComplexArray) -> complex:
    """Return the complex correlation of two horizontal accelerations, shape (..., 2)."""
    power = np.sqrt(np.prod(np.sum(np.abs(both.reshape(-1, 2)) ** 2, axis=0)))
    shared = np.sum(np.conj(both[..., 0]) * both[..., 1])
    return complex(shared / max(power, np.finfo(float).tiny))


def _step_harmonics(
    arm: ArmMotion, z: ComplexArray, start_s: FloatArray, end_s: FloatArray
) -> ComplexArray:
    """Return the harmonics of each stride that steps make and the swing hardly does.

    Of horizontal accelerations in the walking frame, shape (N, 2) to (H, S, 2).
    """
    orders = [sign * k for k in evidence.SHARED_HARMONICS.value for sign in (-1, 1)]
    return harmonics(sample(stride_times(start_s, end_s), arm.time_s, z), orders)


def _slow_part(z: ComplexArray, rate_hz: float) -> ComplexArray:
    """Return the part that starts and turns make of horizontal accelerations in the world.

    Shape (N, 2) to (K, 2): means over short blocks hold all of it.
    """
    low_hz, high_hz = evidence.SHARED_BAND_HZ.value
    block = block_length(z.shape[0], rate_hz, evidence.SHARED_RATE_HZ.value)
    parts = block_means(z.view(np.float64), block)
    slow = band_pass(parts, rate_hz=rate_hz / block, low_hz=low_hz, high_hz=high_hz, order=3)
    return slow[:, ::2] + 1j * slow[:, 1::2]
