"""Spread with the load on elastic against the same load hung still."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from accuracy_findings import stride_bout

from imucarry.basics.records import BoutData, BoutRow, Estimate, StrideYaw
from imucarry.carry.perturbed import (
    Deviations,
    freed,
    likeness,
    path_deviations,
    spread_ratio,
    spread_scores,
)


def bout(
    name: str,
    sd_rad: float,
    seed: int,
    *,
    perturbed: str = "none",
    n: int = 40,
    load_kg: float = 8.0,
    implement: str = "",
) -> BoutData:
    """A bout whose yaw paths scatter about one curve by a given SD."""
    row = BoutRow(name, 0.0, 1.0, hold="suitcase", loaded_side="right", load_kg=load_kg,
                  perturbed=perturbed, implement=implement)  # fmt: skip
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


def test_bouts_whose_spread_differs_of_itself_are_left_unclear_too() -> None:
    outside = 0
    rng = np.random.default_rng(5)
    for seed in range(150):
        elastic, still = 0.01 * np.exp(rng.normal(0.0, 0.1, 2))
        found = ratio(
            bout("e", elastic, 2 * seed, perturbed="elastic"), bout("s", still, 2 * seed + 1)
        )
        outside += not found.ci_low <= 1.0 <= found.ci_high
    # With the noise of strides alone 36 of them leave 1 out.
    assert outside <= 13


def alike_curves(lanes: tuple[int, ...], rng: np.random.Generator, r: float) -> Deviations:
    """Paths of neighbouring strides alike by a correlation r, an SD of 1, in lanes."""
    angle = np.linspace(0, 2 * np.pi, 101)
    shapes = np.array([np.sin(angle), np.cos(angle), np.sin(2 * angle), np.cos(2 * angle)])
    sizes = []
    for n in lanes:
        lane = rng.standard_normal((n, 4))
        for k in range(1, n):
            lane[k] = r * lane[k - 1] + np.sqrt(1 - r * r) * lane[k]
        sizes.append(lane)
    n = sum(lanes)
    strides = replace(
        bout("s", 0.0, 0, n=n).strides,
        pass_number=np.repeat(np.arange(len(lanes)), lanes),
        stride_in_pass=np.concatenate([np.arange(m) for m in lanes]),
    )
    curves = np.concatenate(sizes) @ shapes / np.sqrt(2.0)
    return path_deviations(curves, strides, np.ones(n, dtype=np.bool_))


def test_short_lanes_do_not_make_alike_strides_spread_less() -> None:
    rng = np.random.default_rng(11)
    found = [
        spread_ratio([alike_curves((12,), rng, 0.5)], [alike_curves((4, 4, 4), rng, 0.5)]).value
        for _ in range(200)
    ]
    # Scaled as if strides were unlike, the median is 1.15.
    assert np.median(found) == pytest.approx(1.0, abs=0.05)


@pytest.mark.parametrize("true", [0.0, 0.3, 0.6])
def test_likeness_is_freed_of_the_means_of_the_lanes(true: float) -> None:
    rng = np.random.default_rng(3)
    parts = [alike_curves((4, 8), rng, true) for _ in range(100)]
    assert likeness(parts) == pytest.approx(true, abs=0.05)
    variance = np.mean([freed(part, true).mean() for part in parts])
    assert variance == pytest.approx(1.0, rel=0.05)


def test_an_implement_is_compared_with_the_same_implement_only() -> None:
    pushed = bout("e", 0.02, 1, perturbed="elastic", implement="Kettlebell")
    dumbbell = bout("s", 0.01, 2, implement="dumbbell")
    assert ratio(pushed, dumbbell).missing_because == "no_unperturbed_bout"
    with_its_own = ratio(pushed, dumbbell, bout("t", 0.02, 3, implement="kettle bell"))
    assert with_its_own.value == ratio(pushed, bout("t", 0.02, 3, implement="kettlebell")).value


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
    assert freed(found, 0.0).mean() == pytest.approx(0.09, rel=0.02)
