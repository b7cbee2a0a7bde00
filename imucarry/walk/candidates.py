"""Moments at which a foot may have landed, and what speaks for each.

At contact the trunk is braked and lifted: the jerk of upward minus forward
acceleration has a peak. Three things speak for a candidate: how high the peak
is, where it lies in the step-rate part of the same signal, and, for its side,
the sway of the trunk from foot to foot.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.grid import filtered, moving_mean

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


def contact_jerk(acc_mps2: FloatArray, rate_hz: float) -> FloatArray:
    """Return the jerk of upward minus forward acceleration, shape (N,) [m/s^3]."""
    smooth = filtered(
        acc_mps2[:, 2] - acc_mps2[:, 0], rate_hz, high_hz=evidence.SALIENCE_CUTOFF_HZ.value
    )
    jerk: FloatArray = np.gradient(smooth) * rate_hz
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
    for half in np.unique(half_width):
        chosen = np.flatnonzero(half_width == half)
        offset = np.arange(-half, half + 1)
        window = 0.5 + 0.5 * np.cos(np.pi * offset / (half + 1))
        window /= window.sum()
        piece = x[np.clip(index[chosen, None] + offset, 0, x.size - 1)]
        piece = piece - (piece @ window)[:, None]
        angle = np.pi * cycles * offset / half
        result[0, chosen] = 2.0 * piece @ (window * np.cos(angle))
        result[1, chosen] = -2.0 * piece @ (window * np.sin(angle))
        result[2, chosen] = np.sqrt(2.0 * piece**2 @ window)
    return result[0], result[1], result[2]


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


def side_evidence(
    lateral_mps2: FloatArray, rate_hz: float, index: IntArray, half_width: IntArray
) -> FloatArray:
    """Return which foot landed by the sway: 1 left, -1 right, shape (K,).

    Notes
    -----
    In stance the trunk is accelerated away from the standing foot: to the left
    before a left contact, to the right after it.
    """
    smooth = filtered(lateral_mps2, rate_hz, high_hz=evidence.LATERAL_CUTOFF_HZ.value)
    _, sine, size = local_harmonic(smooth, index, half_width, STRIDE)
    return sine / np.hypot(size, evidence.LATERAL_FLOOR_MPS2.value)


def salience_worth(height: FloatArray) -> FloatArray:
    """Return what a contact of this height is worth, shape (K,)."""
    return np.minimum(height, evidence.SALIENCE_CAP.value) - evidence.SALIENCE_PRICE.value


def find_candidates(
    acc_mps2: FloatArray, rate_hz: float, period_s: FloatArray, usable: BoolArray
) -> Candidates:
    """Return the candidates of a bout.

    Parameters
    ----------
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Along forward, left, up, without gravity.
    rate_hz : float [Hz]
    period_s : ndarray, shape (N,) [s]
        Local step period.
    usable : ndarray of bool, shape (N,)
        False where the signal was made up across a gap.
    """
    jerk = contact_jerk(acc_mps2, rate_hz)
    height = salience(jerk, rate_hz)
    index = peaks(jerk)
    index = index[(height[index] > evidence.SALIENCE_LEAST.value) & usable[index]]
    half_width = np.maximum(np.rint(period_s[index] * rate_hz), 2).astype(np.int64)
    away = phase_cost(jerk, index, half_width)
    return Candidates(
        index=index,
        worth=salience_worth(height[index]) - away,
        last_worth=salience_worth(height[index] / evidence.CLOSING_STRENGTH.value)
        - evidence.CLOSING_PHASE_FRAC.value * away,
        left_evidence=side_evidence(acc_mps2[:, 1], rate_hz, index, half_width),
        period_s=period_s[index],
    )
