"""Agreement of two tables: of strides matched by time, or of bouts matched by name."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import FloatArray, IntArray
from imucarry.basics.reliability import (
    Icc,
    Limit,
    LimitsOfAgreement,
    intraclass_correlations,
    limits_of_agreement,
    proportional_bias,
    repeated_limits_of_agreement,
)
from imucarry.carry.matching import Pairs, match


@dataclass(frozen=True, slots=True)
class Agreement:
    """How far two systems agree on one measure; differences are A - B.

    Attributes
    ----------
    measure : str
    level : str
        "stride" or "bout".
    a, b : ndarray, shape (n,)
        The pairs.
    n_only_a, n_only_b : int
        Rows without a partner.
    later_s, later_sd_s : float [s]
        By how much strides begin later in B: median and standard deviation; NaN of bouts.
    limits : LimitsOfAgreement or None
        None with fewer than 3 pairs.
    limits_for : str
        "one_person" (repeats of a single person), "persons" (one pair each), or
        "repeats_within_persons".
    proportional : Limit
        Slope of the difference on the mean of both.
    icc_agreement, icc_consistency : Icc
        ICC(2,1) and ICC(3,1); of strides the means of each bout.
    icc_because : str
        Why there is none.
    rmse : float
    """

    measure: str
    level: str
    a: FloatArray
    b: FloatArray
    n_only_a: int
    n_only_b: int
    later_s: float
    later_sd_s: float
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
       persons (2007) where any person has two pairs or more. With a single person
       they hold for that person only.
    3. ICC over the means of person and bout, so that strides do not count as persons.
    """
    pairs = match(a, b, measure, tolerance_s)
    differences = pairs.a - pairs.b
    limits, limits_for = _limits(differences, pairs.person)
    agreement, consistency, because = _icc(pairs)
    nothing = pairs.a.size < 3
    return Agreement(
        measure, pairs.level, pairs.a, pairs.b, pairs.n_only_a, pairs.n_only_b,
        *_later(pairs.later_s),
        None if nothing else limits, limits_for,
        Limit() if nothing else proportional_bias(pairs.a, pairs.b),
        agreement, consistency, because,
        float(np.sqrt(np.mean(differences**2))),
    )  # fmt: skip


def _later(later_s: FloatArray) -> tuple[float, float]:
    if not later_s.size:
        return math.nan, math.nan
    return float(np.median(later_s)), float(np.std(later_s))


def _limits(differences: FloatArray, person: IntArray) -> tuple[LimitsOfAgreement | None, str]:
    n_persons = np.unique(person).size
    if differences.size < 3:
        return None, ""
    if n_persons == 1:
        return replace(limits_of_agreement(differences), n_persons=1), "one_person"
    if n_persons == differences.size:
        return limits_of_agreement(differences), "persons"
    return repeated_limits_of_agreement(differences, person), "repeats_within_persons"


def _icc(pairs: Pairs) -> tuple[Icc, Icc, str]:
    least = evidence.ICC_LEAST_PARTICIPANTS.value
    counts = np.bincount(pairs.unit) if pairs.unit.size else np.empty(0)
    if counts.size < least:
        units = "bouts" if pairs.level == "stride" else "pairs"
        return Icc("2,1"), Icc("3,1"), f"fewer_than_{least}_{units}"
    means = [np.bincount(pairs.unit, weights=values) / counts for values in (pairs.a, pairs.b)]
    found = intraclass_correlations(np.column_stack(means))
    return found["2,1"], found["3,1"], ""
