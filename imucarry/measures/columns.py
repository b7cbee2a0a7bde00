"""The measured columns of ``strides.csv``, in the units of their names."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from imucarry.basics.records import (
    SIDES,
    FloatArray,
    Side,
    Strides,
    StrideSwing,
    StrideYaw,
    TrunkMotion,
)
from imucarry.basics.units import DEG_PER_RAD

# Column, attribute of the record.
YAW_COLUMNS = (
    ("sternum_yaw_range_deg", "range_rad"),
    ("sternum_yaw_locked_deg", "locked_rad"),
    ("sternum_yaw_phase_deg", "phase_rad"),
    ("sternum_peak_yaw_rate_degps", "peak_rate_radps"),
    ("sternum_yaw_floor_deg", "floor_rad"),
    ("torso_lean_deg", "lean_rad"),
    ("torso_lean_range_deg", "lean_range_rad"),
    ("torso_pitch_deg", "pitch_rad"),
)
ARM_COLUMNS = (
    ("arm_swing_deg", "range_rad"),
    ("arm_peak_rate_forward_degps", "peak_forward_radps"),
    ("arm_peak_rate_backward_degps", "peak_backward_radps"),
    ("arm_mean_angle_deg", "mean_angle_rad"),
    ("arm_phase_deg", "phase_rad"),
)
NEEDS_DIRECTION = (
    "peak_forward_radps",
    "peak_backward_radps",
    "mean_angle_rad",
    "phase_rad",
)


def stride_columns(
    trunk: TrunkMotion | None,
    strides: Strides,
    yaw: StrideYaw | None,
    swing: Mapping[Side, StrideSwing],
) -> dict[str, FloatArray]:
    """Return every measured column of the strides of one bout.

    Parameters
    ----------
    trunk : TrunkMotion or None
        None without a chest sensor: all columns are then empty, shape (0,).
    strides : Strides
    yaw : StrideYaw or None
    swing : mapping of Side to StrideSwing

    Returns
    -------
    dict of str to ndarray, shape (S,)
        NaN where undefined. Angles in degrees; phases 0 to 360, 0 at left contact.
    """
    n_strides = strides.start_s.size
    columns = {
        "stride_time_s": strides.end_s - strides.start_s,
        "left_step_time_s": strides.left_step_time_s,
        "right_step_time_s": strides.right_step_time_s,
    }
    for name, attribute in YAW_COLUMNS:
        columns[name] = _degrees(getattr(yaw, attribute, None), n_strides)
    for side in SIDES:
        arm = swing.get(side) if trunk is not None else None
        columns |= {f"{side}_{name}": c for name, c in _arm_columns(arm, yaw, n_strides).items()}
    return columns


def _degrees(values_rad: FloatArray | None, n_strides: int) -> FloatArray:
    if values_rad is None:
        return np.full(n_strides, np.nan)
    degrees: FloatArray = values_rad * DEG_PER_RAD
    return degrees


def _arm_columns(
    arm: StrideSwing | None, yaw: StrideYaw | None, n_strides: int
) -> dict[str, FloatArray]:
    """Return one arm's columns; what needs a forward direction is NaN without one."""
    told = arm is not None and arm.direction_source != "unknown"
    columns = {
        name: _degrees(
            getattr(arm, attribute, None) if told or attribute not in NEEDS_DIRECTION else None,
            n_strides,
        )
        for name, attribute in ARM_COLUMNS
    }
    columns["arm_peak_rate_degps"] = _degrees(peak_rate(arm), n_strides)
    columns["sternum_on_arm_deg"] = _degrees(sternum_on_arm(arm, yaw), n_strides)
    return columns


def peak_rate(arm: StrideSwing | None) -> FloatArray | None:
    """Return the larger of the peak rates forward and backward, shape (S,) [rad/s]."""
    if arm is None:
        return None
    peak: FloatArray = np.maximum(np.abs(arm.peak_forward_radps), np.abs(arm.peak_backward_radps))
    return peak


def sternum_on_arm(arm: StrideSwing | None, yaw: StrideYaw | None) -> FloatArray | None:
    """Return how far the sternum turns about a still forearm within each stride [rad].

    Range of sternum yaw minus the forearm's rotation about the vertical, each with its
    stride mean removed; a proxy, for turning the palm is part of it.
    """
    if arm is None or yaw is None:
        return None
    between: FloatArray = np.ptp(yaw.curve_rad - arm.vertical_curve_rad, axis=1)
    return between
