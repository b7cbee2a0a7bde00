"""Regularity and harmonic ratios on signals whose answer is exact."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from invented_bout import make_bout, make_trunk, wave

from imucarry.basics.settings import MeasureSettings
from imucarry.basics.statistics import neighbours
from imucarry.measures.autocorrelation import autocorrelation, peak_near, regularity
from imucarry.measures.harmonics import stride_harmonic_ratios
from imucarry.measures.swing import curve_regularity, on_z_scale
from imucarry.measures.table import compute_scores

RATE_HZ = 100.0


def direct(parts: list[np.ndarray], lag: int) -> float:
    """The definition, product by product."""
    parts = [part - part.mean() for part in parts]
    products = np.concatenate([part[:-lag] * part[lag:] for part in parts if part.size > lag])
    return float(products.mean() / np.mean(np.concatenate(parts) ** 2))


def test_autocorrelation_is_its_definition_within_each_run() -> None:
    signal = np.random.default_rng(0).standard_normal(500)
    runs = ((10, 120), (150, 180), (200, 500))
    lags = np.array([1, 7, 29, 45, 100])
    found = autocorrelation(signal, runs, lags)
    expected = [direct([signal[a:b] for a, b in runs], int(lag)) for lag in lags]
    assert found == pytest.approx(expected, rel=1e-10)


def test_nothing_reaches_across_a_turn() -> None:
    time = np.arange(1000) / RATE_HZ
    signal = np.cos(2 * np.pi * time)
    signal[500:] = -signal[500:]
    lag = np.array([100])
    assert autocorrelation(signal, ((0, 500), (500, 1000)), lag)[0] == pytest.approx(1.0)
    assert autocorrelation(signal, ((0, 1000),), lag)[0] < 0.8


def test_a_lag_longer_than_every_run_or_no_motion_is_undefined() -> None:
    assert np.isnan(autocorrelation(np.arange(50.0), ((0, 20), (20, 50)), np.array([40]))).all()
    assert np.isnan(autocorrelation(np.ones(50), ((0, 50),), np.array([4]))).all()


def test_the_peak_is_found_beside_a_wrong_lag() -> None:
    time = np.arange(4000) / RATE_HZ
    signal = np.cos(2 * np.pi * 0.9 * time) + 0.5 * np.cos(4 * np.pi * 0.9 * time)
    lag, height = peak_near(signal, ((0, 4000),), 106.0)
    assert lag == 111
    assert height == pytest.approx(1.0, abs=2e-3)


def test_regularity_of_a_bout_falls_with_noise_and_its_interval_holds_the_truth() -> None:
    data = make_bout(60, lengths=(20, 20, 20))
    assert data.trunk is not None
    truth = 0.68 / (0.68 + 0.04)
    inside = []
    for seed in range(60):
        noise = 0.2 * np.random.default_rng(seed).standard_normal(data.trunk.acc_mps2.shape)
        trunk = replace(data.trunk, acc_mps2=data.trunk.acc_mps2 + noise)
        scores = compute_scores(replace(data, trunk=trunk), MeasureSettings())
        found = next(s.estimate for s in scores if s.measure == "stride_regularity")
        assert found.value == pytest.approx(truth, abs=0.02)
        inside.append(found.ci_low <= truth <= found.ci_high)
    # The power of a cosine pair with a = 0.6, b = 1 is 0.68, that of the noise 0.04. The
    # highest of several noisy lags is taken, which lifts the value by about 0.003.
    assert np.mean(inside) >= 0.8


def test_limits_of_strides_of_unlike_size_are_as_far_apart_as_the_values_scatter() -> None:
    # 24 strides of 110 samples whose size varies by 10 %, with noise that lasts some samples.
    starts = 110 * np.arange(24)
    angle = 2.0 * np.pi * np.arange(110) / 110
    shape = np.cos(2 * angle) + 0.5 * np.cos(4 * angle + 1.0) + 0.2 * np.cos(angle)
    order = neighbours(np.zeros(24), np.arange(24))
    found = []
    for seed in range(80):
        rng = np.random.default_rng(seed)
        size = 1.0 + 0.1 * rng.standard_normal(24)
        noise = np.convolve(rng.standard_normal(24 * 110 + 20), np.hanning(21) / 8.0, "valid")
        signal = (size[:, None] * shape).ravel() + noise
        found.append(on_z_scale(regularity(signal, starts, starts + 110, order, 110.0)))
    spread = 3.92 * np.std([each.value for each in found])
    # With the power of one end of each product alone it is 1.9.
    assert 0.8 < np.median([each.high - each.low for each in found]) / spread < 1.6


def test_harmonic_ratios_of_each_axis() -> None:
    time = np.arange(2000) / RATE_HZ
    odd, even = np.cos(2 * np.pi * time / 1.1), np.cos(4 * np.pi * time / 1.1)
    acc = np.column_stack((0.5 * odd + even, 2.0 * odd + even, 0.25 * odd + even))
    start = 0.37 + 1.1 * np.arange(12)
    ratio, improved = stride_harmonic_ratios(acc, RATE_HZ, start, start + 1.1)
    # Linear interpolation weakens harmonic 2 against harmonic 1 by 0.1 %.
    assert ratio == pytest.approx(np.tile([2.0, 2.0, 4.0], (12, 1)), rel=4e-3)
    assert improved == pytest.approx(np.tile([80.0, 80.0, 100 / 1.0625], (12, 1)), rel=2e-3)


def test_equal_steps_have_no_harmonic_ratio_but_an_improved_one() -> None:
    acc = np.zeros((1000, 3))
    ratio, improved = stride_harmonic_ratios(acc, RATE_HZ, np.array([1.0]), np.array([2.0]))
    assert np.isnan(ratio).all()
    assert np.isnan(improved).all()
    time = np.arange(1000) / RATE_HZ
    acc[:, 2] = np.cos(4 * np.pi * time)
    _, improved = stride_harmonic_ratios(acc, RATE_HZ, np.array([1.0]), np.array([2.0]))
    assert improved[0, 2] == pytest.approx(100.0, abs=0.01)


@pytest.mark.parametrize("rate_hz", [25.0, 50.0, 100.0, 200.0, 285.7])
def test_harmonic_ratio_of_low_harmonics_hardly_depends_on_the_rate(rate_hz: float) -> None:
    time = np.arange(int(20 * rate_hz)) / rate_hz
    signal = 0.6 * np.cos(2 * np.pi * 0.9 * time) + np.cos(4 * np.pi * 0.9 * time)
    start = 1.0 + np.arange(10) / 0.9
    ratio, _ = stride_harmonic_ratios(np.tile(signal[:, None], 3), rate_hz, start, start + 1 / 0.9)
    # Interpolation at 25 Hz weakens harmonic 2 (14 samples a cycle) by 1.7 %, harmonic 1 by 0.4 %;
    # what it adds at other harmonics is 1 % of it.
    assert np.mean(ratio[:, 2]) == pytest.approx(1.0 / 0.6, rel=0.03 if rate_hz < 50 else 0.01)


def high_harmonics(rate_hz: float) -> tuple[np.ndarray, np.ndarray]:
    """Acceleration of 20 harmonics, the odd ones weaker, and the starts of its strides of 1 s."""
    time = np.arange(int(20 * rate_hz)) / rate_hz
    k = np.arange(1, 21)
    size = np.where(k % 2 == 0, 1.0, 0.35 * np.sqrt(k)) / k
    signal = size @ np.cos(2 * np.pi * k[:, None] * time + k[:, None] ** 2)
    return np.tile(signal[:, None], 3), 1.0 + np.arange(15)


def test_fewer_harmonics_at_a_low_rate_raise_the_ratio_more_than_the_improved_one() -> None:
    found = {}
    for rate_hz in (50.0, 100.0):
        acc, start = high_harmonics(rate_hz)
        ratios = stride_harmonic_ratios(acc, rate_hz, start, start + 1.0)
        found[rate_hz] = [item[:, 2].mean() for item in ratios]
    ratio, improved = (np.array(found[50.0]) / found[100.0]).tolist()
    assert ratio > 1.1
    assert improved < 1.04


@pytest.mark.parametrize(
    ("rate_hz", "stride_s", "told"),
    [(50.0, 1.1, True), (75.0, 1.04, True), (75.0, 1.1, False), (100.0, 0.9, False)],
)
def test_a_harmonic_ratio_from_fewer_than_20_harmonics_says_so(
    rate_hz: float, stride_s: float, told: bool
) -> None:
    data = make_bout(30, stride_s=stride_s)
    data = replace(data, trunk=make_trunk(data.strides, rate_hz=rate_hz))
    notes = {
        score.measure: score.estimate.notes for score in compute_scores(data, MeasureSettings())
    }
    for axis in ("forward", "sideways", "vertical"):
        assert ("fewer_harmonics" in notes[f"harmonic_ratio_{axis}"]) == told
        assert "fewer_harmonics" not in notes[f"improved_harmonic_ratio_{axis}"]


def test_arm_regularity_compares_neighbours_of_one_pass() -> None:
    curves = np.vstack((wave(np.full(10, 30.0), 0.0), wave(np.full(10, 30.0), 180.0)))
    run = np.repeat([1, 2], 10)
    apart = neighbours(run, np.tile(np.arange(10), 2))
    joined = neighbours(np.ones(20, int), np.arange(20))
    assert curve_regularity(curves, apart.adjacent, run).value == pytest.approx(1.0)
    assert curve_regularity(curves, joined.adjacent, np.ones(20, int)).value == pytest.approx(
        17.0 / 19.0
    )


def test_arm_regularity_of_opposite_strides_is_minus_one() -> None:
    sign = np.where(np.arange(12) % 2, 1.0, -1.0)
    curves = sign[:, None] * wave(np.full(12, 30.0), 0.0)
    order = neighbours(np.ones(12, int), np.arange(12))
    found = curve_regularity(curves, order.adjacent, order.pass_number)
    assert found.value == pytest.approx(-1.0)


def test_limits_of_a_correlation_stay_within_one() -> None:
    order = neighbours(np.ones(14, int), np.arange(14))
    curves = wave(np.full(14, 30.0), 0.0)
    curves = curves + 0.15 * np.random.default_rng(1).standard_normal(curves.shape)
    found = on_z_scale(curve_regularity(curves, order.adjacent, order.pass_number))
    assert -1.0 < found.low < found.value < found.high < 1.0
