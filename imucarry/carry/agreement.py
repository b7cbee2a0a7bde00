"""Agreement of two tables: of strides matched by time, or of bouts matched by name."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.evidence.carry import AGREE_LEAST_WITHIN_DF
from imucarry.basics.limits_of_agreement import (
    Limit,
    LimitsOfAgreement,
    limits_of_agreement,
    proportional_bias,
    repeated_limits_of_agreement,
)
from imucarry.basics.records import FloatArray, IntArray
from imucarry.basics.reliability import Icc, intraclass_correlations
from imucarry.basics.statistics import Neighbours
from imucarry.carry.angle_measures import HALF_DEG, as_plain_numbers, is_circular, near
from imucarry.carry.matching import Pairs, match


@dataclass(frozen=True, slots=True, eq=False)
class Agreement:
    """How far two systems agree on one measure; differences are A - B.

    Attributes
    ----------
    measure : str
    level : str
        "stride" or "bout".
    circular : bool
        The measure is an angle around the stride; its differences are those the short way
        round.
    a, b : ndarray, shape (n,)
        The pairs.
    n_only_a, n_only_b : int
        Rows without a partner.
    later_s, later_sd_s : float [s]
        By how much strides begin later in B: median and standard deviation; NaN of bouts.
    shift_s : float [s]
        By how much B is later if its strides are paired with their neighbours: the clocks
        are apart by whole strides. NaN where nothing says so.
    limits : LimitsOfAgreement or None
        None with fewer than 3 pairs, and for angles that differ all around the circle.
    limits_for : str
        "one_person" (repeats of a single person), "one_person_in_order" (the same, the
        likeness of neighbouring strides allowed for), "persons" (one pair each),
        "first_pairs" (the first pair each, for repeats are too few), or
        "repeats_within_persons".
    proportional : Limit
        Slope of the difference on the mean of both; NaN of angles.
    icc_agreement, icc_consistency : Icc
        ICC(2,1) and ICC(3,1) over persons, of the mean of each person's bouts; NaN of angles.
    icc_because : str
        Why there is none.
    rmse : float
    """

    measure: str
    level: str
    circular: bool
    a: FloatArray
    b: FloatArray
    n_only_a: int
    n_only_b: int
    later_s: float
    later_sd_s: float
    shift_s: float
    limits: LimitsOfAgreement | None
    limits_for: str
    proportional: Limit
    icc_agreement: Icc
    icc_consistency: Icc
    icc_because: str
    rmse: float


def agree(
    a: pd.DataFrame,
    b: pd.DataFrame,
    measure: str,
    *,
    tolerance_s: float = evidence.AGREE_TOLERANCE_S.value,
) -> Agreement:
    """Compare one measure of two tables.

    Parameters
    ----------
    a, b : DataFrame
        Strides (a column of that name, and ``start_s``), bouts (a column of that
        name, and ``bout``), or scores (columns ``measure`` and ``value``).
        ``participant``, ``session``, ``bout`` and ``side`` match where both have them.
    measure : str
    tolerance_s : float [s], optional
        Strides whose starts lie within it are partners, each at most one's.

    Returns
    -------
    Agreement

    Raises
    ------
    ColumnError
        If a table has no such measure, if it is no number, if no two rows belong together,
        or if one table names several persons or sessions and the other none.

    Notes
    -----
    1. Strides that a table marks as not kept are left out.
    2. Limits: independent pairs of persons (Bland & Altman 1986); repeats within
       persons (2007) where persons have several. Fewer than
       `AGREE_LEAST_WITHIN_DF` pairs beyond one a person tell too little of the variance
       within persons: then the first pair of each counts. With a single person they hold
       for that person only; the likeness of neighbouring strides is then allowed for
       where either table has columns ``pass`` and ``stride``. The interval of the slope,
       too, lets pairs of one person be alike (`proportional_bias`).
    3. ICC over the means of each person's bouts, so that neither strides nor bouts count
       as persons.
    4. Angles around the stride are turned by whole circles: their differences lie within
       half a circle of their mean direction, and bias and limits are those of these. A
       slope or an ICC has no meaning for them.
    """
    pairs = match(a, b, measure, tolerance_s)
    circular = is_circular(measure)
    if circular:
        first, second = as_plain_numbers(pairs.a, pairs.b)
        pairs = replace(pairs, a=first, b=second)
    differences = pairs.a - pairs.b
    limits, limits_for = _limits(differences, pairs.person, pairs.order)
    if circular and limits is not None and limits.upper.value - limits.bias.value >= HALF_DEG:
        limits = None
    agreement, consistency, because = _icc(pairs, circular=circular)
    no_slope = circular or pairs.a.size < 3
    return Agreement(
        measure, pairs.level, circular, pairs.a, pairs.b, pairs.n_only_a, pairs.n_only_b,
        *_later(pairs.later_s), pairs.shift_s,
        limits, limits_for if limits else "",
        Limit() if no_slope else proportional_bias(pairs.a, pairs.b, pairs.person, pairs.order),
        agreement, consistency, because,
        float(np.sqrt(np.mean((near(differences, 0.0) if circular else differences) ** 2))),
    )  # fmt: skip


def _later(later_s: FloatArray) -> tuple[float, float]:
    if not later_s.size:
        return math.nan, math.nan
    return float(np.median(later_s)), float(np.std(later_s))


def _limits(
    differences: FloatArray, person: IntArray, order: Neighbours | None
) -> tuple[LimitsOfAgreement | None, str]:
    n_persons = np.unique(person).size
    if differences.size < 3:
        return None, ""
    if n_persons == 1:
        limits = replace(limits_of_agreement(differences, order), n_persons=1)
        return limits, "one_person" if order is None else "one_person_in_order"
    if n_persons == differences.size:
        return limits_of_agreement(differences), "persons"
    n_repeats = differences.size - n_persons
    if n_persons > 2 and n_repeats < AGREE_LEAST_WITHIN_DF.value:
        first = np.unique(person, return_index=True)[1]
        return limits_of_agreement(differences[first]), "first_pairs"
    return repeated_limits_of_agreement(differences, person), "repeats_within_persons"


def _icc(pairs: Pairs, *, circular: bool) -> tuple[Icc, Icc, str]:
    """Return both forms over the persons' means, or why there are none."""
    least = evidence.ICC_LEAST_PARTICIPANTS.value
    none = Icc("2,1"), Icc("3,1")
    if circular:
        return *none, "angles_on_a_circle"
    if np.unique(pairs.person).size < least:
        return *none, f"fewer_than_{least}_persons"
    _, first = np.unique(pairs.unit, return_index=True)
    person = pairs.person[first]
    means = [_means(_means(values, pairs.unit), person) for values in (pairs.a, pairs.b)]
    found = intraclass_correlations(np.column_stack(means))
    return found["2,1"], found["3,1"], ""


def _means(values: FloatArray, group: IntArray) -> FloatArray:
    """Return the mean of each group, in the order of their numbers."""
    index = np.unique(group, return_inverse=True)[1]
    means: FloatArray = np.bincount(index, weights=values) / np.bincount(index)
    return means
