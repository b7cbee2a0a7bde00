"""An imposed phase comes back, by harmonic and by analytic signal; see SOURCE.md."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.signal import hilbert

from imucarry.basics.statistics import circular_difference, circular_interval, resultant_length
from imucarry.walk.stride_grid import harmonic, peak_phase

RATE_HZ, STRIDE_HZ = 100.0, 0.9
TIME_S = np.arange(int(20 * RATE_HZ)) / RATE_HZ
STRIDE_STARTS_S = 0.13 + np.arange(16) / STRIDE_HZ
GRID_S = STRIDE_STARTS_S[:, None] + np.linspace(0.0, 1.0, 101) / STRIDE_HZ


def wave(amplitude: float, lag_rad: float, time_s: np.ndarray) -> np.ndarray:
    return amplitude * np.sin(2.0 * np.pi * STRIDE_HZ * time_s - lag_rad)


def by_hilbert(lag_rad: float) -> float:
    """Mean continuous relative phase, 2 s at each end left out."""
    one, other = (np.angle(hilbert(wave(a, p, TIME_S))) for a, p in ((10.0, 0.0), (3.0, lag_rad)))
    inner = slice(int(2 * RATE_HZ), -int(2 * RATE_HZ))
    return circular_interval((one - other)[inner]).value


@pytest.mark.parametrize("imposed_deg", [0.0, 30.0, 45.0, 90.0, 150.0, 180.0])
def test_imposed_phase(imposed_deg: float) -> None:
    lag_rad = math.radians(imposed_deg)
    curves = (
        np.interp(GRID_S, TIME_S, wave(amplitude, phase, TIME_S))
        for amplitude, phase in ((10.0, 0.0), (3.0, lag_rad))
    )
    one, other = (peak_phase(harmonic(curve, 1)) for curve in curves)
    difference = circular_difference(other, one)
    found = circular_interval(difference).value
    # Linear interpolation of a sine with 111 samples a cycle.
    assert circular_difference(found, lag_rad) == pytest.approx(0.0, abs=math.radians(0.05))
    assert circular_difference(found, by_hilbert(lag_rad)) == pytest.approx(
        0.0, abs=math.radians(0.1)
    )
    assert resultant_length(difference) == pytest.approx(1.0, abs=1e-6)
