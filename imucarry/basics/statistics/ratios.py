"""Ratios of means on the log scale."""

from __future__ import annotations

import math

import numpy as np

from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import FloatArray
from imucarry.basics.statistics.distributions import t_quantile
from imucarry.basics.statistics.means import Interval, influence_interval, mean_of
from imucarry.basics.statistics.neighbours import Neighbours, subset, unrelated

LEVEL = INTERVAL_LEVEL.value


def paired_log_ratio(
    numerator: FloatArray,
    denominator: FloatArray,
    order: Neighbours | None = None,
) -> Interval:
    """Return ln(mean numerator / mean denominator) of the same strides with its interval.

    Parameters
    ----------
    numerator, denominator : ndarray, shape (n,)
        A stride that lacks either is left out.

    Notes
    -----
    Delta method: a stride adds a / mean(a) - b / mean(b).
    """
    order = unrelated(numerator.size) if order is None else order
    both = np.isfinite(numerator) & np.isfinite(denominator)
    top, bottom = numerator[both], denominator[both]
    if top.size == 0:
        return Interval()
    mean_top, mean_bottom = mean_of(top), mean_of(bottom)
    if mean_top <= 0.0 or mean_bottom <= 0.0:
        return Interval(n=int(top.size))
    influence = top / mean_top - bottom / mean_bottom
    value = math.log(mean_top / mean_bottom)
    return influence_interval(value, influence, subset(order, both))


def log_ratio_interval(numerator: Interval, denominator: Interval) -> Interval:
    """Return ln(numerator / denominator) of two independent means with its interval.

    Notes
    -----
    Variances of the logarithms by the delta method, (standard error / mean)^2;
    degrees of freedom by Welch and Satterthwaite.
    """
    n = min(numerator.n, denominator.n)
    if not (numerator.value > 0.0 and denominator.value > 0.0):
        return Interval(n=n)
    value = math.log(numerator.value / denominator.value)
    parts = [(mean.standard_error / mean.value) ** 2 for mean in (numerator, denominator)]
    variance = sum(parts)
    if not math.isfinite(variance):
        return Interval(value=value, n=n)
    freedom = _welch(parts, [numerator.degrees_of_freedom, denominator.degrees_of_freedom])
    reach = t_quantile(0.5 + LEVEL / 2.0, freedom) * math.sqrt(variance)
    return Interval(value, value - reach, value + reach, math.sqrt(variance), freedom, n)


def _welch(variances: list[float], freedoms: list[float]) -> float:
    """Return the Welch-Satterthwaite degrees of freedom of a sum of variances."""
    total = sum(variances)
    if total == 0.0:
        return min(freedoms)
    return total**2 / sum(v**2 / f for v, f in zip(variances, freedoms, strict=True))
