"""One forearm over one bout: orientation, rates and the rests around it."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import ArmMotion, FloatArray, Orientation, Recording, Side, Window
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.motion.rotations import rotate_each
from imucarry.walk.standing import vertical_at_rest
from imucarry.walk.trunk import in_ranges, window_slices

AXES = {"x": 0, "y": 1, "z": 2}


def arm_motion(
    recording: Recording, orientation: Orientation, side: Side, window: Window
) -> ArmMotion:
    """Return the forearm's motion over one window of a wrist recording.

    Parameters
    ----------
    recording : Recording
    orientation : Orientation
        Of the whole recording.
    side : str
    window : Window

    Returns
    -------
    ArmMotion
    """
    _, part = window_slices(recording.time_s, window, 0.0)
    quat = orientation.quat[part]
    rest_down, rest_s = _rests_around(recording, orientation, window)
    rates, acc = rotate_each(
        quat, (recording.gyr_radps[part] - orientation.bias_radps, recording.acc_mps2[part])
    )
    acc[:, 2] -= STANDARD_GRAVITY_MPS2
    return ArmMotion(
        side=side,
        time_s=recording.time_s[part],
        rate_hz=recording.rate_hz,
        quat=quat,
        gyr_world_radps=rates,
        acc_world_mps2=acc,
        usable=~in_ranges(recording.gaps, part),
        clipped=in_ranges(recording.gyr_clipped, part),
        down_sensor=_down_sensor(recording.up),
        rest_down_sensor=rest_down,
        rest_s=rest_s,
        heading_drift_sd_radps=orientation.bias_sd_radps,
    )


def _rests_around(
    recording: Recording, orientation: Orientation, window: Window
) -> tuple[FloatArray, FloatArray]:
    """Return where down was in each rest near the window, shape (R, 3), and how long it was."""
    _, part = window_slices(recording.time_s, window, evidence.STANDING_NEAR_S.value)
    near = [
        (max(first, part.start), min(last, part.stop))
        for first, last in orientation.rest
        if first < part.stop and last > part.start
    ]
    down = [-vertical_at_rest(recording, a, b) for a, b in near]
    length_s = np.array([(b - a) / recording.rate_hz for a, b in near])
    return np.array(down).reshape(-1, 3), length_s


def _down_sensor(up: str) -> tuple[float, float, float] | None:
    """Return the sensor axis that points down where the session states which points up."""
    if not up:
        return None
    down = [0.0, 0.0, 0.0]
    down[AXES[up[-1]]] = 1.0 if up.startswith("-") else -1.0
    return down[0], down[1], down[2]
