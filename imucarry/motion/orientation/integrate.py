"""The full-rate passes: gyroscope to a drifting orientation, and its correction.

Everything in between works on means over short blocks of samples (`Blocks`), so
that a recording is read twice, in chunks that stay in the processor's cache.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.motion import pairs, rotations
from imucarry.motion.pairs import ComplexArray, Pair

# Samples of one pass through the cache; not a setting, as results do not hang on it.
_CHUNK = 6144


@dataclass(frozen=True, slots=True)
class Blocks:
    """Means over blocks of equal length; K blocks, a remainder at the end left out.

    Attributes
    ----------
    n_samples : int
        Samples a block.
    rate_hz : float
        Blocks a second.
    acc_world_mps2 : ndarray, shape (K, 3) [m/s^2]
        Acceleration in the drifting frame.
    to_world : ndarray, shape (K, 3, 3) [1]
        Mean rotation matrix, sensor to drifting frame.
    acc_mps2 : ndarray, shape (K, 3) [m/s^2]
        Acceleration in sensor axes.
    gyr_radps : ndarray, shape (K, 3) [rad/s]
        Angular rate in sensor axes.
    """

    n_samples: int
    rate_hz: float
    acc_world_mps2: FloatArray
    to_world: FloatArray
    acc_mps2: FloatArray
    gyr_radps: FloatArray


def integrate(
    acc_mps2: FloatArray,
    gyr_radps: FloatArray,
    *,
    rate_hz: float,
    block_rate_hz: float,
    gyro_sample: str,
) -> tuple[FloatArray, Blocks]:
    """Integrate the angular rate from the identity, and take block means on the way.

    Parameters
    ----------
    acc_mps2, gyr_radps : ndarray, shape (N, 3) [m/s^2], [rad/s]
    rate_hz : float [Hz]
    block_rate_hz : float [Hz]
        Wanted rate of the block means; a block is a whole number of samples.
    gyro_sample : str
        "instant": a sample is the rate at its own time;
        "mean_since_last": it is the mean rate since the sample before.

    Returns
    -------
    quat : ndarray, shape (N, 4) [1]
        Sensor to drifting frame. The first sample is the identity turned by its own step.
    blocks : Blocks

    Notes
    -----
    For each chunk of samples:
    1. step quaternions from the angular rate (Laidig & Seel 2023, eq. 2);
    2. their running product, begun with the last orientation of the chunk before;
    3. the acceleration turned into the drifting frame (ibid., sec. 3.2);
    4. means over blocks of whatever the later stages need.
    """
    n_all = gyr_radps.shape[0]
    n_block = max(1, min(n_all, round(rate_hz / block_rate_hz)))
    n_blocks = n_all // n_block
    quat = np.empty((n_all, 4))
    a, b = pairs.as_pair(quat)
    means = np.empty((_ROWS, n_blocks), dtype=np.complex128)
    carry: Pair = (np.ones(1, dtype=np.complex128), np.zeros(1, dtype=np.complex128))
    n_chunk = n_block * max(1, _CHUNK // n_block)
    for start in range(0, n_all, n_chunk):
        part = slice(start, min(start + n_chunk, n_all))
        step = step_pairs(gyr_radps, part, rate_hz, gyro_sample)
        for half, first in zip(step, pairs.multiply_pairs(carry, _at(step, 0)), strict=True):
            half[0] = first[0]
        a[part], b[part] = here = pairs.running_product(step)
        carry = _unit(_at(here, -1))
        block_part = slice(start // n_block, part.stop // n_block)
        _block_means(here, acc_mps2[part], gyr_radps[part], n_block, means[:, block_part])
    return quat, _as_blocks(means, n_block, rate_hz)


def step_pairs(gyr_radps: FloatArray, part: slice, rate_hz: float, gyro_sample: str) -> Pair:
    """Return the rotation from each sample's predecessor to it, as pairs, shape (n,).

    Notes
    -----
    A rate that is given at instants is run through by cubics: the mean over a step
    is ``(-w0 + 13 w1 + 13 w2 - w3) / 24`` of the two samples before and after. The
    turning of the axis within the step is Bortz' term (Bortz 1971, IEEE Trans. AES
    7:61-66), ``dt^2 / 12 (w1 x w2)`` for a rate that runs straight.
    """
    if gyro_sample == "instant":
        at = np.arange(part.start - 2, part.stop + 1).clip(0, gyr_radps.shape[0] - 1)
        rate = gyr_radps[at].T
        before, here = rate[:, 1:-2], rate[:, 2:-1]
        mean = (13 * (before + here) - (rate[:, :-3] + rate[:, 3:])) / 24
        turning = rotations.cross(before.T, here.T).T
        half = (0.5 / rate_hz) * mean + (1 / 24 / rate_hz**2) * turning
    else:
        half = (0.5 / rate_hz) * gyr_radps[part].T
    x, y, z = np.ascontiguousarray(half)
    angle = np.sqrt(x * x + y * y + z * z)
    ratio = rotations.sine_ratio(angle)
    # A step of more than half a turn looks like a smaller one back: the cosine is positive.
    sine = angle * ratio
    cosine = np.sqrt(1 - sine * sine)
    a = np.empty(angle.size, dtype=np.complex128)
    b = np.empty(angle.size, dtype=np.complex128)
    a.real, a.imag, b.real, b.imag = cosine, x * ratio, y * ratio, z * ratio
    return a, b


def correct(quat: FloatArray, correction: FloatArray, n_block: int) -> None:
    """Turn the drifting frame into the final one, in place.

    Parameters
    ----------
    quat : ndarray, shape (N, 4) [1]
        Changed in place: each becomes ``correction * quat``.
    correction : ndarray, shape (K, 4) [1]
        At the middle of each block, in between interpolated on a straight line
        (they differ by well under a degree) and scaled back to length one.
    n_block : int
        Samples a block.
    """
    a, b = pairs.as_pair(quat)
    # Cell k lies between the middles of blocks k - 1 and k; one cell before the first
    # and two after the last reach all samples.
    padded = _with_ends(correction)
    share = (np.arange(n_block) + (0.5 if n_block % 2 == 0 else 0.0)) / n_block
    n_cells = padded.shape[0] - 1
    first = n_block // 2 - n_block
    chunk = max(1, _CHUNK // n_block)
    for cell in range(0, n_cells, chunk):
        between = _interpolate(padded[cell : cell + chunk + 1], share)
        low = first + cell * n_block
        if low >= a.size:  # the cells beyond the last middle may hold no sample
            break
        span = slice(max(low, 0), max(min(low + between[0].size, a.size), 0))
        used = slice(span.start - low, span.stop - low)
        by = between[0][used], between[1][used]
        a[span], b[span] = pairs.multiply_pairs(by, (a[span], b[span]))


def _with_ends(quat: FloatArray) -> FloatArray:
    """Go on at both ends as the last change went: one more before, two more after."""
    if quat.shape[0] == 1:
        return np.repeat(quat, 4, axis=0)
    ends = [2 * quat[0] - quat[1], 2 * quat[-1] - quat[-2], 3 * quat[-1] - 2 * quat[-2]]
    before, after, later = rotations.normalize(np.stack(ends))
    return np.concatenate([before[None], quat, after[None], later[None]])


def _interpolate(quat: FloatArray, share: FloatArray) -> Pair:
    """Return M - 1 quaternions times n between M neighbours, as pairs, one after the other."""
    change = np.diff(quat, axis=0)
    n_cells, n_share = change.shape[0], share.size
    # The chord between two points of the unit sphere is this much shorter than its radius.
    scale = np.repeat(rotations.dot(change, change), n_share)
    scale *= np.tile(share * (share - 1), n_cells)
    scale += 1
    np.sqrt(scale, out=scale)
    np.divide(1, scale, out=scale)
    complex_share = np.tile(share.astype(np.complex128), n_cells)
    halves = []
    for start, step in zip(pairs.as_pair(quat), pairs.as_pair(change), strict=True):
        between = np.repeat(step, n_share)
        between *= complex_share
        between += np.repeat(start[:-1], n_share)
        between *= scale
        halves.append(between)
    return halves[0], halves[1]


def _at(pair: Pair, index: int) -> Pair:
    return pair[0][[index]], pair[1][[index]]


def _unit(pair: Pair) -> Pair:
    length = np.sqrt(abs(pair[0]) ** 2 + abs(pair[1]) ** 2)
    return pair[0] / length, pair[1] / length


# --- block means ---------------------------------------------------------------

_ROWS = 9  # complex rows that are averaged: see `_block_means` and `_as_blocks`


def _block_means(
    pair: Pair, acc_mps2: FloatArray, gyr_radps: FloatArray, n_block: int, out: ComplexArray
) -> None:
    """Average what the later stages need over each whole block of one chunk."""
    n_used = out.shape[1] * n_block
    acc, gyr = acc_mps2[:n_used].T, gyr_radps[:n_used].T
    products, b_length2 = pairs.pair_squares((pair[0][:n_used], pair[1][:n_used]))
    rows = np.empty((_ROWS - 4, n_used), dtype=np.complex128)
    rows[0].real, rows[0].imag = acc[1], acc[2]
    rows[1].real, rows[1].imag = acc[0], gyr[0]
    rows[2].real, rows[2].imag = gyr[1], gyr[2]
    rows[3].real, rows[4] = pairs.turn_by_squares((products, b_length2), acc[0], rows[0])
    rows[3].imag = b_length2
    # As fast as a matrix product here, and it wakes no threads.
    np.einsum("rkj->rk", products.reshape(4, -1, n_block), out=out[:4])
    np.einsum("rkj->rk", rows.reshape(_ROWS - 4, -1, n_block), out=out[4:])
    out /= n_block


def _as_blocks(means: ComplexArray, n_block: int, rate_hz: float) -> Blocks:
    acc_yz, x_both, gyr_yz, x_and_length, world_yz = means[4:]
    return Blocks(
        n_samples=n_block,
        rate_hz=rate_hz / n_block,
        acc_world_mps2=np.stack([x_and_length.real, world_yz.real, world_yz.imag], axis=-1),
        to_world=pairs.matrix_from_squares((means[:4], x_and_length.imag)),
        acc_mps2=np.stack([x_both.real, acc_yz.real, acc_yz.imag], axis=-1),
        gyr_radps=np.stack([x_both.imag, gyr_yz.real, gyr_yz.imag], axis=-1),
    )
