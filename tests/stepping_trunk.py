"""A trunk that answers to contacts at told times, for the tests of contacts, passes and strides.

Forward acceleration is a sawtooth that peaks at contact, the vertical rises just after
it and the sway points away from the foot that stands (as Zijlstra & Hof 2003, Gait &
Posture 18(2):1-10 describe walking); in formulas of our own.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.ndimage import gaussian_filter1d

from imucarry.basics.records import BoolArray, FloatArray, TrunkMotion


@dataclass(frozen=True, slots=True)
class SteppingTrunk:
    """A trunk's motion and the contacts that it answers to."""

    trunk: TrunkMotion
    contact_s: FloatArray
    is_left: BoolArray


def told_contacts(*, step_s: float = 0.55, n: int = 24, start_s: float = 3.0) -> FloatArray:
    """Return contacts at an even pace, shape (n,) [s]."""
    return start_s + step_s * np.arange(n)


def stepping(
    contact_s: FloatArray,
    *,
    rate_hz: float = 100.0,
    left_first: bool = True,
    left_again: int | None = None,
    sway: float = 0.8,
    yaw_deg: FloatArray | None = None,
    length_s: float | None = None,
    gap_s: tuple[float, float] | None = None,
    noise: FloatArray | None = None,
) -> SteppingTrunk:
    """Return a trunk that steps at the told times and stands before and after.

    Parameters
    ----------
    contact_s : ndarray, shape (K,) [s]
        Sides alternate.
    rate_hz : float [Hz]
    left_first : bool
    left_again : int, optional
        A contact from which on the sides start as at the first one.
    sway : float [m/s^2]
        Amplitude of lateral acceleration.
    yaw_deg : ndarray, shape (N,) [deg], optional
        Of the thorax, with the path's heading in it.
    length_s : float [s], optional
    gap_s : two floats [s], optional
        Between them the signal is zero and not usable.
    noise : ndarray, shape (N, 3) [m/s^2], optional
    """
    end_s = length_s if length_s is not None else float(contact_s[-1]) + 3.0
    time_s = np.arange(round(end_s * rate_hz)) / rate_hz
    is_left = (np.arange(contact_s.size) % 2 == 0) == left_first
    if left_again is not None:
        is_left[left_again:] = (np.arange(contact_s.size - left_again) % 2 == 0) == left_first
    acc = np.zeros((time_s.size, 3)) if noise is None else noise.copy()
    for first, last in _runs(contact_s):
        acc += _answer(time_s, contact_s[first:last], bool(is_left[first]), sway, rate_hz)
    usable = np.ones(time_s.size, dtype=bool)
    if gap_s is not None:
        usable = (time_s < gap_s[0]) | (time_s > gap_s[1])
        acc[~usable] = 0.0
    yaw = np.zeros(time_s.size) if yaw_deg is None else np.radians(yaw_deg)
    zero = np.zeros(time_s.size)
    trunk = TrunkMotion(
        time_s=time_s,
        rate_hz=rate_hz,
        acc_mps2=acc,
        gyr_radps=np.zeros((time_s.size, 3)),
        heading_rad=zero.copy(),
        yaw_rad=yaw,
        lean_rad=zero.copy(),
        pitch_rad=zero.copy(),
        usable=usable,
        clipped=np.zeros(time_s.size, dtype=bool),
        levelled_in="quiet_standing",
    )
    return SteppingTrunk(trunk, contact_s, is_left)


def _runs(contact_s: FloatArray) -> list[tuple[int, int]]:
    """Return the runs of steps between stops."""
    if contact_s.size == 0:
        return []
    breaks = [0, *(np.flatnonzero(np.diff(contact_s) > 1.5) + 1), contact_s.size]
    return list(pairwise(breaks))


def _answer(
    time_s: FloatArray, contact_s: FloatArray, left_first: bool, sway: float, rate_hz: float
) -> FloatArray:
    """Return the answer to one run of steps, shape (N, 3) [m/s^2]."""
    first, last = contact_s[1] - contact_s[0], contact_s[-1] - contact_s[-2]
    knots = np.concatenate([[contact_s[0] - first], contact_s, [contact_s[-1] + last]])
    phase = np.interp(time_s, knots, np.arange(knots.size))  # whole at a contact
    walking = (time_s > knots[0] + 0.6 * first) & (time_s < knots[-1] - 0.5 * last)
    envelope = gaussian_filter1d(walking.astype(float), 0.08 * rate_hz)
    part = phase % 1.0
    forward = 4.0 * (part - 0.5)  # rises over the step, drops at contact
    lift = 5.0 * np.exp(-0.5 * ((part - 0.12) / 0.06) ** 2)
    left_at = 1.0 if left_first else 0.0
    lateral = -sway * np.sin(np.pi * (phase - left_at))
    signals = np.column_stack([forward, lateral, lift - 0.75])
    smooth = gaussian_filter1d(signals, 0.012 * rate_hz, axis=0)
    return smooth * envelope[:, None]
