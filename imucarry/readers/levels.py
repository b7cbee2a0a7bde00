"""How long a vector stands on average: the mark that gravity leaves in acceleration."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray

# A block of rows is a second or so; its mean needs no more than every fourth sample.
BLOCK_ROWS = 100
THINNING = 4


def block_means(values: FloatArray, n_rows: int) -> FloatArray:
    """Return the means of consecutive blocks of rows (all rows, when they are fewer)."""
    n_blocks = len(values) // n_rows
    if n_blocks == 0:
        return np.asarray(values.mean(axis=0, keepdims=True), dtype=np.float64)
    # Column by column: a mean along memory costs a tenth of one across it.
    columns = np.ascontiguousarray(values[: n_blocks * n_rows].T)
    means = columns.reshape(-1, n_blocks, n_rows).mean(axis=2)
    return np.asarray(means.T if values.ndim > 1 else means.reshape(-1, 1), dtype=np.float64)


def lengths(vectors: FloatArray) -> FloatArray:
    """Return the length of every row."""
    return np.asarray(np.sqrt(np.einsum("ij,ij->i", vectors, vectors)), dtype=np.float64)


def gravity_marks(values: FloatArray) -> tuple[float, float]:
    """Return the level and the share of what stands still in a vector.

    Parameters
    ----------
    values : ndarray, shape (N, 3)

    Returns
    -------
    level : float
        Median length of the vector's mean over a second or so.
    share : float
        That length as a part of the rms of the samples: near 1 where the vector
        stands still in the sensor, as gravity mostly does; near 0 where gravity
        was removed.
    """
    step = THINNING if len(values) > 10 * BLOCK_ROWS else 1
    thin = np.asfortranarray(values[::step])  # column by column, as blocks are summed
    level = float(np.median(lengths(block_means(thin, BLOCK_ROWS // step))))
    squares = np.einsum("ij,ij->i", thin, thin)
    rms = float(np.sqrt(np.median(block_means(squares, BLOCK_ROWS // step))))
    return level, (level / rms if rms > 0 else 0.0)


def fill_rows(axes: Sequence[FloatArray]) -> BoolArray | None:
    """Return the rows of an accelerometer that stand for missing samples, None without any.

    All three axes hold one and the same number: 0, which gravity does not allow, or
    one as large as -9999.

    Parameters
    ----------
    axes : sequence of three ndarray, shape (N,)
        As written in the file.

    Returns
    -------
    ndarray of bool, shape (N,), or None
        None also where most rows are such: the sensor was off, or gravity was removed.
    """
    x, y, z = axes
    same = np.flatnonzero(x == y)
    same = same[x[same] == z[same]]
    size = np.abs(x[same])
    same = same[(size == 0) | (size >= evidence.FILL_LEAST.value)]
    # A fill number comes again; of raw counts three may be the same once.
    numbers, nth, n_rows = np.unique(x[same], return_inverse=True, return_counts=True)
    same = same[(numbers[nth] == 0) | (n_rows[nth] > 1)]
    if not 0 < same.size < evidence.FILL_ROWS_MOST_FRAC.value * x.size:
        return None
    rows = np.zeros(x.size, dtype=np.bool_)
    rows[same] = True
    return rows
