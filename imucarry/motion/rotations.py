"""Rotations as unit quaternions, scalar first, each turning a vector by ``q v q*``.

Arrays of shape (..., 4). The work is done on pairs of complex numbers in the same
memory (`imucarry.motion.pairs`).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.motion.pairs import (
    Squares,
    as_pair,
    from_pair,
    multiply_pairs,
    pair_squares,
    turn_by_squares,
)

# --- products ----------------------------------------------------------------


def multiply(first: FloatArray, second: FloatArray) -> FloatArray:
    """Multiply quaternions: the product turns by `second`, then by `first`.

    Parameters
    ----------
    first, second : ndarray, shape (..., 4) [1]
        Broadcast against each other.

    Returns
    -------
    ndarray, shape (..., 4) [1]
    """
    return from_pair(multiply_pairs(as_pair(first), as_pair(second)))


def conjugate(quat: FloatArray) -> FloatArray:
    """Return the opposite rotations, shape (..., 4)."""
    return np.asarray(quat * np.array([1.0, -1.0, -1.0, -1.0]))


def normalize(vector: FloatArray) -> FloatArray:
    """Return quaternions or vectors, along the last axis, scaled to length one."""
    return np.asarray(vector / np.sqrt(dot(vector, vector))[..., None])


# --- forms -------------------------------------------------------------------


def from_rotation_vector(vector_rad: FloatArray) -> FloatArray:
    """Return the rotations about each vector by its length.

    Parameters
    ----------
    vector_rad : ndarray, shape (..., 3) [rad]

    Returns
    -------
    ndarray, shape (..., 4) [1]
    """
    half = 0.5 * np.asarray(vector_rad, dtype=np.float64)
    length = np.sqrt(dot(half, half))
    quat = np.empty((*length.shape, 4))
    quat[..., 0] = np.cos(length)
    quat[..., 1:] = half * sine_ratio(length)[..., None]
    return quat


def sine_ratio(angle_rad: FloatArray) -> FloatArray:
    """Return ``sin(x) / x`` for angles of at least 0, and 1 at 0."""
    # Anything this small has its own sine, so that 0 needs no case of its own.
    safe = angle_rad + np.finfo(np.float64).tiny
    return np.asarray(np.sin(safe) / safe)


def to_matrix(quat: FloatArray) -> FloatArray:
    """Return rotation matrices, shape (..., 3, 3), of quaternions (..., 4)."""
    w, x, y, z = np.moveaxis(quat, -1, 0)
    matrix = np.empty((*w.shape, 3, 3))
    matrix[..., 0, 0] = 1 - 2 * (y * y + z * z)
    matrix[..., 0, 1] = 2 * (x * y - w * z)
    matrix[..., 0, 2] = 2 * (x * z + w * y)
    matrix[..., 1, 0] = 2 * (x * y + w * z)
    matrix[..., 1, 1] = 1 - 2 * (x * x + z * z)
    matrix[..., 1, 2] = 2 * (y * z - w * x)
    matrix[..., 2, 0] = 2 * (x * z - w * y)
    matrix[..., 2, 1] = 2 * (y * z + w * x)
    matrix[..., 2, 2] = 1 - 2 * (x * x + y * y)
    return matrix


# --- use ---------------------------------------------------------------------


def rotate(quat: FloatArray, vector: FloatArray) -> FloatArray:
    """Turn vectors by quaternions.

    Parameters
    ----------
    quat : ndarray, shape (..., 4) [1]
    vector : ndarray, shape (..., 3) [any]
        Broadcast against `quat`, so that shape (3,) turns one vector by all.

    Returns
    -------
    ndarray, shape (..., 3) [as `vector`]
    """
    return rotate_each(quat, (vector,))[0]


def rotate_each(quat: FloatArray, vectors: Sequence[FloatArray]) -> list[FloatArray]:
    """Turn several sets of vectors by the same quaternions, each as `rotate` does."""
    squares = pair_squares(as_pair(quat))
    return [_turned(squares, np.asarray(vector, dtype=np.float64)) for vector in vectors]


def _turned(squares: Squares, vector: FloatArray) -> FloatArray:
    yz = np.empty(vector.shape[:-1], dtype=np.complex128)
    yz.real, yz.imag = vector[..., 1], vector[..., 2]
    x, yz = turn_by_squares(squares, vector[..., 0], yz)
    turned = np.empty((*x.shape, 3))
    turned[..., 0], turned[..., 1], turned[..., 2] = x, yz.real, yz.imag
    return turned


def shortest_arc(start: FloatArray, end: FloatArray) -> FloatArray:
    """Return the smallest rotations that turn one direction to another.

    Parameters
    ----------
    start, end : ndarray, shape (..., 3) [1]
        Unit vectors. For opposite ones, any half turn is returned.

    Returns
    -------
    ndarray, shape (..., 4) [1]
    """
    quat = np.empty((*np.broadcast_shapes(start.shape, end.shape)[:-1], 4))
    quat[..., 0] = 1 + dot(start, end)
    quat[..., 1:] = cross(start, end)
    opposite = quat[..., 0] < np.finfo(np.float64).eps
    if opposite.any():
        helper = np.eye(3)[np.abs(np.broadcast_to(start, quat[..., 1:].shape)).argmin(axis=-1)]
        quat[opposite, 0] = 0.0
        quat[opposite, 1:] = cross(start, helper)[opposite]
    return normalize(quat)


def dot(first: FloatArray, second: FloatArray) -> FloatArray:
    """Return the scalar products along the last axis, shape (...)."""
    return np.asarray(np.einsum("...i,...i->...", first, second))


def cross(first: FloatArray, second: FloatArray) -> FloatArray:
    """Return the cross products of vectors of shape (..., 3); each axis in one piece of memory."""
    shape = np.broadcast_shapes(first.shape, second.shape)
    product = np.empty((3, *shape[:-1]))
    for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        np.multiply(first[..., j], second[..., k], out=product[i, ...])
        product[i, ...] -= first[..., k] * second[..., j]
    return np.moveaxis(product, 0, -1)


def about_vertical(angle_rad: FloatArray) -> FloatArray:
    """Return rotations about the world's vertical, shape (..., 4)."""
    angle_rad = np.asarray(angle_rad, dtype=np.float64)
    quat = np.zeros((*angle_rad.shape, 4))
    quat[..., 0] = np.cos(0.5 * angle_rad)
    quat[..., 3] = np.sin(0.5 * angle_rad)
    return quat
