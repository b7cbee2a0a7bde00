"""Circular statistics: mean direction, resultant length, their intervals."""

from __future__ import annotations

import math

import numpy as np

from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import FloatArray
from imucarry.basics.statistics.means import Interval, influence_interval
from imucarry.basics.statistics.neighbours import Neighbours, subset, unrelated

LEVEL = INTERVAL_LEVEL.value


def circular_mean(angles_rad: FloatArray) -> float:
    """Return the mean direction [rad], in (-pi, pi]; NaN without angles."""
    if angles_rad.size == 0:
        return math.nan
    return math.atan2(float(np.sin(angles_rad).mean()), float(np.cos(angles_rad).mean()))


def resultant_length(angles_rad: FloatArray) -> float:
    """Return the mean resultant length, 0 (spread out) to 1 (all alike)."""
    if angles_rad.size == 0:
        return math.nan
    return math.hypot(float(np.sin(angles_rad).mean()), float(np.cos(angles_rad).mean()))


def circular_difference(a_rad: FloatArray, b_rad: FloatArray) -> FloatArray:
    """Return a - b [rad], wrapped to [-pi, pi)."""
    difference: FloatArray = np.mod(a_rad - b_rad + math.pi, 2.0 * math.pi) - math.pi
    return difference


def circular_interval(
    angles_rad: FloatArray, order: Neighbours | None = None, *, level: float = LEVEL
) -> Interval:
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
    angles, order = _finite(angles_rad, order)
    length = resultant_length(angles)
    if angles.size < 2 or length == 0.0:
        return Interval(value=circular_mean(angles), n=int(angles.size))
    mean = circular_mean(angles)
    linear = influence_interval(0.0, np.sin(angles - mean) / length, order, level=level)
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


def resultant_interval(
    angles_rad: FloatArray, order: Neighbours | None = None, *, level: float = LEVEL
) -> Interval:
    """Return the mean resultant length with its interval, within 0 and 1.

    A stride adds cos(angle - mean) to it.
    """
    angles, order = _finite(angles_rad, order)
    length = resultant_length(angles)
    if angles.size < 2:
        return Interval(value=length, n=int(angles.size))
    influence = np.cos(angles - circular_mean(angles))
    linear = influence_interval(length, influence, order, level=level)
    return Interval(
        length,
        max(linear.low, 0.0),
        min(linear.high, 1.0),
        linear.standard_error,
        linear.degrees_of_freedom,
        linear.n,
        linear.n_effective,
        linear.correlation,
    )


def _finite(angles_rad: FloatArray, order: Neighbours | None) -> tuple[FloatArray, Neighbours]:
    finite = np.isfinite(angles_rad)
    order = unrelated(angles_rad.size) if order is None else order
    return angles_rad[finite], subset(order, finite)
