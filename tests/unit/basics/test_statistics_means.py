"""Intervals of means, shares and slopes, and what likeness of neighbours does to them."""

from __future__ import annotations

import numpy as np
import pytest
from accuracy_intervals import autoregression, coverage_pct
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from imucarry.basics.evidence.measures import PASSES_DIFFER
from imucarry.basics.statistics import (
    Neighbours,
    mean_interval,
    neighbours,
    share_interval,
    slope_interval,
    subset,
)
from imucarry.basics.statistics.neighbours import neighbour_correlation, variance_inflation


def in_passes(*lengths: int) -> Neighbours:
    return neighbours(
        np.repeat(np.arange(len(lengths)), lengths),
        np.concatenate([np.arange(length) for length in lengths]),
    )


def pairs_by_lag(run: np.ndarray, place: np.ndarray) -> list[int]:
    """Pairs of one pass by their distance, from 1 on, counted one by one."""
    n = run.size
    apart = [
        int(place[j] - place[i]) for i in range(n) for j in range(i + 1, n) if run[i] == run[j]
    ]
    return [apart.count(lag) for lag in range(1, 1 + min(60, max(apart)))]


def test_pairs_are_counted_within_passes_only() -> None:
    run = np.repeat([1, 2, 5], [7, 1, 80])
    place = np.concatenate([[1, 2, 3, 6, 7, 8, 9], [4], np.arange(80)])
    order = neighbours(run, place)
    assert list(order.pairs) == pairs_by_lag(run, place)
    assert order.adjacent.sum() == 5 + 79
    assert not order.adjacent[[2, 6, 7]].any()


def test_subset_keeps_passes_and_places() -> None:
    order = in_passes(5, 4)
    mask = np.array([1, 1, 0, 1, 1, 1, 1, 1, 1], dtype=bool)
    fewer = subset(order, mask)
    assert fewer.adjacent.tolist() == [True, False, True, False, True, True, True]
    assert list(fewer.pairs) == pairs_by_lag(fewer.pass_number, fewer.position)


def test_without_order_it_is_the_textbook_interval() -> None:
    values = np.array([1.08, 1.11, 1.10, 1.07, 1.12, 1.09, 1.10, 1.13, 1.08, 1.10])
    found = mean_interval(values)
    expected = stats.ttest_1samp(values, 0.0).confidence_interval(0.95)
    assert found.value == pytest.approx(values.mean())
    assert (found.low, found.high) == pytest.approx((expected.low, expected.high), rel=1e-12)
    assert (found.n, found.n_effective, found.correlation) == (10, 10.0, 0.0)


def test_nan_is_left_out_and_breaks_the_run() -> None:
    values = np.array([1.0, 2.0, np.nan, 4.0, 5.0])
    found = mean_interval(values, in_passes(5))
    assert found.value == pytest.approx(3.0)
    assert found.n == 4


@pytest.mark.parametrize("size", [0, 1])
def test_too_few_values_have_no_limits(size: int) -> None:
    found = mean_interval(np.ones(size))
    assert np.isnan(found.low)
    assert np.isnan(found.high)
    assert found.n == size


def test_variance_inflation_is_that_of_the_covariance_matrix() -> None:
    order = in_passes(9, 4, 12)
    alike = order.pass_number[:, None] == order.pass_number
    lag = np.abs(order.position[:, None] - order.position)
    expected = np.where(alike, 0.4**lag, 0.0).sum() / 25
    assert variance_inflation(0.4, order) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("correlation", [0.2, 0.5])
def test_correlation_is_recovered_without_much_bias(correlation: float) -> None:
    lengths = (12, 12, 12, 12)
    order = in_passes(*lengths)
    bouts = autoregression(lengths, correlation, 1500, np.random.default_rng(5))
    found = np.mean([neighbour_correlation(b - b.mean(), order) for b in bouts])
    # Cutting negative estimates to 0 lifts the mean of small correlations a little;
    # the uncorrected estimate lies 0.06 to 0.08 too low here.
    assert found == pytest.approx(correlation, abs=0.03)


def test_likeness_across_a_turn_does_not_count() -> None:
    values = np.tile([1.0, 1.0, 1.0, -1.0, -1.0, -1.0], 10)
    joined = mean_interval(values, in_passes(60))
    apart = mean_interval(values, in_passes(*([1] * 60)))
    assert joined.correlation > 0.3
    assert apart.correlation == 0.0
    assert joined.high - joined.low > 1.3 * (apart.high - apart.low)


@pytest.mark.parametrize("n_strides", [16, 20, 40])
@pytest.mark.parametrize("correlation", [0.0, 0.3])
@pytest.mark.parametrize("length", [6, 100])
def test_interval_covers(n_strides: int, correlation: float, length: int) -> None:
    lengths = [min(length, n_strides - k) for k in range(0, n_strides, length)]
    # 2,000 bouts: two standard errors of a coverage are 1 point.
    assert 92.0 <= coverage_pct(lengths, correlation, 2000, seed=11) <= 97.0


def test_share_is_wilson_s_interval_for_many_unrelated_strides() -> None:
    holds = np.zeros(5000)
    holds[:600] = 1.0
    found = share_interval(holds)
    expected = proportion_confint(600, 5000, alpha=0.05, method="wilson")
    # t instead of the normal quantile: 5,000 degrees of freedom differ by 3e-4 of the width.
    assert (found.low, found.high) == pytest.approx(expected, abs=1e-5)


