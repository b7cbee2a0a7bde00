"""An invented session: bouts one after the other, the sensors' recordings and what is true."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any

import numpy as np
from scipy.spatial.transform import Rotation

from imucarry.basics.records import (
    SIDES,
    BoolArray,
    BoutRow,
    FloatArray,
    Recording,
    RomReading,
    Side,
)
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.simulate.arms import (
    ArmCourse,
    ArmPosture,
    Forearm,
    move_arm,
    place_forearm,
    posture_of,
)
from imucarry.simulate.gait import FINE_HZ, Gait, walk_along
from imucarry.simulate.kinematics import body_rate, second_derivative
from imucarry.simulate.noise import in_band, rise
from imucarry.simulate.path import Leg, take_steps
from imucarry.simulate.sensors import Samples, Sensor, record
from imucarry.simulate.soft_tissue import Ringing, ring
from imucarry.simulate.trunk import TrunkCourse, move_trunk
from imucarry.simulate.truth import BoutCourses, BoutTruth, read_truth, swing_in_plane
from imucarry.simulate.walker import Arm, Walker, arm_of

RAISE_S = 1.5
READY_S = 2.0
SETTLE_S = 2.0
HANGING = Arm(mean_deg=3.0, flexion_deg=4.0, abduction_deg=5.0)
"""Both arms while standing at rest."""
WORN_SIDE: dict[str, Side] = {"left_wrist": "left", "right_wrist": "right"}


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
class SessionSpec:
    """Everything that a simulated session is made from but its seed."""

    bouts: tuple[Bout, ...]
    sensors: tuple[Sensor, ...]
    participant: str = "P00"
    session: str = "1"
    date: date | None = None
    body_mass_kg: float = float("nan")
    height_m: float = float("nan")
    lane_m: float = float("nan")
    rom: tuple[RomReading, ...] = ()
    quiet_s: float = 12.0
    sway_deg: float = 0.35


@dataclass(frozen=True, slots=True)
class SimulatedSession:
    """Recordings and sheet of a simulated session, and what is true of it.

    ``lost`` marks, for each placement, the samples that its file lacks.
    """

    spec: SessionSpec
    recordings: tuple[Recording, ...]
    bout_rows: tuple[BoutRow, ...]
    truth: tuple[BoutTruth, ...]
    lost: Mapping[str, BoolArray]


@dataclass(frozen=True, slots=True)
class _Walked:
    """One bout with all its courses and its place on the fine grid."""

    bout: Bout
    gait: Gait
    trunk: TrunkCourse
    arms: dict[Side, ArmCourse]
    part: slice
    ready: tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Body:
    """The whole session on the fine grid."""

    thorax: Rotation
    forearms: dict[Side, Forearm]
    acc_world_mps2: FloatArray  # of the sternum, without gravity
    heading_rad: FloatArray
    lean_rad: FloatArray
    pitch_rad: FloatArray


def simulate_session(spec: SessionSpec, seed: int) -> SimulatedSession:
    """Make an invented session.

    Parameters
    ----------
    spec : SessionSpec
    seed : int
        The same spec and seed give the same session.

    Returns
    -------
    SimulatedSession
        Times of recordings, sheet and truth are on the session clock.
    """
    rng = np.random.default_rng(seed)
    walked, n_samples = _walk_all(rng, spec)
    body = _put_together(rng, spec, walked, n_samples)
    samples = [_worn(rng, sensor, walked, body) for sensor in spec.sensors]
    truth = [_truth(item, body) for item in walked]
    rows = [_row(rng, item, n_samples / FINE_HZ) for item in walked]
    return _on_session_clock(spec, samples, rows, truth)


# --- walking -----------------------------------------------------------------


def _walk_all(rng: np.random.Generator, spec: SessionSpec) -> tuple[list[_Walked], int]:
    """Walk every bout; return them and the number of samples of the whole session."""
    walked = []
    clock_s = spec.quiet_s
    for bout in spec.bouts:
        item = _walk(rng, bout, clock_s + bout.rest_s)
        walked.append(item)
        clock_s = item.part.stop / FINE_HZ
    return walked, round((clock_s + spec.quiet_s) * FINE_HZ)


def _walk(rng: np.random.Generator, bout: Bout, begin_s: float) -> _Walked:
    """Walk one bout whose arms are raised from `begin_s` on."""
    first = round(begin_s * FINE_HZ)
    start_s = first / FINE_HZ
    ready_s = start_s + RAISE_S
    steps = take_steps(rng, bout.walker, bout.legs)
    steps = replace(steps, contact_s=steps.contact_s + ready_s + READY_S)
    end_s = float(steps.contact_s[-1]) + SETTLE_S
    n_samples = round((end_s + RAISE_S - start_s) * FINE_HZ)
    gait = walk_along(rng, bout.walker, bout.legs, steps, start_s=start_s, n_samples=n_samples)
    trunk = move_trunk(rng, bout.walker, gait)
    arms = {side: move_arm(rng, bout.walker, side, gait, trunk) for side in SIDES}
    return _Walked(bout, gait, trunk, arms, slice(first, first + n_samples), (ready_s, end_s))


def _spread_out(walked: list[_Walked], n_samples: int, name: str) -> FloatArray:
    """Lay one course of the trunk of every bout on the session's grid, zero elsewhere."""
    shape = getattr(walked[0].trunk, name).shape[1:] if walked else ()
    out = np.zeros((n_samples, *shape))
    for item in walked:
        out[item.part] = getattr(item.trunk, name)
    return out


