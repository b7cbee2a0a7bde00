"""Where a signal stands at the end of its sensor's range, and where it only peaks smoothly."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.readers.range_ends import clipped_runs

DIGIT = 0.061  # deg/s, as of 16 bits over 2000 deg/s to either side
LEAST = 115.0
TOP = 2705 * DIGIT


def digits(signal: np.ndarray) -> np.ndarray:
    """Return a signal and some rest after it as a sensor writes them, on one of three axes."""
    rest = np.tile([0.0, DIGIT, 0.0], 10)
    values = np.zeros((signal.size + rest.size, 3))
    values[:, 1] = np.concatenate([np.round(signal / DIGIT) * DIGIT, rest])
    return values


def slow_peak(samples_to_fall_a_digit: float) -> np.ndarray:
    """Return a peak of about 165 deg/s that is a parabola about its top."""
    from_top = np.arange(-200, 201)
    return np.asarray(TOP - DIGIT * (from_top / samples_to_fall_a_digit) ** 2)


@pytest.mark.parametrize("samples", [1.5, 3.0, 7.0])
def test_a_smooth_peak_is_no_end_of_the_range(samples: float) -> None:
    values = digits(slow_peak(samples))
    assert np.count_nonzero(values[:, 1] == values[:, 1].max()) >= 3
    assert clipped_runs(values, LEAST) == []


def test_one_peak_that_the_range_cuts_off() -> None:
    steep = 200.0 - 2.0 * np.abs(np.arange(-60, 61))
    cut = np.minimum(steep, 180.0)
    assert clipped_runs(digits(cut), LEAST) == [(50, 71)]


def test_two_flat_tops_of_one_height_are_the_end_of_the_range() -> None:
    slow = np.minimum(slow_peak(1.5), TOP - 6.0 * DIGIT)
    assert clipped_runs(digits(slow), LEAST) == []
    both = digits(np.concatenate([slow, slow]))
    assert len(clipped_runs(both, LEAST)) == 2


def test_what_lies_inside_every_range_is_rest() -> None:
    assert clipped_runs(digits(np.full(50, 1.0)), LEAST) == []
