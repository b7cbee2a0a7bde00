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
from imucarry.walk.placement import geometric_median
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
    at_s : ndarray, shape (B,) [s]
        When each free walk was; empty without a chest sensor.
    heading_rad : ndarray, shape (B,) [rad]
        Heading of the normal in the arm's walking frame then.
    direction_source : str
        As in `StrideSwing`.
    """

    normal_sensor: FloatArray
    axis_sensor: FloatArray
    axis_source: str
    at_s: FloatArray
    heading_rad: FloatArray
    direction_source: str


@dataclass(frozen=True, slots=True)
class SwingPlane:
    """The swing plane of one arm in one bout, in its walking frame."""

    normal: FloatArray  # (3,) horizontal; the arm swings forward about it
    plane_source: str
    direction_source: str
    walk_rad: float  # heading of the walk in the arm's walking frame, NaN if unknown
    rate_radps: float  # root mean square of the swing's rate about the normal


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
    down = rotate(conjugate(arm.quat), UP)
    level = np.linalg.eigh(down.T @ down)[1][:, 0]
    ahead = rotate(arm.quat, level)
    return smooth_heading(np.unwrap(np.arctan2(ahead[:, 1], ahead[:, 0])), arm.rate_hz)


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
    height = 0.5 * (1.0 + float(np.mean(rotate(arm.quat, axis)[:, 2])))
    hanging, raised = evidence.CARRIED_FRAC.value
    share = hanging + (raised - hanging) * height
    yaw = np.interp(arm.time_s, trunk.time_s, trunk.yaw_rad)
    return np.asarray(course + share * (yaw - course))


def forearm_axis(
    arm: ArmMotion, start_s: FloatArray, end_s: FloatArray, free: FreePlane | None
) -> tuple[FloatArray, str]:
    """Return the forearm's long axis in sensor axes, downward as it hangs, and its source.

    The best known comes first: as the session states it, as the free walks had
    it, as the arm hung in the rests around the walk, the mean vertical of the walk.
    """
    if arm.down_sensor is not None:
        return np.asarray(arm.down_sensor, dtype=np.float64), "given"
    if free is not None:
        return free.axis_sensor, free.axis_source
    down = -rotate(conjugate(arm.quat), UP)
    walking = _walking(arm, start_s, end_s)
    mean = _unit(down[walking].mean(axis=0)) if walking.any() else _unit(down.sum(axis=0))
    apart = np.arccos(np.clip(arm.rest_down_sensor @ mean, -1.0, 1.0))
    hung = apart < evidence.STANDING_APART_DEG.value * RAD_PER_DEG
    weight = np.minimum(arm.rest_s, evidence.STANDING_MOST_S.value)[hung]
    if weight.sum() < evidence.STANDING_LEAST_S.value:
        return mean, "walking"
    return geometric_median(arm.rest_down_sensor[hung], weight), "standing"


def _walking(arm: ArmMotion, start_s: FloatArray, end_s: FloatArray) -> BoolArray:
    """Mark the usable samples within the strides."""
    if not start_s.size:
        return np.zeros(arm.time_s.size, dtype=bool)
    nth = np.searchsorted(start_s, arm.time_s, side="right") - 1
    return np.asarray((nth >= 0) & (arm.time_s < end_s[np.maximum(nth, 0)]) & arm.usable)


def hung_outward(
    arm: ArmMotion, axis: FloatArray, plane: SwingPlane, course: FloatArray, times: FloatArray
) -> FloatArray:
    """Return the long axis in sensor axes, tilted outward as a hanging forearm is.

    Gravity tells how far a forearm points forward, against its standing, but not
    how far outward it hangs: the hands clear the thighs. Whatever that is off,
    turning the forearm about its length leaks into the swing by the sine of it.

    Notes
    -----
    A long axis that keeps its outward angle while the arm swings and turns has
    the sine of it along the outward direction in sensor axes at every instant,
    and so along the mean of that direction.
    """
    if plane.direction_source != "chest" or not times.size:
        return axis
    outward = plane.normal if arm.side == "right" else -plane.normal
    mean = mean_in_sensor(arm, outward, course, times)
    length = float(np.linalg.norm(mean))
    out = min(np.sin(evidence.HANGS_OUTWARD_DEG.value * RAD_PER_DEG) / length, 1.0)
    level = mean / length
    inside = _unit(axis - (axis @ level) * level)
    return np.asarray(np.sqrt(1.0 - out**2) * inside + out * level)


def mean_in_sensor(
    arm: ArmMotion, direction: FloatArray, course: FloatArray, times: FloatArray
) -> FloatArray:
    """Return the mean, in sensor axes, of a direction of the arm's walking frame."""
    world = turned(np.tile(direction, (arm.time_s.size, 1)), course)
    return np.asarray(
        sample(times, arm.time_s, rotate(conjugate(arm.quat), world)).mean(axis=(0, 1))
    )


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
    coefficients = np.stack(
        [harmonic(sample(times[used], arm.time_s, rates[:, :2]), order) for order in (1, 2)]
    )
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
    rates = arm.gyr_world_radps - _rate(course, arm.rate_hz)[:, None] * UP
    long_axis = rotate(arm.quat, axis)
    return np.asarray(rates - np.sum(rates * long_axis, axis=1, keepdims=True) * long_axis)


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
    if free is not None and has_chest and free.at_s.size:
        nearest = int(np.argmin(np.abs(free.at_s - arm.time_s.mean())))
        return _heading_vector(free.heading_rad[nearest]), "free walk"
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
    if free is not None and prior.any() and free.direction_source != "unknown":
        return (1.0 if normal @ prior >= 0.0 else -1.0), free.direction_source
    if np.isfinite(walk_rad):
        right = _heading_vector(walk_rad + BODY_RIGHT_RAD)
        return (1.0 if normal @ right >= 0.0 else -1.0), "chest"
    return (-1.0 if normal @ prior < 0.0 else 1.0), "unknown"
