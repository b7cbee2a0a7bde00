"""The forearm's long axis, its swing plane and where the walk goes, seen from the wrist.

All of it is told in the arm's *walking frame*: the wrist sensor's world, turned
back by the slow heading of the walk, so that a turn does not turn the plane.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import ArmMotion, BoolArray, FloatArray, TrunkMotion
from imucarry.basics.units import RAD_PER_DEG
from imucarry.motion.rotations import conjugate, rotate
from imucarry.motion.signals import low_pass
from imucarry.walk.stride_grid import ComplexArray, harmonic, sample, stride_times
from imucarry.walk.trunk import smooth_heading, turned

UP = np.array([0.0, 0.0, 1.0])
BODY_RIGHT_RAD = -np.pi / 2.0


@dataclass(frozen=True, slots=True)
class FreePlane:
    """What the free walks tell about one arm.

    Attributes
    ----------
    normal_sensor : ndarray, shape (3,)
        Normal of the swing plane in sensor axes; the arm swings forward about it.
    axis_sensor : ndarray, shape (3,)
        The forearm's long axis, downward as it hangs, in sensor axes.
    axis_source : str
        "given", "standing" or "walking".
    to_walk_rad : float [rad]
        Heading of the normal against the direction of walking; NaN if unknown.
    direction_source : str
        As in `StrideSwing`.
    """

    normal_sensor: FloatArray
    axis_sensor: FloatArray
    axis_source: str
    to_walk_rad: float
    direction_source: str


@dataclass(frozen=True, slots=True)
class SwingPlane:
    """The swing plane of one arm in one bout, in its walking frame."""

    normal: FloatArray  # (3,) horizontal; the arm swings forward about it
    plane_source: str
    direction_source: str
    walk_rad: float  # heading of the walk in the arm's walking frame, NaN if unknown
    rate_radps: float  # root mean square of the swing's rate about the normal


def slow_heading(arm: ArmMotion, trunk: TrunkMotion | None) -> FloatArray:
    """Return the slow heading of the walk on the arm's grid, shape (N,) [rad].

    From the trunk where there is one; else from the arm's own most level axis.
    """
    if trunk is not None and trunk.time_s.size:
        return np.interp(arm.time_s, trunk.time_s, trunk.heading_rad)
    if not arm.time_s.size:
        return np.empty(0)
    down = rotate(conjugate(arm.quat), UP)
    level = np.linalg.eigh(down.T @ down)[1][:, 0]
    ahead = rotate(arm.quat, level)
    heading = np.unwrap(np.arctan2(ahead[:, 1], ahead[:, 0]))
    return smooth_heading(heading, arm.rate_hz)


def forearm_axis(
    arm: ArmMotion, start_s: FloatArray, end_s: FloatArray, free: FreePlane | None
) -> tuple[FloatArray, str]:
    """Return the forearm's long axis in sensor axes, downward as it hangs, and its source.

    The best known comes first: as the session states it, as the arm hung in
    standing, as the free walks had it, the mean vertical while walking.
    """
    if arm.down_sensor is not None:
        return np.asarray(arm.down_sensor, dtype=np.float64), "given"
    if free is not None:
        return free.axis_sensor, free.axis_source
    down = -rotate(conjugate(arm.quat), UP)
    walking, standing = _walking_and_standing(arm, start_s, end_s)
    mean = _unit(down[walking].mean(axis=0)) if walking.any() else _unit(down.mean(axis=0))
    long_enough = standing.sum() >= evidence.STANDING_LEAST_S.value * arm.rate_hz
    if long_enough:
        hung = _unit(down[standing].mean(axis=0))
        apart = np.arccos(np.clip(hung @ mean, -1.0, 1.0))
        if apart < evidence.STANDING_APART_DEG.value * RAD_PER_DEG:
            return hung, "standing"
    return mean, "walking"


def _walking_and_standing(
    arm: ArmMotion, start_s: FloatArray, end_s: FloatArray
) -> tuple[BoolArray, BoolArray]:
    """Mark the samples within the strides, and those at rest outside them."""
    none = np.zeros(arm.time_s.size, dtype=bool)
    if not start_s.size:
        return none, none
    nth = np.searchsorted(np.sort(start_s), arm.time_s, side="right") - 1
    walking = (nth >= 0) & (arm.time_s < np.sort(end_s)[np.maximum(nth, 0)])
    speed = np.linalg.norm(arm.gyr_world_radps, axis=1)
    calm = low_pass(speed, rate_hz=arm.rate_hz, cutoff_hz=evidence.STANDING_CUTOFF_HZ.value)
    still = calm < evidence.STANDING_RATE_DEGPS.value * RAD_PER_DEG
    return walking & arm.usable, still & ~walking & arm.usable


def _unit(vector: FloatArray) -> FloatArray:
    return np.asarray(vector / max(float(np.linalg.norm(vector)), np.finfo(float).tiny))


def walk_heading(
    arm: ArmMotion,
    trunk: TrunkMotion | None,
    course: FloatArray,
    start_s: FloatArray,
    end_s: FloatArray,
) -> float:
    """Return the heading of the walk in the arm's walking frame [rad], NaN if unclear.

    Chest and wrist each have a world of their own, apart by a turn about the
    vertical. Twice a stride the whole body speeds up and slows down, the arm
    with it: the turn that lays the chest's horizontal acceleration at the step
    rate (and twice that) on the wrist's is the one looked for. At the stride
    rate the arm's own swing would drown it.
    """
    if trunk is None or not start_s.size:
        return float("nan")
    times = stride_times(start_s, end_s)
    wrist = turned(arm.acc_world_mps2, -course)
    chest_z = _horizontal(sample(times, trunk.time_s, trunk.acc_mps2))
    wrist_z = _horizontal(sample(times, arm.time_s, wrist))
    chest_h, wrist_h = (
        np.stack([harmonic(z, order) for order in (-4, -2, 2, 4)]) for z in (chest_z, wrist_z)
    )
    shared = np.sum(np.conj(chest_h) * wrist_h)
    power = np.sqrt(np.sum(np.abs(chest_h) ** 2) * np.sum(np.abs(wrist_h) ** 2))
    if not power > 0.0 or np.abs(shared) < evidence.SHARED_LEAST.value * power:
        return float("nan")
    return float(np.angle(shared))


def _horizontal(vectors: FloatArray) -> ComplexArray:
    return np.asarray(vectors[..., 0] + 1j * vectors[..., 1])


def swing_plane(
    arm: ArmMotion,
    course: FloatArray,
    axis: FloatArray,
    times: FloatArray,
    used: BoolArray,
    *,
    walk_rad: float,
    free: FreePlane | None,
) -> SwingPlane:
    """Return the vertical plane that holds most of the forearm's rotation.

    Parameters
    ----------
    arm : ArmMotion
    course : ndarray, shape (N,) [rad]
        From `slow_heading`.
    axis : ndarray, shape (3,)
        The forearm's long axis in sensor axes.
    times : ndarray, shape (S, 101) [s]
    used : ndarray of bool, shape (S,)
        The strides that count.
    walk_rad : float [rad]
        From `walk_heading`.
    free : FreePlane or None

    Notes
    -----
    1. The walk's own turn and the rate about the long axis (pronation) are
       taken out, of the rest the horizontal part is kept.
    2. Its stride- and step-rate harmonics give a 2 x 2 covariance; the normal is
       its first axis.
    3. The free walk's normal, or else the body's right, is added with the weight
       of a small swing: an arm that hardly moves takes that plane, one that
       swings keeps its own.
    """
    rates = turned(_without_pronation(arm, axis, course), -course)
    coefficients = np.stack(
        [harmonic(sample(times[used], arm.time_s, rates[:, :2]), order) for order in (1, 2)]
    )
    own = _covariance(coefficients)
    prior, prior_source = _prior(arm, course, times[used], walk_rad, free)
    weight = (evidence.SMALL_SWING_DEGPS.value * RAD_PER_DEG) ** 2
    total = own + weight * np.outer(prior, prior)
    normal = np.linalg.eigh(total)[1][:, 1]
    sign, direction = _forward_sign(normal, prior, walk_rad, free)
    normal = sign * normal
    spread = np.linalg.eigvalsh(own)
    moves = spread[1] - spread[0] >= weight or prior_source == ""
    return SwingPlane(
        normal=np.append(normal, 0.0),
        plane_source="own motion" if moves else prior_source,
        direction_source=direction,
        walk_rad=walk_rad,
        rate_radps=float(np.sqrt(max(float(normal @ own @ normal), 0.0))),
    )


def _without_pronation(arm: ArmMotion, axis: FloatArray, course: FloatArray) -> FloatArray:
    """Return the rate without the walk's own turn and without that about the long axis."""
    rates = arm.gyr_world_radps - _rate(course, arm.rate_hz)[:, None] * UP
    long_axis = rotate(arm.quat, axis)
    return np.asarray(rates - np.sum(rates * long_axis, axis=1, keepdims=True) * long_axis)


