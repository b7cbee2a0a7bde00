"""The thorax over one bout: heading, lean, pitch and levelled signals."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import (
    BodyFrame,
    BoolArray,
    FloatArray,
    IndexRanges,
    Orientation,
    Recording,
    TrunkMotion,
    Window,
)
from imucarry.basics.settings import WalkSettings
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.motion.orientation import CONTRADICTION
from imucarry.motion.rotations import rotate_each
from imucarry.motion.signals import low_pass
from imucarry.walk.standing import STANDING_REFUSED

CHEST_DOUBTS = (CONTRADICTION, STANDING_REFUSED)
"""Codes of checks of the chest sensor with which no rotation is compared with another."""


def trunk_motion(
    recording: Recording,
    orientation: Orientation,
    frame: BodyFrame,
    window: Window,
    settings: WalkSettings,
) -> TrunkMotion:
    """Return the thorax's motion over one window of a chest recording.

    Parameters
    ----------
    recording : Recording
    orientation : Orientation
        Of the whole recording.
    frame : BodyFrame
        The body's axes, levelled in standing, in sensor coordinates.
    window : Window
    settings : WalkSettings

    Returns
    -------
    TrunkMotion

    Notes
    -----
    1. The body frame is levelled in the person's own standing, so its forward
       axis is horizontal there: the heading of that axis does not change when
       the thorax leans about it, however steep the sternum is.
    2. Heading, lean and pitch are low-passed without lag: soft tissue and strap
       ring at 8 to 15 Hz after each contact, the sternum does not.
    3. The slow heading is the heading low-passed below the stride rate.
    4. Filters run over a margin around the window, which is then cut off.
    """
    inside, padded = window_slices(recording.time_s, window, evidence.FILTER_MARGIN_S.value)
    quat = orientation.quat[padded]
    acc, gyr = recording.acc_mps2[padded], recording.gyr_radps[padded] - orientation.bias_radps
    forward, left, up, acc, gyr = rotate_each(quat, (*frame.sensor_to_body, acc, gyr))
    yaw = np.unwrap(np.arctan2(forward[:, 1], forward[:, 0]))
    lean = np.arctan2(left[:, 2], up[:, 2])
    pitch = -np.arcsin(np.clip(forward[:, 2], -1.0, 1.0))
    rate_hz = recording.rate_hz
    angles = smooth_angles(np.column_stack([yaw, lean, pitch]), rate_hz, settings)
    heading = smooth_heading(yaw, rate_hz)
    acc[:, 2] -= STANDARD_GRAVITY_MPS2
    acc, gyr = turned(np.stack([acc[inside], gyr[inside]]), -heading[inside])
    return TrunkMotion(
        time_s=recording.time_s[padded][inside],
        rate_hz=rate_hz,
        acc_mps2=acc,
        gyr_radps=gyr,
        heading_rad=heading[inside],
        yaw_rad=angles[inside, 0],
        lean_rad=angles[inside, 1],
        pitch_rad=angles[inside, 2],
        usable=~in_ranges(recording.gaps, padded)[inside],
        clipped=in_ranges(recording.gyr_clipped, padded)[inside],
        levelled_in=frame.levelled_in,
        heading_drift_sd_radps=orientation.bias_sd_radps,
    )


def smooth_angles(angles: FloatArray, rate_hz: float, settings: WalkSettings) -> FloatArray:
    """Take the ringing of soft tissue and strap out of angles, shape (N, ...)."""
    return _low_pass(angles, rate_hz, settings.angle_cutoff_hz)


def smooth_heading(heading: FloatArray, rate_hz: float) -> FloatArray:
    """Return the slow part of a heading, shape (N,): that of the walk."""
    return _low_pass(heading, rate_hz, evidence.HEADING_CUTOFF_HZ.value)


def _low_pass(x: FloatArray, rate_hz: float, cutoff_hz: float) -> FloatArray:
    if x.shape[0] == 0 or cutoff_hz >= rate_hz / 2.0:
        return x
    order = evidence.ANGLE_FILTER_ORDER.value
    return low_pass(x, rate_hz=rate_hz, cutoff_hz=cutoff_hz, order=order)


def window_slices(time_s: FloatArray, window: Window, margin_s: float) -> tuple[slice, slice]:
    """Return the window within the padded window, and the padded window."""
    first, last = np.searchsorted(time_s, [window.start_s, window.end_s])
    start, stop = np.searchsorted(
        time_s, [window.start_s - margin_s, window.end_s + margin_s], side="left"
    )
    return slice(int(first - start), int(last - start)), slice(int(start), int(stop))


def in_ranges(ranges: IndexRanges, part: slice) -> BoolArray:
    """Mark the samples of `part` that lie in any of the index ranges."""
    marks = np.zeros(part.stop - part.start, dtype=bool)
    for first, last in ranges:
        marks[max(first - part.start, 0) : max(last - part.start, 0)] = True
    return marks


def turned(vectors: FloatArray, angle_rad: FloatArray) -> FloatArray:
    """Turn vectors, shape (..., N, 3), about the vertical by an angle a sample, left positive."""
    cos, sin = np.cos(angle_rad), np.sin(angle_rad)
    x, y = vectors[..., 0], vectors[..., 1]
    result = np.empty(vectors.shape)
    result[..., 0] = cos * x - sin * y
    result[..., 1] = sin * x + cos * y
    result[..., 2] = vectors[..., 2]
    return result
