"""The common shape of trunk acceleration in a stride, and each walker's departure from it.

Sizes and timings are rounded from what lower-back recordings of healthy adults
show (Voisard et al. 2023, doi 10.5201/ipol.2023.497) and agree with Zijlstra &
Hof 2003 (Gait & Posture 18(2):1-10): forward acceleration is a sawtooth that
peaks at contact; the vertical repeats with the step and grows with speed; the
lateral repeats with the stride and points away from the foot that has landed.
"""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import FloatArray

Harmonics = dict[int, tuple[float, float]]

# Harmonic of the stride: amplitude [m/s^2] at 1.2 m/s, phase of its crest [deg].
FORWARD: Harmonics = {
    1: (0.12, 90.0),
    2: (1.50, -68.0),
    3: (0.12, 0.0),
    4: (0.85, -42.0),
    5: (0.10, -60.0),
    6: (0.75, -8.0),
    8: (0.55, 10.0),
    10: (0.40, 15.0),
    12: (0.20, 20.0),
}
LATERAL: Harmonics = {
    1: (0.60, -120.0),
    2: (0.18, 60.0),
    3: (0.40, -70.0),
    4: (0.20, 100.0),
    5: (0.70, -145.0),
    6: (0.20, 30.0),
    7: (0.65, -65.0),
    8: (0.22, 90.0),
    9: (0.50, -25.0),
    11: (0.30, 20.0),
}
VERTICAL: Harmonics = {
    1: (0.10, 90.0),
    2: (2.00, 40.0),
    3: (0.15, -150.0),
    4: (0.40, 30.0),
    5: (0.12, 0.0),
    6: (0.85, 15.0),
    7: (0.12, 120.0),
    8: (0.90, 85.0),
    10: (0.65, 130.0),
    12: (0.30, 170.0),
}
USUAL_SPEED_MPS = 1.2
PHASE_SPREAD_DEG = 45.0
"""Spread of a harmonic's phase for a shape spread of 1."""


def wave(phase_rad: FloatArray, harmonics: Harmonics, spread: FloatArray) -> FloatArray:
    """Return a sum of harmonics over the phase of the stride.

    Parameters
    ----------
    phase_rad : ndarray, shape (N,) [rad]
    harmonics : dict
    spread : ndarray, shape (H, 2)
        Relative change of each amplitude, change of each phase [rad].
    """
    out = np.zeros_like(phase_rad)
    for (order, (size, crest_deg)), (more, late) in zip(harmonics.items(), spread, strict=True):
        out += size * (1.0 + more) * np.cos(order * phase_rad - np.deg2rad(crest_deg) - late)
    return out


def own_shape(rng: np.random.Generator, harmonics: Harmonics, spread: float) -> FloatArray:
    """Draw a walker's departures from the common shape, shape (H, 2)."""
    size = spread * rng.standard_normal(len(harmonics))
    late = spread * np.deg2rad(PHASE_SPREAD_DEG) * rng.standard_normal(len(harmonics))
    return np.column_stack([np.clip(size, -0.8, 1.5), late])


def speed_factor(speed_mps: float, power: float) -> float:
    """Return how acceleration grows with speed; a power law about the usual speed."""
    return float(np.clip(speed_mps / USUAL_SPEED_MPS, 0.2, 2.0) ** power)