def _rate(course: FloatArray, rate_hz: float) -> FloatArray:
    least = 2  # samples that a difference needs
    return np.gradient(course) * rate_hz if course.size >= least else np.zeros_like(course)


def _covariance(coefficients: ComplexArray) -> FloatArray:
    """Return the mean 2 x 2 covariance of harmonics, shape (H, S, 2) [rad^2/s^2]."""
    if not coefficients.size:
        return np.zeros((2, 2))
    outer = np.einsum("hsi,hsj->sij", coefficients, np.conj(coefficients))
    return np.asarray(np.real(outer).mean(axis=0) / 2.0)


def _prior(
    arm: ArmMotion,
    course: FloatArray,
    times: FloatArray,
    walk_rad: float,
    free: FreePlane | None,
) -> tuple[FloatArray, str]:
    """Return the normal to fall back on, shape (2,), and its source ("" if there is none)."""
    if free is not None and np.isfinite(walk_rad + free.to_walk_rad):
        return _heading_vector(walk_rad + free.to_walk_rad), "free walk"
    if free is not None and times.size:
        ahead = turned(rotate(arm.quat, free.normal_sensor), -course)
        mean = sample(times, arm.time_s, ahead[:, :2]).mean(axis=(0, 1))
        if np.linalg.norm(mean) >= evidence.LEVEL_LEAST.value:
            return _unit(mean), "free walk"
    if np.isfinite(walk_rad):
        return _heading_vector(walk_rad + BODY_RIGHT_RAD), "assumed"
    return np.zeros(2), ""


def _heading_vector(angle_rad: float) -> FloatArray:
    return np.array([np.cos(angle_rad), np.sin(angle_rad)])


def _forward_sign(
    normal: FloatArray, prior: FloatArray, walk_rad: float, free: FreePlane | None
) -> tuple[float, str]:
    """Return the sign that makes the arm swing forward about the normal, and how it is known."""
    if np.isfinite(walk_rad):
        right = _heading_vector(walk_rad + BODY_RIGHT_RAD)
        return (1.0 if normal @ right >= 0.0 else -1.0), "chest"
    if free is not None and prior.any():
        return (1.0 if normal @ prior >= 0.0 else -1.0), free.direction_source
    return 1.0, "unknown"
