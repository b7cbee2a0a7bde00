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
from imucarry.simulate.arms import move_arm
from imucarry.simulate.body import RAISE_S, READY_S, SETTLE_S, Body, Bout, Walked, put_together
from imucarry.simulate.gait import FINE_HZ, walk_along
from imucarry.simulate.kinematics import body_rate, second_derivative
from imucarry.simulate.noise import in_band
from imucarry.simulate.path import take_steps
from imucarry.simulate.sensors import Samples, Sensor, record
from imucarry.simulate.soft_tissue import Ringing, ring
from imucarry.simulate.trunk import move_trunk
from imucarry.simulate.truth import BoutCourses, BoutTruth, read_truth, swing_in_plane
from imucarry.simulate.walker import of_the_day

__all__ = ["Bout", "SessionSpec", "SimulatedSession", "simulate_session"]

WRIST_SHAKING_MPS2 = 0.8
"""Size of what shakes a wrist and not the sternum, while walking."""
WORN_SIDE: dict[str, Side] = {"left_wrist": "left", "right_wrist": "right"}


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
    body = put_together(rng, walked, n_samples, sway_deg=spec.sway_deg)
    samples = [_worn(rng, sensor, walked, body) for sensor in spec.sensors]
    truth = [_truth(item, body) for item in walked]
    rows = [_row(rng, item, n_samples / FINE_HZ) for item in walked]
    return _on_session_clock(spec, samples, rows, truth)


# --- walking -----------------------------------------------------------------


def _walk_all(rng: np.random.Generator, spec: SessionSpec) -> tuple[list[Walked], int]:
    """Walk every bout; return them and the number of samples of the whole session."""
    walked = []
    clock_s = spec.quiet_s
    for bout in spec.bouts:
        item = _walk(rng, bout, clock_s + bout.rest_s)
        walked.append(item)
        clock_s = item.part.stop / FINE_HZ
    return walked, round((clock_s + spec.quiet_s) * FINE_HZ)


def _walk(rng: np.random.Generator, bout: Bout, begin_s: float) -> Walked:
    """Walk one bout whose arms are raised from `begin_s` on."""
    first = round(begin_s * FINE_HZ)
    start_s = first / FINE_HZ
    ready_s = start_s + RAISE_S
    bout = replace(bout, walker=of_the_day(rng, bout.walker))
    steps = take_steps(rng, bout.walker, bout.legs)
    steps = replace(steps, contact_s=steps.contact_s + ready_s + READY_S)
    end_s = float(steps.contact_s[-1]) + SETTLE_S
    n_samples = round((end_s + RAISE_S - start_s) * FINE_HZ)
    gait = walk_along(rng, bout.walker, bout.legs, steps, start_s=start_s, n_samples=n_samples)
    trunk = move_trunk(rng, bout.walker, gait)
    arms = {side: move_arm(rng, bout.walker, side, gait, trunk) for side in SIDES}
    return Walked(bout, gait, trunk, arms, slice(first, first + n_samples), (ready_s, end_s))


# --- sensors -----------------------------------------------------------------


def _worn(rng: np.random.Generator, sensor: Sensor, walked: list[Walked], body: Body) -> Samples:
    """Return what one worn sensor records."""
    turn, acc_world = _carried(rng, sensor, walked, body)
    shaken = _ringing(rng, sensor, walked, acc_world.shape[0])
    turn = turn * Rotation.from_rotvec(shaken.tilt_rad)
    force = acc_world + np.array([0.0, 0.0, STANDARD_GRAVITY_MPS2])
    acc = turn.inv().apply(force) + shaken.acc_mps2
    return record(rng, sensor, acc, body_rate(turn, FINE_HZ))


def _carried(
    rng: np.random.Generator, sensor: Sensor, walked: list[Walked], body: Body
) -> tuple[Rotation, FloatArray]:
    """Return the orientation of a sensor's segment and the acceleration of its place."""
    side = WORN_SIDE.get(sensor.placement)
    if side is None:
        slope = walked[0].bout.walker.sternum_slope_deg if walked else 0.0
        return body.thorax * Rotation.from_euler("Y", -slope, degrees=True), body.acc_world_mps2
    arm = body.forearms[side]
    own = _own_shaking(rng, walked, sensor.ringing_frac, body.heading_rad.size)
    swung = second_derivative(arm.point_m, FINE_HZ)
    return arm.turn, body.acc_world_mps2 + swung + own


def _own_shaking(
    rng: np.random.Generator, walked: list[Walked], share: float, n_samples: int
) -> FloatArray:
    """Return what shakes a wrist and not the sternum, shape (n_samples, 3) [m/s^2]."""
    shaken = np.zeros((n_samples, 3))
    for item in walked:
        size = share * WRIST_SHAKING_MPS2 * item.gait.envelope
        for k in range(3):
            noise = in_band(rng, size.size, FINE_HZ, 0.7, 9.0)
            shaken[item.part, k] = size * noise
    return shaken


def _ringing(
    rng: np.random.Generator, sensor: Sensor, walked: list[Walked], n_samples: int
) -> Ringing:
    """Return the ringing of strap and soft tissue over the session."""
    tilt, acc = np.zeros((n_samples, 3)), np.zeros((n_samples, 3))
    for item in walked:
        own = ring(rng, item.bout.walker, item.gait, at_wrist=sensor.placement != "chest")
        tilt[item.part] = sensor.ringing_frac * own.tilt_rad
        acc[item.part] = sensor.ringing_frac * own.acc_mps2
    return Ringing(tilt, acc)


# --- truth and sheet ---------------------------------------------------------


def _truth(item: Walked, body: Body) -> BoutTruth:
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


def _row(rng: np.random.Generator, item: Walked, duration_s: float) -> BoutRow:
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
