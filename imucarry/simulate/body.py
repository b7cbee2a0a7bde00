"""The body over a whole session: bouts laid one after the other, postures between them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

import numpy as np
from scipy.spatial.transform import Rotation

from imucarry.basics.records import SIDES, BoutRow, FloatArray, Side
from imucarry.simulate.arms import (
    ArmCourse,
    ArmPosture,
    Forearm,
    place_forearm,
    posture_of,
)
from imucarry.simulate.gait import FINE_HZ, Gait
from imucarry.simulate.noise import in_band, rise
from imucarry.simulate.path import Leg
from imucarry.simulate.trunk import TrunkCourse
from imucarry.simulate.walker import Arm, Walker, arm_of

RAISE_S = 1.5
READY_S = 2.0
SETTLE_S = 2.0


@dataclass(frozen=True, slots=True)
class Bout:
    """One bout to be walked.

    ``row`` is its row of the sheet; its times are filled in. ``rest_s`` is the
    standing with arms hanging before it.
    """

    row: BoutRow
    walker: Walker
    legs: tuple[Leg, ...]
    rest_s: float = 8.0


@dataclass(frozen=True, slots=True)
class Walked:
    """One bout with all its courses and its place on the fine grid."""

    bout: Bout
    gait: Gait
    trunk: TrunkCourse
    arms: dict[Side, ArmCourse]
    part: slice
    ready: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Body:
    """The whole session on the fine grid."""

    thorax: Rotation
    forearms: dict[Side, Forearm]
    acc_world_mps2: FloatArray  # of the sternum, without gravity
    heading_rad: FloatArray
    lean_rad: FloatArray
    pitch_rad: FloatArray


def _spread_out(walked: list[Walked], n_samples: int, name: str) -> FloatArray:
    """Lay one course of the trunk of every bout on the session's grid, zero elsewhere."""
    shape = getattr(walked[0].trunk, name).shape[1:] if walked else ()
    out = np.zeros((n_samples, *shape))
    for item in walked:
        out[item.part] = getattr(item.trunk, name)
    return out


def _headings(walked: list[Walked], n_samples: int, start_rad: float) -> FloatArray:
    """Return the path's heading; standing, they face where the last bout ended."""
    out = np.full(n_samples, start_rad)
    for item in walked:
        base = out[item.part.start]
        out[item.part] = base + item.gait.heading_rad
        out[item.part.stop :] = out[item.part.stop - 1]
    return out


def _posture(
    walked: list[Walked], n_samples: int, rest: FloatArray, held: Callable[[Walker], FloatArray]
) -> FloatArray:
    """Go from a resting posture, shape (P,), to each bout's and back, shape (n_samples, P)."""
    out = np.tile(rest, (n_samples, 1))
    for item in walked:
        time_s = np.arange(item.part.start, item.part.stop) / FINE_HZ
        up = rise((time_s - item.ready[0] + RAISE_S) / RAISE_S)
        down = rise((item.ready[1] + RAISE_S - time_s) / RAISE_S)
        out[item.part] += (up * down)[:, None] * (held(item.bout.walker) - rest)
    return out


# --- the body ----------------------------------------------------------------


def put_together(
    rng: np.random.Generator, walked: list[Walked], n_samples: int, *, sway_deg: float
) -> Body:
    """Return the whole body over the session."""
    heading = _headings(walked, n_samples, rng.uniform(-np.pi, np.pi))
    mean = _posture(walked, n_samples, np.zeros(2), lambda w: np.deg2rad([w.lean_deg, w.pitch_deg]))
    sway = [np.deg2rad(sway_deg) * in_band(rng, n_samples, FINE_HZ, 0.03, 0.4) for _ in range(2)]
    breath_rad, breath_mps2 = _breathing(n_samples)
    lean = _spread_out(walked, n_samples, "lean_rad") + mean[:, 0] + sway[0]
    pitch = _spread_out(walked, n_samples, "pitch_rad") + mean[:, 1] + sway[1] + breath_rad
    yaw = heading + _spread_out(walked, n_samples, "yaw_rad")
    thorax = Rotation.from_euler("ZYX", np.column_stack([yaw, pitch, lean]))
    acc = _spread_out(walked, n_samples, "acc_mps2")
    acc[:, 0] += breath_mps2
    facing = Rotation.from_euler("Z", heading[:, None])
    forearms = {side: _forearm(walked, side, heading, thorax) for side in SIDES}
    return Body(thorax, forearms, facing.apply(acc), heading, lean, pitch)


def _breathing(n_samples: int) -> tuple[FloatArray, FloatArray]:
    """Return the sternum's pitch and forward acceleration from breathing, shapes (N,)."""
    rate = 2.0 * np.pi * 0.25
    course = np.sin(rate * np.arange(n_samples) / FINE_HZ)
    return np.deg2rad(0.4) * course, -(rate**2) * 0.004 * course


def _forearm(walked: list[Walked], side: Side, heading: FloatArray, thorax: Rotation) -> Forearm:
    """Return one forearm over the session."""
    n_samples = heading.size
    rest = posture_of(_hanging(walked[0].bout.walker, side)) if walked else np.zeros(5)
    held = _posture(walked, n_samples, rest, lambda walker: posture_of(arm_of(walker, side)))
    courses = {field.name: np.zeros(n_samples) for field in fields(ArmCourse)}
    for item in walked:
        for name, values in courses.items():
            values[item.part] = getattr(item.arms[side], name)
    return place_forearm(side, heading, thorax, ArmCourse(**courses), ArmPosture(*held.T))


def _hanging(walker: Walker, side: Side) -> Arm:
    """Return how this person lets an arm hang while standing."""
    own = np.random.default_rng([walker.shape_seed, 3 if side == "left" else 4])
    mean, abduction = own.uniform(0.0, 8.0), own.uniform(2.0, 8.0)
    return Arm(mean_deg=mean, flexion_deg=4.0, abduction_deg=abduction)
