"""Moments at which a foot may have landed, and what speaks for each.

At contact the trunk is braked and lifted: the jerk of upward minus forward
acceleration has a peak. Three things speak for a candidate: how high the peak
is, where it lies in the step-rate part of the same signal, and, for its side,
the sway of the trunk from foot to foot.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.grid import Spectrum, band, mixed, moving_mean

STEP, STRIDE = 2, 1  # cycles in a window of one step to each side


@dataclass(frozen=True, slots=True)
class Candidates:
    """Candidates for a foot contact, in time order; all arrays have shape (K,).

    Attributes
    ----------
    index : ndarray of int
        Sample of the grid.
    worth : ndarray
        What choosing the candidate adds to the score of a path.
    last_worth : ndarray
        The same where it is the last step of a run.
    left_evidence : ndarray
        From -1 (right) to 1 (left).
    period_s : ndarray [s]
        Local step period.
    """

    index: IntArray
    worth: FloatArray
    last_worth: FloatArray
    left_evidence: FloatArray
    period_s: FloatArray


def contact_jerk(acc: Spectrum) -> FloatArray:
    """Return the jerk of upward minus forward acceleration, shape (N,) [m/s^3]."""
    up_minus_forward = mixed(acc, (-1.0, 0.0, 1.0))
    smooth = band(up_minus_forward, high_hz=evidence.SALIENCE_CUTOFF_HZ.value)[0]
    jerk: FloatArray = np.gradient(smooth) * acc.rate_hz
    return jerk


def salience(jerk_mps3: FloatArray, rate_hz: float) -> FloatArray:
    """Return the jerk in parts of the local height of contacts, shape (N,)."""
    width = int(evidence.SALIENCE_WINDOW_S.value * rate_hz)
    local = np.sqrt(moving_mean(np.maximum(jerk_mps3, 0.0) ** 2, width))
    local = local * evidence.SALIENCE_RMS_TO_PEAK.value
    of_bout = evidence.SALIENCE_BOUT_FRAC.value * np.percentile(local, 80)
    return jerk_mps3 / np.maximum(local, max(of_bout, evidence.SALIENCE_FLOOR_MPS3.value))


def local_harmonic(
    x: FloatArray, index: IntArray, half_width: IntArray, cycles: int
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the part of a signal at the step or stride rate around some samples.

    Parameters
    ----------
    x : ndarray, shape (N,)
    index : ndarray of int, shape (K,)
    half_width : ndarray of int, shape (K,)
        A step, in samples: the Hann window reaches this far to each side.
    cycles : int
        `STEP` or `STRIDE`.

    Returns
    -------
    cosine, sine, size : ndarray, shape (K,)
        The signal near a sample is ``cosine cos(w t) - sine sin(w t)``; `size` is
        the amplitude of all that is in the window.
    """
    result = np.zeros((3, index.size))
    for half in np.unique(half_width).tolist():
        chosen = half_width == half
        piece = x[np.clip(index[chosen, None] + np.arange(-half, half + 1), 0, x.size - 1)]
        waves = _windowed_waves(half, cycles)
        mean, cosine, sine = (piece @ waves).T
        _, cosine_of_level, sine_of_level = waves.sum(axis=0)
        result[0, chosen] = cosine - mean * cosine_of_level
        result[1, chosen] = sine - mean * sine_of_level
        result[2, chosen] = piece**2 @ waves[:, 0] - mean**2
    return result[0], result[1], np.sqrt(2.0 * np.maximum(result[2], 0.0))


@lru_cache(maxsize=256)
def _windowed_waves(half: int, cycles: int) -> FloatArray:
    """Return a Hann window of sum 1, and with it twice a cosine and minus a sine, (W, 3)."""
    offset = np.arange(-half, half + 1)
    window = 0.5 + 0.5 * np.cos(np.pi * offset / (half + 1))
    window /= window.sum()
    angle = np.pi * cycles * offset / half
    waves = np.column_stack([window, 2.0 * window * np.cos(angle), -2.0 * window * np.sin(angle)])
    waves.setflags(write=False)
    return waves


def peaks(x: FloatArray) -> IntArray:
    """Return the samples that are higher than their neighbours."""
    higher = (x[1:-1] > x[:-2]) & (x[1:-1] >= x[2:])
    return np.flatnonzero(higher).astype(np.int64) + 1


def phase_cost(jerk_mps3: FloatArray, index: IntArray, half_width: IntArray) -> FloatArray:
    """Return what a candidate loses for its place in the step, shape (K,)."""
    cosine, sine, _ = local_harmonic(jerk_mps3, index, half_width, STEP)
    away = np.arctan2(sine, cosine) / (2.0 * np.pi) - evidence.STEP_PHASE_FRAC.value
    away = (away + 0.5) % 1.0 - 0.5
    squared = (away / evidence.STEP_PHASE_SD_FRAC.value) ** 2
    return evidence.STEP_PHASE_COST.value * np.minimum(squared, evidence.STEP_PHASE_LIMIT.value)


def side_evidence(acc: Spectrum, index: IntArray, half_width: IntArray) -> FloatArray:
    """Return which foot landed by the sway: 1 left, -1 right, shape (K,).

    Notes
    -----
    In stance the trunk is accelerated away from the standing foot: to the left
    before a left contact, to the right after it.
    """
    lateral = band(mixed(acc, (0.0, 1.0, 0.0)), high_hz=evidence.LATERAL_CUTOFF_HZ.value)[0]
    _, sine, size = local_harmonic(lateral, index, half_width, STRIDE)
    return sine / np.hypot(size, evidence.LATERAL_FLOOR_MPS2.value)


def salience_worth(height: FloatArray) -> FloatArray:
    """Return what a contact of this height is worth, shape (K,)."""
    return np.minimum(height, evidence.SALIENCE_CAP.value) - evidence.SALIENCE_PRICE.value


def find_candidates(
    acc: Spectrum, jerk_mps3: FloatArray, period_s: FloatArray, usable: BoolArray
) -> Candidates:
    """Return the candidates of a bout.

    Parameters
    ----------
    acc : Spectrum
        Of acceleration along forward, left, up, without gravity.
    jerk_mps3 : ndarray, shape (N,) [m/s^3]
        From `contact_jerk`.
    period_s : ndarray, shape (N,) [s]
        Local step period.
    usable : ndarray of bool, shape (N,)
        False where the signal was made up across a gap.
    """
    height = salience(jerk_mps3, acc.rate_hz)
    index = peaks(jerk_mps3)
    index = index[(height[index] > evidence.SALIENCE_LEAST.value) & usable[index]]
    half_width = np.maximum(np.rint(period_s[index] * acc.rate_hz), 2).astype(np.int64)
    away = phase_cost(jerk_mps3, index, half_width)
    return Candidates(
        index=index,
        worth=salience_worth(height[index]) - away,
        last_worth=salience_worth(height[index] / evidence.CLOSING_STRENGTH.value)
        - evidence.CLOSING_PHASE_FRAC.value * away,
        left_evidence=side_evidence(acc, index, half_width),
        period_s=period_s[index],
    )
