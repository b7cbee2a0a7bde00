"""The vertical plane in which a forearm swings, in the arm's walking frame."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import ArmMotion, BoolArray, FloatArray
from imucarry.basics.units import RAD_PER_DEG
from imucarry.motion.rotations import rotate
from imucarry.walk.arm_axis import unit_vector
from imucarry.walk.stride_grid import ComplexArray, harmonics, sample
from imucarry.walk.trunk import turned

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
    at_s : ndarray, shape (B,) [s]
        When each free walk was; empty without a chest sensor.
    heading_rad : ndarray, shape (B,) [rad]
        Heading of the normal in the arm's walking frame then.
    walk_rad : ndarray, shape (B,) [rad]
        Heading of the walk in the same frame, NaN where unclear.
    direction_source : str
        As in `StrideSwing`.
    """

    normal_sensor: FloatArray
    axis_sensor: FloatArray
    axis_source: str
    at_s: FloatArray
    heading_rad: FloatArray
    walk_rad: FloatArray
    direction_source: str


@dataclass(frozen=True, slots=True)
class SwingPlane:
    """The swing plane of one arm in one bout, in its walking frame."""

    normal: FloatArray  # (3,) horizontal; the arm swings forward about it
    plane_source: str
    direction_source: str
    walk_rad: float  # heading of the walk in the arm's walking frame, NaN if unknown
    rate_radps: float  # root mean square of the swing's rate about the normal


def swing_plane(
    arm: ArmMotion,
    course: FloatArray,
    axis: FloatArray,
    times: FloatArray,
    used: BoolArray,
    *,
    walk_rad: float,
    free: FreePlane | None,
    has_chest: bool,
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
    has_chest : bool
        Whether the course is the trunk's, as it was in the free walks.

    Notes
    -----
    1. The turn of the course and the rate about the long axis (pronation) are
       taken out, of the rest the horizontal part is kept.
    2. Its stride- and step-rate harmonics give a 2 x 2 covariance; the normal is
       its first axis.
    3. The free walk's normal, or else the body's right, is added with the weight
       of a small swing: an arm that hardly moves takes that plane, one that
       swings keeps its own.
    """
    rates = turned(_without_pronation(arm, axis, course), -course)
    coefficients = harmonics(sample(times[used], arm.time_s, rates[:, :2]), (1, 2))
    own = _covariance(coefficients)
    prior, prior_source = _prior(arm, course, times[used], walk_rad, free, has_chest)
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
    """Return the rate without the turn of the course and without that about the long axis."""
    rates = arm.gyr_world_radps.copy()
    rates[:, 2] -= _rate(course, arm.rate_hz)
    long_axis = rotate(arm.quat, axis)
    long_axis *= np.einsum("ni,ni->n", rates, long_axis)[:, None]
    rates -= long_axis
    return rates


def _rate(angle: FloatArray, rate_hz: float) -> FloatArray:
    least = 2  # samples that a difference needs
    return np.gradient(angle) * rate_hz if angle.size >= least else np.zeros_like(angle)


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
    has_chest: bool,
) -> tuple[FloatArray, str]:
    """Return the normal to fall back on, shape (2,), and its source ("" if there is none)."""
    if free is not None and has_chest and free.at_s.size and arm.time_s.size:
        nearest = int(np.argmin(np.abs(free.at_s - arm.time_s.mean())))
        turned_rad = _worlds_turned(walk_rad - free.walk_rad[nearest])
        return _heading_vector(free.heading_rad[nearest] + turned_rad), "free walk"
    if free is not None and times.size:
        ahead = turned(rotate(arm.quat, free.normal_sensor), -course)
        mean = sample(times, arm.time_s, ahead[:, :2]).mean(axis=(0, 1))
        if np.linalg.norm(mean) >= evidence.LEVEL_LEAST.value:
            return unit_vector(mean), "free walk"
    if np.isfinite(walk_rad):
        return _heading_vector(walk_rad + BODY_RIGHT_RAD), "assumed"
    return np.zeros(2), ""


def _worlds_turned(apart_rad: float) -> float:
    """Return how far the two sensors' worlds turned apart from the free walk to this one.

    As by a long gap in between. The walk's own heading, seen from both, tells it, but so
    roughly that less than a clear turn is taken for none.
    """
    turned_rad = float(np.mod(apart_rad + np.pi, 2.0 * np.pi) - np.pi)
    return turned_rad if abs(turned_rad) > evidence.WORLDS_TURNED_DEG.value * RAD_PER_DEG else 0.0


def _heading_vector(angle_rad: float) -> FloatArray:
    return np.array([np.cos(angle_rad), np.sin(angle_rad)])


def _forward_sign(
    normal: FloatArray, prior: FloatArray, walk_rad: float, free: FreePlane | None
) -> tuple[float, str]:
    """Return the sign that makes the arm swing forward about the normal, and how it is known."""
    if free is not None and prior.any() and free.direction_source != "unknown":
        return (1.0 if normal @ prior >= 0.0 else -1.0), free.direction_source
    if np.isfinite(walk_rad):
        right = _heading_vector(walk_rad + BODY_RIGHT_RAD)
        return (1.0 if normal @ right >= 0.0 else -1.0), "chest"
    return (-1.0 if normal @ prior < 0.0 else 1.0), "unknown"
