"""Figures of the whole pipeline on invented walkers.

python scripts/accuracy_simulated.py [SEEDS]

Simulated: raw signals with noise, bias, drift, scale error, misalignment and soft
tissue; random mountings; detected strides. The walkers are our own: a figure here
says what the method can do on such a walker, not on a person.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from accuracy_contacts import contact_figures
from accuracy_row import Figure, as_markdown, at_most, mean, rms, shown
from accuracy_walkers import (
    BoutMatch,
    bows,
    clients,
    hard_clients,
    leaning_without_yaw,
    lopsided,
    score,
    unrested,
)
from invented_clients import random_client, with_own_clocks

from imucarry.basics.records import SIDES, FloatArray, SessionScores, Side
from imucarry.simulate.session import SessionSpec, simulate_session

SEEDS = 30
YAW, ARM, CLOCK = (
    "Simulated walkers: sternum yaw",
    "Simulated walkers: forearm swing",
    "Simulated walkers: clocks",
)
CURVING_DEG = 3.0
GENTLE_DEG = 20.0
BESIDE = 2.0
AWAY = 1.5


def figures(n_seeds: int = SEEDS) -> list[Figure]:
    """Return every figure, from `n_seeds` sessions of each kind."""
    usual, hard = clients(n_seeds), hard_clients(n_seeds)
    return [
        *yaw_figures(usual, hard, bows(n_seeds), leaning_without_yaw(n_seeds)),
        *arm_figures([*usual, *hard]),
        *unrested_figures(unrested(n_seeds)),
        *contact_figures(usual, hard, lopsided(n_seeds)),
        *clock_figures(n_seeds),
    ]


# --- sternum yaw ---------------------------------------------------------------


def yaw_figures(
    usual: Sequence[BoutMatch],
    hard: Sequence[BoutMatch],
    bent: Sequence[BoutMatch],
    still: Sequence[BoutMatch],
) -> list[Figure]:
    """Return the figures of the sternum's yaw range."""
    straight_hard = [bout for bout in hard if not _winds(bout)]
    error = _yaw_error(usual, "all")
    on = _on(usual, error.size, "free walks, suitcase and rack carries")
    hard_error = _yaw_error(straight_hard, "all")
    beside = _yaw_error([*usual, *straight_hard], "beside")
    curving = _yaw_error(bent, "curving")
    apparent = _kept(still, lambda s: s.yaw_deg)
    kept, left_out = _turns_kept([*usual, *hard]), _straight_left_out([*usual, *straight_hard])
    hard_on = _on(
        straight_hard, hard_error.size, "slow, quick and heavy, overhead, bottoms-up walks"
    )
    return [
        at_most(YAW, "yaw range of kept strides: RMSE", rms(error), 0.20, "deg", on),
        at_most(YAW, "yaw range of kept strides: bias", mean(error), 0.05, "deg", on),
        at_most(YAW, "the same, hard walks: RMSE", rms(hard_error), 0.20, "deg", hard_on),
        at_most(YAW, "the same, hard walks: bias", mean(hard_error), 0.05, "deg", hard_on),
        at_most(YAW, "strides that curve gently: RMSE", rms(curving), 0.75, "deg",
                f"{curving.size} strides curving 3 to 20 deg"),
        at_most(YAW, "kept strides beside a 180 deg turn: RMSE", rms(beside), 0.3, "deg",
                f"{beside.size} strides at most two from a turning one"),
        at_most(YAW, "true yaw 0, lean range 8 deg: mean apparent range", mean(apparent), 0.5,
                "deg", f"{apparent.size} strides, sternum slope 0 to 30 deg"),
        at_most(YAW, "strides inside a 180 deg turn that were kept", float(kept[0]), 0.0, "",
                f"{kept[1]} turning strides"),
        at_most(YAW, "straight strides away from turns, starts and stops left out",
                100.0 * left_out[0] / max(left_out[1], 1), 2.0, "%", f"{left_out[1]} strides"),
    ]  # fmt: skip


def _winds(bout: BoutMatch) -> bool:
    """Whether a bout's path curves gently anywhere."""
    turn = np.abs(bout.strides.path_turn_deg)
    return bool(((turn > 6.0) & (turn < GENTLE_DEG + 2.0) & (bout.strides.apart_strides > 1)).any())


def _yaw_error(bouts: Sequence[BoutMatch], which: str) -> FloatArray:
    """Return found minus true yaw range of kept strides: all, beside a turn, or curving."""
    parts = []
    for bout in bouts:
        one = bout.strides
        used = one.kept_yaw & np.isfinite(one.yaw_deg)
        if which == "beside":
            used &= one.turn_apart_strides <= BESIDE
        elif which == "curving":
            turn = np.abs(one.path_turn_deg)
            used &= (turn > CURVING_DEG) & (turn <= GENTLE_DEG)
        parts.append((one.yaw_deg - one.true_yaw_deg)[used])
    return np.concatenate(parts)


def _kept(bouts: Sequence[BoutMatch], read: Callable[[Any], FloatArray]) -> FloatArray:
    return np.concatenate(
        [
            read(bout.strides)[bout.strides.kept_yaw & np.isfinite(bout.strides.yaw_deg)]
            for bout in bouts
        ]
    )


