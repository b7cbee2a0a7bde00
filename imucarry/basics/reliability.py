"""Reliability and agreement: ICC, SEM, MDC; Bland-Altman bias and limits."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence.cohort import LIMITS_Z
from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import FloatArray, IntArray
from imucarry.basics.statistics import chi2_quantile, normal_quantile, slope_interval, t_quantile
from imucarry.basics.statistics.distributions import f_quantile

LEVEL = INTERVAL_LEVEL.value
# Of the other mean squares: below it, variance between subjects is rounding.
ALIKE_FRAC = 1e-12
NAN = math.nan


@dataclass(frozen=True, slots=True)
class MeanSquares:
    """Mean squares of a two-way table of n subjects and k repeats (or raters).

    Named as in Shrout & Fleiss 1979: between subjects, within subjects, between
    judges, error.
    """

    n: int
    k: int
    between: float
    within: float
    judges: float
    error: float


@dataclass(frozen=True, slots=True)
class Icc:
    """One form of the intraclass correlation with its interval."""

    form: str
    value: float = NAN
    low: float = NAN
    high: float = NAN


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


# --- intraclass correlation ------------------------------------------------------


def mean_squares(table: FloatArray) -> MeanSquares:
    """Return the mean squares of a table without gaps.

    Parameters
    ----------
    table : ndarray, shape (n, k)
        A row a subject, a column a repeat; n and k at least 2.
    """
    n, k = table.shape
    grand = table.mean()
    rows, columns = table.mean(axis=1), table.mean(axis=0)
    within = float(((table - rows[:, None]) ** 2).sum())
    judges = float(n * ((columns - grand) ** 2).sum())
    return MeanSquares(
        n,
        k,
        float(k * ((rows - grand) ** 2).sum()) / (n - 1),
        within / (n * (k - 1)),
        judges / (k - 1),
        max(within - judges, 0.0) / ((n - 1) * (k - 1)),
    )


def intraclass_correlations(table: FloatArray, *, level: float = LEVEL) -> dict[str, Icc]:
    """Return the six forms of the intraclass correlation with F-based intervals.

    Parameters
    ----------
    table : ndarray, shape (n, k)
        A row a subject, a column a repeat or a rater, without gaps.
    level : float, optional

    Returns
    -------
    dict
        Keys "1,1", "2,1", "3,1", "1,k", "2,k", "3,k".

    Notes
    -----
    Values: Shrout & Fleiss 1979, Psychol Bull 86:420-428. Intervals: the same, and
    McGraw & Wong 1996, Psychol Methods 1:30-46 (from memory; checked against a
    general statistics library). NaN where the subjects do not differ at all.
    """
    ms = mean_squares(table)
    # Rounding leaves a trace of variance between subjects that are all alike.
    if ms.between <= ALIKE_FRAC * (ms.within + ms.judges) or ms.between <= 0:
        return {form: Icc(form) for form in ("1,1", "2,1", "3,1", "1,k", "2,k", "3,k")}
    singles = [
        _ratio_form("1,1", ms, ms.within, ms.n * (ms.k - 1), level),
        _two_way_random(ms, level),
        _ratio_form("3,1", ms, ms.error, (ms.n - 1) * (ms.k - 1), level),
    ]
    found = {icc.form: icc for icc in singles}
    averages = (_stepped_up(icc, ms.k) for icc in singles)
    return found | {icc.form: icc for icc in averages}


def _ratio_form(form: str, ms: MeanSquares, error: float, df_error: int, level: float) -> Icc:
    """(BMS - error) / (BMS + (k - 1) error) and the interval of BMS / error by F."""
    value = (ms.between - error) / (ms.between + (ms.k - 1) * error)
    if error <= 0:
        return Icc(form, value)
    ratio, prob = ms.between / error, 0.5 + level / 2.0
    low = ratio / f_quantile(prob, ms.n - 1, df_error)
    high = ratio * f_quantile(prob, df_error, ms.n - 1)
    return Icc(form, value, (low - 1) / (low + ms.k - 1), (high - 1) / (high + ms.k - 1))


def _two_way_random(ms: MeanSquares, level: float) -> Icc:
    """ICC(2,1), absolute agreement, with Satterthwaite degrees of freedom."""
    n, k = ms.n, ms.k
    value = (ms.between - ms.error) / (
        ms.between + (k - 1) * ms.error + k * (ms.judges - ms.error) / n
    )
    if ms.error <= 0:
        return Icc("2,1", value)
    share = k * value * ms.judges / ms.error
    rest = n * (1 + (k - 1) * value) - k * value
    df = (k - 1) * (n - 1) * (share + rest) ** 2 / ((n - 1) * share**2 + rest**2)
    prob = 0.5 + level / 2.0
    f_low, f_high = f_quantile(prob, n - 1, df), f_quantile(prob, df, n - 1)
    noise = k * ms.judges + (k * n - k - n) * ms.error
    low = n * (ms.between - f_low * ms.error) / (f_low * noise + n * ms.between)
    high = n * (f_high * ms.between - ms.error) / (noise + n * f_high * ms.between)
    return Icc("2,1", value, low, high)


def _stepped_up(icc: Icc, k: int) -> Icc:
    """The form for the mean of k repeats (Spearman-Brown)."""
    values = (
        # Persons alike and repeats unlike: the single form is at its least, its mean undefined.
        k * x / (1 + (k - 1) * x) if 1 + (k - 1) * x > 0 else NAN
        for x in (icc.value, icc.low, icc.high)
    )
    return Icc(icc.form.replace(",1", ",k"), *values)


# --- error of measurement -----------------------------------------------------------


def standard_error_of_measurement(table: FloatArray) -> float:
    """Return the root of the error mean square of a table of shape (n, k).

    A systematic change from repeat to repeat is not part of it (Weir 2005,
    J Strength Cond Res 19:231-240).
    """
    return math.sqrt(mean_squares(table).error)


def minimal_detectable_change(sem: float, *, level: float = LEVEL) -> float:
    """Return z sqrt(2) SEM: MDC95 at level 0.95, MDC90 at 0.90."""
    return normal_quantile(0.5 + level / 2.0) * math.sqrt(2.0) * sem


# --- Bland and Altman -----------------------------------------------------------------


def limits_of_agreement(
    differences: FloatArray, *, z: float = LIMITS_Z.value, level: float = LEVEL
) -> LimitsOfAgreement:
    """Return bias and limits of agreement of independent differences.

    Parameters
    ----------
    differences : ndarray, shape (n,)
        A - B, independent of each other, as one a person is; n at least 2.
    z : float, optional
        Limits are bias +- z SD.

    Notes
    -----
    Bland & Altman 1986, Lancet i:307-310; error of a limit
    s sqrt(1/n + z^2 / (2 (n - 1))) as in Bland & Altman 1999, Stat Methods Med Res
    8:135-160 (the paper of 1986 rounds it to s sqrt(3/n)).
    """
    n = differences.size
    bias, sd = float(differences.mean()), float(differences.std(ddof=1))
    t = t_quantile(0.5 + level / 2.0, n - 1)
    of_bias = t * sd / math.sqrt(n)
    of_limit = t * sd * math.sqrt(1.0 / n + z**2 / (2.0 * (n - 1)))
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
    level: float = LEVEL,
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
       17:571-582 (from memory, not confirmed).
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
    of_bias = t_quantile(0.5 + level / 2.0, p - 1) * math.sqrt(error2)
    below, above = _variance_reach(ms_between, ms_within, m0, p - 1, int(total) - p, level)
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
    ms_between: float, ms_within: float, m0: float, df_between: int, df_within: int, level: float
) -> tuple[float, float]:
    """How far below and above the variance of a single difference its limits lie."""
    parts = ((ms_between / m0, df_between), ((1.0 - 1.0 / m0) * ms_within, df_within))
    upper, lower = 0.5 + level / 2.0, 0.5 - level / 2.0
    below = [x * (1.0 - df / chi2_quantile(upper, df)) for x, df in parts]
    above = [x * (df / chi2_quantile(lower, df) - 1.0) for x, df in parts]
    return math.hypot(*below), math.hypot(*above)


def proportional_bias(a: FloatArray, b: FloatArray) -> Limit:
    """Return the slope of a - b on the mean of both, with its interval.

    Notes
    -----
    A slope that differs from 0 says that the difference changes with the size of the
    measure, or that one system's values spread more (Bland & Altman 1999).
    """
    slope = slope_interval((a + b) / 2.0, a - b)
    return Limit(slope.value, slope.low, slope.high)