def _headings(walked: list[_Walked], n_samples: int, start_rad: float) -> FloatArray:
    """Return the path's heading; standing, they face where the last bout ended."""
    out = np.full(n_samples, start_rad)
    for item in walked:
        base = out[item.part.start]
        out[item.part] = base + item.gait.heading_rad
        out[item.part.stop :] = out[item.part.stop - 1]
    return out


def _posture(walked: list[_Walked], n_samples: int, rest: FloatArray, held: Any) -> FloatArray:
    """Go from a resting posture, shape (P,), to each bout's and back, shape (n_samples, P)."""
    out = np.tile(rest, (n_samples, 1))
    for item in walked:
        time_s = np.arange(item.part.start, item.part.stop) / FINE_HZ
        up = rise((time_s - item.ready[0] + RAISE_S) / RAISE_S)
        down = rise((item.ready[1] + RAISE_S - time_s) / RAISE_S)
        out[item.part] += (up * down)[:, None] * (held(item.bout.walker) - rest)
    return out


# --- the body ----------------------------------------------------------------


def _put_together(
    rng: np.random.Generator, spec: SessionSpec, walked: list[_Walked], n_samples: int
) -> _Body:
    """Return the whole body over the session."""
    heading = _headings(walked, n_samples, rng.uniform(-np.pi, np.pi))
    mean = _posture(walked, n_samples, np.zeros(2), lambda w: np.deg2rad([w.lean_deg, w.pitch_deg]))
    sway = [
        np.deg2rad(spec.sway_deg) * in_band(rng, n_samples, FINE_HZ, 0.03, 0.4) for _ in range(2)
    ]
    breath_rad, breath_mps2 = _breathing(n_samples)
    lean = _spread_out(walked, n_samples, "lean_rad") + mean[:, 0] + sway[0]
    pitch = _spread_out(walked, n_samples, "pitch_rad") + mean[:, 1] + sway[1] + breath_rad
    yaw = heading + _spread_out(walked, n_samples, "yaw_rad")
    thorax = Rotation.from_euler("ZYX", np.column_stack([yaw, pitch, lean]))
    acc = _spread_out(walked, n_samples, "acc_mps2")
    acc[:, 0] += breath_mps2
    facing = Rotation.from_euler("Z", heading[:, None])
    forearms = {side: _forearm(walked, side, heading, thorax) for side in SIDES}
    return _Body(thorax, forearms, facing.apply(acc), heading, lean, pitch)


def _breathing(n_samples: int) -> tuple[FloatArray, FloatArray]:
    """Return the sternum's pitch and forward acceleration from breathing, shapes (N,)."""
    rate = 2.0 * np.pi * 0.25
    course = np.sin(rate * np.arange(n_samples) / FINE_HZ)
    return np.deg2rad(0.4) * course, -(rate**2) * 0.004 * course


def _forearm(walked: list[_Walked], side: Side, heading: FloatArray, thorax: Rotation) -> Forearm:
    """Return one forearm over the session."""
    n_samples = heading.size
    held = _posture(walked, n_samples, posture_of(HANGING), lambda w: posture_of(arm_of(w, side)))
    courses = {field.name: np.zeros(n_samples) for field in fields(ArmCourse)}
    for item in walked:
        for name, values in courses.items():
            values[item.part] = getattr(item.arms[side], name)
    return place_forearm(side, heading, thorax, ArmCourse(**courses), ArmPosture(*held.T))


# --- sensors -----------------------------------------------------------------


