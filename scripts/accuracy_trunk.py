"""Figures of foot contacts on real recordings with known contacts.

python scripts/accuracy_trunk.py [FOLDER]

Real: the open recordings of ../shared/data/trunk_steps (Voisard et al. 2023, doi
10.5201/ipol.2023.497), nine healthy adults, one sensor at the lower back, not the
sternum; they hold no truth of sternum yaw. Each trial goes through the whole pipeline
as a chest sensor without wrists and without a sheet. Lost packets are bridged.

Counted is what lies inside the trial's boundaries, without the first and the last two
contacts, and farther than 0.5 s from the turn. Known faults of the annotation are
taken into account: left and right are swapped in 4-1 and 4-2, 9-3 is a cut copy of
9-4, and left against right is 65 ms off in 8-3 and 8-4 (left out of contact times).
"""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from accuracy_row import Figure, as_markdown, at_least, at_most, rms, shown

from imucarry.basics.records import BoolArray, FloatArray, IndexRanges, Recording, Session
from imucarry.basics.settings import Settings
from imucarry.pipeline import run

DATA = Path(__file__).resolve().parents[2] / "shared" / "data" / "trunk_steps"
GROUP = "Real recordings: foot contacts, sensor at the lower back"
RATE_HZ = 100.0
WRAP = 65536
MATCHED_S = 0.2
TURN_EDGE_S = 0.5
N_LAST = 2
BRIDGED = 10
SWAPPED = ("4-1", "4-2")
COPIES = ("9-3",)
ONE_FOOT_LATE = ("8-3", "8-4")


@dataclass(frozen=True, slots=True)
class Trial:
    """One real trial with its contacts, on the session clock."""

    name: str
    recording: Recording
    contact_s: FloatArray
    is_left: BoolArray
    fair: BoolArray
    window: tuple[float, float]
    turn: tuple[float, float]


@dataclass(frozen=True, slots=True)
class TrialMatch:
    """Found contacts of one trial beside the true ones of the fair window."""

    n_true: int
    n_found: int
    n_matched: int
    n_false: int
    n_side_right: int
    late_s: FloatArray
    stride_error_s: FloatArray


def read_trial(folder: Path, name: str) -> Trial:
    """Read one trial: samples onto the counter's clock, contacts beside them."""
    raw = np.loadtxt(folder / f"{name}_lb.txt", skiprows=2, usecols=range(7))
    count = np.unwrap(raw[:, 0], period=WRAP)
    grid = np.arange(count[0], count[-1] + 1.0)
    filled = np.column_stack([np.interp(grid, count, raw[:, k]) for k in range(1, 7)])
    recording = Recording(
        placement="chest",
        rate_hz=RATE_HZ,
        time_s=(grid - grid[0]) / RATE_HZ,
        acc_mps2=filled[:, :3],
        gyr_radps=filled[:, 3:],
        gaps=_gaps(count),
    )
    events = json.loads((folder / f"{name}.json").read_text(encoding="utf-8"))

    def seconds(values: Sequence[float]) -> FloatArray:
        return (np.asarray(values, dtype=np.float64) - grid[0]) / RATE_HZ

    left, right = (
        seconds([pair[1] for pair in events[f"{side}FootEvents"]]) for side in ("Left", "Right")
    )
    if name in SWAPPED:
        left, right = right, left
    window, turn = seconds(events["TrialBoundaries"]), seconds(events["UTurnBoundaries"])
    contact_s = np.concatenate([left, right])
    order = np.argsort(contact_s)
    inside = order[(contact_s[order] >= window[0]) & (contact_s[order] <= window[1])]
    return _with_fair_window(
        name, recording, contact_s[inside], (inside < left.size), (window[0], window[1]),
        (turn[0] - TURN_EDGE_S, turn[1] + TURN_EDGE_S),
    )  # fmt: skip


def _with_fair_window(
    name: str,
    recording: Recording,
    contact_s: FloatArray,
    is_left: BoolArray,
    window: tuple[float, float],
    turn: tuple[float, float],
) -> Trial:
    """Mark the contacts that count."""
    fair = (contact_s < turn[0]) | (contact_s > turn[1])
    fair[:1] = False
    fair[-N_LAST:] = False
    return Trial(name, recording, contact_s, is_left, fair, window, turn)


def _gaps(count: FloatArray) -> IndexRanges:
    """Return the ranges of the grid that a loss of more than 0.1 s left empty."""
    at = np.flatnonzero(np.diff(count) > BRIDGED + 1)
    return tuple((int(count[k] - count[0]) + 1, int(count[k + 1] - count[0])) for k in at)


