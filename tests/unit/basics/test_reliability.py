"""Reliability and agreement where no published table stands: known answers and coverage."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.limits_of_agreement import (
    limits_of_agreement,
    proportional_bias,
    repeated_limits_of_agreement,
)
from imucarry.basics.reliability import mean_squares


def test_mean_squares_of_a_table_by_hand() -> None:
    """Rows (1, 3), (5, 7): subjects 32/2... between 2 * 8 / 1, within 4 / 2, judges 4, error 0."""
    ms = mean_squares(np.array([[1.0, 3.0], [5.0, 7.0]]))
    assert (ms.between, ms.within, ms.judges, ms.error) == pytest.approx((16.0, 2.0, 4.0, 0.0))


def test_repeated_limits_with_one_pair_a_person_but_one_are_near_the_plain_ones() -> None:
    rng = np.random.default_rng(4)
    differences = rng.normal(1.0, 2.0, 400)
    person = np.arange(400)
    person[1] = 0
    plain = limits_of_agreement(differences)
    repeated = repeated_limits_of_agreement(differences, person)
    assert repeated.bias.value == pytest.approx(plain.bias.value)
    assert repeated.sd == pytest.approx(plain.sd, rel=0.02)


def test_repeated_limits_add_the_variances_within_and_between_persons() -> None:
    """True SD of one difference: sqrt(3^2 + 4^2) = 5; the plain SD of few persons is not it."""
    rng = np.random.default_rng(5)
    person = np.repeat(np.arange(400), 5)
    differences = 2.0 + rng.normal(0, 3.0, 400)[person] + rng.normal(0, 4.0, 2000)
    found = repeated_limits_of_agreement(differences, person)
    assert found.sd == pytest.approx(5.0, rel=0.04)
    assert found.upper.value == pytest.approx(2.0 + 1.96 * 5.0, abs=0.5)
    assert (found.n_pairs, found.n_persons) == (2000, 400)


@pytest.mark.parametrize("sd_between", [0.5, 3.0])
def test_intervals_of_repeated_limits_hold_the_truth(sd_between: float) -> None:
    rng = np.random.default_rng(6)
    person = np.repeat(np.arange(15), rng.integers(3, 12, 15))
    truth = 1.96 * np.hypot(sd_between, 2.0)
    hits = []
    for _ in range(600):
        offsets = rng.normal(0, sd_between, 15)
        differences = offsets[person] + rng.normal(0, 2.0, person.size)
        found = repeated_limits_of_agreement(differences, person)
        hits.append(found.upper.low <= truth <= found.upper.high)
    # Approximate intervals; 600 runs put a nominal 95 % within +- 1.8 points.
    assert 92.0 <= 100.0 * np.mean(hits) <= 98.5


def test_intervals_of_plain_limits_hold_the_truth() -> None:
    rng = np.random.default_rng(7)
    found = [limits_of_agreement(rng.normal(0, 1, 20)) for _ in range(600)]
    hits = [item.upper.low <= 1.959964 <= item.upper.high for item in found]
    assert 92.0 <= 100.0 * np.mean(hits) <= 97.5


def test_proportional_bias_is_the_slope_on_the_mean() -> None:
    size, alone = np.linspace(10.0, 50.0, 40), np.arange(40)
    wiggle = np.tile([0.1, -0.1, -0.1, 0.1], 10)
    slope = proportional_bias(1.1 * size + wiggle, 0.9 * size, alone)
    assert slope.value == pytest.approx(0.2, abs=0.005)
    assert slope.low > 0.15
    none = proportional_bias(size + wiggle, size, alone)
    assert none.low < 0.0 < none.high


@pytest.mark.parametrize("n_persons", [5, 10, 20])
def test_a_bias_of_each_persons_own_is_no_slope(n_persons: int) -> None:
    """Each person has a constant bias; as if pairs were independent, 8 of 10 intervals miss 0."""
    rng = np.random.default_rng(8)
    person = np.repeat(np.arange(n_persons), 60)
    hits = []
    for _ in range(400):
        truth = rng.normal(8, 2, n_persons)[person] + rng.normal(0, 0.8, person.size)
        a = truth + rng.normal(0, 0.3, n_persons)[person] + rng.normal(0, 0.1, person.size)
        slope = proportional_bias(a, truth + rng.normal(0, 0.1, person.size), person)
        hits.append(slope.low <= 0.0 <= slope.high)
    # 400 runs put a nominal 95 % within +- 2.2 points; the jackknife is rather too wide.
    assert 92.0 <= 100.0 * np.mean(hits) <= 99.0


def test_a_slope_that_persons_share_is_found() -> None:
    rng = np.random.default_rng(9)
    person = np.repeat(np.arange(10), 30)
    truth = rng.normal(8, 2, 10)[person] + rng.normal(0, 0.8, 300)
    slope = proportional_bias(1.2 * truth + rng.normal(0, 0.1, 300), truth, person)
    # 1.2 t - t on 1.1 t.
    assert slope.low < 0.2 / 1.1 < slope.high
    assert slope.low > 0.17
