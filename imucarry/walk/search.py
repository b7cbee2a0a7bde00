"""What tells walking in a recording: the vertical's rhythm, and how the sensor swings.

Legs lift the trunk, and a wrist with it, once a step. The swing of an arm turns
back after one step and comes again after two.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields

import numpy as np

from imucarry.basics.evidence import contacts as contact_evidence
from imucarry.basics.evidence import passes as evidence
from imucarry.basics.records import FloatArray, IntArray, Orientation, Recording
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.motion.rotations import rotate_each
from imucarry.motion.signals import block_means
from imucarry.walk.grid import filtered, moving_mean
from imucarry.walk.standing import vertical

SLOW_BANDS = 6  # upper edges that stand for "slower than a step", log-spaced


@dataclass(frozen=True, slots=True)
class Marks:
    """Marks of walking over time; all arrays have shape (K,).

    Attributes
    ----------
    time_s : ndarray [s]
    vertical_mps2 : ndarray [m/s^2]
        Root mean square of vertical acceleration.
    rhythm : ndarray
        Correlation of vertical acceleration a step later, -1 without a peak.
    period_s : ndarray [s]
        The step period that the rhythm belongs to.
    slow_frac : ndarray
        Share of the vertical's power that is slower than the step.
    horizontal : ndarray
        Power of horizontal to that of vertical acceleration.
    turning_radps : ndarray [rad/s]
        Root mean square of the angular rate.
    back, again : ndarray
        Correlation of the angular rate after one step, and after two.
    tilt_deg : ndarray [deg]
        Spread of the sensor's tilt.
    swing : ndarray
        How clearly the angular rate turns back and comes again, at the period where it does
        most, whatever the vertical does: 1 is a pendulum.
    swing_period_s : ndarray [s]
        That period: half a swing to and fro.
    """

    time_s: FloatArray
    vertical_mps2: FloatArray
    rhythm: FloatArray
    period_s: FloatArray
    slow_frac: FloatArray
    horizontal: FloatArray
    turning_radps: FloatArray
    back: FloatArray
    again: FloatArray
    tilt_deg: FloatArray
    swing: FloatArray
    swing_period_s: FloatArray


def walking_marks(
    recording: Recording, orientation: Orientation, *, with_swing: bool = True
) -> Marks:
    """Return the marks of walking over a whole recording, where there is any motion.

    Parameters
    ----------
    recording : Recording
    orientation : Orientation
    with_swing : bool
        Whether the marks of an arm's swing are asked for, which take most of the time.

    Returns
    -------
    Marks
        Quiet parts are left out, so that a day takes little time and memory.
    """
    parts = [marks_of(part, with_swing) for part in chunks(recording, orientation)]
    names = [item.name for item in fields(Marks)]
    joined = {
        name: np.concatenate([np.empty(0), *(getattr(part, name) for part in parts)])
        for name in names
    }
    return Marks(**joined)


@dataclass(frozen=True, slots=True)
class Chunk:
    """A part of a recording on a coarse grid, in world axes; `own` are its own samples."""

    rate_hz: float
    time_s: FloatArray
    acc_mps2: FloatArray
    gyr_radps: FloatArray
    level: FloatArray
    own: slice


def chunks(recording: Recording, orientation: Orientation) -> Iterator[Chunk]:
    """Yield the parts of a recording that hold motion, with margins."""
    block = max(1, round(recording.rate_hz / evidence.SEARCH_RATE_HZ.value))
    rate_hz = recording.rate_hz / block
    length = int(evidence.SEARCH_CHUNK_S.value * rate_hz) * block
    margin = int(evidence.SEARCH_MARGIN_S.value * rate_hz) * block
    least = min(evidence.CHEST_VERTICAL_LEAST_MPS2.value, evidence.WRIST_VERTICAL_LEAST_MPS2.value)
    for start in range(0, recording.time_s.size, length):
        first, last = max(start - margin, 0), min(start + length + margin, recording.time_s.size)
        part = slice(first, last)
        if last - first < 2 * block or liveliness(recording.acc_mps2[part], block, rate_hz) < least:
            continue
        quat = orientation.quat[part]
        acc, gyr = rotate_each(
            quat, (recording.acc_mps2[part], recording.gyr_radps[part] - orientation.bias_radps)
        )
        acc[:, 2] -= STANDARD_GRAVITY_MPS2
        n_before, n_own = (start - first) // block, length // block
        yield Chunk(
            rate_hz=rate_hz,
            time_s=block_means(recording.time_s[part], block),
            acc_mps2=block_means(acc, block),
            gyr_radps=block_means(gyr, block),
            level=block_means(vertical(quat), block),
            own=slice(n_before, n_before + n_own),
        )


def liveliness(acc_mps2: FloatArray, block: int, rate_hz: float) -> float:
    """Return the largest spread of acceleration's size within a window [m/s^2]."""
    size = np.linalg.norm(block_means(acc_mps2, block), axis=1)
    size -= size.mean()
    width = int(evidence.SEARCH_WINDOW_S.value * rate_hz)
    spread = moving_mean(size * size, width) - moving_mean(size, width) ** 2
    return float(np.sqrt(max(spread.max(), 0.0)))


