"""How long a vector stands on average: the mark that gravity leaves in acceleration."""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import FloatArray

BLOCK_ROWS = 100


def block_means(values: FloatArray, n_rows: int = BLOCK_ROWS) -> FloatArray:
    """Return the means of consecutive blocks of rows (all rows, when they are fewer)."""
    n_blocks = len(values) // n_rows
    if n_blocks == 0:
        return values.mean(axis=0, keepdims=True)
    return np.add.reduceat(values[: n_blocks * n_rows], np.arange(0, n_blocks * n_rows, n_rows)) / (
        n_rows
    )


def gravity_level(values: FloatArray) -> float:
    """Return the median length of the vector's mean over a second or so."""
    means = block_means(values)
    return float(np.median(np.sqrt(np.einsum("ij,ij->i", means, means))))


def gravity_share(values: FloatArray) -> float:
    """Return the length of the mean vector as a part of the rms of the samples.

    Near 1 where the vector stands still in the sensor, as gravity mostly does;
    near 0 where gravity was removed.
    """
    squares = np.einsum("ij,ij->i", values, values)
    rms = float(np.sqrt(np.median(block_means(squares[:, np.newaxis]))))
    return gravity_level(values) / rms if rms > 0 else 0.0
