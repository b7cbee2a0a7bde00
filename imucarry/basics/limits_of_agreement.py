"""Bland and Altman: bias, limits of agreement and proportional bias, with their intervals."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence.cohort import LIMITS_Z
from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import FloatArray, IntArray
from imucarry.basics.statistics import (
    Neighbours,
    chi2_quantile,
    clustered_slope,
    mean_interval,
    sd_interval,
    slope_interval,
    t_quantile,
)

LEVEL = INTERVAL_LEVEL.value
NAN = math.nan


@dataclass(frozen=True, slots=True)
class Limit:
    """A number with its 95 % interval."""

    value: float = NAN
    low: float = NAN
    high: float = NAN


@dataclass(frozen=True, slots=True)
class LimitsOfAgreement:
    """Bias and 95 % limits of agreement of A - B, each with an interval.

    ``sd`` is that of the differences; with repeats within persons that of a single
    difference of any person.
    """

    n_pairs: int
    n_persons: int
    bias: Limit
    sd: float
    lower: Limit
    upper: Limit


def limits_of_agreement(
    differences: FloatArray,
    order: Neighbours | None = None,
    *,
    z: float = LIMITS_Z.value,
) -> LimitsOfAgreement:
    """Return bias and limits of agreement of differences of one kind.

    Parameters
    ----------
    differences : ndarray, shape (n,)
        A - B; n at least 2.
    order : Neighbours, optional
        Which follow each other, as strides do; without it they are independent, as one
        a person is.
    z : float, optional
        Limits are bias +- z SD.

    Notes
    -----
    Bland & Altman 1986, Lancet i:307-310; error of a limit
    s sqrt(1/n + z^2 / (2 (n - 1))) as in Bland & Altman 1999, Stat Methods Med Res
    8:135-160 (the paper of 1986 rounds it to s sqrt(3/n)). Likeness of neighbours
    raises s, the error of the bias and that of s as in `mean_interval` and `sd_interval`.
    """
    n = differences.size
    mean = mean_interval(differences, order)
    bias, sd = mean.value, mean.standard_error * math.sqrt(mean.n_effective)
    t = t_quantile(0.5 + LEVEL / 2.0, mean.degrees_of_freedom)
    of_bias = t * mean.standard_error
    df = sd_interval(differences, order).degrees_of_freedom
    of_limit = t * math.hypot(mean.standard_error, z * sd / math.sqrt(2.0 * df))
    low, high = bias - z * sd, bias + z * sd
    return LimitsOfAgreement(
        n,
        n,
        Limit(bias, bias - of_bias, bias + of_bias),
        sd,
        Limit(low, low - of_limit, low + of_limit),
        Limit(high, high - of_limit, high + of_limit),
    )


def repeated_limits_of_agreement(
    differences: FloatArray,
    person: IntArray,
    *,
    z: float = LIMITS_Z.value,
) -> LimitsOfAgreement:
    """Return bias and limits for repeated pairs within persons whose true value varies.

    Parameters
    ----------
    differences : ndarray, shape (n,)
    person : ndarray of int, shape (n,)
        Whose pair it is; at least 2 persons, at least one with 2 pairs.

    Notes
    -----
    1. One-way analysis of variance of the differences by person; variance of a
       single difference = within + (between - within) / m0 with
       m0 = (N^2 - sum m_i^2) / ((p - 1) N): Bland & Altman 2007, J Biopharm Stat
       17:571-582 (its worked example is a test).
    2. Intervals of the limits by recovering variance estimates from the intervals of
       the two mean squares: Zou 2013, Stat Methods Med Res 22:630-642 (from memory,
       not confirmed; its coverage is tested).
    """
    _, index = np.unique(person, return_inverse=True)
    m = np.bincount(index).astype(np.float64)
    p, total = m.size, float(m.sum())
    means = np.bincount(index, weights=differences) / m
    bias = float(differences.mean())
    ms_within = float(((differences - means[index]) ** 2).sum()) / (total - p)
    ms_between = float((m * (means - bias) ** 2).sum()) / (p - 1)
    m0 = (total**2 - float((m**2).sum())) / ((p - 1) * total)
    var_between = max((ms_between - ms_within) / m0, 0.0)
    sd = math.sqrt(var_between + ms_within)
    error2 = var_between * float((m**2).sum()) / total**2 + ms_within / total
    of_bias = t_quantile(0.5 + LEVEL / 2.0, p - 1) * math.sqrt(error2)
    below, above = _variance_reach(ms_between, ms_within, m0, p - 1, int(total) - p)
    sd_low = math.sqrt(max(sd**2 - below, 0.0))
    sd_high = math.sqrt(sd**2 + above)
    inner = math.hypot(of_bias, z * (sd - sd_low))
    outer = math.hypot(of_bias, z * (sd_high - sd))
    low, high = bias - z * sd, bias + z * sd
    return LimitsOfAgreement(
        int(total),
        p,
        Limit(bias, bias - of_bias, bias + of_bias),
        sd,
        Limit(low, low - outer, low + inner),
        Limit(high, high - inner, high + outer),
    )


def _variance_reach(
    ms_between: float, ms_within: float, m0: float, df_between: int, df_within: int
) -> tuple[float, float]:
    """How far below and above the variance of a single difference its limits lie."""
    parts = ((ms_between / m0, df_between), ((1.0 - 1.0 / m0) * ms_within, df_within))
    upper, lower = 0.5 + LEVEL / 2.0, 0.5 - LEVEL / 2.0
    below = [x * (1.0 - df / chi2_quantile(upper, df)) for x, df in parts]
    above = [x * (df / chi2_quantile(lower, df) - 1.0) for x, df in parts]
    return math.hypot(*below), math.hypot(*above)


def proportional_bias(
    a: FloatArray, b: FloatArray, person: IntArray, order: Neighbours | None = None
) -> Limit:
    """Return the slope of a - b on the mean of both, with its interval.

    Parameters
    ----------
    a, b : ndarray, shape (n,)
    person : ndarray of int, shape (n,)
        Whose pair it is: with several pairs of several persons the interval lets those
        of one person be alike (`clustered_slope`).
    order : Neighbours, optional
        Of pairs of a single person, or of one each: which follow each other; without it
        they are independent.

    Notes
    -----
    A slope that differs from 0 says that the difference changes with the size of the
    measure, or that one system's values spread more (Bland & Altman 1999).
    """
    mean, difference = (a + b) / 2.0, a - b
    repeated = 1 < np.unique(person).size < a.size
    slope = (
        clustered_slope(mean, difference, person)
        if repeated
        else slope_interval(mean, difference, order)
    )
    return Limit(slope.value, slope.low, slope.high)