def _worn(rng: np.random.Generator, sensor: Sensor, walked: list[_Walked], body: _Body) -> Samples:
    """Return what one worn sensor records."""
    turn, acc_world = _carried(sensor, walked, body)
    shaken = _ringing(rng, sensor, walked, acc_world.shape[0])
    turn = turn * Rotation.from_rotvec(shaken.tilt_rad)
    force = acc_world + np.array([0.0, 0.0, STANDARD_GRAVITY_MPS2])
    acc = turn.inv().apply(force) + shaken.acc_mps2
    return record(rng, sensor, acc, body_rate(turn, FINE_HZ))


def _carried(sensor: Sensor, walked: list[_Walked], body: _Body) -> tuple[Rotation, FloatArray]:
    """Return the orientation of a sensor's segment and the acceleration of its place."""
    side = WORN_SIDE.get(sensor.placement)
    if side is None:
        slope = walked[0].bout.walker.sternum_slope_deg if walked else 0.0
        return body.thorax * Rotation.from_euler("Y", -slope, degrees=True), body.acc_world_mps2
    arm = body.forearms[side]
    return arm.turn, body.acc_world_mps2 + second_derivative(arm.point_m, FINE_HZ)


def _ringing(
    rng: np.random.Generator, sensor: Sensor, walked: list[_Walked], n_samples: int
) -> Ringing:
    """Return the ringing of strap and soft tissue over the session."""
    tilt, acc = np.zeros((n_samples, 3)), np.zeros((n_samples, 3))
    for item in walked:
        own = ring(rng, item.bout.walker, item.gait, at_wrist=sensor.placement != "chest")
        tilt[item.part] = sensor.ringing_frac * own.tilt_rad
        acc[item.part] = sensor.ringing_frac * own.acc_mps2
    return Ringing(tilt, acc)


# --- truth and sheet ---------------------------------------------------------


def _truth(item: _Walked, body: _Body) -> BoutTruth:
    """Read off what is true of one bout, on the world's clock."""
    part = item.part
    heading = body.heading_rad[part]
    arms = {
        side: swing_in_plane(
            body.forearms[side].turn[part].apply([0.0, 0.0, -1.0]),
            heading + item.arms[side].azimuth_rad,
            item.gait.envelope,
        )
        for side in SIDES
    }
    courses = BoutCourses(
        item.trunk.yaw_rad, body.lean_rad[part], body.pitch_rad[part], arms["left"], arms["right"]
    )
    base_deg = float(np.rad2deg(heading[0] - item.gait.heading_rad[0]))
    return read_truth(item.bout.row.bout, item.bout.legs, item.gait, courses, base_deg=base_deg)


def _row(rng: np.random.Generator, item: _Walked, duration_s: float) -> BoutRow:
    """Return the bout's row with a window that holds some standing, as people note it."""
    contact_s = item.gait.steps.contact_s
    start_s = float(contact_s[0]) - rng.uniform(1.0, 2.0)
    end_s = min(float(contact_s[-1]) + rng.uniform(0.7, 1.7), duration_s)
    return replace(item.bout.row, start_s=start_s, end_s=end_s)


# --- clocks ------------------------------------------------------------------


def _on_session_clock(
    spec: SessionSpec, samples: list[Samples], rows: list[BoutRow], truth: list[BoutTruth]
) -> SimulatedSession:
    """Put sheet and truth on the first sensor's clock, with 0 at the earliest stamp."""
    leader = next((s for s in spec.sensors if s.placement == "chest"), spec.sensors[0])
    zero_s = min(float(item.recording.time_s[0]) for item in samples)
    gain = 1.0 + 1e-6 * leader.clock_drift_ppm

    def clock(world_s: Any) -> Any:
        elapsed = (world_s - leader.start_s) * gain
        return elapsed + leader.start_s + leader.clock_offset_s - zero_s

    recordings = tuple(
        replace(item.recording, time_s=item.recording.time_s - zero_s) for item in samples
    )
    lost = {item.recording.placement: item.lost for item in samples}
    timed = tuple(
        replace(row, start_s=round(clock(row.start_s), 3), end_s=round(clock(row.end_s), 3))
        for row in rows
    )
    return SimulatedSession(
        spec, recordings, timed, tuple(_retimed(item, clock) for item in truth), lost
    )


def _retimed(truth: BoutTruth, clock: Any) -> BoutTruth:
    names = [field.name for field in fields(BoutTruth) if field.name.endswith("_s")]
    times = [name for name in names if name != "path_apart_s"]
    return replace(truth, **{name: clock(getattr(truth, name)) for name in times})
