"""SEM and MDC: published and worked numbers, see SOURCE.md."""

from __future__ import annotations

import math

import pytest

from imucarry.basics.reliability import minimal_detectable_change


def test_smallest_detectable_difference_as_printed() -> None:
    assert minimal_detectable_change(math.sqrt(1.64)) == pytest.approx(3.55, abs=0.005)


def test_worked_example() -> None:
    sem = 6.0 * math.sqrt(1.0 - 0.87)  # SD 6 and ICC 0.87
    assert sem == pytest.approx(2.1633, abs=5e-5)
    assert minimal_detectable_change(sem) == pytest.approx(5.9963, abs=1e-4)
    assert minimal_detectable_change(sem, level=0.90) == pytest.approx(5.0323, abs=1e-4)


@pytest.mark.parametrize(("mdc90", "mdc95"), [(9.0, 10.72), (8.0, 9.53), (5.0, 5.96), (4.0, 4.77)])
def test_ninety_to_ninety_five(mdc90: float, mdc95: float) -> None:
    sem = mdc90 / minimal_detectable_change(1.0, level=0.90)
    assert minimal_detectable_change(sem) == pytest.approx(mdc95, abs=0.005)
