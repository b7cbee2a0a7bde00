"""How exactly sternum yaw and forearm swing are read off invented walkers.

Unseen walkers, mountings and sensor errors are drawn for each seed; strides are
the detected ones unless the true contacts are asked for. All of it is simulated:
no real recording with the truth of sternum yaw was available.

    python scripts/accuracy_motion.py [number of seeds]
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.records import (
    DROP_REASONS,
    SIDES,
    BodyFrame,
    FloatArray,
    Orientation,
    Recording,
    Side,
    Strides,
    TrunkMotion,
    Window,
)
from imucarry.basics.settings import Settings
from imucarry.motion.orientation import estimate_orientation
from imucarry.simulate.client import one_walk, random_client, random_walker
from imucarry.simulate.path import curve, passes, straight
from imucarry.simulate.session import SessionSpec, SimulatedSession, simulate_session
from imucarry.simulate.truth import BoutTruth
from imucarry.simulate.walker import Walker
from imucarry.walk.arms import arm_motion, free_plane, stride_swing
from imucarry.walk.contacts import find_contacts
from imucarry.walk.passes import find_passes
from imucarry.walk.placement import chest_frame
from imucarry.walk.strides import cut_strides
from imucarry.walk.trunk import trunk_motion
from imucarry.walk.yaw import stride_yaw

SETTINGS = Settings()
MATCHED_S = 0.15
"""A detected stride is the true one that begins and ends this close to it."""
BESIDE_STRIDES = 1.5
"""Closer than this to a turn, in strides, counts as beside it."""
CURVING_DEG = 3.0
"""From this much path turn on, a stride counts as curving."""


@dataclass(frozen=True, slots=True)
class Found:
    """The kept strides of many bouts beside what is true of them, shape (S,) each."""

    found_deg: FloatArray
    true_deg: FloatArray
    path_turn_deg: FloatArray
    apart_strides: FloatArray
    is_held: FloatArray


Sensors = dict[str, tuple[Recording, Orientation]]


def rows(n_seeds: int, *, true_contacts: bool = False) -> list[dict[str, object]]:
    """Return the figures, one a row: what, value, goal, unit, n.

    Parameters
    ----------
    n_seeds : int
        Clients drawn for each figure.
    true_contacts : bool
        Cut the strides at the true contacts instead of the detected ones.
    """
    yaw, swing = _clients(n_seeds, true_contacts)
    bend, _ = _many(n_seeds, _curving, true_contacts)
    still, _ = _many(n_seeds, _leaning, true_contacts)
    error = yaw.found_deg - yaw.true_deg
    beside = yaw.apart_strides < BESIDE_STRIDES
    bent = (np.abs(bend.path_turn_deg) > CURVING_DEG) & (bend.apart_strides > BESIDE_STRIDES)
    swing_error = swing.found_deg - swing.true_deg
    allowed = 0.3 + 0.01 * swing.true_deg
    held = swing.is_held > 0
    lines = [
        ("sternum yaw range, kept strides: RMSE", _rms(error), 0.20, "deg", error.size),
        ("sternum yaw range, kept strides: bias", _mean(error), 0.05, "deg", error.size),
        (
            "sternum yaw range, kept strides beside a 180 deg turn: RMSE",
            _rms(error[beside]),
            0.3,
            "deg",
            int(beside.sum()),
        ),
        (
            "sternum yaw range, curving up to 20 deg a stride: RMSE",
            _rms((bend.found_deg - bend.true_deg)[bent]),
            0.75,
            "deg",
            int(bent.sum()),
        ),
        (
            "true yaw 0, lean range 8 deg, slope 0 to 30 deg: mean apparent range",
            _mean(still.found_deg),
            0.5,
            "deg",
            still.found_deg.size,
        ),
        (
            "forearm swing, free arms: RMSE over (0.3 deg + 1 %)",
            _rms((swing_error / allowed)[~held]),
            1.0,
            "1",
            int((~held).sum()),
        ),
        (
            "forearm swing, held arms: RMSE over (0.3 deg + 1 %)",
            _rms((swing_error / allowed)[held]),
            1.0,
            "1",
            int(held.sum()),
        ),
        ("forearm swing, free arms: RMSE", _rms(swing_error[~held]), np.nan, "deg", 0),
        ("forearm swing, held arms: RMSE", _rms(swing_error[held]), np.nan, "deg", 0),
    ]
    return [dict(zip(("what", "value", "goal", "unit", "n"), line, strict=True)) for line in lines]


# --- the walkers -----------------------------------------------------------------


def _clients(n_seeds: int, true_contacts: bool) -> tuple[Found, Found]:
    return _pooled(
        _measured(simulate_session(random_client(seed), seed), true_contacts)
        for seed in range(n_seeds)
    )


def _curving(seed: int) -> SessionSpec:
    """Return a walk with a bow to either hand."""
    rng = np.random.default_rng([seed, 21])
    bend = rng.uniform(8.0, 20.0) * rng.choice([-1.0, 1.0])
    legs = (straight(6), curve(6, bend), straight(4), curve(6, -bend), straight(6))
    return one_walk(seed, random_walker(rng), legs)


def _leaning(seed: int) -> SessionSpec:
    """Return a walk without any yaw whose trunk leans by 8 deg."""
    rng = np.random.default_rng([seed, 22])
    walker: Walker = replace(
        random_walker(rng),
        yaw_range_deg=0.0,
        yaw_sd_deg=0.0,
        yaw_loose_deg=0.0,
        lean_range_deg=8.0,
        sternum_slope_deg=rng.uniform(0.0, 30.0),
    )
    return one_walk(seed, walker, passes(2, 10.0))


def _many(
    n_seeds: int, make: Callable[[int], SessionSpec], true_contacts: bool
) -> tuple[Found, Found]:
    return _pooled(
        _measured(simulate_session(make(seed), seed), true_contacts) for seed in range(n_seeds)
    )


# --- measuring them --------------------------------------------------------------


def _measured(simulated: SimulatedSession, true_contacts: bool) -> tuple[Found, Found]:
    """Measure one session and set it beside the truth."""
    sensors = {
        item.placement: (item, estimate_orientation(item, SETTINGS.motion))
        for item in simulated.recordings
    }
    windows = [Window(row.start_s, row.end_s) for row in simulated.bout_rows]
    frame = chest_frame(*sensors["chest"], windows, SETTINGS.walk)
    walks = [
        _walk(sensors, frame, window, truth, true_contacts)
        for window, truth in zip(windows, simulated.truth, strict=True)
    ]
    yaws, swings = [], []
    for (trunk, strides), truth in zip(walks, simulated.truth, strict=True):
        yaw = stride_yaw(trunk, strides, SETTINGS.walk)
        yaws.append(
            _beside(yaw.range_rad, strides.kept_yaw, strides, truth, "sternum_yaw_range_deg")
        )
    for side in SIDES:
        swings += _swings(sensors, side, walks, windows, simulated)
    return _joined(yaws), _joined(swings)


def _walk(
    sensors: Sensors, frame: BodyFrame, window: Window, truth: BoutTruth, true_contacts: bool
) -> tuple[TrunkMotion, Strides]:
    trunk = trunk_motion(*sensors["chest"], frame, window, SETTINGS.walk)
    if true_contacts:
        return trunk, true_strides(truth)
    passed, contacts = find_passes(trunk, find_contacts(trunk, SETTINGS.walk), SETTINGS.walk)
    arms = {side: arm_motion(*sensors[f"{side}_wrist"], side, window) for side in SIDES}
    return trunk, cut_strides(trunk, contacts, passed, arms, SETTINGS.walk)


def true_strides(truth: BoutTruth) -> Strides:
    """Return the strides at the true contacts; those at the ends of a pass are not kept."""
    number = truth.pass_number
    before = np.concatenate([[0], number[:-1]])
    after = np.concatenate([number[1:], [0]])
    kept = (number > 0) & (number == before) & (number == after)
    nothing = np.zeros(number.size, dtype=bool)
    return Strides(
        start_s=truth.start_s,
        right_contact_s=truth.right_contact_s,
        end_s=truth.end_s,
        left_step_time_s=truth.end_s - truth.right_contact_s,
        right_step_time_s=truth.right_contact_s - truth.start_s,
        pass_number=number,
        stride_in_pass=number,
        turning=truth.turning,
        drop=dict.fromkeys(DROP_REASONS, nothing),
        kept_timing=kept,
        kept_yaw=kept,
        kept_left_arm=kept,
        kept_right_arm=kept,
    )


def _swings(
    sensors: Sensors,
    side: Side,
    walks: list[tuple[TrunkMotion, Strides]],
    windows: list[Window],
    simulated: SimulatedSession,
) -> list[Found]:
    arms = [arm_motion(*sensors[f"{side}_wrist"], side, window) for window in windows]
    free = [k for k, row in enumerate(simulated.bout_rows) if row.hold == "free"]
    plane = free_plane(
        [arms[k] for k in free],
        [walks[k][1] for k in free],
        SETTINGS.walk,
        trunks=[walks[k][0] for k in free],
    )
    found = []
    for k, (trunk, strides) in enumerate(walks):
        swing = stride_swing(arms[k], strides, SETTINGS.walk, trunk=trunk, free_normal=plane)
        kept = strides.kept_left_arm if side == "left" else strides.kept_right_arm
        held = simulated.bout_rows[k].loaded_side == side
        name = f"{side}_arm_swing_deg"
        found.append(
            _beside(swing.range_rad, kept, strides, simulated.truth[k], name, is_held=held)
        )
    return found


def _beside(
    range_rad: FloatArray,
    kept: np.ndarray,
    strides: Strides,
    truth: BoutTruth,
    name: str,
    *,
    is_held: bool = False,
) -> Found:
    """Return the kept strides that have a true one, with the truth."""
    apart = np.abs(strides.start_s[:, None] - truth.start_s) + np.abs(
        strides.end_s[:, None] - truth.end_s
    )
    if not apart.size:
        return Found(*(np.empty(0) for _ in range(5)))
    match = apart.argmin(axis=1)
    used = kept & (apart.min(axis=1) < 2 * MATCHED_S) & np.isfinite(range_rad)
    match = match[used]
    duration_s = truth.end_s[match] - truth.start_s[match]
    return Found(
        np.degrees(range_rad[used]),
        getattr(truth, name)[match],
        truth.path_turn_deg[match],
        truth.path_apart_s[match] / duration_s,
        np.full(match.size, float(is_held)),
    )


def _joined(parts: list[Found]) -> Found:
    names = ("found_deg", "true_deg", "path_turn_deg", "apart_strides", "is_held")
    return Found(*(np.concatenate([getattr(item, name) for item in parts]) for name in names))


def _pooled(items: Iterable[tuple[Found, Found]]) -> tuple[Found, Found]:
    yaws, swings = zip(*items, strict=True)
    return _joined(list(yaws)), _joined(list(swings))


def _rms(values: FloatArray) -> float:
    return float(np.sqrt(np.mean(values**2))) if values.size else float("nan")


def _mean(values: FloatArray) -> float:
    return float(np.mean(values)) if values.size else float("nan")


if __name__ == "__main__":
    for line in rows(int(sys.argv[1]) if len(sys.argv) > 1 else 20):
        print(
            f"{line['what']:75} {line['value']:8.3f} {line['goal']:6.2f} "
            f"{line['unit']:4} {line['n']}"
        )
