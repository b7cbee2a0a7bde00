"""Mean directions and resultant lengths of published examples; see SOURCE.md."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from imucarry.basics.statistics import (
    circular_interval,
    circular_mean,
    resultant_interval,
    resultant_length,
)

ROULETTE = (43, 45, 52, 61, 75, 88, 88, 279, 357)
TREES = (45, 55, 81, 96, 110, 117, 132, 154)
LIBRARY = (51, 67, 40, 109, 31, 358)
ACROSS_ZERO = (355, 5, 2, 359, 10, 350)
NARROW = (20, 21, 22, 18, 19, 20.5, 19.2)


def radians(degrees: tuple[float, ...]) -> np.ndarray:
    return np.radians(np.array(degrees, dtype=np.float64))


def mean_deg(degrees: tuple[float, ...]) -> float:
    return math.degrees(circular_mean(radians(degrees)))


def test_printed_to_few_digits() -> None:
    assert mean_deg(ROULETTE) == pytest.approx(51.0, abs=0.5)
    assert resultant_length(radians(ROULETTE)) == pytest.approx(0.711, abs=5e-4)
    assert mean_deg(TREES) == pytest.approx(99.0, abs=0.5)
    assert resultant_length(radians(TREES)) == pytest.approx(0.82522, abs=5e-6)


def test_printed_by_libraries() -> None:
    assert mean_deg(LIBRARY) == pytest.approx(48.62718088722989, abs=1e-10)
    assert mean_deg(ACROSS_ZERO) == pytest.approx(0.167690146, abs=5e-9)
    assert mean_deg(NARROW) == pytest.approx(np.mean(NARROW), abs=1e-5)


RECOMPUTED = (
    (ROULETTE, 51.0502, 0.710991),
    (TREES, 98.9878, 0.825218),
    (LIBRARY, 48.6272, 0.836436),
    ((130, 90, 0, 145), 101.1689, 0.596197),
    (ACROSS_ZERO, 0.1677, 0.993545),
    (NARROW, 19.9571, 0.999763),
)


@pytest.mark.parametrize(("degrees", "mean", "length"), RECOMPUTED)
def test_recomputed(degrees: tuple[float, ...], mean: float, length: float) -> None:
    direction, resultant = (f(radians(degrees)) for f in (circular_interval, resultant_interval))
    assert math.degrees(direction.value) == pytest.approx(mean, abs=5e-5)
    assert resultant.value == pytest.approx(length, abs=5e-7)


@pytest.mark.parametrize("degrees", [ROULETTE, TREES, LIBRARY, ACROSS_ZERO, NARROW])
def test_against_the_statistics_library(degrees: tuple[float, ...]) -> None:
    angles = radians(degrees)
    expected = stats.circmean(angles, high=math.pi, low=-math.pi)
    assert circular_mean(angles) == pytest.approx(expected, abs=1e-12)
    assert 1.0 - resultant_length(angles) == pytest.approx(stats.circvar(angles), abs=1e-12)


def test_narrow_angles_have_the_interval_of_numbers() -> None:
    angles = radians(NARROW)
    found = circular_interval(angles)
    plain = stats.ttest_1samp(angles, 0.0).confidence_interval(0.95)
    # Angles that lie within 4 deg: sine and arc sine are linear to 1 part in 1,000.
    assert found.high - found.low == pytest.approx(plain.high - plain.low, rel=1e-3)
