"""Forearm swing of each stride, in the swing plane of the arm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.records import (
    ArmMotion,
    BoolArray,
    FloatArray,
    Strides,
    StrideSwing,
    TrunkMotion,
)
from imucarry.basics.settings import WalkSettings
from imucarry.motion.rotations import rotate
from imucarry.walk.arm_axis import forearm_axis, hung_outward, mean_in_sensor
from imucarry.walk.arm_cycles import own_cycles
from imucarry.walk.arm_direction import (
    carried_heading,
    slow_heading,
    walk_heading,
)
from imucarry.walk.arm_motion import arm_motion
from imucarry.walk.arm_plane import FreePlane, SwingPlane, swing_plane
from imucarry.walk.path_heading import without_path
from imucarry.walk.stride_grid import (
    harmonics,
    peak_phase,
    peak_to_peak,
    quarters_usable,
    sample,
    slope,
    stride_times,
    window_times,
)
from imucarry.walk.trunk import smooth_angles, turned
from imucarry.walk.worlds import level_heading

__all__ = ["FreePlane", "arm_motion", "free_plane", "stride_swing"]


def stride_swing(
    arm: ArmMotion,
    strides: Strides | None,
    settings: WalkSettings,
    *,
    trunk: TrunkMotion | None = None,
    free_normal: FreePlane | None = None,
    held: bool = False,
) -> StrideSwing:
    """Measure the forearm's swing in each stride.

    Parameters
    ----------
    arm : ArmMotion
    strides : Strides or None
        None without a chest sensor: the arm's own cycles stand for strides.
    settings : WalkSettings
    trunk : TrunkMotion, optional
        Tells which way the walk goes.
    free_normal : FreePlane, optional
        From `free_plane`: the plane of the arm's free walks, for an arm that
        hardly moves.
    held : bool
        Whether the arm holds a load: see `own_cycles`.

    Returns
    -------
    StrideSwing
        The angle is that of the forearm's long axis in the swing plane, 0 as it
        hangs; forward is the way in which a hanging arm swings forward, also
        where the forearm is held up. NaN where a gap touches the stride.

    Notes
    -----
    Both the axis's tilt and the plane stand on gravity, so the angle does not
    drift and a turn of the body does not enter it; turning the forearm about
    its long axis does not move that axis.
    """
    start_s, end_s, used = _spans(arm, strides, settings, held=held)
    times = stride_times(start_s, end_s)
    whole = _usable(arm, times)
    seen = _in_its_plane(arm, trunk, start_s, end_s, used & whole, free=free_normal)
    angle = _angle_in_plane(arm, seen, settings)
    curve = np.where(whole[:, None], sample(times, arm.time_s, angle), np.nan)
    twice_mean, swing, step = harmonics(curve, (0, 1, 2))
    mean = np.real(twice_mean) / 2.0
    rate = slope(curve, end_s - start_s)
    return StrideSwing(
        start_s=start_s,
        end_s=end_s,
        range_rad=peak_to_peak(curve),
        peak_forward_radps=np.asarray(rate.max(axis=1)),
        peak_backward_radps=np.asarray(-rate.min(axis=1)),
        mean_angle_rad=mean if seen.axis_source != "walking" else np.full_like(mean, np.nan),
        phase_rad=peak_phase(swing),
        amplitude_rad=np.abs(swing),
        step_amplitude_rad=np.abs(step),
        plane_source=seen.plane.plane_source,
        direction_source=seen.plane.direction_source,
        angle_curve_rad=curve - mean[:, None],
        vertical_curve_rad=_vertical(arm, start_s, end_s),
    )


def free_plane(
    arms: Sequence[ArmMotion],
    strides: Sequence[Strides | None],
    settings: WalkSettings,
    *,
    trunks: Sequence[TrunkMotion | None] = (),
) -> FreePlane | None:
    """Return what an arm's free walks tell about its plane and long axis; None without any.

    Parameters
    ----------
    arms, strides : sequences, one entry a free walk
    settings : WalkSettings
    trunks : sequence, optional
        The trunk of each walk, to tell which way it goes.

    Notes
    -----
    Walks are averaged with the variance of their swing's rate as weight.
    """
    padded = [*trunks, *[None] * (len(arms) - len(trunks))]
    found = [
        _free_walk(arm, stride, trunk, settings)
        for arm, stride, trunk in zip(arms, strides, padded, strict=True)
    ]
    walks = [item for item in found if item is not None and item[1] > 0.0]
    if not walks:
        return None
    weights = np.array([rate**2 for _, rate in walks])
    planes = [plane for plane, _ in walks]
    best = planes[int(np.argmax(weights))]
    known = [k for k, plane in enumerate(planes) if plane.axis_source == best.axis_source]
    return FreePlane(
        normal_sensor=_mean_axis([plane.normal_sensor for plane in planes], weights),
        axis_sensor=_mean_axis([planes[k].axis_sensor for k in known], weights[known]),
        axis_source=best.axis_source,
        at_s=np.concatenate([plane.at_s for plane in planes]),
        heading_rad=np.concatenate([plane.heading_rad for plane in planes]),
        walk_rad=np.concatenate([plane.walk_rad for plane in planes]),
        direction_source=best.direction_source,
    )


def _free_walk(
    arm: ArmMotion, strides: Strides | None, trunk: TrunkMotion | None, settings: WalkSettings
) -> tuple[FreePlane, float] | None:
    """Return the plane of one free walk and the rate of its swing."""
    start_s, end_s, used = _spans(arm, strides, settings)
    times = stride_times(start_s, end_s)
    used = used & _usable(arm, times)
    if not used.any():
        return None
    seen = _in_its_plane(arm, trunk, start_s, end_s, used, free=None)
    plane, heading = seen.plane, np.arctan2(seen.plane.normal[1], seen.plane.normal[0])
    normal = mean_in_sensor(arm, plane.normal, seen.course, times[used])
    has_chest = int(trunk is not None)
    found = FreePlane(
        normal_sensor=normal / np.linalg.norm(normal),
        axis_sensor=seen.axis,
        axis_source=seen.axis_source,
        at_s=np.full(has_chest, times[used].mean()),
        heading_rad=np.full(has_chest, heading),
        walk_rad=np.full(has_chest, seen.walk_rad),
        direction_source=plane.direction_source,
    )
    return found, plane.rate_radps


def _mean_axis(axes: Sequence[FloatArray], weights: FloatArray) -> FloatArray:
    """Return the weighted mean of unit vectors, each with the sign of the heaviest."""
    stacked = np.stack(axes)
    reference = stacked[int(np.argmax(weights))]
    signs = np.where(stacked @ reference < 0.0, -1.0, 1.0)
    mean = (signs * weights) @ stacked
    return np.asarray(mean / np.linalg.norm(mean))


@dataclass(frozen=True, slots=True)
class _Seen:
    """What one walk shows of an arm: its heading, its long axis, the plane it swings in."""

    course: FloatArray  # (N,), heading of the walk at every sample [rad]
    axis: FloatArray  # (3,), in sensor coordinates
    axis_source: str
    walk_rad: float
    plane: SwingPlane


def _in_its_plane(
    arm: ArmMotion,
    trunk: TrunkMotion | None,
    start_s: FloatArray,
    end_s: FloatArray,
    used: BoolArray,
    *,
    free: FreePlane | None,
) -> _Seen:
    """Find the plane of the swing, from the strides that are used."""
    times = stride_times(start_s, end_s)
    known = None if free is None else (free.axis_sensor, free.axis_source)
    axis, source = forearm_axis(arm, start_s, end_s, known)
    course = carried_heading(arm, axis, slow_heading(arm, trunk, start_s, end_s), trunk)
    walk_rad = walk_heading(arm, trunk, course, start_s[used], end_s[used])
    plane = swing_plane(
        arm,
        course,
        axis,
        times,
        used,
        walk_rad=walk_rad,
        free=free,
        has_chest=trunk is not None,
    )
    if free is None and source != "given" and plane.direction_source == "chest":
        axis = hung_outward(arm, axis, plane.normal, course, times[used])
    return _Seen(course, axis, source, walk_rad, plane)


def _usable(arm: ArmMotion, times: FloatArray) -> BoolArray:
    """Tell which strides no gap touches, shape (S,)."""
    return np.asarray(quarters_usable(times, arm.time_s, arm.usable).all(axis=1))


def _spans(
    arm: ArmMotion, strides: Strides | None, settings: WalkSettings, *, held: bool = False
) -> tuple[FloatArray, FloatArray, BoolArray]:
    """Return the strides' starts and ends, and which of them count for this arm."""
    if strides is None:
        start_s, end_s = own_cycles(arm, settings, held=held)
        return start_s, end_s, np.ones(start_s.size, dtype=bool)
    kept = strides.kept_arm(arm.side)
    used = kept if kept.any() else np.ones(kept.size, dtype=bool)
    return strides.start_s, strides.end_s, used


def _angle_in_plane(arm: ArmMotion, seen: _Seen, settings: WalkSettings) -> FloatArray:
    """Return the angle of the long axis in the swing plane, forward positive, shape (N,)."""
    if not arm.time_s.size:
        return np.empty(0)
    world = turned(rotate(arm.quat, seen.axis), -seen.course)
    normal = seen.plane.normal  # horizontal
    ahead = normal[0] * world[:, 1] - normal[1] * world[:, 0]
    angle = np.unwrap(np.arctan2(ahead, -world[:, 2]))
    return smooth_angles(angle, arm.rate_hz, settings)


def _vertical(arm: ArmMotion, start_s: FloatArray, end_s: FloatArray) -> FloatArray:
    """Return the forearm's rotation about the vertical without the path's, shape (S, 101)."""
    times = window_times(start_s, end_s)
    usable = quarters_usable(times, arm.time_s, arm.usable)
    if not arm.time_s.size:
        return np.full((start_s.size, 101), np.nan)
    return without_path(sample(times, arm.time_s, level_heading(arm)), usable)[0]
