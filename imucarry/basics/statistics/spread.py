"""Spread: standard deviation, coefficient of variation, robust spread."""

from __future__ import annotations

import math

import numpy as np

from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import FloatArray
from imucarry.basics.statistics.distributions import chi2_quantile, t_quantile
from imucarry.basics.statistics.means import Interval, mean_of, scaled
from imucarry.basics.statistics.neighbours import (
    Neighbours,
    effective_freedom,
    finite_only,
    neighbour_correlation,
    variance_inflation,
)

LEVEL = INTERVAL_LEVEL.value
# The median absolute deviation of a normal sample times this is its standard deviation.
MAD_TO_SD = 1.4826
# Asymptotic standard error of ln(MAD) of normal data, times the square root of n.
MAD_LOG_ERROR = 1.1664


def sd_interval(values: FloatArray, order: Neighbours | None = None) -> Interval:
    """Return the standard deviation (n - 1) with its chi-square interval.

    Notes
    -----
    The value is the plain sample standard deviation. The degrees of freedom of the
    interval are n / V - 1; V as for a mean but with the squared correlation, for that
    is the correlation of the squared deviations in a normal autoregression.
    The interval leans on normal values: of skewed ones (lognormal, log SD 0.5) it holds the
    true value in 73 to 85 % of bouts (simulated, 10 to 40 strides).
    """
    kept, order = finite_only(values, order)
    if kept.size < 2:
        return Interval(n=int(kept.size))
    deviations = kept - mean_of(kept)
    sd = math.sqrt(float(deviations @ deviations) / (kept.size - 1))
    correlation = neighbour_correlation(deviations, order)
    inflation = variance_inflation(correlation**2, order)
    n_effective = kept.size / inflation
    freedom = effective_freedom(int(kept.size), inflation)
    low = sd * math.sqrt(freedom / chi2_quantile(0.5 + LEVEL / 2.0, freedom))
    high = sd * math.sqrt(freedom / chi2_quantile(0.5 - LEVEL / 2.0, freedom))
    error = sd / math.sqrt(2.0 * freedom)
    return Interval(sd, low, high, error, freedom, int(kept.size), n_effective, correlation)


def cv_interval(values: FloatArray, order: Neighbours | None = None) -> Interval:
    """Return the coefficient of variation as a fraction, small-sample corrected.

    Notes
    -----
    ``(1 + 1 / (4 n)) SD / mean`` (Sokal & Rohlf 1995, Biometry; the factor from memory,
    not confirmed). The interval is that of the standard deviation over the mean: the
    error of the mean adds less than 1 % to it while the CV is below 15 %.
    It leans on normal values as that does: 86 to 94 % of bouts of such skewed ones.
    """
    spread = sd_interval(values, order)
    kept = values[np.isfinite(values)]
    mean = mean_of(kept) if kept.size else math.nan
    if not mean > 0.0 or spread.n < 2:
        return Interval(n=spread.n)
    factor = (1.0 + 1.0 / (4.0 * spread.n)) / mean
    return scaled(spread, factor)


def robust_sd(values: FloatArray) -> float:
    """Return 1.4826 times the median absolute deviation from the median."""
    return MAD_TO_SD * float(np.median(np.abs(values - np.median(values))))


def robust_sd_interval(values: FloatArray, order: Neighbours | None = None) -> Interval:
    """Return the robust standard deviation with an interval on the log scale.

    The interval uses the large-sample error for normal data and the effective number
    of values of `sd_interval`.
    """
    plain = sd_interval(values, order)
    if plain.n < 2:
        return Interval(n=plain.n)
    value = robust_sd(values[np.isfinite(values)])
    error = MAD_LOG_ERROR / math.sqrt(plain.n_effective)
    reach = math.exp(t_quantile(0.5 + LEVEL / 2.0, plain.degrees_of_freedom) * error)
    return Interval(
        value,
        value / reach,
        value * reach,
        value * error,
        plain.degrees_of_freedom,
        plain.n,
        plain.n_effective,
        plain.correlation,
    )
