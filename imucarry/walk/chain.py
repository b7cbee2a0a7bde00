"""The best chain of contacts through the candidates, sides alternating.

Dynamic programming (Viterbi 1967) over candidates and sides: a chain earns the
worth of its candidates and the evidence for their sides, and pays for intervals
that do not fit the local step period and for every new run of steps.
"""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.candidates import Candidates

RIGHT, LEFT = 0, 1
NOWHERE = -1


def interval_cost(interval_s: FloatArray, period_s: float) -> FloatArray:
    """Return what steps of these lengths cost at a local step period."""
    squared = (np.log(interval_s / period_s) / evidence.INTERVAL_SD.value) ** 2
    return evidence.INTERVAL_COST.value * np.minimum(squared, evidence.INTERVAL_LIMIT.value)


def best_chain(candidates: Candidates, rate_hz: float) -> tuple[IntArray, BoolArray]:
    """Return which candidates are contacts, and which of those are left.

    Parameters
    ----------
    candidates : Candidates
    rate_hz : float [Hz]
        Of the grid that ``candidates.index`` counts.

    Returns
    -------
    chosen : ndarray of int, shape (C,)
        Positions among the candidates.
    is_left : ndarray of bool, shape (C,)
    """
    time_s = candidates.index / rate_hz
    earn = candidates.worth[:, None] + evidence.SIDE_WEIGHT.value * (
        candidates.left_evidence[:, None] * np.array([-1.0, 1.0])
    )
    first = np.searchsorted(time_s, time_s - evidence.INTERVAL_MAX_S.value)
    last = np.searchsorted(time_s, time_s - evidence.INTERVAL_MIN_S.value, side="right")
    total = np.zeros_like(earn)
    came_from = np.full(earn.shape, NOWHERE, dtype=np.int64)
    ended, ended_at, done = 0.0, NOWHERE, 0
    for k in range(time_s.size):
        while done < last[k]:  # the best chain that has ended before this candidate
            side = int(total[done].argmax())
            if total[done, side] > ended:
                ended, ended_at = float(total[done, side]), 2 * done + side
            done += 1
        total[k] = ended - evidence.RUN_PRICE.value
        came_from[k] = ended_at
        if first[k] < last[k]:
            before = slice(first[k], last[k])
            cost = interval_cost(time_s[k] - time_s[before], float(candidates.period_s[k]))
            value = total[before, ::-1] - cost[:, None]  # the other side
            best = value.argmax(axis=0)
            for side in (RIGHT, LEFT):
                if value[best[side], side] > total[k, side]:
                    total[k, side] = value[best[side], side]
                    came_from[k, side] = 2 * (first[k] + best[side]) + 1 - side
        total[k] += earn[k]
    return _trace_back(total, came_from)


def _trace_back(total: FloatArray, came_from: IntArray) -> tuple[IntArray, BoolArray]:
    """Follow the best chain from its end to its start."""
    states: list[int] = []
    if total.size and total.max() > 0:
        state = int(total.argmax())
        while state != NOWHERE:
            states.append(state)
            state = int(came_from[state // 2, state % 2])
    path = np.array(states[::-1], dtype=np.int64)
    return path // 2, path % 2 == LEFT


def with_closing_steps(
    candidates: Candidates, rate_hz: float, chosen: IntArray, is_left: BoolArray
) -> tuple[IntArray, BoolArray]:
    """Add the step that closes each run of steps, weak as it may be.

    Parameters
    ----------
    candidates : Candidates
    rate_hz : float [Hz]
    chosen, is_left : ndarray, shape (C,)
        As `best_chain` returns them.

    Returns
    -------
    chosen, is_left : ndarray, shape (C + closing steps,)
    """
    time_s = candidates.index / rate_hz
    after_s = np.diff(time_s[chosen], append=np.inf)
    ends = np.flatnonzero(after_s > evidence.INTERVAL_MAX_S.value)
    added, added_left = [], []
    for end in ends:
        limit_s = min(evidence.INTERVAL_MAX_S.value, after_s[end] - evidence.INTERVAL_MIN_S.value)
        begin_s = time_s[chosen[end]]
        first, last = np.searchsorted(
            time_s, [begin_s + evidence.INTERVAL_MIN_S.value, begin_s + limit_s]
        )
        if first == last:
            continue
        near = slice(first, last)
        sign = -1.0 if is_left[end] else 1.0
        worth = (
            candidates.last_worth[near]
            + evidence.SIDE_WEIGHT.value * sign * candidates.left_evidence[near]
            - interval_cost(time_s[near] - begin_s, float(candidates.period_s[chosen[end]]))
        )
        if worth.max() > 0:
            added.append(first + int(worth.argmax()))
            added_left.append(not is_left[end])
    order = np.argsort(np.concatenate([chosen, np.array(added, dtype=np.int64)]))
    return (
        np.concatenate([chosen, np.array(added, dtype=np.int64)])[order],
        np.concatenate([is_left, np.array(added_left, dtype=bool)])[order],
    )
