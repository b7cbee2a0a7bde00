"""Symmetry index, symmetry angle and log ratio of Lauziere et al. 2014, Table 1; see SOURCE.md."""

from __future__ import annotations

import math

import numpy as np
import pytest

from imucarry.basics.statistics import paired_log_ratio
from imucarry.measures.asymmetry import asymmetry_index, log_ratio_pct, symmetry_angle

NP = (0.39, 0.59, 0.47, 0.25, 0.4, 0.37)
P = (0.25, 0.4, 0.37, 0.39, 0.59, 0.47)
INDEX = (43.75, 38.38, 23.81, -43.75, -38.38, -23.81)
ANGLE = (-13.71, -12.07, -7.54, 13.71, 12.07, 7.54)
LOG_RATIO = (44.469, 38.866, 23.923, -44.469, -38.866, -23.923)
# Left and right arm swing [deg], index, size of the angle, size of the log ratio.
ARMS = (
    (40.0, 40.0, 0.0, 0.0, 0.0),
    (40.0, 30.0, -28.5714, 9.0334, 28.7682),
    (30.0, 20.0, -40.0, 12.5666, 40.5465),
    (45.0, 10.0, -127.2727, 36.0791, 150.4077),
)


@pytest.mark.parametrize(
    ("one", "other", "index", "angle", "log_ratio"),
    list(zip(NP, P, INDEX, ANGLE, LOG_RATIO, strict=True)),
)
def test_printed_table(
    one: float, other: float, index: float, angle: float, log_ratio: float
) -> None:
    ratio = math.log(one / other)
    # Printed to two decimals.
    assert asymmetry_index(ratio) == pytest.approx(index, abs=0.005)
    assert symmetry_angle(ratio) == pytest.approx(-angle, abs=0.005)
    assert log_ratio_pct(ratio) == pytest.approx(log_ratio, abs=0.0005)


@pytest.mark.parametrize(("left", "right", "index", "angle", "log_ratio"), ARMS)
def test_worked_arm_swings(
    left: float, right: float, index: float, angle: float, log_ratio: float
) -> None:
    ratio = paired_log_ratio(np.full(12, right), np.full(12, left)).value
    assert asymmetry_index(ratio) == pytest.approx(index, abs=5e-5)
    assert abs(symmetry_angle(ratio)) == pytest.approx(angle, abs=5e-5)
    assert abs(log_ratio_pct(ratio)) == pytest.approx(log_ratio, abs=5e-5)


def test_small_asymmetry_makes_the_three_alike() -> None:
    ratio = math.log(1.02)
    assert asymmetry_index(ratio) == pytest.approx(1.9802, abs=5e-5)
    assert symmetry_angle(ratio) == pytest.approx(0.6303, abs=5e-5)
    assert log_ratio_pct(ratio) == pytest.approx(1.9803, abs=5e-5)


def test_bounds() -> None:
    assert asymmetry_index(60.0) == pytest.approx(200.0)
    assert symmetry_angle(60.0) == pytest.approx(50.0)
    assert symmetry_angle(-60.0) == pytest.approx(-50.0)


def test_an_arm_without_any_swing_has_no_ratio() -> None:
    assert math.isnan(paired_log_ratio(np.zeros(12), np.full(12, 40.0)).value)
