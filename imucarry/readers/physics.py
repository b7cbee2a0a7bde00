"""What the numbers themselves say: dead or stuck axes, sleep, rest."""

from __future__ import annotations

import numpy as np

from imucarry.basics.errors import InputError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, IndexRanges
from imucarry.readers.levels import THINNING, lengths
from imucarry.readers.runs import merged_ranges, runs_of

AXES = "xyz"


def hardly_turns(gyr_radps: FloatArray) -> bool:
    """Whether a sensor never turns as fast as a walking person's do."""
    return bool(np.abs(gyr_radps[::THINNING]).max() < evidence.GYR_RADPS_RANGE.value[0])


def shakes_as_walking(acc_mps2: FloatArray, period_s: float) -> bool:
    """Whether an accelerometer shakes for so many seconds as only walking makes it."""
    n_rows = max(2, round(1.0 / period_s))
    size = lengths(acc_mps2)[: len(acc_mps2) // n_rows * n_rows].reshape(-1, n_rows)
    shaking = np.count_nonzero(size.std(axis=1) > evidence.WALK_SHAKES_MPS2.value)
    return bool(shaking * n_rows * period_s >= evidence.WALK_SHAKES_S.value)


def require_live(values: FloatArray, kind: str, file: str) -> None:
    """Refuse a sensor or axis that never changes, or an axis that is another one.

    Raises
    ------
    InputError
        If an axis holds one value throughout.
    """
    name = "gyroscope" if kind == "gyr" else "accelerometer"
    stuck = [AXES[axis] for axis in range(3) if _is_constant(values[:, axis])]
    if len(stuck) == 3:
        what = "is zero throughout" if not values.any() else "holds one value throughout"
        raise InputError(
            f"the {name} {what}; switch it on and record again", file=file, where=f"{name} columns"
        )
    if stuck:
        raise InputError(
            f"the {name} axis {' and '.join(stuck)} is stuck at one value; export again or use"
            " another sensor",
            file=file,
            where=f"{name} columns",
        )
    for one, other in ((0, 1), (0, 2), (1, 2)):
        if _are_one(values[:, one], values[:, other]):
            raise InputError(
                f"the {name} axes {AXES[one]} and {AXES[other]} hold the same numbers; export each"
                " axis once",
                file=file,
                where=f"{name} columns",
            )


def _are_one(first: FloatArray, second: FloatArray) -> bool:
    few = slice(None, None, max(1, first.size // 16))
    return bool((first[few] == second[few]).all() and (first == second).all())


def _is_constant(values: FloatArray) -> bool:
    few = values[:: max(1, values.size // 16)]
    return bool((few == few[0]).all() and (values == values[0]).all())


def held_samples(acc_mps2: FloatArray, gyr_radps: FloatArray, period_s: float) -> IndexRanges:
    """Return the ranges in which an axis, or all of them, hold one value though the sensor moves.

    A sleeping sensor holds all six values; a faulty one holds an axis.
    """
    n_least = max(2, round(evidence.ASLEEP_S.value / period_s))
    ranges = [
        run
        for values in (acc_mps2, gyr_radps)
        for axis in _axes_that_hold(values, n_least // 2)
        for run in _held_runs(values[:, axis], n_least)
    ]
    fast = evidence.ASLEEP_GYR_RADPS.value
    return tuple(
        (first, last)
        for first, last in merged_ranges(ranges)
        if float(np.abs(gyr_radps[first:last]).max()) > fast
    )


def _axes_that_hold(values: FloatArray, n_rows: int) -> list[int]:
    """Return the axes with a block of equal values; a run of two blocks' length has one whole.

    Notes
    -----
    Only blocks that begin as the next one does are looked at sample by sample.
    """
    n_blocks = max(0, len(values) - 1) // n_rows
    blocks = values[: n_blocks * n_rows].reshape(n_blocks, n_rows, 3)
    block, axis = np.nonzero(blocks[:, 0] == values[n_rows::n_rows][:n_blocks])
    samples = blocks[block, :, axis]
    held = (samples == samples[:, :1]).all(axis=1)
    return [int(found) for found in np.unique(axis[held])]


def _held_runs(values: FloatArray, n_least: int) -> list[tuple[int, int]]:
    same = np.concatenate([[False], values[1:] == values[:-1]])
    return [(first - 1, last) for first, last in runs_of(same) if last - first + 1 >= n_least]


def rest_acceleration(
    acc_mps2: FloatArray, gyr_radps: FloatArray, period_s: float
) -> tuple[float, float, float] | None:
    """Return the mean acceleration of the quietest second, or None where none is quiet."""
    step = THINNING if period_s < 0.02 else 1
    n_rows = max(1, round(1.0 / (period_s * step)))
    acc, gyr = acc_mps2[::step], gyr_radps[::step]
    if len(acc) < n_rows:
        return None
    mean, acc_sd = _block_moments(acc, n_rows)
    _, gyr_sd = _block_moments(gyr, n_rows)
    limits = evidence.REST_ACC_MPS2.value, evidence.REST_GYR_RADPS.value
    unrest = acc_sd / limits[0] + gyr_sd / limits[1]
    best = int(np.argmin(unrest))
    if acc_sd[best] > limits[0] or gyr_sd[best] > limits[1]:
        return None
    x, y, z = mean[best]
    return float(x), float(y), float(z)


def _block_moments(values: FloatArray, n_rows: int) -> tuple[FloatArray, FloatArray]:
    """Return mean, shape (K, 3), and spread about it, shape (K,), of blocks of rows."""
    n_blocks = len(values) // n_rows
    columns = np.ascontiguousarray(values[: n_blocks * n_rows].T).reshape(3, n_blocks, n_rows)
    mean = columns.mean(axis=2)
    square = np.einsum("abc,abc->ab", columns, columns) / n_rows
    spread = np.maximum(square - mean * mean, 0).sum(axis=0)
    return mean.T, np.asarray(np.sqrt(spread), dtype=np.float64)
