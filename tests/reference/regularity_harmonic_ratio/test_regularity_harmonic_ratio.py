"""Regularity and harmonic ratios of a signal with an exact answer; see SOURCE.md."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.statistics import neighbours
from imucarry.measures.autocorrelation import regularity
from imucarry.measures.harmonics import stride_harmonic_ratios

RATE_HZ, STRIDE_HZ, DURATION_S = 100.0, 0.9, 40.0
TIME_S = np.arange(int(RATE_HZ * DURATION_S)) / RATE_HZ
STARTS_S = np.arange(35) / STRIDE_HZ
LAG = RATE_HZ / STRIDE_HZ


def signal(a: float, b: float) -> np.ndarray:
    angle = 2.0 * np.pi * STRIDE_HZ * TIME_S
    return a * np.cos(angle) + b * np.cos(2.0 * angle)


def regularities(a: float, b: float) -> tuple[float, float]:
    starts = np.round(STARTS_S * RATE_HZ).astype(np.int64)
    ends = np.round((STARTS_S + 1.0 / STRIDE_HZ) * RATE_HZ).astype(np.int64)
    order = neighbours(np.ones(35, dtype=int), np.arange(35))
    step, stride = (
        regularity(signal(a, b), starts, ends, order, lag).value for lag in (0.5 * LAG, LAG)
    )
    return step, stride


def ratios(a: float, b: float) -> tuple[np.ndarray, np.ndarray]:
    acc = np.tile(signal(a, b)[:, None], 3)
    return stride_harmonic_ratios(acc, RATE_HZ, STARTS_S, STARTS_S + 1.0 / STRIDE_HZ)


def test_step_and_stride_regularity() -> None:
    step, stride = regularities(0.6, 1.0)
    # A stride of 111.1 samples: lags are whole samples, the peak is found by a parabola.
    assert step == pytest.approx(0.470588, abs=2e-3)
    assert stride == pytest.approx(1.0, abs=2e-3)


def test_equal_steps_are_regular() -> None:
    assert regularities(0.0, 1.0) == pytest.approx((1.0, 1.0), abs=2e-3)


def test_harmonic_ratios() -> None:
    ratio, improved = ratios(0.6, 1.0)
    # Linear interpolation between samples weakens harmonic 2 against harmonic 1 by 0.1 %.
    assert ratio[:, 2] == pytest.approx(1.666667, rel=4e-3)
    assert ratio[:, 0] == pytest.approx(1.666667, rel=4e-3)
    assert ratio[:, 1] == pytest.approx(0.6, rel=4e-3)
    assert improved[:, 2] == pytest.approx(73.529412, abs=0.1)
    assert improved[:, 1] == pytest.approx(100.0 - 73.529412, abs=0.1)


def test_harmonic_ratio_explodes_with_equal_steps_and_the_improved_one_does_not() -> None:
    ratio, improved = ratios(0.0, 1.0)
    assert (ratio[:, 2] > 100.0).all()
    assert improved[:, 2] == pytest.approx(100.0, abs=0.01)