def _turns_kept(bouts: Sequence[BoutMatch]) -> tuple[int, int]:
    """Return how many turning strides were kept, and how many there are."""
    kept = sum(int((bout.strides.turning & bout.strides.kept_yaw).sum()) for bout in bouts)
    return kept, sum(int(bout.strides.turning.sum()) for bout in bouts)


def _straight_left_out(bouts: Sequence[BoutMatch]) -> tuple[int, int]:
    """Return how many strides away from all ends were left out, and how many there are."""
    left_out = n_all = 0
    for bout in bouts:
        one = bout.strides
        clear = one.apart_strides > AWAY
        left_out += int((clear & ~one.kept_yaw).sum())
        n_all += int(clear.sum())
    return left_out, n_all


# --- arms ----------------------------------------------------------------------


def arm_figures(bouts: Sequence[BoutMatch]) -> list[Figure]:
    """Return the figures of forearm swing: root mean square beside what is allowed."""
    found = []
    for name, wants_held in (("free arms", False), ("arms that hold the load", True)):
        error, true = _swing_error(bouts, wants_held)
        allowed = float(np.sqrt(np.mean((0.3 + 0.01 * true) ** 2)))
        on = f"{error.size} swings of {true.mean():.0f} deg on average"
        found += [
            at_most(ARM, f"swing a stride, {name}: RMSE", rms(error), allowed, "deg", on),
            shown(ARM, f"swing a stride, {name}: bias", mean(error), "deg", on),
        ]
    return found


def _swing_error(bouts: Sequence[BoutMatch], wants_held: bool) -> tuple[FloatArray, FloatArray]:
    """Return found minus true swing of kept strides, and the true one."""
    errors, trues = [], []
    for bout in bouts:
        for side in SIDES:
            if (bout.loaded_side in (side, "both")) != wants_held:
                continue
            one = bout.strides
            used = one.kept_arm[side] & np.isfinite(one.swing_deg[side])
            errors.append((one.swing_deg[side] - one.true_swing_deg[side])[used])
            trues.append(one.true_swing_deg[side][used])
    return np.concatenate(errors), np.concatenate(trues)


def unrested_figures(bouts: Sequence[BoutMatch]) -> list[Figure]:
    """Return the figures of walks whose recordings hold neither standing nor another walk."""
    error = _yaw_error(bouts, "all")
    on = _on(bouts, error.size, "each a recording of its own, without any standing")
    found = [at_most(YAW, "recordings of steps alone: RMSE", rms(error), 0.20, "deg", on)]
    for name, wants_held in (("free arms", False), ("arms that hold the load", True)):
        error, _ = _swing_error(bouts, wants_held)
        label = f"recordings of steps alone, swing a stride, {name}: RMSE"
        found.append(shown(ARM, label, rms(error), "deg", f"{error.size} swings"))
    return found


# --- clocks --------------------------------------------------------------------


def clock_figures(n_seeds: int, first: int = 6000) -> list[Figure]:
    """Return the figures of clocks that were set by the motion the sensors share."""
    errors, accepted = [], 0
    for seed in range(first, first + n_seeds):
        spec = with_own_clocks(random_client(seed), seed)
        scores = score(simulate_session(spec, seed))
        for side in SIDES:
            error, was_set = _clock_error(spec, scores, side)
            accepted += was_set
            if was_set:
                errors.append(error)
    found = np.array(errors)
    on = f"{2 * n_seeds} wrists, offsets to 8 s, drifts of 30 ppm, no taps"
    return [
        shown(CLOCK, "clocks set, the others refused", 100.0 * accepted / (2 * n_seeds), "%", on),
        at_most(CLOCK, "clock error of those set: RMS", 1e3 * rms(found), 20.0, "ms", on),
        at_most(CLOCK, "clock error of those set: largest", 1e3 * _largest(found), 20.0, "ms", on),
    ]


def _clock_error(spec: SessionSpec, scores: SessionScores, side: Side) -> tuple[float, bool]:
    """Return the error of a wrist's clock in the middle of the session [s], and if it was set."""
    name = f"{side}_wrist"
    sensor = next(item for item in spec.sensors if item.placement == name)
    fit = next(item.clock for item in scores.sensors if item.clock.placement == name)
    zero_s = min(item.start_s + item.clock_offset_s for item in spec.sensors)
    recorded = scores.sensors[0].recording.time_s
    world_s = 0.5 * float(recorded[-1] - recorded[0])
    gained = (world_s - sensor.start_s) * (1.0 + 1e-6 * sensor.clock_drift_ppm)
    stamped = sensor.start_s + sensor.clock_offset_s + gained - zero_s
    session_s = fit.offset_s + (1.0 + 1e-6 * fit.drift_ppm) * stamped
    return session_s - (world_s - zero_s), fit.source == "shared_motion"


# --- numbers -------------------------------------------------------------------


def _on(bouts: Sequence[BoutMatch], n_strides: int, what: str) -> str:
    return f"{n_strides} strides of {len(bouts)} bouts: {what}"


def _largest(values: FloatArray) -> float:
    return float(np.abs(values).max()) if values.size else float("nan")


if __name__ == "__main__":
    print(as_markdown(figures(int(sys.argv[1]) if len(sys.argv) > 1 else SEEDS)))
