"""Means, shares and slopes with intervals that allow for likeness of neighbours."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.evidence.measures import INTERVAL_LEVEL, LEAST_VARIANCE_KEPT_FRAC
from imucarry.basics.records import FloatArray
from imucarry.basics.statistics.distributions import t_quantile
from imucarry.basics.statistics.neighbours import (
    Neighbours,
    effective_freedom,
    neighbour_correlation,
    subset,
    unrelated,
    variance_inflation,
)

LEVEL = INTERVAL_LEVEL.value


@dataclass(frozen=True, slots=True)
class Interval:
    """A value with its interval and what it rests on; all NaN where it is undefined.

    ``n_effective`` is the number of independent values that would be worth as much.
    """

    value: float = math.nan
    low: float = math.nan
    high: float = math.nan
    standard_error: float = math.nan
    degrees_of_freedom: float = math.nan
    n: int = 0
    n_effective: float = math.nan
    correlation: float = math.nan


def scaled(interval: Interval, factor: float) -> Interval:
    """Return an interval in another unit; a negative factor swaps its limits."""
    low, high = interval.low * factor, interval.high * factor
    return replace(
        interval,
        value=interval.value * factor,
        low=min(low, high) if factor < 0 else low,
        high=max(low, high) if factor < 0 else high,
        standard_error=interval.standard_error * abs(factor),
    )


def mean_of(values: FloatArray) -> float:
    """Return the mean of one or more values, as `ndarray.mean` does but sooner for few."""
    return float(np.add.reduce(values)) / values.size


def mean_interval(values: FloatArray, order: Neighbours | None = None) -> Interval:
    """Return the mean of a bout's strides with its interval.

    Parameters
    ----------
    values : ndarray, shape (n,)
        NaN is left out.
    order : Neighbours, optional
        Which values follow each other; without it none does.

    Notes
    -----
    The estimand is the person's long-run mean in the condition of this bout.

    1. Correlation of neighbours r, bias-corrected (`neighbour_correlation`).
    2. Variance of the mean: s^2 V / n with V from r and the lengths of the passes,
       s^2 freed of what the likeness takes from it: s^2 / (1 - (V - 1) / (n - 1)).
    3. Student's t with n / V - 1 degrees of freedom, 3 at the least of so many values.
    """
    order = unrelated(values.size) if order is None else order
    finite = np.isfinite(values)
    kept = values[finite]
    if kept.size < 2:
        return mean_only(kept)
    mean = mean_of(kept)
    return influence_interval(mean, kept - mean, subset(order, finite))


def mean_only(values: FloatArray) -> Interval:
    """Return a mean without an interval (NaN without values)."""
    mean = mean_of(values) if values.size else math.nan
    return Interval(value=mean, n=int(values.size))


def influence_interval(value: float, influence: FloatArray, order: Neighbours) -> Interval:
    """Return the interval of an estimate from what each stride adds to it.

    Parameters
    ----------
    influence : ndarray, shape (n,)
        What each stride adds to the estimate, as if the estimate were their mean
        (the linear part of it: the delta method); for a mean, value less mean.

    Notes
    -----
    Steps 1 to 3 of `mean_interval`.
    """
    n = influence.size
    if n < 2:
        return Interval(value=value, n=n)
    deviations = influence - mean_of(influence)
    correlation = neighbour_correlation(deviations, order)
    inflation = variance_inflation(correlation, order)
    kept_frac = max(1.0 - (inflation - 1.0) / (n - 1), LEAST_VARIANCE_KEPT_FRAC.value)
    variance = float(deviations @ deviations) / (n - 1) / kept_frac
    error = math.sqrt(variance * inflation / n)
    freedom = effective_freedom(n, inflation)
    reach = t_quantile(0.5 + LEVEL / 2.0, freedom) * error
    return Interval(
        value, value - reach, value + reach, error, freedom, n, n / inflation, correlation
    )


def share_interval(holds: FloatArray, order: Neighbours | None = None) -> Interval:
    """Return the share of strides for which something holds, with a Wilson interval.

    Parameters
    ----------
    holds : ndarray, shape (n,)
        1.0 where it holds, 0.0 where not, NaN where unknown.

    Notes
    -----
    Wilson 1927 (J Am Stat Assoc 22:209-212; from memory, not confirmed) with the
    effective number of strides and a t quantile.
    """
    plain = mean_interval(holds, order)
    if plain.n < 2:
        return plain
    n, share = plain.n_effective, plain.value
    t2 = t_quantile(0.5 + LEVEL / 2.0, plain.degrees_of_freedom) ** 2
    centre = (share + t2 / (2.0 * n)) / (1.0 + t2 / n)
    half = math.sqrt(t2) / (1.0 + t2 / n) * math.sqrt(share * (1 - share) / n + t2 / (4 * n * n))
    return Interval(
        share,
        max(centre - half, 0.0),
        min(centre + half, 1.0),
        plain.standard_error,
        plain.degrees_of_freedom,
        plain.n,
        n,
        plain.correlation,
    )


def slope_interval(
    x: FloatArray,
    y: FloatArray,
    order: Neighbours | None = None,
    *,
    passes_differ: float = 0.0,
) -> Interval:
    """Return the least-squares slope of y on x with its interval.

    Parameters
    ----------
    x, y : ndarray, shape (n,)
        NaN is left out.
    order : Neighbours, optional
        Which values follow each other; without it none does.
    passes_differ : float, optional
        Standard deviation of whole passes about the line, as a share of that of the
        values. The levels of few passes can look like a slope: their variance is added
        to that of the slope. With one pass nothing is added.

    Notes
    -----
    The likeness of neighbouring residuals inflates the variance as it does that of
    a mean; n / V - 2 degrees of freedom.
    """
    order = unrelated(x.size) if order is None else order
    finite = np.isfinite(x) & np.isfinite(y)
    order, x, y = subset(order, finite), x[finite], y[finite]
    if x.size < 3 or np.ptp(x) == 0.0:
        return Interval(n=int(x.size))
    centred = x - mean_of(x)
    slope = float(centred @ y / (centred @ centred))
    residuals = y - mean_of(y) - slope * centred
    correlation = neighbour_correlation(residuals, order)
    inflation = variance_inflation(correlation, order)
    freedom = effective_freedom(int(x.size), inflation, 2)
    error = math.hypot(
        _slope_error(residuals, centred, inflation),
        passes_differ * _slope_error_of_passes(residuals, centred, order),
    )
    reach = t_quantile(0.5 + LEVEL / 2.0, freedom) * error
    return Interval(
        slope,
        slope - reach,
        slope + reach,
        error,
        freedom,
        int(x.size),
        x.size / inflation,
        correlation,
    )


def _slope_error(residuals: FloatArray, centred: FloatArray, inflation: float) -> float:
    """Return the standard error of a slope, the residuals' likeness allowed for."""
    n = residuals.size
    kept_frac = max(1.0 - 2.0 * (inflation - 1.0) / (n - 2), LEAST_VARIANCE_KEPT_FRAC.value)
    variance = float(residuals @ residuals) / (n - 2) / kept_frac
    return math.sqrt(variance * inflation / float(centred @ centred))


def _slope_error_of_passes(residuals: FloatArray, centred: FloatArray, order: Neighbours) -> float:
    """Return the error of a slope if each pass had a level that varies as one value does."""
    of_pass = np.unique(order.pass_number, return_inverse=True)[1]
    sums = np.bincount(of_pass, weights=centred)
    spread = math.sqrt(float(residuals @ residuals) / (residuals.size - 2))
    return spread * math.sqrt(float(sums @ sums)) / float(centred @ centred)
