"""Strap and soft tissue: a decaying wobble of the sensor after each contact."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.simulate.gait import FINE_HZ, Gait
from imucarry.simulate.walker import Walker

DECAY_S = 0.06
ONSET_S = 0.012
WRIST_SHARE = 0.5
"""How much of it reaches a wrist."""
TWO_PI = 2.0 * np.pi


@dataclass(frozen=True, slots=True)
class Ringing:
    """Small rotation of a sensor on its segment and its acceleration, shapes (N, 3)."""

    tilt_rad: FloatArray
    acc_mps2: FloatArray


def ring(rng: np.random.Generator, walker: Walker, gait: Gait, *, at_wrist: bool) -> Ringing:
    """Return the wobble after each contact of a bout, in the sensor's segment.

    The course starts smoothly, swings at ``impact_hz`` (spread by a tenth) and
    decays; its size follows how hard the foot landed.
    """
    share = WRIST_SHARE if at_wrist else 1.0
    frequency = walker.impact_hz * np.exp(0.1 * rng.standard_normal())
    peak_rad = np.deg2rad(walker.impact_degps) / (TWO_PI * frequency)
    tilt = _train(rng, gait, frequency)
    push = _train(rng, gait, frequency)
    axis, way = _direction(rng), _direction(rng)
    return Ringing(
        share * peak_rad * tilt[:, None] * axis,
        share * walker.impact_mps2 * push[:, None] * way,
    )


def _direction(rng: np.random.Generator) -> FloatArray:
    vector = rng.standard_normal(3)
    return np.asarray(vector / np.linalg.norm(vector))


def _train(rng: np.random.Generator, gait: Gait, frequency_hz: float) -> FloatArray:
    """Return a decaying oscillation after each contact, first crest about 1, shape (N,)."""
    out = np.zeros(gait.phase_rad.size)
    length = round(8.0 * DECAY_S * FINE_HZ)
    size = gait.steps.strength * np.exp(0.25 * rng.standard_normal(gait.steps.strength.size))
    for begin_s, amount in zip(gait.answer_s, size, strict=True):
        first = int(np.ceil((begin_s - gait.start_s) * FINE_HZ))
        last = min(first + length, out.size)
        late = gait.start_s + np.arange(first, last) / FINE_HZ - begin_s
        onset = 1.0 - np.exp(-((late / ONSET_S) ** 2))
        out[first:last] += (
            1.5 * amount * onset * np.exp(-late / DECAY_S) * np.sin(TWO_PI * frequency_hz * late)
        )
    return out
