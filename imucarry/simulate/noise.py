"""Random sequences with a stated spread: neighbours alike, or limited to a band."""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import FloatArray


def alike(rng: np.random.Generator, n_values: int, correlation: float) -> FloatArray:
    """Return a first-order autoregressive sequence of unit variance, shape (n_values,)."""
    shocks = rng.standard_normal(n_values)
    values = np.empty(n_values)
    left = np.sqrt(1.0 - correlation**2)
    for k in range(n_values):
        values[k] = shocks[k] if k == 0 else correlation * values[k - 1] + left * shocks[k]
    return values


def in_band(
    rng: np.random.Generator, n_values: int, rate_hz: float, low_hz: float, high_hz: float
) -> FloatArray:
    """Return noise of unit variance with its power between two frequencies, shape (n_values,)."""
    spectrum = np.fft.rfft(rng.standard_normal(n_values))
    frequency = np.asarray(np.fft.rfftfreq(n_values, 1.0 / rate_hz), dtype=np.float64)
    spectrum *= _gate(frequency, low_hz, high_hz)
    values = np.fft.irfft(spectrum, n_values)
    spread = float(values.std())
    return np.asarray(values / spread) if spread > 0.0 else values


def _gate(frequency: FloatArray, low_hz: float, high_hz: float) -> FloatArray:
    """Return soft edges of fourth order at both frequencies."""
    ratio = np.maximum(frequency, 1e-9)
    rise = 1.0 / np.sqrt(1.0 + (low_hz / ratio) ** 8) if low_hz > 0.0 else 1.0
    return np.asarray(rise / np.sqrt(1.0 + (ratio / high_hz) ** 8))


def rise(x: FloatArray) -> FloatArray:
    """Return 0 below 0, 1 above 1 and a step without a jump in acceleration between."""
    t = np.clip(x, 0.0, 1.0)
    return np.asarray(t**3 * (10.0 - 15.0 * t + 6.0 * t**2))
