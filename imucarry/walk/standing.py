"""Where up is in a sensor's axes: at each instant, at rest, and in the standing that levels.

>>> from imucarry.walk.standing import standing_level
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import motion
from imucarry.basics.evidence import passes as evidence
from imucarry.basics.records import FloatArray, Notice, Orientation, Recording
from imucarry.basics.units import DEG_PER_RAD

STANDING_REFUSED = "standing_contradicts"
"""Code of the notice that all standing is too far off the walking to level the chest."""


@dataclass(frozen=True, slots=True)
class Level:
    """The vertical in sensor coordinates by which a sensor is levelled.

    Attributes
    ----------
    up : ndarray, shape (3,)
        Unit vector.
    levelled_in : str
        "quiet_standing", or "bout_mean" where no standing can be used.
    refused_deg : float
        How far the nearest standing is off the walking's mean where all of it is too far
        off; NaN where there is none, or some is used.
    """

    up: FloatArray
    levelled_in: str
    refused_deg: float = float("nan")


def unit(vector: FloatArray) -> FloatArray:
    """Return a vector of length 1."""
    result: FloatArray = vector / np.linalg.norm(vector)
    return result


def vertical(quat: FloatArray) -> FloatArray:
    """Return the world's vertical in sensor coordinates, shape (N, 3)."""
    w, x, y, z = quat.T
    return np.column_stack([2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)])


def mean_vertical(quat: FloatArray) -> FloatArray:
    """Return the mean of `vertical` over at least one sample, shape (3,).

    Its terms are products of two components: their means are one small matrix.
    """
    mean = quat.T @ quat / quat.shape[0]
    (_, wx, wy, _), (_, xx, _, xz), (_, _, yy, yz), _ = mean
    return np.array([2 * (xz - wy), 2 * (yz + wx), 1 - 2 * (xx + yy)])


def vertical_at_rest(recording: Recording, first: int, last: int) -> FloatArray:
    """Return the vertical in sensor coordinates over one rest, shape (3,).

    The mean acceleration itself: the orientation's vertical is smoothed over seconds, into
    which the push of the first steps reaches. For the same reason the rest's own ends are
    left out, where it is long enough.
    """
    end = min(round(motion.REST_END_S.value * recording.rate_hz), (last - first) // 4)
    return unit(recording.acc_mps2[first + end : last - end].mean(axis=0))


def standing_level(
    recording: Recording, orientation: Orientation, walking: Sequence[slice]
) -> Level:
    """Return the vertical of the standing beside the walking, else the walking's mean.

    Parameters
    ----------
    recording : Recording
    orientation : Orientation
    walking : sequence of slice
        Samples of the bouts; without any, every rest counts as standing.
    """
    quat = orientation.quat
    whole = [slice(0, quat.shape[0])] if quat.shape[0] else []
    walked = [mean_vertical(quat[part]) for part in walking or whole]
    mean = unit(np.sum(walked, axis=0)) if walked else np.array([0.0, 0.0, 1.0])
    rests = rests_beside(recording, orientation, walking)
    if not rests:
        return Level(mean, "bout_mean")
    up = np.array([vertical_at_rest(recording, *rest) for rest in rests])
    apart_deg = np.arccos(np.clip(up @ mean, -1.0, 1.0)) * DEG_PER_RAD
    near = apart_deg < evidence.STANDING_TILT_DEG.value
    if not near.any():
        return Level(mean, "bout_mean", float(apart_deg.min()))
    most = evidence.STANDING_MOST_S.value * recording.rate_hz
    weight = np.minimum([last - first for first, last in rests], most)
    return Level(geometric_median(up[near], weight[near]), "quiet_standing")


def rests_beside(
    recording: Recording, orientation: Orientation, walking: Sequence[slice]
) -> list[tuple[int, int]]:
    """Return the rests that are long enough and near a bout, as ranges of samples."""
    near = int(evidence.STANDING_NEAR_S.value * recording.rate_hz)
    least = evidence.STANDING_LEAST_S.value * recording.rate_hz
    return [
        (first, last)
        for first, last in orientation.rest
        if last - first >= least
        and (
            not walking
            or any(first < part.stop + near and last > part.start - near for part in walking)
        )
    ]


def geometric_median(directions: FloatArray, weight: FloatArray) -> FloatArray:
    """Return the unit vector with the least summed distance to others (Weiszfeld 1937).

    A few rests spent leaning, such as those with a load in one hand, then do not
    tilt the level of the others.
    """
    centre = unit(weight @ directions)
    for _ in range(50):
        distance = np.maximum(np.linalg.norm(directions - centre, axis=1), 1e-4)
        last, centre = centre, unit((weight / distance) @ directions)
        if (last == centre).all():
            break
    return centre


def level_notices(level: Level) -> tuple[Notice, ...]:
    """Return a notice where no standing levels the chest: none found, or all too far off."""
    if level.levelled_in == "quiet_standing":
        return ()
    code = "no_quiet_standing"
    because = "No quiet standing was found beside the walking"
    so = "lean may show as a little yaw"
    if np.isfinite(level.refused_deg):
        code = STANDING_REFUSED
        so = (
            "if the person walks bent, the rotation shown may be wrong by up to a half, so no "
            "carry is judged by it. If the sensor moved or the person sat, record some seconds of "
            "upright, quiet standing with the sensor as in the walks"
        )
        because = (
            "In all standing beside the walking the chest sensor is tilted by "
            f"{level.refused_deg:.0f} deg or more from the mean of the walks: it moved or was "
            "mounted anew, or the person walks bent, stood bent or sat. The standing is not used"
        )
    message = (
        f"{because}: the chest sensor is levelled at the mean of the bouts, lean and pitch are "
        f"missing, and {so}."
    )
    return (Notice(code=code, message=message, where="chest", severity="check"),)
