"""The full-rate passes: gyroscope to a drifting orientation, and its correction.

Everything in between works on means over short blocks of samples (`Blocks`), so
that a recording is read twice, in chunks that stay in the processor's cache.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.motion import rotations
from imucarry.motion.rotations import ComplexArray, Pair

# Samples of one pass through the cache; not a setting, as results do not hang on it.
_CHUNK = 4096


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
    a, b = rotations.as_pair(quat)
    means = np.empty((_ROWS, n_blocks), dtype=np.complex128)
    carry: Pair = (np.ones(1, dtype=np.complex128), np.zeros(1, dtype=np.complex128))
    n_chunk = n_block * max(1, _CHUNK // n_block)
    for start in range(0, n_all, n_chunk):
        part = slice(start, min(start + n_chunk, n_all))
        step = step_pairs(gyr_radps, part, rate_hz, gyro_sample)
        for half, first in zip(step, rotations.multiply_pairs(carry, _at(step, 0)), strict=True):
            half[0] = first[0]
        a[part], b[part] = here = rotations.running_product(step)
        carry = _unit(_at(here, -1))
        block_part = slice(start // n_block, part.stop // n_block)
        _block_means(here, acc_mps2[part], gyr_radps[part], n_block, means[:, block_part])
    return quat, _as_blocks(means, n_block, rate_hz)


def step_pairs(gyr_radps: FloatArray, part: slice, rate_hz: float, gyro_sample: str) -> Pair:
    """Return the rotation from each sample's predecessor to it, as pairs, shape (n,).

    Notes
    -----
    A rate that is given at instants is taken as running straight between them:
    the mean of both ends, and Bortz' term for the turning of the axis within the
    step (Bortz 1971, IEEE Trans. AES 7:61-66; for a straight rate,
    ``dt^2/12 (first x second)``).
    """
    rate = gyr_radps[part].T
    if gyro_sample == "instant":
        before = gyr_radps[max(part.start - 1, 0) : part.stop - 1].T
        if part.start == 0:
            before = np.concatenate([rate[:, :1], before], axis=1)
        turning = rotations.cross(before.T, rate.T).T
        half = (0.25 / rate_hz) * (before + rate) + (1 / 24 / rate_hz**2) * turning
    else:
        half = (0.5 / rate_hz) * rate
    x, y, z = half
    angle = np.sqrt(x * x + y * y + z * z)
    ratio = rotations.sine_ratio(angle)
    a = np.empty(angle.size, dtype=np.complex128)
    b = np.empty(angle.size, dtype=np.complex128)
    a.real, a.imag, b.real, b.imag = np.cos(angle), x * ratio, y * ratio, z * ratio
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
    a, b = rotations.as_pair(quat)
    padded = np.concatenate([correction[:1], correction, correction[-1:]])
    ca, cb = (half[:, None] for half in rotations.as_pair(padded))
    # Cell k lies between the middles of blocks k - 1 and k; the first begins early.
    first = n_block // 2 - n_block
    weight = (np.arange(n_block) + (0.5 if n_block % 2 == 0 else 0.0)) / n_block
    n_cells = max(1, _CHUNK // n_block)
    for cell in range(0, correction.shape[0] + 1, n_cells):
        last = min(cell + n_cells, correction.shape[0] + 1)
        between = tuple(
            (c[cell:last] + (c[cell + 1 : last + 1] - c[cell:last]) * weight).ravel()
            for c in (ca, cb)
        )
        low, high = first + cell * n_block, first + last * n_block
        span = slice(max(low, 0), min(high, a.size))
        cut = slice(span.start - low, span.stop - low)
        _turn_in_place(a, b, span, (between[0][cut], between[1][cut]))
    rest = slice(first + (correction.shape[0] + 1) * n_block, a.size)
    if rest.start < rest.stop:
        _turn_in_place(a, b, rest, (ca[-1], cb[-1]))


def _turn_in_place(a: ComplexArray, b: ComplexArray, span: slice, by: Pair) -> None:
    new_a, new_b = rotations.multiply_pairs(by, (a[span], b[span]))
    length2 = new_a.real**2 + new_a.imag**2 + new_b.real**2 + new_b.imag**2
    scale = 1 / np.sqrt(length2)
    a[span], b[span] = new_a * scale, new_b * scale


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
    used = pair[0][:n_used], pair[1][:n_used]
    acc, gyr = acc_mps2[:n_used].T, gyr_radps[:n_used].T
    squares = rotations.pair_squares(used)
    rows = np.empty((_ROWS, n_used), dtype=np.complex128)
    rows[0], rows[1], rows[2], rows[3] = squares[:4]
    acc_yz = rows[5]
    acc_yz.real, acc_yz.imag = acc[1], acc[2]
    rows.real[4], rows[6] = rotations.turn_by_squares(squares, acc[0], acc_yz)
    rows.imag[4] = squares[4]
    rows.real[7], rows.imag[7] = acc[0], gyr[0]
    rows.real[8], rows.imag[8] = gyr[1], gyr[2]
    shares = np.full(n_block, 1 / n_block, dtype=np.complex128)
    out[:] = (rows.reshape(-1, n_block) @ shares).reshape(out.shape)


def _as_blocks(means: ComplexArray, n_block: int, rate_hz: float) -> Blocks:
    aa, bb, ab, ab_conj, x_and_length, acc_yz, world_yz, x_both, gyr_yz = means
    squares = (aa, bb, ab, ab_conj, x_and_length.imag)
    return Blocks(
        n_samples=n_block,
        rate_hz=rate_hz / n_block,
        acc_world_mps2=np.stack([x_and_length.real, world_yz.real, world_yz.imag], axis=-1),
        to_world=rotations.matrix_from_squares(squares),
        acc_mps2=np.stack([x_both.real, acc_yz.real, acc_yz.imag], axis=-1),
        gyr_radps=np.stack([x_both.imag, gyr_yz.real, gyr_yz.imag], axis=-1),
    )