def match_trial(trial: Trial) -> TrialMatch:
    """Score one trial and lay its contacts beside the true ones."""
    scores = run(Session(trial.name, "1", (trial.recording,)), Settings())
    contacts = [bout.data.contacts for bout in scores.bouts]
    found_s = np.concatenate([item.time_s for item in contacts] or [np.empty(0)])
    found_left = np.concatenate([item.is_left for item in contacts] or [np.empty(0, dtype=bool)])
    apart = found_s[:, None] - trial.contact_s
    column = np.arange(trial.contact_s.size)
    if not found_s.size:
        none = np.empty(0)
        return TrialMatch(int(trial.fair.sum()), 0, 0, 0, 0, none, none)
    nearest = np.abs(apart).argmin(axis=0)
    hit = np.abs(apart[nearest, column]) <= MATCHED_S
    hit &= np.abs(apart).argmin(axis=1)[nearest] == column
    used = hit & trial.fair
    late = np.where(hit, apart[nearest, column], np.nan)
    counted = _in_fair_window(trial, found_s)
    matched = np.zeros(found_s.size, dtype=bool)
    matched[nearest[hit]] = True
    return TrialMatch(
        n_true=int(trial.fair.sum()),
        n_found=int(counted.sum()),
        n_matched=int(used.sum()),
        n_false=int((counted & ~matched).sum()),
        n_side_right=int((found_left[nearest[used]] == trial.is_left[used]).sum()),
        late_s=late[used],
        stride_error_s=_stride_errors(trial, np.where(used, late, np.nan)),
    )


def _in_fair_window(trial: Trial, found_s: FloatArray) -> BoolArray:
    """Return which found contacts lie where every true one counts."""
    fair_s = trial.contact_s[trial.fair]
    inside = (found_s >= fair_s[0] - MATCHED_S) & (found_s <= fair_s[-1] + MATCHED_S)
    return inside & ((found_s < trial.turn[0]) | (found_s > trial.turn[1]))


def _stride_errors(trial: Trial, late: FloatArray) -> FloatArray:
    """Return errors of stride times: contacts of one foot that follow each other, both found."""
    errors = []
    for side in (True, False):
        own = np.flatnonzero(trial.is_left == side)
        gap = np.diff(trial.contact_s[own])
        change = np.diff(late[own])
        errors.append(change[np.isfinite(change) & (gap < 2.0)])
    return np.concatenate(errors)


def figures(folder: Path = DATA) -> list[Figure]:
    """Return every figure, pooled over the trials."""
    names = sorted(path.stem for path in folder.glob("*.json") if path.stem not in COPIES)
    matches = {name: match_trial(read_trial(folder, name)) for name in names}
    every = list(matches.values())
    n_true, n_matched = sum(m.n_true for m in every), sum(m.n_matched for m in every)
    n_false = sum(m.n_false for m in every)
    right = sum(m.n_side_right for m in every)
    late = np.concatenate(
        [m.late_s - m.late_s.mean() for name, m in matches.items()
         if name not in ONE_FOOT_LATE and m.late_s.size]
    )  # fmt: skip
    offsets = np.array([m.late_s.mean() for m in every if m.late_s.size])
    stride = np.concatenate([m.stride_error_s for m in every])
    on = f"{n_true} contacts of {len(every)} trials, 9 adults"
    return [
        at_least(GROUP, "sensitivity", n_matched / n_true, 0.995, "", on),
        at_least(GROUP, "precision", n_matched / (n_matched + n_false), 0.995, "", on),
        at_least(GROUP, "side right", right / n_matched, 0.995, "", on),
        at_most(GROUP, "contact time, one offset a trial removed: RMSE", 1e3 * rms(late), 16.0,
                "ms", f"{late.size} contacts, without 8-3 and 8-4"),
        shown(GROUP, "the offset: mean over trials", 1e3 * float(offsets.mean()), "ms", on),
        shown(GROUP, "the offset: SD over trials", 1e3 * float(offsets.std(ddof=1)), "ms", on),
        at_most(GROUP, "stride time: median absolute error",
                1e3 * float(np.median(np.abs(stride))), 8.0, "ms", f"{stride.size} strides"),
        at_most(GROUP, "stride time: RMSE", 1e3 * rms(stride), 20.0, "ms",
                f"{stride.size} strides"),
    ]  # fmt: skip


if __name__ == "__main__":
    print(as_markdown(figures(Path(sys.argv[1]) if len(sys.argv) > 1 else DATA)))
