"""The slope of clustered values: by leaving out by hand, and as a library has it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from imucarry.basics.statistics import clustered_slope, t_quantile

X = np.array([10.0, 12.0, 11.0, 14.0, 15.0, 13.0, 18.0, 20.0, 22.0, 8.0, 9.0, 25.0, 24.0])
Y = np.array([1.0, 1.4, 1.1, 0.3, 0.7, 0.2, 2.0, 2.6, 2.9, 0.5, 0.9, 1.2, 1.9])
PERSON = np.array([7, 7, 7, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4])


def test_leaving_out_one_person_after_the_other_by_hand() -> None:
    found = clustered_slope(X, Y, PERSON)
    slope = np.polyfit(X, Y, 1)[0]
    without = [np.polyfit(X[who != PERSON], Y[who != PERSON], 1)[0] for who in set(PERSON)]
    error = math.sqrt(4 / 5 * sum((one - slope) ** 2 for one in without))
    assert found.value == pytest.approx(slope)
    assert found.standard_error == pytest.approx(error)
    assert found.high - found.low == pytest.approx(2 * t_quantile(0.975, 4) * error)
    assert found.degrees_of_freedom == 4


def test_a_general_library_finds_the_same() -> None:
    """pyfixest 0.60.0, CRV3 without k_adj: slope 0.093443, error 0.090049, times G / (G - 1)."""
    found = clustered_slope(X, Y, PERSON)
    assert found.value == pytest.approx(0.093443, abs=5e-7)
    assert found.standard_error * 5 / 4 == pytest.approx(0.090049, abs=5e-7)


def test_where_no_slope_is_left_there_is_no_interval() -> None:
    assert math.isnan(clustered_slope(X, Y, np.zeros(13, int)).value)
    flat = np.where(PERSON == 7, X, 5.0)  # without person 7 all are at 5
    found = clustered_slope(flat, Y, PERSON)
    assert math.isfinite(found.value)
    assert math.isnan(found.low)
