"""The path: legs that are straight, curved, a turn or a stop, and the steps taken on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.simulate.noise import alike
from imucarry.simulate.walker import Walker

FIRST_STEP_LONGER = 1.15
CLOSING_STEP_SHORTER = 0.85


@dataclass(frozen=True, slots=True)
class Leg:
    """One part of a path.

    ``turn_deg`` is the change of heading over the whole leg, left positive;
    ``pause_s`` counts for a stop alone, ``strides`` for all others.
    """

    kind: Literal["straight", "curve", "turn", "stop"]
    strides: float = 0.0
    turn_deg: float = 0.0
    pause_s: float = 0.0


def straight(strides: float) -> Leg:
    """Walk straight on."""
    return Leg("straight", strides)


def curve(strides: float, deg_per_stride: float) -> Leg:
    """Walk a gentle bow."""
    return Leg("curve", strides, turn_deg=strides * deg_per_stride)


def turn(strides: float = 2.5, turn_deg: float = 180.0) -> Leg:
    """Turn round."""
    return Leg("turn", strides, turn_deg=turn_deg)


def stop(pause_s: float = 2.0) -> Leg:
    """Close the step, stand, start again."""
    return Leg("stop", pause_s=pause_s)


def passes(n_passes: int, strides: float) -> tuple[Leg, ...]:
    """Walk to and fro: straight passes with a turn between, to either hand by turns."""
    legs: list[Leg] = []
    for k in range(n_passes):
        if k:
            legs.append(turn(2.5, 180.0 if k % 2 else -180.0))
        legs.append(straight(strides))
    return tuple(legs)


@dataclass(frozen=True, slots=True)
class Steps:
    """Steps of one bout, in time order from its own zero.

    Attributes
    ----------
    contact_s : ndarray, shape (K,) [s]
    is_left : ndarray of bool, shape (K,)
    leg : ndarray of int, shape (K,)
        Leg that the step ends on.
    episode : ndarray of int, shape (K,)
        Counts from 0; a stop begins a new one.
    strength : ndarray, shape (K,)
        How hard the foot lands; less on the first and the closing step.
    """

    contact_s: FloatArray
    is_left: BoolArray
    leg: IntArray
    episode: IntArray
    strength: FloatArray


def take_steps(rng: np.random.Generator, walker: Walker, legs: tuple[Leg, ...]) -> Steps:
    """Take the steps of a path.

    Parameters
    ----------
    rng : numpy Generator
    walker : Walker
    legs : tuple of Leg

    Returns
    -------
    Steps
        The first contact comes one step time after zero.
    """
    leg, episode, pause_s = _plan(legs)
    n_steps = leg.size
    is_first = np.concatenate([[True], np.diff(episode) > 0])
    is_last = np.concatenate([is_first[1:], [True]])
    is_left = _sides(rng, episode)
    step_s = _step_times(rng, walker, is_left)
    step_s *= np.where(is_first, FIRST_STEP_LONGER, 1.0)
    step_s *= np.where(is_last & ~is_first, CLOSING_STEP_SHORTER, 1.0)
    before_last = np.concatenate([is_last[1:], [False]])
    strength = np.select([is_first, is_last, before_last], [0.55, 0.4, 0.8], 1.0)
    strength *= 1.0 + 0.08 * rng.standard_normal(n_steps)
    return Steps(np.cumsum(step_s + pause_s), is_left, leg, episode, strength)


def _plan(legs: tuple[Leg, ...]) -> tuple[IntArray, IntArray, FloatArray]:
    """Return each step's leg, its episode and the pause before it."""
    leg: list[int] = []
    episode: list[int] = []
    pause_s: list[float] = []
    wait_s, n_stops = 0.0, 0
    for k, part in enumerate(legs):
        if part.kind == "stop":
            wait_s, n_stops = wait_s + part.pause_s, n_stops + 1
        for _ in range(round(2 * part.strides)):
            leg.append(k)
            episode.append(n_stops)
            pause_s.append(wait_s)
            wait_s = 0.0
    return np.array(leg), np.array(episode), np.array(pause_s)


def _sides(rng: np.random.Generator, episode: IntArray) -> BoolArray:
    """Return alternating feet; each episode begins with either."""
    left = np.empty(episode.size, dtype=bool)
    for number in np.unique(episode):
        index = np.flatnonzero(episode == number)
        left[index] = (np.arange(index.size) + rng.integers(2)) % 2 == 0
    return left


def _step_times(rng: np.random.Generator, walker: Walker, is_left: BoolArray) -> FloatArray:
    """Return step times with the walker's spread, likeness and asymmetry."""
    n_steps = is_left.size
    stride = np.repeat(alike(rng, n_steps // 2 + 1, walker.likeness), 2)[:n_steps]
    half = 0.5 / walker.stride_hz
    lopsided = np.where(is_left, -1.0, 1.0) * walker.step_asymmetry_pct / 200.0
    spread = walker.stride_time_cv * stride
    own = walker.step_time_sd_s * rng.standard_normal(n_steps)
    return np.asarray(np.maximum(half * (1.0 + lopsided + spread) + own, 0.4 * half))
