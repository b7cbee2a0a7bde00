"""Reliability: ICC, SEM, MDC."""

from __future__ import annotations

import math
from dataclasses import dataclass

from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import FloatArray
from imucarry.basics.statistics import normal_quantile
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


def intraclass_correlations(table: FloatArray) -> dict[str, Icc]:
    """Return the six forms of the intraclass correlation with F-based intervals.

    Parameters
    ----------
    table : ndarray, shape (n, k)
        A row a subject, a column a repeat or a rater, without gaps.

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
        _ratio_form("1,1", ms, ms.within, ms.n * (ms.k - 1)),
        _two_way_random(ms),
        _ratio_form("3,1", ms, ms.error, (ms.n - 1) * (ms.k - 1)),
    ]
    found = {icc.form: icc for icc in singles}
    averages = (_stepped_up(icc, ms.k) for icc in singles)
    return found | {icc.form: icc for icc in averages}


def _ratio_form(form: str, ms: MeanSquares, error: float, df_error: int) -> Icc:
    """(BMS - error) / (BMS + (k - 1) error) and the interval of BMS / error by F."""
    value = (ms.between - error) / (ms.between + (ms.k - 1) * error)
    if error <= 0:
        return Icc(form, value)
    ratio, prob = ms.between / error, 0.5 + LEVEL / 2.0
    low = ratio / f_quantile(prob, ms.n - 1, df_error)
    high = ratio * f_quantile(prob, df_error, ms.n - 1)
    return Icc(form, value, (low - 1) / (low + ms.k - 1), (high - 1) / (high + ms.k - 1))


def _two_way_random(ms: MeanSquares) -> Icc:
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
    prob = 0.5 + LEVEL / 2.0
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
    """Return z sqrt(2) SEM: MDC95 at level 0.95, MDC90 at 0.90 (Weir 2005).

    Of persons who did not change, only that many lie within it where the SEM is known;
    of an SEM from few persons fewer do, by Student's t.
    """
    return normal_quantile(0.5 + level / 2.0) * math.sqrt(2.0) * sem
