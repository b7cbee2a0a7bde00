"""SD, CV, robust SD and the precision of an SD; numbers retyped, see SOURCE.md."""

from __future__ import annotations

import math

import numpy as np
import pytest

from imucarry.basics.statistics import cv_interval, mean_interval, robust_sd, sd_interval

STRIDE_TIMES_S = np.array([1.08, 1.11, 1.1, 1.07, 1.12, 1.09, 1.1, 1.13, 1.08, 1.1])
# Strides, relative standard error [%], limits of the 95 % interval as ratios of the SD.
PRECISION = (
    (6, 31.62, 0.624, 2.453),
    (10, 23.57, 0.688, 1.826),
    (15, 18.9, 0.732, 1.577),
    (20, 16.22, 0.76, 1.461),
    (30, 13.13, 0.796, 1.344),
    (50, 10.1, 0.835, 1.246),
    (100, 7.11, 0.878, 1.162),
    (200, 5.01, 0.911, 1.109),
    (400, 3.54, 0.935, 1.075),
)


def test_ten_stride_times() -> None:
    assert mean_interval(STRIDE_TIMES_S).value == pytest.approx(1.098, abs=1e-9)
    spread = sd_interval(STRIDE_TIMES_S)
    assert spread.value == pytest.approx(0.018738, abs=5e-7)
    assert 100.0 * spread.value / 1.098 == pytest.approx(1.706554, abs=5e-7)
    assert 100.0 * cv_interval(STRIDE_TIMES_S).value == pytest.approx(1.749217, abs=5e-7)
    assert robust_sd(STRIDE_TIMES_S) == pytest.approx(0.022239, abs=5e-7)


def test_standard_error_of_a_cv() -> None:
    # The printed error has root(2 n), this one root(2 (n - 1)) and the correction of the CV.
    expected = 0.381597 * math.sqrt(10 / 9) * (1 + 1 / 40)
    assert 100.0 * cv_interval(STRIDE_TIMES_S).standard_error == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(("n", "error_pct", "low", "high"), PRECISION)
def test_precision_of_an_sd(n: int, error_pct: float, low: float, high: float) -> None:
    values = np.random.default_rng(n).standard_normal(n)
    found = sd_interval(values)
    assert found.low / found.value == pytest.approx(low, abs=5e-4)
    assert found.high / found.value == pytest.approx(high, abs=5e-4)
    assert 100.0 * found.standard_error / found.value == pytest.approx(error_pct, abs=5e-3)