def marks_of(chunk: Chunk, with_swing: bool) -> Marks:
    """Return the marks of one part; those of the swing are 0 where it is not asked for."""
    rate_hz = chunk.rate_hz
    hop = max(1, round(evidence.SEARCH_HOP_S.value * rate_hz))
    width = int(evidence.SEARCH_WINDOW_S.value * rate_hz)
    low_hz, high_hz = evidence.SEARCH_BAND_LOW_HZ.value, evidence.SEARCH_BAND_HIGH_HZ.value
    up = filtered(chunk.acc_mps2[:, 2:], rate_hz, low_hz=low_hz, high_hz=high_hz)
    lags = step_lags(rate_hz)
    rhythms, up_rms = correlation(up, lags, width, hop, evidence.VERTICAL_FLOOR_M2PS4.value)
    backs, agains, turning = np.zeros_like(rhythms), np.zeros_like(rhythms), np.zeros_like(up_rms)
    if with_swing:
        backs, agains, turning = swing_correlations(chunk, lags, width, hop)
    column = (only_peaks(rhythms) + 0.5 * (agains - backs)).argmax(axis=1)
    rows = np.arange(column.size)
    slow, horizontal = vertical_shares(chunk, lags[column] / rate_hz, width, hop)
    marks = {
        "time_s": chunk.time_s[::hop],
        "vertical_mps2": up_rms,
        "rhythm": only_peaks(rhythms)[rows, column],
        "period_s": lags[column] / rate_hz,
        "slow_frac": slow,
        "horizontal": horizontal,
        "turning_radps": turning,
        "back": backs[rows, column],
        "again": agains[rows, column],
        "tilt_deg": tilt_spread(chunk.level, width, hop),
        "swing": (agains - backs).max(axis=1) / 2.0,
        "swing_period_s": lags[(agains - backs).argmax(axis=1)] / rate_hz,
    }
    own = slice(-(-chunk.own.start // hop), -(-chunk.own.stop // hop))
    return Marks(**{name: values[own] for name, values in marks.items()})


def swing_correlations(
    chunk: Chunk, lags: IntArray, width: int, hop: int
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return how the rotation repeats after one and after two steps, and its size."""
    swing = filtered(
        chunk.gyr_radps,
        chunk.rate_hz,
        low_hz=evidence.SWING_BAND_LOW_HZ.value,
        high_hz=evidence.SWING_BAND_HIGH_HZ.value,
    )
    floor = evidence.SWING_FLOOR_RAD2PS2.value
    backs, turning = correlation(swing, lags, width, hop, floor)
    agains, _ = correlation(swing, 2 * lags, width, hop, floor)
    return backs, agains, turning


def step_lags(rate_hz: float) -> IntArray:
    """Return the step periods that are tried, in samples."""
    shortest = 0.5 / contact_evidence.STRIDE_RATE_MAX_HZ.value
    longest = 0.5 / evidence.SEARCH_STRIDE_RATE_MIN_HZ.value
    # One more on either side, so that the outermost periods can be peaks.
    return np.arange(int(shortest * rate_hz) - 1, int(np.ceil(longest * rate_hz)) + 2)


def correlation(
    x: FloatArray, lags: IntArray, width: int, hop: int, floor: float
) -> tuple[FloatArray, FloatArray]:
    """Return how well a signal repeats itself after each lag, and its size.

    Parameters
    ----------
    x : ndarray, shape (N, C)
    lags : ndarray of int, shape (L,)
    width, hop : int
        Length of the window, and samples from one row of the result to the next.
    floor : float
        Power that is added, so that noise does not repeat itself.

    Returns
    -------
    correlation : ndarray, shape (ceil(N / hop), L)
    rms : ndarray, shape (ceil(N / hop),)
    """
    power = moving_mean((x * x).sum(axis=1), width)[::hop]
    result = np.zeros((power.size, lags.size))
    for column, lag in enumerate(lags):
        if lag >= x.shape[0]:
            continue
        product = np.zeros(x.shape[0])
        product[lag // 2 : lag // 2 + x.shape[0] - lag] = (x[:-lag] * x[lag:]).sum(axis=1)
        result[:, column] = moving_mean(product, width)[::hop] / (power + floor)
    return result, np.sqrt(power)


def only_peaks(rows: FloatArray) -> FloatArray:
    """Return each row with -1 wherever it is not higher than its neighbours."""
    result = np.full_like(rows, -1.0)
    inner = rows[:, 1:-1]
    higher = (inner > rows[:, :-2]) & (inner >= rows[:, 2:])
    result[:, 1:-1] = np.where(higher, inner, -1.0)
    return result


def vertical_shares(
    chunk: Chunk, period_s: FloatArray, width: int, hop: int
) -> tuple[FloatArray, FloatArray]:
    """Return the slow share of the vertical's power, and horizontal to vertical power."""
    rate_hz = chunk.rate_hz
    acc = filtered(
        chunk.acc_mps2, rate_hz, low_hz=evidence.SWING_BAND_LOW_HZ.value, high_hz=rate_hz / 4.0
    )
    power = moving_mean(acc * acc, width)[::hop] + 1e-9
    slowest = 0.7 / period_s
    edges_hz = np.geomspace(max(slowest.min(), 0.5), max(slowest.max(), 0.5), SLOW_BANDS)
    slow = np.stack(
        [
            moving_mean(filtered(acc[:, 2], rate_hz, high_hz=edge) ** 2, width)[::hop]
            for edge in edges_hz
        ]
    )
    nearest = np.abs(np.log(slowest[None, :] / edges_hz[:, None])).argmin(axis=0)
    slow_frac = slow[nearest, np.arange(nearest.size)] / power[:, 2]
    return slow_frac, (power[:, 0] + power[:, 1]) / power[:, 2]


def tilt_spread(level: FloatArray, width: int, hop: int) -> FloatArray:
    """Return the root mean square tilt from the mean tilt, shape (K,) [deg]."""
    length = np.linalg.norm(moving_mean(level, width)[::hop], axis=1)
    return np.asarray(np.degrees(np.sqrt(2.0 * np.maximum(1.0 - length, 0.0))))
