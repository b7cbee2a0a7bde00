"""Spread with the load on elastic against the same load hung still."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from accuracy_findings import stride_bout

from imucarry.basics.records import BoutData, BoutRow, Estimate, StrideYaw
from imucarry.carry.perturbed import path_deviations, spread_scores


def bout(
    name: str,
    sd_rad: float,
    seed: int,
    *,
    perturbed: str = "none",
    n: int = 40,
    load_kg: float = 8.0,
) -> BoutData:
    """A bout whose yaw paths scatter about one curve by a given SD."""
    row = BoutRow(name, 0.0, 1.0, hold="suitcase", loaded_side="right", load_kg=load_kg,
                  perturbed=perturbed)  # fmt: skip
    data, _ = stride_bout(row, 0, np.full(n, 8.0))
    rng = np.random.default_rng(seed)
    angle = np.linspace(0, 2 * np.pi, 101)
    tilt = rng.normal(0, sd_rad, (n, 2))
    curves = 0.07 * np.sin(angle) + tilt[:, :1] * np.sin(angle) + tilt[:, 1:] * np.cos(angle)
    nothing = np.zeros(n)
    yaw = StrideYaw(*[nothing] * 9, curves)
    return replace(data, yaw=yaw)


def ratio(*bouts: BoutData, index: int = 0) -> Estimate:
    return spread_scores(bouts, index)[0].estimate


def test_twice_the_spread_is_found() -> None:
    found = ratio(bout("e", 0.02, 1, perturbed="elastic"), bout("s", 0.01, 2))
    assert found.value == pytest.approx(2.0, rel=0.25)
    assert found.ci_low > 1.0


def test_repeats_are_pooled_and_narrow_the_interval() -> None:
    one = ratio(bout("e", 0.02, 1, perturbed="elastic"), bout("s", 0.01, 2))
    more = ratio(
        bout("e", 0.02, 1, perturbed="elastic"), bout("s", 0.01, 2),
        bout("e2", 0.02, 3, perturbed="elastic"), bout("s2", 0.01, 4),
    )  # fmt: skip
    assert more.ci_high - more.ci_low < one.ci_high - one.ci_low


def test_equal_spread_is_left_unclear_as_often_as_the_interval_says() -> None:
    outside = 0
    for seed in range(200):
        found = ratio(bout("e", 0.01, 2 * seed, perturbed="elastic"), bout("s", 0.01, 2 * seed + 1))
        outside += not found.ci_low <= 1.0 <= found.ci_high
    # A 95 % interval: 200 runs put 5 % within +- 3 points; mean squares are skewed.
    assert outside <= 18


def test_only_the_same_hold_side_and_load_are_compared() -> None:
    found = ratio(bout("e", 0.02, 1, perturbed="elastic"), bout("s", 0.01, 2, load_kg=12.0))
    assert found.missing_because == "no_unperturbed_bout"


def test_few_strides_say_nothing() -> None:
    found = ratio(bout("e", 0.02, 1, perturbed="elastic", n=8), bout("s", 0.01, 2))
    assert found.missing_because == "too_few_strides"


def test_unperturbed_bouts_have_no_ratio() -> None:
    assert spread_scores([bout("s", 0.01, 2)], 0) == ()


def test_deviations_leave_the_drift_from_pass_to_pass_out() -> None:
    data = bout("s", 0.0, 1, n=20)
    assert data.yaw is not None
    steps = data.yaw.curve_rad + data.strides.pass_number[:, None]
    found = path_deviations(steps, data.strides, data.strides.kept_yaw)
    assert found.square_rad2.size == 20
    np.testing.assert_allclose(found.square_rad2, 0.0, atol=1e-20)


def test_deviations_average_to_the_variance() -> None:
    rng = np.random.default_rng(8)
    data = bout("s", 0.0, 1, n=400)
    curves = rng.normal(0, 0.3, (400, 101))
    found = path_deviations(curves, data.strides, data.strides.kept_yaw)
    assert found.square_rad2.mean() == pytest.approx(0.09, rel=0.02)
