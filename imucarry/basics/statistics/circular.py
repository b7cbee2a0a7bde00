"""Circular statistics: mean direction, resultant length, their intervals."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from imucarry.basics.evidence.measures import CLOSE_TOGETHER, INTERVAL_LEVEL
from imucarry.basics.records import FloatArray
from imucarry.basics.statistics.distributions import chi2_quantile
from imucarry.basics.statistics.means import Interval, influence_interval, mean_of
from imucarry.basics.statistics.neighbours import (
    Neighbours,
    effective_freedom,
    finite_only,
    neighbour_correlation,
    variance_inflation,
)

LEVEL = INTERVAL_LEVEL.value


def circular_mean(angles_rad: FloatArray) -> float:
    """Return the mean direction [rad], in (-pi, pi]; NaN without angles."""
    if angles_rad.size == 0:
        return math.nan
    return math.atan2(mean_of(np.sin(angles_rad)), mean_of(np.cos(angles_rad)))


def resultant_length(angles_rad: FloatArray) -> float:
    """Return the mean resultant length, 0 (spread out) to 1 (all alike)."""
    if angles_rad.size == 0:
        return math.nan
    # Rounding may leave equal angles with a hair more than 1.
    return min(math.hypot(mean_of(np.sin(angles_rad)), mean_of(np.cos(angles_rad))), 1.0)


def circular_difference(a_rad: FloatArray, b_rad: FloatArray) -> FloatArray:
    """Return a - b [rad], wrapped to [-pi, pi)."""
    difference: FloatArray = np.mod(a_rad - b_rad + math.pi, 2.0 * math.pi) - math.pi
    return difference


def circular_interval(angles_rad: FloatArray, order: Neighbours | None = None) -> Interval:
    """Return the mean direction [rad] with its interval.

    Parameters
    ----------
    angles_rad : ndarray, shape (n,) [rad]
        NaN is left out.

    Notes
    -----
    The circular standard error is that of the mean of sin(angle - mean) over the
    resultant length; the limits are mean +- asin(t error) (Fisher 1993, Statistical
    Analysis of Circular Data, section 4.4; from memory, not confirmed), and NaN when
    that is undefined, for the direction is then anywhere. The limits are not wrapped:
    low <= value <= high.
    """
    angles, order = finite_only(angles_rad, order)
    length = resultant_length(angles)
    if angles.size < 2 or length == 0.0:
        return Interval(value=circular_mean(angles), n=int(angles.size))
    mean = circular_mean(angles)
    linear = influence_interval(0.0, np.sin(angles - mean) / length, order)
    reach = math.asin(linear.high) if linear.high < 1.0 else math.nan
    return Interval(
        mean,
        mean - reach,
        mean + reach,
        linear.standard_error,
        linear.degrees_of_freedom,
        linear.n,
        linear.n_effective,
        linear.correlation,
    )


def resultant_interval(angles_rad: FloatArray, order: Neighbours | None = None) -> Interval:
    """Return the mean resultant length with its interval, within 0 and 1.

    Notes
    -----
    Angles that lie close together: n (1 - R) is about chi-square as a variance is, with
    n - 1 degrees of freedom (Mardia & Jupp 2000, Directional Statistics, section 4.8; from
    memory, not confirmed); fewer where neighbours are alike, as in `sd_interval`. Angles
    that are spread out: the linear part, to which a stride adds cos(angle - mean).
    """
    angles, order = finite_only(angles_rad, order)
    length = resultant_length(angles)
    if angles.size < 2:
        return Interval(value=length, n=int(angles.size))
    away = angles - circular_mean(angles)
    linear = influence_interval(length, np.cos(away), order)
    low, high = linear.low, linear.high
    if length >= CLOSE_TOGETHER.value:
        low, high = _close_limits(np.sin(away), length, order)
    return replace(linear, low=min(max(low, 0.0), length), high=max(min(high, 1.0), length))


def _close_limits(sines: FloatArray, length: float, order: Neighbours) -> tuple[float, float]:
    """Return the limits of the resultant length of angles that lie close together."""
    n = sines.size
    correlation = neighbour_correlation(sines - mean_of(sines), order)
    freedom = effective_freedom(n, variance_inflation(correlation**2, order))
    spread = (1.0 - length) * n / (n - 1) * freedom
    tail = 0.5 - LEVEL / 2.0
    return (
        1.0 - spread / chi2_quantile(tail, freedom),
        1.0 - spread / chi2_quantile(1.0 - tail, freedom),
    )
