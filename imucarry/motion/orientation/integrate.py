"""The full-rate passes: gyroscope to a drifting orientation, and its correction.

Everything in between works on means over short blocks of samples (`Blocks`), so
that a recording is read twice, in chunks that stay in the processor's cache.
"""

from __future__ import annotations

from collections.abc import Sequence
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

    Time runs along the last axis: all work on them is along one piece of memory.

    Attributes
    ----------
    n_samples : int
        Samples a block.
    rate_hz : float
        Blocks a second.
    acc_world_mps2 : ndarray, shape (3, K) [m/s^2]
        Acceleration in the drifting frame.
    to_world : ndarray, shape (3, 3, K) [1]
        Mean rotation matrix, sensor to drifting frame.
    acc_mps2 : ndarray, shape (3, K) [m/s^2]
        Acceleration in sensor axes.
    gyr_radps : ndarray, shape (3, K) [rad/s]
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
    means = _Means.empty(n_blocks)
    carry: Pair = (np.ones(1, dtype=np.complex128), np.zeros(1, dtype=np.complex128))
    n_chunk = n_block * max(1, _CHUNK // n_block)
    for start in range(0, n_all, n_chunk):
        part = slice(start, min(start + n_chunk, n_all))
        rate = rate_rows(gyr_radps, part)
        step = step_pairs(rate, rate_hz, gyro_sample)
        for half, first in zip(step, pairs.multiply_pairs(carry, _part(step, 0, 1)), strict=True):
            half[0] = first[0]
        a[part], b[part] = here = pairs.running_product(step)
        carry = _unit(_part(here, -1, None))
        own = means.part(start // n_block, part.stop // n_block)
        acc = np.ascontiguousarray(acc_mps2[part].T)
        _average(here, acc, rate[:, 2:-1], n_block, own)
    return quat, _as_blocks(means, n_block, rate_hz)


def rate_rows(gyr_radps: FloatArray, part: slice) -> FloatArray:
    """Return the rate from two samples before a part to one after, shape (3, n + 3).

    Beyond the ends of the recording its first and last sample go on. By axes, as
    all that follows is many times faster along one piece of memory.
    """
    rows = np.empty((3, part.stop - part.start + 3))
    before = max(2 - part.start, 0)
    known = gyr_radps[max(part.start - 2, 0) : part.stop + 1].T
    after = before + known.shape[1]
    rows[:, :before], rows[:, before:after], rows[:, after:] = known[:, :1], known, known[:, -1:]
    return rows


def step_pairs(rate_radps: FloatArray, rate_hz: float, gyro_sample: str) -> Pair:
    """Return the rotation from each sample's predecessor to it, as pairs, shape (n,).

    Parameters
    ----------
    rate_radps : ndarray, shape (3, n + 3) [rad/s]
        From `rate_rows`.
    rate_hz : float [Hz]
    gyro_sample : str
        As in `integrate`.

    Notes
    -----
    A rate that is given at instants is run through by cubics: the mean over a step
    is ``(-w0 + 13 w1 + 13 w2 - w3) / 24`` of the two samples before and after. The
    turning of the axis within the step is Bortz' term (Bortz 1971, IEEE Trans. AES
    7:61-66), ``dt^2 / 12 (w1 x w2)`` for a rate that runs straight.
    """
    half = (0.5 / rate_hz) * rate_radps  # of a step at the rate of each sample
    earlier, before, here, later = half[:, :-3], half[:, 1:-2], half[:, 2:-1], half[:, 3:]
    if gyro_sample != "instant":
        return pairs.from_half_turns(here)
    mean = before + here
    mean *= 13 / 24
    mean += rotations.cross(before.T, here.T).T / 6
    mean -= (earlier + later) / 24
    return pairs.from_half_turns(mean)


def correct(quat: FloatArray, correction: Pair, n_block: int) -> None:
    """Turn the drifting frame into the final one, in place.

    Parameters
    ----------
    quat : ndarray, shape (N, 4) [1]
        Changed in place: each becomes ``correction * quat``.
    correction : two complex arrays, shape (K,) [1]
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
    n_cells = padded.shape[1] - 1
    first = n_block // 2 - n_block
    chunk = min(max(1, _CHUNK // n_block), n_cells)
    shares = np.tile(share.astype(np.complex128), chunk)
    for cell in range(0, n_cells, chunk):
        between = _interpolate(padded[:, cell : cell + chunk + 1], shares, n_block)
        low = first + cell * n_block
        if low >= a.size:  # the cells beyond the last middle may hold no sample
            break
        span = slice(max(low, 0), max(min(low + between[0].size, a.size), 0))
        used = slice(span.start - low, span.stop - low)
        by = between[0][used], between[1][used]
        a[span], b[span] = pairs.multiply_pairs(by, (a[span], b[span]))


def _with_ends(pair: Pair) -> ComplexArray:
    """Go on at both ends as the last change went: one more before, two more after.

    Shapes (K,) to (2, K + 3).
    """
    both = np.array(pair)
    if both.shape[1] == 1:
        return np.repeat(both, 4, axis=1)
    first, second, last_but_one, last = both[:, [0, 1, -2, -1]].T
    ends = np.stack([2 * first - second, 2 * last - last_but_one, 3 * last - 2 * last_but_one], 1)
    ends /= np.linalg.norm(ends, axis=0)
    return np.concatenate([ends[:, :1], both, ends[:, 1:]], axis=1)


def _interpolate(pair: ComplexArray, shares: ComplexArray, n_block: int) -> ComplexArray:
    """Return what lies between M neighbours, shapes (2, M) to (2, (M - 1) n).

    At least so many shares, those of one cell over and over: complex, as a product
    of a complex with a real array takes three times as long.
    """
    change = np.diff(pair)
    shares = shares[: change.shape[1] * n_block]
    share = shares.real[:n_block]
    # The chord between two points of the unit sphere is this much shorter than its radius.
    squared = (change.real**2 + change.imag**2).sum(axis=0)[:, None]
    scale = 1 / np.sqrt(1 + squared * (share * (share - 1)))
    between = np.repeat(change, n_block, axis=1)
    between *= shares
    between += np.repeat(pair[:, :-1], n_block, axis=1)
    between *= scale.ravel().astype(np.complex128)
    return between


def _part(pair: Pair, start: int, stop: int | None) -> Pair:
    return pair[0][start:stop], pair[1][start:stop]


def _unit(pair: Pair) -> Pair:
    length = np.sqrt(abs(pair[0]) ** 2 + abs(pair[1]) ** 2)
    return pair[0] / length, pair[1] / length


# --- block means ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Means:
    """Rows of block means, K blocks each: what `Blocks` is made of."""

    halves: ComplexArray  # (5, K) a^2, b^2, a b, a b* of the pair a, b; acceleration y + z i
    reals: FloatArray  # (8, K) |b|^2; acceleration x; acceleration and rate of the sensor

    @classmethod
    def empty(cls, n_blocks: int) -> _Means:
        return cls(np.empty((5, n_blocks), dtype=np.complex128), np.empty((8, n_blocks)))

    def part(self, first: int, last: int) -> _Means:
        return _Means(self.halves[:, first:last], self.reals[:, first:last])


def _average(
    pair: Pair, acc_mps2: FloatArray, gyr_radps: FloatArray, n_block: int, out: _Means
) -> None:
    """Average what the later stages need over each whole block of one chunk.

    Shapes (n,), (3, n) and (3, n); what does not fill a block is left out.
    """
    n_used = out.reals.shape[1] * n_block
    acc, gyr = acc_mps2[:, :n_used], gyr_radps[:, :n_used]
    squares = pairs.pair_squares((pair[0][:n_used], pair[1][:n_used]))
    yz = np.empty(n_used, dtype=np.complex128)
    yz.real, yz.imag = acc[1:]
    x, yz = pairs.turn_by_squares(squares, acc[0], yz)
    _block_means((*squares[:4], yz), n_block, out.halves)
    _block_means((squares[4], x, *acc, *gyr), n_block, out.reals)


def _block_means(
    rows: Sequence[ComplexArray] | Sequence[FloatArray],
    n_block: int,
    out: ComplexArray | FloatArray,
) -> None:
    """Average each row over blocks of equal length, shapes (n,) to (R, K)."""
    for means, row in zip(out, rows, strict=True):
        # As fast as a matrix product here, and it wakes no threads.
        np.einsum("kj->k", row.reshape(-1, n_block), out=means)
    out *= 1 / n_block  # to divide complex numbers takes five times as long


def _as_blocks(means: _Means, n_block: int, rate_hz: float) -> Blocks:
    products, world_yz = means.halves[:4], means.halves[4]
    b_length2, world_x = means.reals[:2]
    return Blocks(
        n_samples=n_block,
        rate_hz=rate_hz / n_block,
        acc_world_mps2=np.stack([world_x, world_yz.real, world_yz.imag]),
        to_world=pairs.matrix_from_squares((*products, b_length2)),
        acc_mps2=means.reals[2:5],
        gyr_radps=means.reals[5:],
    )
