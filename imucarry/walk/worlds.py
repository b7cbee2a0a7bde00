"""How the world of a wrist turns in that of the chest over one walk.

Each sensor has a world of its own, level but with a heading that drifts with what is
left of its gyroscope's bias, and that jumps where a long gap hides a turn. Over a walk a
forearm keeps to the trunk's heading but for changes of posture.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np

from imucarry.basics.evidence import motion
from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import ArmMotion, BoolArray, FloatArray, TrunkMotion
from imucarry.basics.units import RAD_PER_DEG
from imucarry.motion.rotations import about_vertical, multiply, rotate
from imucarry.motion.signals import ranges_of
from imucarry.walk.standing import vertical


def level_heading(arm: ArmMotion) -> FloatArray:
    """Return the heading of the sensor's most level axis, shape (N,) [rad]."""
    up = vertical(arm.quat)
    ahead = rotate(arm.quat, np.linalg.eigh(up.T @ up)[1][:, 0])
    return np.unwrap(np.arctan2(ahead[:, 1], ahead[:, 0]))


def in_one_world(arm: ArmMotion, trunk: TrunkMotion) -> ArmMotion:
    """Return an arm's motion in a world that turns no more in the trunk's (`worlds_apart`)."""
    if not arm.time_s.size or not trunk.time_s.size:
        return arm
    apart = worlds_apart(arm, trunk)
    if not apart.any():
        return arm
    back = about_vertical(-apart)
    return replace(
        arm,
        quat=multiply(back, arm.quat),
        gyr_world_radps=rotate(back, arm.gyr_world_radps),
        acc_world_mps2=rotate(back, arm.acc_world_mps2),
    )


def worlds_apart(arm: ArmMotion, trunk: TrunkMotion) -> FloatArray:
    """Return by how much the arm's world has turned in the trunk's, shape (N,) [rad].

    Parameters
    ----------
    arm : ArmMotion
        N samples, at least one.
    trunk : TrunkMotion

    Returns
    -------
    ndarray, shape (N,) [rad]
        On the arm's grid, left positive, about the middle of the longest part. What
        stays the same over the walk is not in it.

    Notes
    -----
    1. Long gaps of either sensor cut the walk into parts, each with a level of its own.
    2. Within a part the difference of the two headings is followed by a polynomial, a
       straight line in the first minute and a degree more for each further one.
    3. It is believed as far as the biases are known worse than posture is. After a
       rest they are known so much better that nothing is looked for.
    """
    usable = arm.usable & _usable_at(trunk, arm.time_s)
    parts = _parts(usable, arm.rate_hz)
    shares = [_believed(arm, trunk, part) for part in parts]
    least = evidence.WORLDS_DRIFT_LEAST_FRAC.value
    if not parts or (len(parts) == 1 and shares[0] < least):
        return np.zeros(arm.time_s.size)
    yaw = np.interp(arm.time_s, trunk.time_s, trunk.yaw_rad)
    heading = level_heading(arm) - yaw
    turned = np.zeros(arm.time_s.size)
    levels = []
    for part, share in zip(parts, shares, strict=True):
        difference = np.unwrap(heading[part])
        levels.append(float(difference[usable[part]].mean()))
        turned[part] = levels[-1]
        if share >= least:
            turned[part] += share * _trend(arm.time_s[part], difference, usable[part])
    longest = int(np.argmax([part.stop - part.start for part in parts]))
    return turned - levels[longest]


def _usable_at(trunk: TrunkMotion, time_s: FloatArray) -> BoolArray:
    if trunk.usable.all():
        return np.ones(time_s.size, dtype=np.bool_)
    nearest = np.searchsorted(trunk.time_s, time_s)
    return trunk.usable[np.minimum(nearest, trunk.usable.size - 1)]


def _parts(usable: BoolArray, rate_hz: float) -> list[slice]:
    """Return the samples from the middle of one long gap to that of the next."""
    if usable.all():
        return [slice(0, usable.size)]
    long_gaps = [
        (first, last)
        for first, last in ranges_of(~usable)
        if (last - first) / rate_hz > motion.SPLIT_GAP_S.value
    ]
    middles = [(first + last) // 2 for first, last in long_gaps]
    edges = [0, *(k for k in middles if 0 < k < usable.size), usable.size]
    parts = [slice(a, b) for a, b in pairwise(edges)]
    return [part for part in parts if usable[part].any()]


def _believed(arm: ArmMotion, trunk: TrunkMotion, part: slice) -> float:
    """Return the share of a turn over a part that is the biases', not posture's."""
    drift = float(np.hypot(arm.heading_drift_sd_radps, trunk.heading_drift_sd_radps))
    drift *= (part.stop - part.start) / arm.rate_hz
    posture = 2.0 * evidence.HELD_HEADING_SD_DEG.value * RAD_PER_DEG
    return float(drift**2 / (drift**2 + posture**2))


def _trend(time_s: FloatArray, x: FloatArray, usable: BoolArray) -> FloatArray:
    """Return a slow polynomial fitted to the usable samples, shape (N,), their mean taken out."""
    length_s = float(time_s[-1] - time_s[0])
    degree = 1 + int(length_s / evidence.WORLDS_DRIFT_DEGREE_S.value)
    degree = min(degree, evidence.WORLDS_DRIFT_MOST_DEGREE.value)
    scaled = 2.0 * (time_s - time_s[0]) / max(length_s, np.finfo(np.float64).tiny) - 1.0
    powers = np.polynomial.legendre.legvander(scaled, degree)
    weights = np.linalg.lstsq(powers[usable], x[usable], rcond=None)[0]
    trend = powers @ weights
    return np.asarray(trend - trend[usable].mean())
