"""Clients nobody has seen: a walker, a mounting and errors drawn from a seed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from imucarry.basics.records import BoutRow
from imucarry.simulate.path import Leg, curve, passes, stop, straight
from imucarry.simulate.sensors import random_sensor
from imucarry.simulate.session import Bout, SessionSpec
from imucarry.simulate.walker import Arm, Pose, Walker, holding

PLACEMENTS = ("chest", "left_wrist", "right_wrist")


def random_client(seed: int, *, rate_hz: float = 100.0) -> SessionSpec:
    """Draw a client with three bouts: a free walk, a suitcase and a rack carry.

    Parameters
    ----------
    seed : int
    rate_hz : float

    Returns
    -------
    SessionSpec
        Unseen walker, mountings and sensor errors; passes with turns between.
    """
    rng = np.random.default_rng([seed, 7])
    walker = random_walker(rng)
    legs = passes(3, 9.0)
    bouts = (
        Bout(_row("1", "free", "none", 0.0), walker, legs),
        Bout(_row("2", "suitcase", "right", 16.0), loaded(rng, walker, "side"), legs),
        Bout(_row("3", "rack", "right", 12.0), loaded(rng, walker, "rack"), legs),
    )
    sensors = tuple(random_sensor(rng, place, rate_hz=rate_hz) for place in PLACEMENTS)
    return SessionSpec(bouts=bouts, sensors=sensors)


def hard_client(seed: int, *, rate_hz: float = 100.0) -> SessionSpec:
    """Draw a client with six bouts that are hard to read.

    A free walk; a slow one whose arms swing at step rate; a heavy carry in both
    hands at 1.4 to 2.0 strides a second; overhead and bottoms-up with side lean;
    a free walk with bows and a stop in the middle.
    """
    rng = np.random.default_rng([seed, 9])
    free = random_walker(rng)
    legs = passes(2, 11.0)
    bend = rng.uniform(8.0, 20.0) * rng.choice([-1.0, 1.0])
    winding = (straight(5), curve(6, bend), straight(4), stop(2.0), straight(4), curve(6, -bend))
    bouts = (
        Bout(_row("1", "free", "none", 0.0), free, legs),
        Bout(_row("2", "free", "none", 0.0), slow(rng, free), legs),
        Bout(_row("3", "farmer", "both", 60.0), heavy(rng, free), legs),
        Bout(_row("4", "overhead", "right", 8.0), loaded(rng, free, "overhead"), legs),
        Bout(_row("5", "bottoms_up", "right", 8.0), loaded(rng, free, "bottoms_up"), legs),
        Bout(_row("6", "free", "none", 0.0), free, (*winding, straight(4))),
    )
    sensors = tuple(random_sensor(rng, place, rate_hz=rate_hz) for place in PLACEMENTS)
    return SessionSpec(bouts=bouts, sensors=sensors)


def with_own_clocks(spec: SessionSpec, seed: int) -> SessionSpec:
    """Return the session with wrists that start when they like, on clocks of their own."""
    rng = np.random.default_rng([seed, 10])
    sensors = tuple(
        sensor
        if sensor.placement == "chest"
        else replace(
            sensor,
            start_s=rng.uniform(0.0, 3.0),
            clock_offset_s=rng.uniform(-8.0, 8.0),
            clock_drift_ppm=rng.normal(0.0, 30.0),
        )
        for sensor in spec.sensors
    )
    return replace(spec, sensors=sensors)


def one_walk(seed: int, walker: Walker, legs: tuple[Leg, ...]) -> SessionSpec:
    """Return one free walk of a given walker with random mountings and sensor errors."""
    rng = np.random.default_rng([seed, 8])
    sensors = tuple(random_sensor(rng, place) for place in PLACEMENTS)
    return SessionSpec((Bout(_row("1", "free", "none", 0.0), walker, legs),), sensors)


def _row(name: str, hold: str, side: str, load_kg: float) -> BoutRow:
    nan = float("nan")
    return BoutRow(name, nan, nan, hold=hold, loaded_side=side, load_kg=load_kg)


def random_walker(rng: np.random.Generator) -> Walker:
    """Draw a person's comfortable free walk."""
    speed = rng.uniform(0.8, 1.45)
    stride = float(np.clip(0.92 * (speed / 1.2) ** 0.5 * rng.normal(1.0, 0.05), 0.6, 1.15))
    yaw_phase = rng.normal(20.0, 20.0)
    swing = rng.uniform(18.0, 50.0)
    return Walker(
        stride_hz=stride,
        speed_mps=speed,
        step_asymmetry_pct=rng.normal(0.0, 2.5),
        stride_time_cv=rng.uniform(0.012, 0.035),
        step_time_sd_s=rng.uniform(0.004, 0.009),
        likeness=rng.uniform(0.0, 0.5),
        yaw_range_deg=rng.uniform(4.0, 13.0),
        yaw_sd_deg=rng.uniform(0.6, 1.4),
        yaw_phase_deg=yaw_phase,
        yaw_loose_deg=rng.uniform(0.2, 0.6),
        veer_deg=rng.uniform(0.8, 2.5),
        lean_deg=rng.normal(0.0, 0.7),
        lean_range_deg=rng.uniform(1.5, 6.0),
        lean_phase_deg=rng.uniform(30.0, 110.0) + rng.choice([0.0, 180.0]),
        pitch_deg=rng.normal(1.0, 1.5),
        pitch_range_deg=rng.uniform(1.0, 3.5),
        sternum_slope_deg=rng.uniform(5.0, 25.0),
        impact_degps=rng.uniform(25.0, 60.0),
        impact_mps2=rng.uniform(0.6, 1.8),
        impact_hz=rng.uniform(8.0, 15.0),
        vertical_sd_mps2=rng.uniform(0.9, 1.4),
        lateral_sd_mps2=rng.uniform(0.7, 1.1),
        forward_sd_mps2=rng.uniform(0.4, 0.7),
        answer_s=rng.uniform(0.0, 0.02),
        answer_sd_s=rng.uniform(0.005, 0.010),
        walk_cv=0.06,
        shape_seed=int(rng.integers(1 << 31)),
        left_arm=_free_arm(rng, swing, 180.0 + yaw_phase),
        right_arm=_free_arm(rng, swing, yaw_phase),
    )


