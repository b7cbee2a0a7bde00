"""A forearm's long axis in the axes of a sensor that is mounted anyhow."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import ArmMotion, BoolArray, FloatArray
from imucarry.basics.units import RAD_PER_DEG
from imucarry.motion.rotations import conjugate, rotate
from imucarry.walk.standing import geometric_median, vertical
from imucarry.walk.stride_grid import sample
from imucarry.walk.trunk import turned


def forearm_axis(
    arm: ArmMotion, start_s: FloatArray, end_s: FloatArray, known: tuple[FloatArray, str] | None
) -> tuple[FloatArray, str]:
    """Return the forearm's long axis in sensor axes, downward as it hangs, and its source.

    The best known comes first: as the session states it, as the free walks had
    it (`known`), as the arm hung in the rests around the walk, the mean vertical of the walk.
    """
    if arm.down_sensor is not None:
        return np.asarray(arm.down_sensor, dtype=np.float64), "given"
    if known is not None:
        return known
    down = -vertical(arm.quat)
    walking = _walking(arm, start_s, end_s)
    mean = (
        unit_vector(down[walking].mean(axis=0)) if walking.any() else unit_vector(down.sum(axis=0))
    )
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
    arm: ArmMotion, axis: FloatArray, normal: FloatArray, course: FloatArray, times: FloatArray
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
    if not times.size:
        return axis
    outward = normal if arm.side == "right" else -normal
    mean = mean_in_sensor(arm, outward, course, times)
    length = float(np.linalg.norm(mean))
    out = min(np.sin(evidence.HANGS_OUTWARD_DEG.value * RAD_PER_DEG) / length, 1.0)
    level = mean / length
    inside = unit_vector(axis - (axis @ level) * level)
    return np.asarray(np.sqrt(1.0 - out**2) * inside + out * level)


def mean_in_sensor(
    arm: ArmMotion, direction: FloatArray, course: FloatArray, times: FloatArray
) -> FloatArray:
    """Return the mean, in sensor axes, of a direction of the arm's walking frame."""
    world = turned(np.tile(direction, (arm.time_s.size, 1)), course)
    return np.asarray(
        sample(times, arm.time_s, rotate(conjugate(arm.quat), world)).mean(axis=(0, 1))
    )


def unit_vector(vector: FloatArray) -> FloatArray:
    return np.asarray(vector / max(float(np.linalg.norm(vector)), np.finfo(float).tiny))
