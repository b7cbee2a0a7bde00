"""Spreads, ratios and directions."""

from __future__ import annotations

import math

import numpy as np
import pytest
from accuracy_intervals import autoregression
from scipy import stats

from imucarry.basics.statistics import (
    Interval,
    circular_difference,
    circular_interval,
    circular_mean,
    cv_interval,
    log_ratio_interval,
    mean_interval,
    neighbours,
    paired_log_ratio,
    resultant_interval,
    robust_sd_interval,
    sd_interval,
)

ORDER = neighbours(np.repeat(np.arange(4), 6), np.tile(np.arange(6), 4))
LENGTHS = (6, 6, 6, 6)


def covered(found: list[Interval], truth: float) -> float:
    return float(np.mean([item.low <= truth <= item.high for item in found]))


def bouts(correlation: float, seed: int = 4, n_bouts: int = 1500) -> np.ndarray:
    return autoregression(LENGTHS, correlation, n_bouts, np.random.default_rng(seed))


def test_sd_of_unrelated_values_has_the_chi_square_interval() -> None:
    values = np.random.default_rng(1).normal(3.0, 2.0, 20)
    found = sd_interval(values)
    low, high = np.sqrt(19 / stats.chi2.ppf([0.975, 0.025], 19)) * values.std(ddof=1)
    assert found.value == pytest.approx(values.std(ddof=1), rel=1e-12)
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-9)


@pytest.mark.parametrize("correlation", [0.0, 0.3])
def test_spread_intervals_cover(correlation: float) -> None:
    # 1,500 bouts: two standard errors of a coverage are 1.1 points.
    strides = bouts(correlation)
    assert 0.93 <= covered([sd_interval(b, ORDER) for b in strides], 1.0) <= 0.975
    assert 0.93 <= covered([cv_interval(10 + b, ORDER) for b in strides], 0.1) <= 0.975
    assert 0.92 <= covered([robust_sd_interval(b, ORDER) for b in strides], 1.0) <= 0.975


@pytest.mark.parametrize("correlation", [0.0, 0.5])
def test_skewed_strides_cost_spreads_the_coverage_that_the_limits_tell(correlation: float) -> None:
    # 1,500 bouts: two standard errors are 2 points.
    strides = np.exp(0.5 * bouts(correlation))
    mean = math.exp(0.125)
    sd = mean * math.sqrt(math.exp(0.25) - 1.0)
    assert 0.71 <= covered([sd_interval(b, ORDER) for b in strides], sd) <= 0.87
    assert 0.84 <= covered([cv_interval(b, ORDER) for b in strides], sd / mean) <= 0.94


@pytest.mark.parametrize("correlation", [0.0, 0.3])
def test_ratio_intervals_cover(correlation: float) -> None:
    left, right = 1.0 + 0.1 * bouts(correlation, 4), 2.0 + 0.3 * bouts(correlation, 5)
    pairs = list(zip(left, right, strict=True))
    paired = [paired_log_ratio(b, a, ORDER) for a, b in pairs]
    assert 0.92 <= covered(paired, math.log(2.0)) <= 0.975
    means = [(mean_interval(a, ORDER), mean_interval(b, ORDER)) for a, b in pairs]
    assert 0.92 <= covered([log_ratio_interval(b, a) for a, b in means], math.log(2.0)) <= 0.975


def test_welch_degrees_of_freedom() -> None:
    rng = np.random.default_rng(0)
    one, other = rng.normal(5, 0.5, 12), rng.normal(9, 2.0, 30)
    found = log_ratio_interval(mean_interval(one), mean_interval(other))
    a, b = one.var(ddof=1) / 12 / one.mean() ** 2, other.var(ddof=1) / 30 / other.mean() ** 2
    assert found.degrees_of_freedom == pytest.approx((a + b) ** 2 / (a**2 / 11 + b**2 / 29))


def test_ratio_of_what_is_not_positive_is_undefined() -> None:
    zero = mean_interval(np.array([-1.0, 1.0, 0.0]))
    assert np.isnan(log_ratio_interval(mean_interval(np.array([1.0, 2.0])), zero).value)
    assert np.isnan(paired_log_ratio(np.ones(4), -np.ones(4)).value)


def test_a_cv_over_a_mean_of_zero_is_undefined() -> None:
    assert np.isnan(cv_interval(np.array([-1.0, 1.0])).value)


# --- directions --------------------------------------------------------------


@pytest.mark.parametrize("correlation", [0.0, 0.3])
@pytest.mark.parametrize("sd", [0.1, 0.5])
def test_direction_intervals_cover(correlation: float, sd: float) -> None:
    angles = 3.1 + sd * bouts(correlation)
    means = [circular_interval(b, ORDER) for b in angles]
    assert (
        0.92
        <= np.mean([abs(circular_difference(m.value, 3.1)) <= m.high - m.value for m in means])
        <= 0.975
    )
    lengths = [resultant_interval(b, ORDER) for b in angles]
    assert 0.93 <= covered(lengths, math.exp(-(sd**2) / 2.0)) <= 0.98


def test_resultant_length_of_spread_angles_covers_less_well() -> None:
    angles = 1.5 * bouts(0.0)
    share = covered([resultant_interval(b, ORDER) for b in angles], math.exp(-1.125))
    # Known: the linear interval of a short resultant covers 90 to 96 %.
    assert 0.89 <= share <= 0.98


def test_direction_does_not_depend_on_where_zero_is() -> None:
    angles = np.radians([350.0, 5.0, 12.0, 358.0, 20.0, 340.0])
    turned = circular_interval(angles + 2.0)
    plain = circular_interval(angles)
    assert circular_difference(turned.value, plain.value) == pytest.approx(2.0)
    assert turned.high - turned.value == pytest.approx(plain.high - plain.value)


def test_directions_all_round_have_no_limits() -> None:
    found = circular_interval(np.arange(12) * 2.0 * np.pi / 12 + 1e-3 * np.arange(12))
    assert np.isnan(found.low)
    assert np.isnan(circular_mean(np.empty(0)))


def test_difference_is_wrapped() -> None:
    found = np.degrees(circular_difference(np.radians([350.0, 10.0]), np.radians([10.0, 350.0])))
    assert found == pytest.approx([-20.0, 20.0])


def test_limits_of_a_long_resultant_allow_for_likeness() -> None:
    angles = 0.1 * bouts(0.7, n_bouts=200)
    alone = [resultant_interval(b) for b in angles]
    allowed = [resultant_interval(b, ORDER) for b in angles]
    widths = [np.mean([found.high - found.low for found in item]) for item in (alone, allowed)]
    # Squares of neighbours correlate by 0.49: of 24 values hardly more than half count.
    assert widths[1] > 1.2 * widths[0]


def test_equal_angles_have_a_resultant_of_one() -> None:
    found = resultant_interval(np.full(12, 0.3))
    assert (found.low, found.value, found.high) == (1.0, 1.0, 1.0)
