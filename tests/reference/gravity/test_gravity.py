"""The only conversions of the package against their definitions; see SOURCE.md."""

from __future__ import annotations

import math

import pytest

from imucarry.basics.units import (
    ACC_UNITS_MPS2,
    DEG_PER_RAD,
    GYR_UNITS_RADPS,
    RAD_PER_DEG,
    STANDARD_GRAVITY_MPS2,
)

EQUATOR_MPS2, POLE_MPS2 = 9.780325336, 9.832184938


def test_standard_gravity() -> None:
    assert STANDARD_GRAVITY_MPS2 == 980665e-5
    assert ACC_UNITS_MPS2["g"] == STANDARD_GRAVITY_MPS2
    assert 1000.0 * ACC_UNITS_MPS2["mg"] == pytest.approx(STANDARD_GRAVITY_MPS2, rel=1e-15)


def test_degree() -> None:
    assert pytest.approx(2.0 * math.pi / 360.0, rel=1e-15) == RAD_PER_DEG
    assert pytest.approx(1.0, rel=1e-15) == RAD_PER_DEG * DEG_PER_RAD
    assert GYR_UNITS_RADPS["deg/s"] == RAD_PER_DEG


@pytest.mark.parametrize("local_mps2", [EQUATOR_MPS2, POLE_MPS2])
def test_local_gravity_tells_the_unit(local_mps2: float) -> None:
    nearest = min(ACC_UNITS_MPS2, key=lambda unit: abs(math.log(local_mps2 / ACC_UNITS_MPS2[unit])))
    assert nearest == "g"
    assert local_mps2 / STANDARD_GRAVITY_MPS2 == pytest.approx(1.0, abs=0.003)
