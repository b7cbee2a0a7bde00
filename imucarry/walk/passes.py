"""Straight runs between turns and stops."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from imucarry.basics.evidence import passes as evidence
from imucarry.basics.evidence import walk as evidence_walk
from imucarry.basics.records import (
    BoolArray,
    Contacts,
    FloatArray,
    IntArray,
    Pass,
    TrunkMotion,
    Window,
)
from imucarry.basics.settings import WalkSettings


def find_passes(
    trunk: TrunkMotion, contacts: Contacts, settings: WalkSettings
) -> tuple[tuple[Pass, ...], Contacts]:
    """Split a bout into straight runs, and number its contacts by them.

    Parameters
    ----------
    trunk : TrunkMotion
    contacts : Contacts
    settings : WalkSettings

    Returns
    -------
    passes : tuple of Pass
        Each reaches from one turn or stop to the next, at most from its first
        contact to its last.
    contacts : Contacts
        With ``pass_number``; 0 in a turn and in runs too short for a stride.
    """
    if contacts.time_s.size < evidence.PASS_LEAST_CONTACTS.value:
        return (), contacts
    turns = find_turns(trunk, contacts, settings)
    stretch = stretch_numbers(trunk, contacts, turns)
    number = np.zeros(contacts.time_s.size, dtype=np.int64)
    passes: list[Pass] = []
    for value in np.unique(stretch[stretch > 0]):
        members = np.flatnonzero(stretch == value)
        if members.size < evidence.PASS_LEAST_CONTACTS.value:
            continue
        number[members] = len(passes) + 1
        start_s, end_s = contacts.time_s[members[[0, -1]]]
        passes.append(Pass(number=len(passes) + 1, start_s=float(start_s), end_s=float(end_s)))
    return tuple(passes), replace(contacts, pass_number=number)


def stretch_numbers(trunk: TrunkMotion, contacts: Contacts, turns: tuple[Window, ...]) -> IntArray:
    """Number the contacts between turns and stops from 1; 0 within a turn, shape (K,)."""
    time_s = contacts.time_s
    starts = np.array([turn.start_s for turn in turns])
    ends = np.array([turn.end_s for turn in turns])
    n_begun = np.searchsorted(starts, time_s, side="right")
    n_ended = np.searchsorted(ends, time_s, side="right")
    breaks = stop_before(trunk, contacts)
    breaks[1:] |= n_begun[1:] != n_begun[:-1]
    return np.where(n_begun > n_ended, 0, 1 + np.cumsum(breaks))


def stop_before(trunk: TrunkMotion, contacts: Contacts) -> BoolArray:
    """Tell which contacts come after a stop, shape (K,)."""
    step_s = np.diff(contacts.time_s)
    long = step_s > evidence.STOP_STEPS.value * usual_step(step_s)
    seen = np.concatenate([[0], np.cumsum(trunk.usable)]) / trunk.rate_hz
    index = np.searchsorted(trunk.time_s, contacts.time_s)
    unseen_s = step_s - (seen[index[1:]] - seen[index[:-1]])
    hidden = (unseen_s > 0.5 * step_s) & (step_s < evidence.STOP_UNSEEN_S.value)
    return np.concatenate([[False], long & ~hidden])


def usual_step(step_s: FloatArray) -> FloatArray:
    """Return the median step of the steps around each one, shape (K,) [s]."""
    half = 4
    if step_s.size > half:  # mirrored at the ends
        ends = step_s[half:0:-1], step_s[-2 : -half - 2 : -1]
    else:
        ends = np.repeat(step_s[:1], half), np.repeat(step_s[-1:], half)
    padded = np.concatenate([ends[0], step_s, ends[1]])
    around = np.lib.stride_tricks.sliding_window_view(padded, 2 * half + 1)
    result: FloatArray = np.median(around, axis=1)
    return result


def find_turns(
    trunk: TrunkMotion, contacts: Contacts, settings: WalkSettings
) -> tuple[Window, ...]:
    """Find the turns of a bout from the thorax's heading.

    Parameters
    ----------
    trunk : TrunkMotion
    contacts : Contacts
        At least two.
    settings : WalkSettings
        ``turn_deg_per_stride``.

    Returns
    -------
    tuple of Window
        In order; they do not overlap.

    Notes
    -----
    1. The change of heading from half a stride before to half a stride after a
       moment holds none of the swing that repeats with the stride.
    2. Where it exceeds the limit there is a turn, which reaches to both sides
       as far as it exceeds the edge's limit.
    3. The change sees a turn half a stride early and late: that much is taken
       off at both ends, and a margin for the slow start of a turn put on.
    """
    time_s = trunk.time_s[:: max(1, int(trunk.rate_hz / 25.0))]
    step_s = np.diff(contacts.time_s)
    middle_s = (contacts.time_s[1:] + contacts.time_s[:-1]) / 2.0
    stride_s = 2.0 * np.interp(time_s, middle_s, usual_step(step_s))
    yaw = [np.interp(time_s + part * stride_s, trunk.time_s, trunk.yaw_rad) for part in (-0.5, 0.5)]
    change_deg = np.abs(np.degrees(yaw[1] - yaw[0]))
    near = (time_s > contacts.time_s[0] - stride_s) & (time_s < contacts.time_s[-1] + stride_s)
    wide = near & (change_deg > evidence.TURN_EDGE_DEG_PER_STRIDE.value)
    turns: list[Window] = []
    for first, last in runs(wide):
        if change_deg[first:last].max() < settings.turn_deg_per_stride:
            continue
        inset = (0.5 - evidence.TURN_EDGE_STRIDES.value) * stride_s
        start_s = time_s[first] + inset[first]
        end_s = time_s[last - 1] - inset[last - 1]
        middle = (time_s[first] + time_s[last - 1]) / 2.0
        turns.append(Window(float(min(start_s, middle)), float(max(end_s, middle))))
    return tuple(turns)


def count_lanes(trunk: TrunkMotion, contacts: Contacts, passes: Sequence[Pass]) -> int:
    """Return how often a lane was walked along: passes, but that a stop begins no lane.

    Parameters
    ----------
    trunk : TrunkMotion
    contacts, passes
        From `find_passes`.

    Notes
    -----
    A pass after a stop goes on along the lane unless the thorax faces another way in its
    first stride than in the last one before: a load may be put down on the way, or people
    stop at the end and turn round there.
    """
    stop_s = contacts.time_s[stop_before(trunk, contacts)] if passes else np.empty(0)
    most_rad = np.radians(evidence_walk.LANE_TURN_DEG.value)
    goes_on = 0
    for before, after in pairwise(passes):
        stopped = ((stop_s > before.end_s) & (stop_s <= after.start_s)).any()
        last, first = _facing(trunk, contacts, before)[1], _facing(trunk, contacts, after)[0]
        goes_on += bool(stopped and abs(first - last) < most_rad)
    return len(passes) - goes_on


def _facing(trunk: TrunkMotion, contacts: Contacts, item: Pass) -> tuple[float, float]:
    """Return the mean heading of a pass's first and last stride [rad]."""
    time_s = contacts.time_s
    own_s = time_s[(time_s >= item.start_s) & (time_s <= item.end_s)]
    last = min(2, own_s.size - 1)
    spans = (own_s[0], own_s[last]), (own_s[-1 - last], own_s[-1])
    first, final = (
        float(np.mean(trunk.yaw_rad[(trunk.time_s >= a) & (trunk.time_s <= b)])) for a, b in spans
    )
    return first, final


def runs(marks: BoolArray) -> list[tuple[int, int]]:
    """Return the half-open index ranges where `marks` is True."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], marks, [False]])))
    return [(int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True)]
