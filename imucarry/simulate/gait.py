"""From steps to smooth courses over time: phase of the stride, envelope, heading, speed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline, PchipInterpolator
from scipy.ndimage import gaussian_filter1d

from imucarry.basics.records import FloatArray
from imucarry.simulate.noise import in_band, rise
from imucarry.simulate.path import Leg, Steps
from imucarry.simulate.walker import Walker

FINE_HZ = 400.0
"""Rate of the grid on which all motion is worked out [Hz]."""
HEADING_SMOOTH_S = 0.15
SPEED_SMOOTH_S = 0.25
TURN_SPEED_FRAC = 0.6


@dataclass(frozen=True, slots=True)
class Gait:
    """The courses of one bout on the fine grid, from `start_s` of the world's clock on.

    Attributes
    ----------
    start_s : float
    steps : Steps
        With contacts on the world's clock.
    phase_rad : ndarray, shape (N,) [rad]
        0 at a left contact, pi at a right one, rising through the whole bout.
    answer_phase_rad : ndarray, shape (N,) [rad]
        The same with each contact displaced to the trunk's answer.
    envelope : ndarray, shape (N,)
        0 while standing, 1 while walking.
    strength : ndarray, shape (N,)
    heading_rad : ndarray, shape (N,) [rad]
        Heading of the path.
    speed_mps : ndarray, shape (N,) [m/s]
    answer_s : ndarray, shape (K,) [s]
        The trunk's answer to each contact, on the world's clock.
    """

    start_s: float
    steps: Steps
    phase_rad: FloatArray
    answer_phase_rad: FloatArray
    envelope: FloatArray
    strength: FloatArray
    heading_rad: FloatArray
    speed_mps: FloatArray
    answer_s: FloatArray


def walk_along(
    rng: np.random.Generator,
    walker: Walker,
    legs: tuple[Leg, ...],
    steps: Steps,
    *,
    start_s: float,
    n_samples: int,
) -> Gait:
    """Work out the courses of one bout.

    Parameters
    ----------
    rng : numpy Generator
    walker : Walker
    legs : tuple of Leg
    steps : Steps
        With contacts on the world's clock.
    start_s : float [s]
        World time of the first sample.
    n_samples : int
    """
    time_s = start_s + np.arange(n_samples) / FINE_HZ
    scatter = walker.answer_sd_s * rng.standard_normal(steps.contact_s.size)
    answer_s = steps.contact_s + walker.answer_s + scatter
    envelope = _envelope(steps, time_s, 0.5 / walker.stride_hz)
    return Gait(
        start_s=start_s,
        steps=steps,
        phase_rad=_phase(steps, steps.contact_s, time_s, 0.5 / walker.stride_hz),
        answer_phase_rad=_phase(steps, answer_s, time_s, 0.5 / walker.stride_hz),
        envelope=envelope,
        strength=np.interp(time_s, answer_s, gaussian_filter1d(steps.strength, 0.3)),
        heading_rad=_heading(rng, walker, legs, steps, time_s),
        speed_mps=_speed(walker, legs, steps, time_s, envelope),
        answer_s=answer_s,
    )


def _phase(steps: Steps, knot_s: FloatArray, time_s: FloatArray, step_s: float) -> FloatArray:
    """Return the phase of the stride: a smooth curve through the contacts of each episode."""
    phase = np.empty(time_s.size)
    numbers = np.unique(steps.episode)
    starts = [knot_s[steps.episode == n][0] - 2.0 * step_s for n in numbers]
    edges = [-np.inf, *starts[1:], np.inf]
    for n, low, high in zip(numbers, edges[:-1], edges[1:], strict=True):
        own = steps.episode == n
        inside = (time_s >= low) & (time_s < high)
        phase[inside] = _through(knot_s[own], bool(steps.is_left[own][0]), time_s[inside], step_s)
    return phase


def _through(knot_s: FloatArray, left_first: bool, time_s: FloatArray, step_s: float) -> FloatArray:
    """Return phase through the knots, going on at the walker's own pace outside them."""
    pad = step_s * np.arange(1, 5)
    knots = np.concatenate([knot_s[0] - pad[::-1], knot_s, knot_s[-1] + pad])
    values = np.pi * (np.arange(knots.size) - pad.size + (0 if left_first else 1))
    values = values + 8.0 * np.pi
    clipped = np.clip(time_s, knots[0], knots[-1])
    phase = CubicSpline(knots, values)(clipped)
    if (np.diff(phase) < 0.0).any():
        phase = PchipInterpolator(knots, values)(clipped)
    return np.asarray(phase)


def _envelope(steps: Steps, time_s: FloatArray, step_s: float) -> FloatArray:
    """Return 0 while standing, 1 while walking; it rises over the first step."""
    envelope = np.zeros(time_s.size)
    for n in np.unique(steps.episode):
        contact_s = steps.contact_s[steps.episode == n]
        up = rise((time_s - contact_s[0] + step_s) / (1.3 * step_s))
        down = rise((contact_s[-1] + 0.6 * step_s - time_s) / (1.4 * step_s))
        envelope = np.maximum(envelope, up * down)
    return envelope


def _leg_spans(steps: Steps, step_s: float) -> dict[int, tuple[float, float]]:
    """Return when each leg with steps begins and ends: at the contacts that bound it.

    A leg after standing begins one step time before its first contact.
    """
    spans = {}
    for leg in np.unique(steps.leg):
        index = np.flatnonzero(steps.leg == leg)
        first = float(steps.contact_s[index[0]])
        before = float(steps.contact_s[index[0] - 1]) if index[0] else -np.inf
        spans[int(leg)] = (max(before, first - 1.3 * step_s), float(steps.contact_s[index[-1]]))
    return spans


def _heading(
    rng: np.random.Generator,
    walker: Walker,
    legs: tuple[Leg, ...],
    steps: Steps,
    time_s: FloatArray,
) -> FloatArray:
    """Return the heading of the path, with the slow wandering of one who walks."""
    rate = np.zeros(time_s.size)
    for leg, (begin, end) in _leg_spans(steps, 0.5 / walker.stride_hz).items():
        inside = (time_s >= begin) & (time_s < end)
        rate[inside] = np.deg2rad(legs[leg].turn_deg) / max(end - begin, 1.0 / FINE_HZ)
    rate = gaussian_filter1d(rate, HEADING_SMOOTH_S * FINE_HZ)
    veer = np.deg2rad(walker.veer_deg) * in_band(rng, time_s.size, FINE_HZ, 0.0, 0.08)
    return np.asarray(np.cumsum(rate) / FINE_HZ + veer - veer[0])


def _speed(
    walker: Walker,
    legs: tuple[Leg, ...],
    steps: Steps,
    time_s: FloatArray,
    envelope: FloatArray,
) -> FloatArray:
    """Return the speed along the path, less in a turn."""
    share = np.ones(time_s.size)
    for leg, (begin, end) in _leg_spans(steps, 0.5 / walker.stride_hz).items():
        if legs[leg].kind == "turn":
            share[(time_s >= begin) & (time_s < end)] = TURN_SPEED_FRAC
    speed = walker.speed_mps * share * envelope
    return np.asarray(gaussian_filter1d(speed, SPEED_SMOOTH_S * FINE_HZ))
