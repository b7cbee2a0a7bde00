"""A thorax and a forearm that move as told, with exact orientations: known answers for tests."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from imucarry.basics.records import (
    DROP_REASONS,
    BodyFrame,
    Orientation,
    Recording,
    Strides,
)
from imucarry.motion.rotations import (
    conjugate,
    from_rotation_vector,
    multiply,
    rotate,
    to_matrix,
)

RATE_HZ = 100.0
GRAVITY_MPS2 = 9.80665
Floats = NDArray[np.float64]


def about(axis: tuple[float, float, float], angle_rad: Floats) -> Floats:
    """Return the rotations about one axis by each angle, shape (N, 4)."""
    return from_rotation_vector(np.asarray(angle_rad)[:, None] * np.asarray(axis))


def turn(axis: tuple[float, float, float], angle_deg: float) -> Floats:
    """Return one rotation, shape (4,)."""
    return from_rotation_vector(np.radians(angle_deg) * np.asarray(axis))


@dataclass(frozen=True)
class Course:
    """Strides of a walk with times of their left contacts and the phase on a uniform grid."""

    contact_s: Floats
    time_s: Floats
    phase: Floats  # in strides, 0 at the first left contact; negative while standing before


def course(
    n_strides: int = 12, stride_s: float = 1.1, scatter: float = 0.02, stand_s: float = 3.0
) -> Course:
    """Return a walk of strides of unequal length with standing before and after."""
    rng = np.random.default_rng(n_strides)
    stride = stride_s * (1.0 + scatter * rng.standard_normal(n_strides))
    contact = stand_s + np.concatenate([[0.0], np.cumsum(stride)])
    time_s = np.arange(int((contact[-1] + stand_s) * RATE_HZ)) / RATE_HZ
    phase = np.interp(time_s, contact, np.arange(n_strides + 1.0))
    phase = np.where(time_s < contact[0], (time_s - contact[0]) / stride_s, phase)
    phase = np.where(time_s > contact[-1], n_strides + (time_s - contact[-1]) / stride_s, phase)
    return Course(contact, time_s, phase)


def walking(walk: Course) -> Floats:
    """Return 1 while walking and 0 while standing, with soft edges in the standing."""
    edge = 0.4
    n_strides = walk.contact_s.size - 1
    rise = np.clip(1.0 + walk.phase / edge, 0.0, 1.0)
    fall = np.clip(1.0 + (n_strides - walk.phase) / edge, 0.0, 1.0)
    ease: Floats = (1 - np.cos(np.pi * rise)) * (1 - np.cos(np.pi * fall)) / 4
    return ease


def strides_of(walk: Course, **changes: Floats) -> Strides:
    """Return the strides of a walk; the first and the last are trimmed."""
    start, end = walk.contact_s[:-1], walk.contact_s[1:]
    n_strides = start.size
    number = np.arange(1, n_strides + 1)
    kept = (number > 1) & (number < n_strides)
    fields = {
        "start_s": start,
        "right_contact_s": (start + end) / 2,
        "end_s": end,
        "left_step_time_s": (end - start) / 2,
        "right_step_time_s": (end - start) / 2,
        "pass_number": np.ones(n_strides, dtype=np.int64),
        "stride_in_pass": number,
        "turning": np.zeros(n_strides, dtype=bool),
        "drop": {reason: np.zeros(n_strides, dtype=bool) for reason in DROP_REASONS},
        "kept_timing": kept,
        "kept_yaw": kept,
        "kept_left_arm": kept,
        "kept_right_arm": kept,
    }
    return Strides(**(fields | changes))  # type: ignore[arg-type]


def angular_rate(quat: Floats) -> Floats:
    """Return the body's own angular rate, shape (N, 3), by central differences."""
    step = multiply(conjugate(quat[:-2]), quat[2:])
    step = step * np.where(step[:, :1] < 0, -1.0, 1.0)
    half = np.linalg.norm(step[:, 1:], axis=1, keepdims=True)
    angle = 2.0 * np.arctan2(half, step[:, :1])
    rate = step[:, 1:] / np.maximum(half, 1e-12) * angle * RATE_HZ / 2.0
    return np.concatenate([rate[:1], rate, rate[-1:]])


def record(
    placement: str,
    segment_quat: Floats,
    acc_world: Floats,
    time_s: Floats,
    mount: Floats,
    rest: tuple[tuple[int, int], ...] = (),
) -> tuple[Recording, Orientation]:
    """Return what a sensor on a segment records, and its exact orientation.

    `mount` turns the sensor's axes to the segment's; `rest` is where it was still.
    """
    quat = multiply(segment_quat, mount)
    force = acc_world + np.array([0.0, 0.0, GRAVITY_MPS2])
    recording = Recording(
        placement=placement,
        rate_hz=RATE_HZ,
        time_s=time_s.copy(),
        acc_mps2=rotate(conjugate(quat), force),
        gyr_radps=angular_rate(quat),
    )
    return recording, Orientation(quat, np.zeros(3), 0.0, rest)


def frame_of(mount: Floats, levelled_in: str = "quiet_standing") -> BodyFrame:
    """Return the body frame of a mount whose segment axes are level in standing."""
    return BodyFrame(to_matrix(mount), levelled_in, "given", 0.0)


def thorax_quat(yaw_rad: Floats, lean_rad: Floats, pitch_rad: Floats) -> Floats:
    """Return the thorax's orientation: heading, then pitch (forward), then lean (right)."""
    level = multiply(about((0, 0, 1), yaw_rad), about((0, 1, 0), pitch_rad))
    return multiply(level, about((1, 0, 0), lean_rad))


def forearm_quat(
    course_rad: Floats,
    plane_deg: float,
    swing_rad: Floats,
    pronation_rad: Floats,
    outward_deg: float = 5.0,
) -> Floats:
    """Return a left forearm's orientation; its long axis is its own z, upward as it hangs.

    It swings in the vertical plane that is `plane_deg` left of the walk, and
    hangs outward of it.
    """
    plane = about((0, 0, 1), course_rad + np.radians(plane_deg))
    swung = multiply(plane, about((0, -1, 0), swing_rad))
    return multiply(multiply(swung, turn((1, 0, 0), outward_deg)), about((0, 0, 1), pronation_rad))


def first_rows(record, n):
    """Return a record of arrays with the first `n` rows of each."""
    arrays = {}
    for field in fields(record):
        value = getattr(record, field.name)
        if isinstance(value, np.ndarray):
            arrays[field.name] = value[:n]
        elif isinstance(value, Mapping):
            arrays[field.name] = {name: item[:n] for name, item in value.items()}
    return replace(record, **arrays)