def test_a_share_of_all_or_none_still_has_an_interval() -> None:
    none, every = share_interval(np.zeros(20)), share_interval(np.ones(20))
    assert (none.low, every.high) == (0.0, 1.0)
    assert 0.1 < none.high < 0.25
    assert every.low == pytest.approx(1.0 - none.high)


def test_slope_is_least_squares() -> None:
    rng = np.random.default_rng(2)
    x = rng.uniform(0.0, 5.0, 40)
    y = 3.0 - 0.7 * x + rng.standard_normal(40)
    found, expected = slope_interval(x, y), stats.linregress(x, y)
    reach = stats.t.ppf(0.975, 38) * expected.stderr
    assert found.value == pytest.approx(expected.slope, rel=1e-10)
    assert found.high - found.value == pytest.approx(reach, rel=1e-10)


def test_slope_interval_covers_alike_strides() -> None:
    order, x = in_passes(30), np.arange(30.0)
    bouts = autoregression((30,), 0.3, 2000, np.random.default_rng(3))
    found = [slope_interval(x, bout, order) for bout in bouts]
    assert 0.91 <= np.mean([item.low <= 0.0 <= item.high for item in found]) <= 0.975


def bouts_of_lanes(lengths: tuple[int, ...], differ: float) -> np.ndarray:
    """800 bouts, shape (800, n), of strides with SD 1 whose lanes have levels of this SD."""
    rng = np.random.default_rng(8)
    lanes = rng.normal(0.0, differ, (800, len(lengths)))
    return rng.standard_normal((800, sum(lengths))) + np.repeat(lanes, lengths, axis=1)


@pytest.mark.parametrize("differ", [0.3, 0.5])
@pytest.mark.parametrize("lengths", [(6, 6, 6, 6), (10, 10, 10, 10), (12, 12), (5, 3, 12)])
def test_lanes_that_differ_cost_a_mean_the_coverage_that_the_limits_tell(
    lengths: tuple[int, ...], differ: float
) -> None:
    order = in_passes(*lengths)
    found = [mean_interval(bout, order) for bout in bouts_of_lanes(lengths, differ)]
    covered = np.mean([item.low <= 0.0 <= item.high for item in found])
    assert 0.77 <= covered <= 0.94  # 80 to 92 %; 800 bouts: two standard errors are 3 points


def slopes_of_lanes(lengths: tuple[int, ...], fade: float, differ: float) -> list[bool]:
    """Whether 800 bouts of lanes that differ by 0.4 of the strides' SD show a slope."""
    order = in_passes(*lengths)
    x = np.arange(sum(lengths)) + 4.0 * order.pass_number
    found = []
    for bout in bouts_of_lanes(lengths, 0.4):
        slope = slope_interval(x, 1.5 * bout - fade * x / x[-1], order, passes_differ=differ)
        found.append(not slope.low <= 0.0 <= slope.high)
    return found


@pytest.mark.parametrize("lengths", [(6, 6, 6, 6), (10, 10, 10, 10), (12, 12), (5, 3, 12)])
def test_lanes_that_differ_are_seldom_taken_for_a_slope(lengths: tuple[int, ...]) -> None:
    # 800 bouts: two standard errors of 5 % are 1.5 points.
    assert np.mean(slopes_of_lanes(lengths, 0.0, PASSES_DIFFER.value)) <= 0.065
    assert np.mean(slopes_of_lanes(lengths, 0.0, 0.0)) >= 0.09


@pytest.mark.parametrize("lengths", [(6, 6, 6, 6), (10, 10, 10, 10), (12, 12)])
def test_a_fall_by_half_is_still_found_over_lanes(lengths: tuple[int, ...]) -> None:
    assert np.mean(slopes_of_lanes(lengths, 5.0, PASSES_DIFFER.value)) >= 0.8


def test_one_lane_has_the_same_slope_and_interval_whether_lanes_differ_or_not() -> None:
    x, y = np.arange(30.0), np.random.default_rng(4).standard_normal(30)
    plain, lanes = (slope_interval(x, y, in_passes(30), passes_differ=k) for k in (0.0, 0.4))
    assert (lanes.low, lanes.high) == pytest.approx((plain.low, plain.high), rel=1e-12)


def test_lanes_widen_the_interval_of_a_slope_by_their_part_of_it() -> None:
    # Three values of x in each of two passes: the passes' sums of x about its mean are -6 and 6.
    x = np.array([0.0, 1.0, 2.0, 4.0, 5.0, 6.0])
    y = x + np.array([1.0, -2.0, 1.0, 1.0, -2.0, 1.0])
    order = in_passes(3, 3)
    plain, lanes = (slope_interval(x, y, order, passes_differ=k) for k in (0.0, 0.5))
    about = x - x.mean()
    residuals = y - y.mean() - plain.value * about
    variance = residuals @ residuals / 4.0
    added = 0.25 * variance * (6.0**2 + 6.0**2) / (about @ about) ** 2
    assert lanes.standard_error**2 - plain.standard_error**2 == pytest.approx(added, rel=1e-9)


def test_slope_without_spread_of_x_is_undefined() -> None:
    assert np.isnan(slope_interval(np.ones(5), np.arange(5.0)).value)
