"""How well a cohort's measures repeat: within one condition, in one visit and between visits."""

from __future__ import annotations

import math
from bisect import insort
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.reliability import (
    Icc,
    intraclass_correlations,
    minimal_detectable_change,
    standard_error_of_measurement,
)
from imucarry.basics.statistics import mean_interval
from imucarry.carry.angle_measures import as_plain_numbers, is_circular, mean_as_scored
from imucarry.carry.places import UNKNOWN_LOAD, Condition, Place, Who, who_of
from imucarry.carry.repeats import Cell, Pairs, Value, over_visits, within_visit
from imucarry.carry.visits import Row, number, word

FREE = "free"
OF_FREE_WALK = ("yaw_kept", "yaw_kept_matched", "arm_swing_kept", "arm_swing_kept_matched")
"""Shares of the free walk: of two free walks each is a share of the other, by construction."""
SHARED_WALKS = "both_share_the_free_walks"
GROUPS_POOLED = "groups_pooled"
SHARED_ERROR = "sem_and_mdc_without_the_error_of_the_free_walks"
ONE_A_VISIT = ("yaw_path_spread_ratio", "arm_path_spread_ratio")
"""One value over all repeats of a visit, which stands in the row of each."""
DESIGNS = (("same_visit", within_visit), ("between_visit", over_visits))


class Key(NamedTuple):
    """One measure and side in one condition."""

    measure: str
    side: str
    unit: str
    condition: Condition


@dataclass(frozen=True, slots=True)
class ReliabilityRow:
    """One row of ``reliability.csv``: one measure and side, one condition, one design.

    ``n_participants`` each gave two values: the first two bouts of the condition in a
    visit ("same_visit"), or the first bout of it in each of their first two visits that
    have one ("between_visit"); of free walks, in both, the first two of like cadence. A
    bout without a value does not count, nor does a visit without such a bout.
    ``order_effect`` is the mean of second less first.
    ``missing_because`` says why there is no ICC; ``warning`` what to mind, with ";"
    between.
    """

    measure: str
    side: str
    unit: str
    hold: str
    loaded_side: str
    load_kg: float
    implement: str
    perturbed: str
    left_hold: str
    right_hold: str
    design: str
    n_participants: int
    n_repeats: int
    mean: float
    icc_2_1: float
    icc_2_1_low: float
    icc_2_1_high: float
    icc_3_1: float
    icc_3_1_low: float
    icc_3_1_high: float
    sem: float
    mdc95: float
    mdc90: float
    order_effect: float
    order_effect_low: float
    order_effect_high: float
    systematic: bool  # the interval of the order effect leaves 0 out
    missing_because: str
    warning: str


def reliability_rows(
    scores: Iterable[Row],
    places: Mapping[Who, Place],
    groups: Mapping[str, frozenset[str]] | None = None,
) -> tuple[ReliabilityRow, ...]:
    """Compute test-retest reliability of every measure within each condition.

    Parameters
    ----------
    scores : iterable of rows
        Of ``cohort_scores.csv``: participant, session, bout, measure, side, unit, value;
        read once, so that a large table may be streamed.
    places : mapping
        From `imucarry.carry.places.places_of`.
    groups : mapping, optional
        The groups that a participant belongs to, where known. They are pooled, and a row of
        several has a warning.

    Returns
    -------
    tuple of ReliabilityRow
        Sorted by measure, side, condition and design. Conditions are never pooled. A
        condition that fewer than three participants repeated has no row, nor has a measure
        with one value a visit, such as a ratio of spreads, within the visit.

    Notes
    -----
    SEM is the root of the error mean
    square: a systematic change from first to second is not part of it and stands in
    ``order_effect``. With fewer than 10 participants there is no ICC and no MDC, with
    fewer than 30 a warning. Angles around the stride have no ICC: on a circle no person
    lies higher than another. Their mean is the mean direction, and the changes from first
    to second are those the short way round from the mean change, as in `agree`. Nor have
    shares of the same free walks within a visit: an error of these walks lies in both
    shares of a participant, as a difference between participants would, and is no part of
    SEM and MDC.
    """
    cells = _gather(scores, places)
    found: list[ReliabilityRow] = []
    for key in sorted(cells):
        designs = DESIGNS[1:] if key.measure in ONE_A_VISIT else DESIGNS
        for design, pairs_of in designs:
            pairs = pairs_of(cells[key])
            if len(pairs.participants) >= evidence.SEM_LEAST_PARTICIPANTS.value:
                found.append(_row(key, design, pairs, groups or {}))
    return tuple(found)


