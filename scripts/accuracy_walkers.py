"""Invented walkers through the whole pipeline, their scores laid beside what is true.

Each session is drawn from a seed: walker, mountings and the sensors' errors.
Strides are the ones that the pipeline found.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from invented_clients import (
    hard_client,
    loaded,
    one_walk,
    random_client,
    random_walker,
)

from imucarry.basics.records import (
    SIDES,
    BoolArray,
    BoutData,
    BoutResult,
    FloatArray,
    Recording,
    Session,
    SessionScores,
    Side,
)
from imucarry.basics.settings import Settings
from imucarry.pipeline import run
from imucarry.simulate.path import curve, passes, straight
from imucarry.simulate.session import SessionSpec, SimulatedSession, simulate_session
from imucarry.simulate.truth import BoutTruth

MATCHED_S = 0.15
"""A contact found this close to a true one is that one."""
NEVER = 1e9


@dataclass(frozen=True, slots=True)
class ContactMatch:
    """Contacts of one bout beside the true ones.

    ``late_s`` is found minus true, for each true contact that was found.
    """

    n_true: int
    n_weak: int
    n_missed: int
    n_weak_missed: int
    n_false: int
    n_wrong_side: int
    n_matched: int
    late_s: FloatArray
    late_is_left: BoolArray


@dataclass(frozen=True, slots=True)
class StrideMatch:
    """True strides of one bout with what was found of them; shape (S,) each.

    Found values are NaN and ``kept_*`` False where no found stride begins and ends
    with the true one. ``apart_strides`` counts from the nearest turn, start or stop,
    ``turn_apart_strides`` from the nearest turn.
    """

    kept_yaw: BoolArray
    yaw_deg: FloatArray
    true_yaw_deg: FloatArray
    kept_arm: dict[Side, BoolArray]
    swing_deg: dict[Side, FloatArray]
    true_swing_deg: dict[Side, FloatArray]
    path_turn_deg: FloatArray
    turning: BoolArray
    apart_strides: FloatArray
    turn_apart_strides: FloatArray


@dataclass(frozen=True, slots=True)
class BoutMatch:
    """One bout beside its truth."""

    hold: str
    loaded_side: str
    contacts: ContactMatch
    strides: StrideMatch


def score(simulated: SimulatedSession) -> SessionScores:
    """Run the pipeline on an invented session."""
    session = Session(
        simulated.spec.participant,
        simulated.spec.session,
        simulated.recordings,
        bout_rows=simulated.bout_rows,
    )
    return run(session, Settings())


def clients(n_seeds: int, first: int = 1000) -> list[BoutMatch]:
    """Free walk, suitcase and rack carry of unseen clients."""
    return _matched(random_client, range(first, first + n_seeds))


def hard_clients(n_seeds: int, first: int = 2000) -> list[BoutMatch]:
    """Slow, heavy and quick, overhead, bottoms-up, winding walks of unseen clients."""
    return _matched(hard_client, range(first, first + n_seeds))


def bows(n_seeds: int, first: int = 3000) -> list[BoutMatch]:
    """Walks with gentle bows of 8 to 20 deg a stride to either hand."""

    def make(seed: int) -> SessionSpec:
        rng = np.random.default_rng([seed, 31])
        bend = rng.uniform(8.0, 20.0) * rng.choice([-1.0, 1.0])
        legs = (straight(6), curve(7, bend), straight(5), curve(7, -bend), straight(6))
        return one_walk(seed, random_walker(rng), legs)

    return _matched(make, range(first, first + n_seeds))


def leaning_without_yaw(n_seeds: int, first: int = 4000) -> list[BoutMatch]:
    """Walks without any yaw, lean range 8 deg, sternum slope 0 to 30 deg."""

    def make(seed: int) -> SessionSpec:
        rng = np.random.default_rng([seed, 32])
        walker = replace(
            random_walker(rng),
            yaw_range_deg=0.0,
            yaw_sd_deg=0.0,
            yaw_loose_deg=0.0,
            lean_range_deg=8.0,
            sternum_slope_deg=rng.uniform(0.0, 30.0),
        )
        return one_walk(seed, walker, passes(2, 10.0))

    return _matched(make, range(first, first + n_seeds))


def lopsided(n_seeds: int, first: int = 5000) -> list[BoutMatch]:
    """Suitcase carries that lean 4 to 10 deg away from the load."""

    def make(seed: int) -> SessionSpec:
        rng = np.random.default_rng([seed, 33])
        free = random_walker(rng)
        walker = replace(loaded(rng, free, "side"), lean_deg=-rng.uniform(4.0, 10.0))
        return one_walk(seed, walker, passes(2, 12.0))

    return _matched(make, range(first, first + n_seeds))


def unrested(n_seeds: int, first: int = 7000) -> list[BoutMatch]:
    """Walks of unseen clients, each a recording of its own that holds nothing but steps."""
    found = []
    for seed in range(first, first + n_seeds):
        simulated = simulate_session(random_client(seed), seed)
        for row, truth in zip(simulated.bout_rows, simulated.truth, strict=True):
            first_s, last_s = float(truth.contact_s[1]), float(truth.contact_s[-2])
            walk = replace(
                simulated,
                recordings=tuple(_cut(item, first_s, last_s) for item in simulated.recordings),
                bout_rows=(replace(row, start_s=first_s, end_s=last_s),),
            )
            found.append(match_bout(score(walk).bouts[0], truth))
    return found


def _cut(recording: Recording, first_s: float, last_s: float) -> Recording:
    """Return a recording without what lies outside; ranges of gaps are not carried along."""
    assert not recording.gaps
    assert not recording.acc_clipped
    assert not recording.gyr_clipped
    first, last = np.searchsorted(recording.time_s, [first_s, last_s])
    part = slice(first, last)
    return replace(
        recording,
        time_s=recording.time_s[part],
        acc_mps2=recording.acc_mps2[part],
        gyr_radps=recording.gyr_radps[part],
    )


def _matched(make: Callable[[int], SessionSpec], seeds: Iterable[int]) -> list[BoutMatch]:
    found = []
    for seed in seeds:
        simulated = simulate_session(make(seed), seed)
        results = score(simulated).bouts
        found += [
            match_bout(result, truth)
            for result, truth in zip(results, simulated.truth, strict=True)
        ]
    return found


# --- one bout ----------------------------------------------------------------------


def match_bout(result: BoutResult, truth: BoutTruth) -> BoutMatch:
    """Lay one scored bout beside its truth."""
    row = result.data.row
    return BoutMatch(
        row.hold, row.loaded_side, match_contacts(result.data, truth),
        match_strides(result.data, truth),
    )  # fmt: skip


def match_contacts(data: BoutData, truth: BoutTruth) -> ContactMatch:
    """Pair found contacts with true ones, each with its nearest within reach."""
    found_s, found_left = data.contacts.time_s, data.contacts.is_left
    if not found_s.size:
        none = np.empty(0)
        n_true = truth.contact_s.size
        return ContactMatch(
            n_true,
            int(truth.is_weak.sum()),
            n_true,
            int(truth.is_weak.sum()),
            0,
            0,
            0,
            none,
            none.astype(bool),
        )
    apart = found_s[:, None] - truth.contact_s
    nearest_found = np.abs(apart).argmin(axis=0)
    nearest_true = np.abs(apart).argmin(axis=1)
    column = np.arange(truth.contact_s.size)
    hit = np.abs(apart[nearest_found, column]) <= MATCHED_S
    hit &= nearest_true[nearest_found] == column
    used = nearest_found[hit]
    return ContactMatch(
        n_true=column.size,
        n_weak=int(truth.is_weak.sum()),
        n_missed=int((~hit).sum()),
        n_weak_missed=int((~hit & truth.is_weak).sum()),
        n_false=int(found_s.size - used.size),
        n_wrong_side=int((found_left[used] != truth.is_left[hit]).sum()),
        n_matched=int(used.size),
        late_s=apart[used, column[hit]],
        late_is_left=truth.is_left[hit],
    )


def match_strides(data: BoutData, truth: BoutTruth) -> StrideMatch:
    """Give each true stride the found one that begins and ends with it."""
    strides = data.strides
    apart = np.maximum(
        np.abs(truth.start_s[:, None] - strides.start_s),
        np.abs(truth.end_s[:, None] - strides.end_s),
    )
    there = apart.min(axis=1, initial=np.inf) <= MATCHED_S
    index = apart.argmin(axis=1) if strides.start_s.size else np.zeros(there.size, dtype=int)

    def taken(values: FloatArray) -> FloatArray:
        if not values.size:
            return np.full(there.size, np.nan)
        return np.where(there, np.rad2deg(values[index]), np.nan)

    def kept(marks: BoolArray) -> BoolArray:
        return there & marks[index] if marks.size else there

    return StrideMatch(
        kept_yaw=kept(strides.kept_yaw),
        yaw_deg=taken(data.yaw.range_rad if data.yaw else np.empty(0)),
        true_yaw_deg=truth.sternum_yaw_range_deg,
        kept_arm={"left": kept(strides.kept_left_arm), "right": kept(strides.kept_right_arm)},
        swing_deg={side: taken(data.swing[side].range_rad) for side in SIDES},
        true_swing_deg={"left": truth.left_arm_swing_deg, "right": truth.right_arm_swing_deg},
        path_turn_deg=truth.path_turn_deg,
        turning=truth.turning,
        apart_strides=truth.path_apart_s / (truth.end_s - truth.start_s),
        turn_apart_strides=_turn_apart(truth),
    )


def _turn_apart(truth: BoutTruth) -> FloatArray:
    """Return how many strides each stride lies from the nearest turning one."""
    place = np.arange(truth.start_s.size)
    turning = np.flatnonzero(truth.turning)
    if not turning.size:
        return np.full(place.size, NEVER)
    return np.abs(place[:, None] - turning).min(axis=1).astype(float)


# --- pooling -----------------------------------------------------------------------


def pooled(bouts: Sequence[BoutMatch], read: Callable[[StrideMatch], FloatArray]) -> FloatArray:
    """Join one array of every bout's strides."""
    return np.concatenate([read(bout.strides) for bout in bouts]) if bouts else np.empty(0)


def counted(bouts: Sequence[BoutMatch], read: Callable[[ContactMatch], int]) -> int:
    """Add up one count of every bout's contacts."""
    return sum(read(bout.contacts) for bout in bouts)
