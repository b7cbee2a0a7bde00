"""The demo: one invented client's visit, free walks and carries of rising load.

The client is made up. With the load at the side the trunk keeps turning at 8 kg,
turns less at 16 kg and hardly at 24 kg; in the rack it stops earlier.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Literal

import numpy as np

from imucarry.basics.errors import OutputError
from imucarry.basics.records import BoutRow, RomReading, Side
from imucarry.simulate.files import write_session
from imucarry.simulate.path import Leg, passes
from imucarry.simulate.sensors import random_sensor
from imucarry.simulate.session import Bout, SessionSpec, simulate_session
from imucarry.simulate.walker import Arm, Pose, Walker, holding

SEED = 20
LANE_M = 20.0
HEADING = "An invented session, written by imucarry demo: nobody walked it."
FILES = ("chest.csv", "left_wrist.csv", "right_wrist.csv", "session.toml", "bouts.csv", "rom.csv")
NAN = float("nan")
WHEN: tuple[Literal["before", "after"], ...] = ("before", "after")

COMFORTABLE = Walker(
    stride_hz=0.91,
    speed_mps=1.2,
    step_asymmetry_pct=1.5,
    yaw_range_deg=9.5,
    yaw_sd_deg=0.9,
    lean_range_deg=3.5,
    pitch_deg=1.5,
    sternum_slope_deg=17.0,
    walk_cv=0.03,
    shape_seed=11,
    left_arm=Arm(swing_deg=36.0, phase_deg=195.0, mean_deg=17.0, plane_deg=-5.0),
    right_arm=Arm(swing_deg=33.0, phase_deg=12.0, mean_deg=15.0, plane_deg=6.0),
)
SLOW = replace(
    COMFORTABLE,
    stride_hz=0.76,
    speed_mps=0.85,
    stride_time_cv=0.03,
    yaw_range_deg=8.0,
    left_arm=replace(COMFORTABLE.left_arm, swing_deg=24.0),
    right_arm=replace(COMFORTABLE.right_arm, swing_deg=22.0),
)


def demo_spec(*, rate_hz: float = 100.0) -> SessionSpec:
    """Return the demo's visit: ten bouts on a 20 m lane.

    Parameters
    ----------
    rate_hz : float
        Of all three sensors.
    """
    rng = np.random.default_rng(SEED)
    bouts = (
        _free("1", COMFORTABLE),
        _free("2", SLOW),
        _carry("3", "suitcase", 8.0, 0.97, 0.9, rpe=3.0, aim="mobility"),
        _carry("4", "suitcase", 16.0, 0.58, 0.6, rpe=5.0, aim="mobility"),
        _carry("5", "suitcase", 24.0, 0.26, 0.3, rpe=8.0, aim="strength"),
        _carry("6", "rack", 6.0, 0.93, 0.85, rpe=3.0, aim="mobility"),
        _carry("7", "rack", 10.0, 0.52, 0.55, rpe=6.0, aim="mobility"),
        _carry("8", "rack", 14.0, 0.24, 0.3, rpe=8.0, aim=""),
        _carry("9", "suitcase", 8.0, 0.95, 0.85, rpe=4.0, aim="mobility"),
        _free("10", replace(COMFORTABLE, yaw_range_deg=9.2)),
    )
    places = ("chest", "left_wrist", "right_wrist")
    sensors = tuple(random_sensor(rng, place, rate_hz=rate_hz) for place in places)
    return SessionSpec(
        bouts=bouts,
        sensors=sensors,
        participant="P01",
        session="1",
        date=date(2026, 3, 14),
        body_mass_kg=68.0,
        height_m=1.71,
        lane_m=LANE_M,
        rom=_shoulder_tests(),
    )


def require_place(folder: Path) -> None:
    """Refuse a folder that is neither absent nor empty nor an earlier demo.

    Raises
    ------
    OutputError
        If anything else lies there.
    """
    if folder.exists() and not _may_hold_demo(folder):
        raise OutputError(
            "something other than an earlier demo lies here; name a new or empty folder",
            file=str(folder),
        )


def write_demo(folder: Path) -> None:
    """Write the demo session; files of the same names are replaced."""
    write_session(simulate_session(demo_spec(), SEED), folder, heading=HEADING)


def _may_hold_demo(folder: Path) -> bool:
    """Whether a folder is empty or holds an earlier demo alone."""
    if not folder.is_dir():
        return False
    names = {path.name for path in folder.iterdir()}
    if not names:
        return True
    manifest = folder / "session.toml"
    if not names <= set(FILES) or not manifest.is_file():
        return False
    return manifest.read_text(encoding="utf-8", errors="replace").startswith(f"# {HEADING}")


def _legs(walker: Walker) -> tuple[Leg, ...]:
    """Return two passes of the lane."""
    return passes(2, round(LANE_M * walker.stride_hz / walker.speed_mps))


def _free(name: str, walker: Walker) -> Bout:
    row = BoutRow(
        name,
        NAN,
        NAN,
        hold="free",
        loaded_side="none",
        load_kg=0.0,
        order=float(name),
        distance_m=2.0 * LANE_M,
    )
    return Bout(row, walker, _legs(walker))


def _carry(
    name: str, hold: str, load_kg: float, yaw_kept: float, arm_kept: float, *, rpe: float, aim: str
) -> Bout:
    """Return a carry in the right hand that keeps a share of the yaw and of the left swing."""
    pose: Pose = "side" if hold == "suitcase" else "rack"
    free = COMFORTABLE
    walker = replace(
        free,
        stride_hz=free.stride_hz * (1.0 + 0.002 * load_kg),
        speed_mps=free.speed_mps * (1.0 - 0.002 * load_kg),
        yaw_range_deg=free.yaw_range_deg * yaw_kept,
        yaw_sd_deg=max(free.yaw_sd_deg * yaw_kept, 0.4),
        lean_deg=-0.15 * load_kg if pose == "side" else -0.05 * load_kg,
        pitch_deg=free.pitch_deg - (0.0 if pose == "side" else 0.2 * load_kg),
        left_arm=replace(free.left_arm, swing_deg=free.left_arm.swing_deg * arm_kept),
        right_arm=holding(free.right_arm, pose),
    )
    row = BoutRow(
        name,
        NAN,
        NAN,
        hold=hold,
        loaded_side="right",
        load_kg=load_kg,
        aim=aim,
        shoulder_rotation_aim="internal_rotation" if pose == "side" else "external_rotation",
        implement="kettlebell",
        order=float(name),
        rpe_0_10=rpe,
        pain_0_10=0.0,
        stop_reason="completed",
        distance_m=2.0 * LANE_M,
    )
    return Bout(row, walker, _legs(walker))


def _shoulder_tests() -> tuple[RomReading, ...]:
    """Return readings of both rotations of both shoulders, before and after.

    Three readings of external rotation carry their own error; one of internal
    rotation must lean on a published one.
    """
    table: dict[tuple[str, Side], tuple[tuple[float, ...], tuple[float, ...]]] = {
        ("external_rotation", "left"): ((88.0, 89.0, 87.0), (88.0, 90.0, 89.0)),
        ("external_rotation", "right"): ((79.0, 81.0, 80.0), (86.0, 87.0, 88.0)),
        ("internal_rotation", "left"): ((55.0,), (56.0,)),
        ("internal_rotation", "right"): ((51.0,), (53.0,)),
    }
    return tuple(
        _reading(test, side, when, value)
        for (test, side), sets in table.items()
        for when, values in zip(WHEN, sets, strict=True)
        for value in values
    )


def _reading(
    test: str, side: Side, when: Literal["before", "after"], value_deg: float
) -> RomReading:
    return RomReading(
        test=test,
        side=side,
        when=when,
        value_deg=value_deg,
        method="digital inclinometer",
        active_passive="active",
        position="lying, 90 deg abduction",
        population="asymptomatic",
        rater="A",
    )
