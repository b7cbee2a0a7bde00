"""The walker's arms: shoulder, elbow and wrist as a chain of rigid segments."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial.transform import Rotation

from imucarry.basics.records import FloatArray, Side
from imucarry.simulate.gait import FINE_HZ, Gait
from imucarry.simulate.noise import in_band
from imucarry.simulate.trunk import TrunkCourse, per_stride, swing_wave
from imucarry.simulate.walker import Arm, Walker, arm_of

SHOULDER_M = (-0.08, 0.19, 0.08)
"""Left shoulder from the sternum sensor: forward, left, up [m]."""
UPPER_ARM_M = 0.30
FOREARM_M = 0.22
"""Elbow to the sensor above the wrist [m]."""
UPPER_SHARE = 0.7
"""Share of the forearm's swing that the upper arm makes too."""


@dataclass(frozen=True, slots=True)
class ArmCourse:
    """What the stride adds to one arm's posture, on the fine grid of a bout [rad].

    Attributes
    ----------
    swing_rad : ndarray, shape (N,)
        Forearm in its swing plane, forward positive.
    sideways_rad : ndarray, shape (N,)
        Out of the plane, outward positive.
    pronation_rad : ndarray, shape (N,)
    azimuth_rad : ndarray, shape (N,)
        Turn of the whole arm with the trunk.
    """

    swing_rad: FloatArray
    sideways_rad: FloatArray
    pronation_rad: FloatArray
    azimuth_rad: FloatArray


def move_arm(
    rng: np.random.Generator, walker: Walker, side: Side, gait: Gait, trunk: TrunkCourse
) -> ArmCourse:
    """Work out what one arm does in a bout."""
    arm = arm_of(walker, side)
    own = np.random.default_rng([walker.shape_seed, 1 if side == "left" else 2])
    crest = arm.per_stride * gait.phase_rad
    wave = swing_wave(own, crest, arm.per_stride * arm.phase_deg)
    size = per_stride(rng, gait, arm.swing_deg, arm.swing_sd_deg, likeness=walker.likeness)
    tremble = arm.tremble_deg * in_band(
        rng, wave.size, FINE_HZ, 0.5 * walker.stride_hz, 3.0 * walker.stride_hz
    )
    late = own.uniform(0.0, 2.0 * np.pi, 2)
    sideways = 0.5 * arm.sideways_deg * np.cos(2.0 * gait.phase_rad - late[0])
    pronation = 0.5 * arm.pronation_range_deg * np.cos(gait.phase_rad - late[1])
    return ArmCourse(
        swing_rad=np.deg2rad(gait.envelope * (size * wave + tremble)),
        sideways_rad=np.deg2rad(gait.envelope * sideways),
        pronation_rad=np.deg2rad(gait.envelope * pronation),
        azimuth_rad=arm.with_trunk_frac * trunk.yaw_rad,
    )


@dataclass(frozen=True, slots=True)
class ArmPosture:
    """One arm's posture over the session, on the fine grid [rad]."""

    mean_rad: FloatArray
    flexion_rad: FloatArray
    plane_rad: FloatArray
    abduction_rad: FloatArray
    pronation_rad: FloatArray


POSTURE_FIELDS = ("mean_deg", "flexion_deg", "plane_deg", "abduction_deg", "pronation_deg")


def posture_of(arm: Arm) -> FloatArray:
    """Return the posture's five angles in the order of `ArmPosture`, shape (5,) [rad]."""
    return np.deg2rad([float(getattr(arm, name)) for name in POSTURE_FIELDS])


@dataclass(frozen=True, slots=True)
class Forearm:
    """One forearm in the world on the fine grid.

    Attributes
    ----------
    turn : Rotation
        Forearm to world: x forward when hanging, y left, z from hand to elbow.
    point_m : ndarray, shape (N, 3) [m]
        The wrist sensor from the sternum sensor, in world axes.
    """

    turn: Rotation
    point_m: FloatArray


def place_forearm(
    side: Side, heading_rad: FloatArray, thorax: Rotation, course: ArmCourse, posture: ArmPosture
) -> Forearm:
    """Return one forearm's orientation and where its sensor is."""
    outward = 1.0 if side == "left" else -1.0
    azimuth = heading_rad + posture.plane_rad + course.azimuth_rad
    abduction = outward * (posture.abduction_rad + course.sideways_rad)
    fore_rad = posture.mean_rad + course.swing_rad
    upper_rad = posture.mean_rad - posture.flexion_rad + UPPER_SHARE * course.swing_rad
    fore = _segment(azimuth, fore_rad, abduction)
    upper = _segment(azimuth, upper_rad, outward * np.deg2rad(8.0) + 0.0 * abduction)
    shoulder = thorax.apply([SHOULDER_M[0], outward * SHOULDER_M[1], SHOULDER_M[2]])
    point = shoulder + upper.apply([0.0, 0.0, -UPPER_ARM_M]) + fore.apply([0.0, 0.0, -FOREARM_M])
    spin = outward * (posture.pronation_rad + course.pronation_rad)
    return Forearm(fore * Rotation.from_rotvec(spin[:, None] * [0.0, 0.0, 1.0]), point)


def _segment(azimuth: FloatArray, swing: FloatArray, abduction: FloatArray) -> Rotation:
    """Return a hanging segment swung forward in a plane and tilted out of it."""
    return Rotation.from_euler("ZYX", np.column_stack([azimuth, -swing, abduction]))
