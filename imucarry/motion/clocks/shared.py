"""What all sensors of one wearer feel alike, however they are mounted.

Three signals on one grid of times, each of unit size, or less where there is little of it:
- turning about the vertical, slow: the path's turns, common to chest and wrists;
- how much the sensor moves: starts and stops;
- vertical acceleration above the step rate: the jolt of each contact, and taps.
The step rate itself is left out: an arm swings up and down at it too, with a
phase of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import BoolArray, FloatArray, Orientation, Recording
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.motion import signals

N_SIGNALS = 3
# Samples of one pass through the cache; not a setting, as results do not hang on it.
_CHUNK = 8192
TURNS, MOVEMENT, JOLTS = range(N_SIGNALS)


@dataclass(frozen=True, slots=True)
class OwnSignals:
    """The three signals of one sensor on the middles of its own blocks.

    Attributes
    ----------
    recording : Recording
    middles_s : ndarray, shape (K,) [s]
        On the recording's own clock.
    rate_hz : float [Hz]
        Of the blocks.
    rows : ndarray, shape (3, K)
        `TURNS` [rad/s], `MOVEMENT` [ln rad/s] and `JOLTS` [m/s^2].
    """

    recording: Recording
    middles_s: FloatArray
    rate_hz: float
    rows: FloatArray


def own_signals(recording: Recording, orientation: Orientation, grid_rate_hz: float) -> OwnSignals:
    """Return what one sensor feels of what all feel.

    Parameters
    ----------
    recording : Recording
    orientation : Orientation
        Of the same samples.
    grid_rate_hz : float [Hz]
        Of the grid on which sensors are compared; blocks come at about this rate.

    Returns
    -------
    OwnSignals
    """
    n_block = signals.block_length(recording.time_s.size, recording.rate_hz, grid_rate_hz)
    vertical_mps2, turning_radps, speed_radps = _about_vertical(recording, orientation, n_block)
    n_blocks = vertical_mps2.size
    middles_s = recording.time_s[0] + (np.arange(n_blocks) * n_block + 0.5 * (n_block - 1)) / (
        recording.rate_hz
    )
    rate_hz = recording.rate_hz / n_block
    slow_hz, order = evidence.CLOCK_SLOW_HZ.value, evidence.CLOCK_SLOW_ORDER.value
    low_hz, high_hz = evidence.CLOCK_JOLT_LOW_HZ.value, evidence.CLOCK_JOLT_HIGH_HZ.value
    rows = (
        signals.low_pass(turning_radps, rate_hz=rate_hz, cutoff_hz=slow_hz, order=order),
        signals.low_pass(
            np.log(speed_radps + _quiet()), rate_hz=rate_hz, cutoff_hz=slow_hz, order=order
        ),
        signals.band_pass(vertical_mps2, rate_hz=rate_hz, low_hz=low_hz, high_hz=high_hz),
    )
    return OwnSignals(recording, middles_s, rate_hz, np.stack(rows))


def on_grid(own: OwnSignals, grid_s: FloatArray) -> FloatArray:
    """Return the three signals on a grid; 0 where the recording does not reach.

    Parameters
    ----------
    own : OwnSignals
    grid_s : ndarray, shape (M,) [s]
        Uniform, on the recording's own clock.

    Returns
    -------
    ndarray, shape (3, M) [1]
        Each with its mean taken out and of unit root mean square; smaller in proportion
        where there is less than its least size: without turns or stops, what is left is
        the arm's own swing, which must not decide.
    """
    middles_s = own.middles_s
    used = (grid_s >= middles_s[0]) & (grid_s <= middles_s[-1]) & ~_filled(own.recording, grid_s)
    place = np.clip((grid_s - middles_s[0]) * own.rate_hz, 0, middles_s.size - 1)
    low = np.minimum(place.astype(np.int64), max(middles_s.size - 2, 0))
    change = np.diff(own.rows, append=own.rows[:, -1:])
    rows = own.rows.take(low, axis=1) + (place - low) * change.take(low, axis=1)
    least = (
        float(np.deg2rad(evidence.CLOCK_LEAST_TURNS_DEGPS.value)),
        evidence.CLOCK_LEAST_MOVEMENT.value,
        0.0,
    )
    return np.stack([_unit(row, used, size) for row, size in zip(rows, least, strict=True)])


def _about_vertical(recording: Recording, orientation: Orientation, n_block: int) -> FloatArray:
    """Return block means of what does not hang on the mounting, shape (3, K).

    Rows: acceleration along the vertical without gravity [m/s^2], rate about the
    vertical and speed of turning [rad/s].
    """
    n_blocks = recording.time_s.size // n_block
    means = np.empty((3, n_blocks))
    step = max(1, _CHUNK // n_block)
    for first in range(0, n_blocks, step):
        last = min(first + step, n_blocks)
        part = slice(first * n_block, last * n_block)
        w, x, y, z = np.ascontiguousarray(orientation.quat[part].T)
        acc = np.ascontiguousarray(recording.acc_mps2[part].T)
        rate = np.ascontiguousarray(recording.gyr_radps[part].T)
        rate -= orientation.bias_radps[:, None]
        up = np.stack([2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)])
        along = np.einsum("ij,ij->j", up, acc) - STANDARD_GRAVITY_MPS2
        about = np.einsum("ij,ij->j", up, rate)
        speed = np.sqrt(np.einsum("ij,ij->j", rate, rate))
        for row, values in enumerate((along, about, speed)):
            means[row, first:last] = signals.block_means(values, n_block)
    return means


def _quiet() -> float:
    return float(np.deg2rad(evidence.CLOCK_QUIET_DEGPS.value))


def _filled(recording: Recording, grid_s: FloatArray) -> BoolArray:
    """Tell which grid times lie in a gap that was filled, shape (M,)."""
    filled = np.zeros(grid_s.size, dtype=np.bool_)
    for start, stop in recording.gaps:
        first, last = recording.time_s[start], recording.time_s[stop - 1]
        low, high = np.searchsorted(grid_s, [first, last])
        filled[low : high + 1] = True
    return filled


def _unit(x: FloatArray, used: BoolArray, least: float) -> FloatArray:
    """Centre, clip and scale a signal by its size or the least one; 0 outside."""
    if not used.any():
        return np.zeros_like(x)
    x = np.where(used, x - x[used].mean(), 0.0)
    size = np.sqrt((x * x).sum() / used.sum())
    if size == 0.0:
        return x
    # One blow on one sensor must not outweigh a hundred steps of both.
    limit = evidence.CLOCK_CLIP.value * size
    x = np.clip(x, -limit, limit)
    return np.asarray(x / max(float(np.sqrt((x * x).sum() / used.sum())), least))