def _gather(scores: Iterable[Row], places: Mapping[Who, Place]) -> dict[Key, Cell]:
    """Sort values by measure and condition, participant and visit."""
    cells: dict[Key, Cell] = {}
    for score in scores:
        place = places.get(who_of(score))
        if place is None:
            continue
        measure, is_free = word(score, "measure"), place.condition.hold == FREE
        if is_free and measure in OF_FREE_WALK:
            continue
        key = Key(measure, word(score, "side"), word(score, "unit"), place.condition)
        values = (
            cells.setdefault(key, {}).setdefault(place.participant, {}).setdefault(place.visit, [])
        )
        pace_spm = place.cadence_spm if is_free else math.nan  # a carry is repeated at any pace
        walks = place.free_walks if measure in OF_FREE_WALK else frozenset()
        insort(
            values, Value(place.start_s, number(score, "value"), pace_spm, walks, place.is_ended)
        )
    return cells


def _row(
    key: Key, design: str, found: Pairs, groups: Mapping[str, frozenset[str]]
) -> ReliabilityRow:
    """Compute one row from the pairs of its participants."""
    n, pairs = len(found.participants), found.values
    circular, because = is_circular(key.measure), _no_icc_because(key.measure, found)
    if circular:
        pairs = np.column_stack(as_plain_numbers(pairs[:, 0], pairs[:, 1]))
    iccs = {} if because else intraclass_correlations(pairs)
    two, three = iccs.get("2,1", Icc("2,1")), iccs.get("3,1", Icc("3,1"))
    sem = standard_error_of_measurement(pairs)
    order = mean_interval(pairs[:, 1] - pairs[:, 0])
    load_kg = key.condition.load_kg if key.condition.load_kg != UNKNOWN_LOAD else math.nan
    return ReliabilityRow(
        measure=key.measure,
        side=key.side,
        unit=key.unit,
        **(key.condition._asdict() | {"load_kg": load_kg}),
        design=design,
        n_participants=n,
        n_repeats=2,
        mean=mean_as_scored(key.measure, pairs) if circular else float(pairs.mean()),
        icc_2_1=two.value,
        icc_2_1_low=two.low,
        icc_2_1_high=two.high,
        icc_3_1=three.value,
        icc_3_1_low=three.low,
        icc_3_1_high=three.high,
        sem=sem,
        mdc95=_detectable(sem, n, 0.95),
        mdc90=_detectable(sem, n, 0.90),
        order_effect=order.value,
        order_effect_low=order.low,
        order_effect_high=order.high,
        systematic=bool(order.low > 0 or order.high < 0),
        missing_because=because or ("" if math.isfinite(two.value) else "values_do_not_vary"),
        warning=";".join(_warnings(found, groups)),
    )


def _warnings(found: Pairs, groups: Mapping[str, frozenset[str]]) -> Iterator[str]:
    """Yield what to mind of the pairs of a row."""
    n, advised = len(found.participants), evidence.RELIABILITY_ADVISED_PARTICIPANTS.value
    if n < advised:
        yield f"fewer_than_{advised}_participants"
    if len({group for one in found.participants for group in groups.get(one, ())}) > 1:
        yield GROUPS_POOLED
    if found.n_shared:
        yield SHARED_ERROR
    if found.n_later:
        yield f"not_the_first_two_visits_in_{found.n_later}_of_{n}_participants"
    if found.n_ended:
        yield f"pain_or_early_stop_in_{found.n_ended}_of_{n}_participants"


def _detectable(sem: float, n_participants: int, level: float) -> float:
    """Return the MDC, NaN from so few participants that it would not hold what its name says."""
    enough = n_participants >= evidence.MDC_LEAST_PARTICIPANTS.value
    return minimal_detectable_change(sem, level=level) if enough else math.nan


def _no_icc_because(measure: str, found: Pairs) -> str:
    """Say why there can be no ICC, "" where there can."""
    if is_circular(measure):
        return "angles_on_a_circle"
    if found.n_shared:
        return SHARED_WALKS
    least = evidence.ICC_LEAST_PARTICIPANTS.value
    return f"fewer_than_{least}_participants" if len(found.participants) < least else ""
