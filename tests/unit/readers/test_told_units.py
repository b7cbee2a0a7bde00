"""Gravity in the acceleration: there in a fast run, away where it was taken out."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.errors import InputError
from imucarry.basics.records import FloatArray
from imucarry.basics.units import ACC_UNITS_MPS2, STANDARD_GRAVITY_MPS2
from imucarry.readers.told_units import acc_unit


def run(gravity_mps2: float) -> FloatArray:
    """Twenty seconds of a fast run at 100 Hz: three steps a second, each up to 3.6 times gravity.

    The mean over a second is gravity; root mean square the samples are twice as large.
    """
    time_s = np.arange(2000) / 100
    bounce = 2.6 * STANDARD_GRAVITY_MPS2 * np.sin(2 * np.pi * 3 * time_s)
    return np.column_stack([0.1 * bounce, 0 * time_s, gravity_mps2 + bounce])


@pytest.mark.parametrize("unit", ACC_UNITS_MPS2)
def test_a_fast_run_keeps_its_gravity_in_each_stated_unit(unit: str) -> None:
    values = run(STANDARD_GRAVITY_MPS2) / ACC_UNITS_MPS2[unit]
    assert acc_unit(values, unit, "chest.csv") == (unit, "")


def test_a_fast_run_tells_metres_per_second_squared() -> None:
    assert acc_unit(run(STANDARD_GRAVITY_MPS2), "", "chest.csv")[0] == "m/s^2"


@pytest.mark.parametrize("stated", ["", "m/s^2", "mg"])
@pytest.mark.parametrize("mean_mps2", [0.0, 1.0])
def test_gravity_taken_out_is_refused(stated: str, mean_mps2: float) -> None:
    # A mean of 1 m/s^2 reads like gravity in g, which nobody stated.
    with pytest.raises(InputError, match="gravity seems removed"):
        acc_unit(run(mean_mps2), stated, "chest.csv")