def _free_arm(rng: np.random.Generator, swing: float, phase: float) -> Arm:
    return Arm(
        swing_deg=swing * rng.uniform(0.8, 1.2),
        swing_sd_deg=rng.uniform(1.5, 4.0),
        phase_deg=phase + rng.normal(0.0, 15.0),
        mean_deg=rng.uniform(8.0, 30.0),
        flexion_deg=rng.uniform(5.0, 25.0),
        plane_deg=rng.normal(0.0, 8.0),
        abduction_deg=rng.uniform(2.0, 8.0),
        sideways_deg=rng.uniform(1.0, 6.0),
        pronation_deg=rng.uniform(-20.0, 40.0),
        pronation_range_deg=rng.uniform(3.0, 12.0),
        with_trunk_frac=rng.uniform(0.0, 0.3),
        tremble_deg=rng.uniform(0.3, 0.8),
    )


def loaded(
    rng: np.random.Generator, free: Walker, hold: str, *, kept_frac: float | None = None
) -> Walker:
    """Return the same person with a load in the right hand.

    Parameters
    ----------
    rng : numpy Generator
    free : Walker
    hold : str
        "side", "rack", "bottoms_up" or "overhead".
    kept_frac : float, optional
        Share of the yaw that is kept; drawn when not given.
    """
    kept = rng.uniform(0.2, 1.0) if kept_frac is None else kept_frac
    quick = rng.uniform(1.0, 1.2)
    poses: dict[str, Pose] = {"rack": "rack", "bottoms_up": "bottoms_up", "overhead": "overhead"}
    pose = poses.get(hold, "side")
    return replace(
        free,
        stride_hz=free.stride_hz * quick,
        speed_mps=free.speed_mps * rng.uniform(0.85, 1.05),
        yaw_range_deg=free.yaw_range_deg * kept,
        yaw_sd_deg=free.yaw_sd_deg * max(kept, 0.4),
        lean_deg=rng.uniform(-6.0, 1.0),
        lean_range_deg=free.lean_range_deg * rng.uniform(0.7, 1.3),
        pitch_deg=rng.normal(0.0, 2.0),
        step_asymmetry_pct=free.step_asymmetry_pct + rng.normal(0.0, 1.0),
        left_arm=replace(free.left_arm, swing_deg=free.left_arm.swing_deg * rng.uniform(0.4, 1.0)),
        right_arm=holding(
            free.right_arm,
            pose,
            swing_deg=rng.uniform(2.0, 5.0),
        ),
    )


def slow(rng: np.random.Generator, free: Walker) -> Walker:
    """Return the same person walking slowly: small swings of the arms, at step rate."""
    stride = rng.uniform(0.5, 0.65)
    return replace(
        free,
        stride_hz=stride,
        speed_mps=stride * rng.uniform(0.7, 1.0),
        stride_time_cv=rng.uniform(0.02, 0.04),
        yaw_range_deg=free.yaw_range_deg * rng.uniform(0.6, 1.0),
        left_arm=replace(free.left_arm, per_stride=2, swing_deg=rng.uniform(5.0, 12.0)),
        right_arm=replace(free.right_arm, per_stride=2, swing_deg=rng.uniform(5.0, 12.0)),
    )


def heavy(rng: np.random.Generator, free: Walker) -> Walker:
    """Return the same person with all they can carry in both hands: quick short steps."""
    stride = rng.uniform(1.4, 2.0)
    return replace(
        free,
        stride_hz=stride,
        speed_mps=stride * rng.uniform(0.65, 0.9),
        yaw_range_deg=rng.uniform(1.0, 4.0),
        yaw_sd_deg=rng.uniform(0.3, 0.6),
        pitch_deg=rng.uniform(0.0, 8.0),
        left_arm=holding(free.left_arm, "side", swing_deg=rng.uniform(2.0, 5.0)),
        right_arm=holding(free.right_arm, "side", swing_deg=rng.uniform(2.0, 5.0)),
    )
