"""The best chain of contacts through the candidates, sides alternating.

Dynamic programming (Viterbi 1967) over candidates and sides: a chain earns the
worth of its candidates and the evidence for their sides, and pays for intervals
that do not fit the local step period and for every new run of steps.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.candidates import Candidates

RIGHT, LEFT = 0, 1
NOWHERE = -1


def interval_cost(interval_s: FloatArray, period_s: FloatArray | float) -> FloatArray:
    """Return what steps of these lengths cost at a local step period."""
    squared = (np.log(interval_s / period_s) / evidence.INTERVAL_SD.value) ** 2
    return evidence.INTERVAL_COST.value * np.minimum(squared, evidence.INTERVAL_LIMIT.value)


@dataclass(frozen=True, slots=True)
class StepLinks:
    """What a step to each candidate costs from those in reach before it.

    Plain numbers, one entry a candidate: it has a handful of others in reach, and
    an array operation on so few takes longer than all of them.
    """

    first: list[int]  # of those in reach, the one after the last
    last: list[int]
    costs: list[list[float]]


def step_links(candidates: Candidates, rate_hz: float) -> StepLinks:
    """Return the steps that are possible between candidates.

    Parameters
    ----------
    candidates : Candidates
    rate_hz : float [Hz]
        Of the grid that ``candidates.index`` counts.
    """
    time_s, period_s = candidates.index / rate_hz, candidates.period_s
    first = np.searchsorted(time_s, time_s - evidence.INTERVAL_MAX_S.value)
    last = np.searchsorted(time_s, time_s - evidence.INTERVAL_MIN_S.value, side="right")
    n_before = np.maximum(last - first, 0)
    ends = np.cumsum(n_before)
    at = np.repeat(np.arange(time_s.size), n_before)
    before = np.arange(at.size) - (ends - n_before)[at] + first[at]
    cost = interval_cost(time_s[at] - time_s[before], period_s[at]).tolist()
    each = [cost[end - n : end] for n, end in zip(n_before.tolist(), ends.tolist(), strict=True)]
    return StepLinks(first.tolist(), last.tolist(), each)


def best_chain(candidates: Candidates, links: StepLinks) -> tuple[IntArray, BoolArray]:
    """Return which candidates are contacts, and which of those are left.

    Parameters
    ----------
    candidates : Candidates
    links : StepLinks
        From `step_links`; they do not depend on what candidates are worth.

    Returns
    -------
    chosen : ndarray of int, shape (C,)
        Positions among the candidates.
    is_left : ndarray of bool, shape (C,)
    """
    sway = evidence.SIDE_WEIGHT.value * candidates.left_evidence
    earn_right, earn_left = candidates.worth - sway, candidates.worth + sway
    return _trace_back(*_totals(earn_right.tolist(), earn_left.tolist(), links))


def _totals(
    earn_right: list[float], earn_left: list[float], links: StepLinks
) -> tuple[FloatArray, IntArray]:
    """Return the best chain's total that ends at each state, and the state it came from."""
    price_of_run = evidence.RUN_PRICE.value
    right, left = [0.0] * len(earn_right), [0.0] * len(earn_left)
    came_from: list[tuple[int, int]] = []
    ended, ended_at, done = 0.0, NOWHERE, 0
    steps = zip(links.first, links.last, links.costs, strict=True)
    for k, (first, last, costs) in enumerate(steps):
        for j in range(done, last):  # the best chain that has ended before this candidate
            if right[j] > ended:
                ended, ended_at = right[j], 2 * j + RIGHT
            if left[j] > ended:
                ended, ended_at = left[j], 2 * j + LEFT
        done = max(done, last)
        best_right = best_left = ended - price_of_run
        from_right = from_left = ended_at
        for j, price in enumerate(costs, start=first):
            after_left, after_right = left[j] - price, right[j] - price  # the other side
            if after_left > best_right:
                best_right, from_right = after_left, 2 * j + LEFT
            if after_right > best_left:
                best_left, from_left = after_right, 2 * j + RIGHT
        right[k], left[k] = best_right + earn_right[k], best_left + earn_left[k]
        came_from.append((from_right, from_left))
    return np.column_stack([right, left]), np.array(came_from, dtype=np.int64).reshape(-1, 2)


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
