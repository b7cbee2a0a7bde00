"""Rotations as unit quaternions, scalar first, each turning a vector by ``q v q*``.

A quaternion ``w + xi + yj + zk`` is held in two ways: as a real array of shape
(..., 4), or as a *pair* of complex numbers ``a + b j`` with ``a = w + xi`` and
``b = y + zi``. One product of pairs takes 4 complex multiplications, and both
forms share the same memory (`as_pair`).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from imucarry.basics.records import FloatArray

ComplexArray = NDArray[np.complex128]
Pair = tuple[ComplexArray, ComplexArray]

# Up to so many quaternions, plain numbers are faster than arrays of them.
_FEW = 24


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


def multiply_pairs(first: Pair, second: Pair) -> Pair:
    """Multiply quaternions that are held as pairs of complex numbers."""
    a, b = first
    c, d = second
    return a * c - b * d.conj(), a * d + b * c.conj()


def running_product(pair: Pair) -> Pair:
    """Return the products ``q0, q0 q1, q0 q1 q2, ...`` of a sequence.

    Parameters
    ----------
    pair : two complex arrays, shape (N,)

    Returns
    -------
    two complex arrays, shape (N,)

    Notes
    -----
    A prefix product by halves (Blelloch 1990, CMU-CS-90-190):
    1. multiply neighbours, which leaves a sequence half as long;
    2. take its running products, which are every second one of the answer;
    3. multiply each by the next quaternion for the ones between.
    About 2 N products in 2 log2 N array operations.
    """
    a, b = pair
    n_pairs = a.size // 2
    if a.size <= _FEW:
        return _running_product_of_few(pair)
    even, odd = (a[: 2 * n_pairs : 2], b[: 2 * n_pairs : 2]), (a[1::2], b[1::2])
    upto_odd = running_product(multiply_pairs(even, odd))
    n_between = (a.size - 1) // 2
    between = multiply_pairs((upto_odd[0][:n_between], upto_odd[1][:n_between]), (a[2::2], b[2::2]))
    product = np.empty_like(a), np.empty_like(b)
    for whole, first, after_odd, after_even in zip(product, pair, upto_odd, between, strict=True):
        whole[0] = first[0]
        whole[1::2] = after_odd
        whole[2::2] = after_even
    return product


def _running_product_of_few(pair: Pair) -> Pair:
    a, b = 1.0 + 0.0j, 0.0j
    all_a, all_b = [], []
    for c, d in zip(pair[0].tolist(), pair[1].tolist(), strict=True):
        a, b = a * c - b * d.conjugate(), a * d + b * c.conjugate()
        all_a.append(a)
        all_b.append(b)
    return np.array(all_a, dtype=np.complex128), np.array(all_b, dtype=np.complex128)


# --- forms -------------------------------------------------------------------


def as_pair(quat: FloatArray) -> Pair:
    """View quaternions of shape (..., 4) as two complex arrays of shape (...)."""
    halves = np.ascontiguousarray(quat).view(np.complex128)
    return halves[..., 0], halves[..., 1]


def from_pair(pair: Pair) -> FloatArray:
    """Return two complex arrays of shape (...) as quaternions of shape (..., 4)."""
    a, b = pair
    halves = np.empty((*np.broadcast_shapes(a.shape, b.shape), 2), dtype=np.complex128)
    halves[..., 0] = a
    halves[..., 1] = b
    return halves.view(np.float64)


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


def from_matrix(matrix: FloatArray) -> FloatArray:
    """Return the quaternions, shape (..., 4), of rotation matrices (..., 3, 3).

    Notes
    -----
    The four candidate rows of Shepperd 1978 (J. Guidance and Control 1:223-224);
    the longest one is used, so that no turn of 180 deg loses digits.
    """
    m = matrix
    diagonal = np.stack([m[..., 0, 0], m[..., 1, 1], m[..., 2, 2]], axis=-1)
    trace = diagonal.sum(axis=-1)
    squares = np.concatenate([1 + trace[..., None], 1 - trace[..., None] + 2 * diagonal], axis=-1)
    wx, wy, wz = (m[..., k, j] - m[..., j, k] for j, k in ((1, 2), (2, 0), (0, 1)))
    xy, xz, yz = (m[..., j, k] + m[..., k, j] for j, k in ((0, 1), (0, 2), (1, 2)))
    w2, x2, y2, z2 = np.moveaxis(squares, -1, 0)
    rows = np.stack(
        [
            np.stack([w2, wx, wy, wz], axis=-1),
            np.stack([wx, x2, xy, xz], axis=-1),
            np.stack([wy, xy, y2, yz], axis=-1),
            np.stack([wz, xz, yz, z2], axis=-1),
        ],
        axis=-2,
    )
    best = squares.argmax(axis=-1)[..., None, None]
    return normalize(np.take_along_axis(rows, best, axis=-2)[..., 0, :])


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
    vector = np.asarray(vector, dtype=np.float64)
    squares = pair_squares(as_pair(quat))
    x, yz = turn_by_squares(squares, vector[..., 0], vector[..., 1] + 1j * vector[..., 2])
    return np.stack([x, yz.real, yz.imag], axis=-1)


Squares = tuple[ComplexArray, FloatArray]


def pair_squares(pair: Pair) -> Squares:
    """Return all that a rotation matrix is made of.

    Parameters
    ----------
    pair : two complex arrays, shape (...)

    Returns
    -------
    products : ndarray of complex, shape (4, ...) [1]
        ``a^2, b^2, a b, a b*``.
    b_length2 : ndarray, shape (...) [1]
        ``|b|^2``.
    """
    a, b = pair
    products = np.empty((4, *a.shape), dtype=np.complex128)
    np.multiply(a, a, out=products[0, ...])
    np.multiply(b, b, out=products[1, ...])
    np.multiply(a, b, out=products[2, ...])
    np.multiply(a, b.conj(), out=products[3, ...])
    return products, b.real * b.real + b.imag * b.imag


def turn_by_squares(
    squares: Squares, x: FloatArray, yz: ComplexArray
) -> tuple[FloatArray, ComplexArray]:
    """Turn vectors given as ``x`` and ``y + z i``; the result has the same form.

    Notes
    -----
    Written out from ``(a + b j) (x i + (y + z i) j) (a + b j)*``.
    """
    (aa, bb, ab, ab_conj), b_length2 = squares
    turned_x = (1 - 2 * b_length2) * x + 2 * (ab_conj * yz).imag
    turned_yz = aa * yz + bb * yz.conj() - 2j * ab * x
    return turned_x, turned_yz


def matrix_from_squares(squares: Squares) -> FloatArray:
    """Return the matrices, shape (..., 3, 3), of `pair_squares` or of their means."""
    (aa, bb, ab, ab_conj), b_length2 = squares
    matrix = np.empty((*aa.shape, 3, 3))
    matrix[..., 0, 0] = 1 - 2 * b_length2
    matrix[..., 0, 1] = 2 * ab_conj.imag
    matrix[..., 0, 2] = 2 * ab_conj.real
    matrix[..., 1, 0] = 2 * ab.imag
    matrix[..., 2, 0] = -2 * ab.real
    plus, minus = aa + bb, aa - bb
    matrix[..., 1, 1] = plus.real
    matrix[..., 2, 1] = plus.imag
    matrix[..., 1, 2] = -minus.imag
    matrix[..., 2, 2] = minus.real
    return matrix


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
    """Return the cross products of vectors of shape (..., 3)."""
    product = np.empty(np.broadcast_shapes(first.shape, second.shape))
    for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        product[..., i] = first[..., j] * second[..., k] - first[..., k] * second[..., j]
    return product


def heading(quat: FloatArray, axis: FloatArray) -> FloatArray:
    """Return the heading of a sensor-fixed axis in the world, left positive.

    Parameters
    ----------
    quat : ndarray, shape (..., 4) [1]
        Sensor to world, world z up.
    axis : ndarray, shape (3,) [1]
        In sensor coordinates.

    Returns
    -------
    ndarray, shape (...) [rad]
        In (-pi, pi]; not unwrapped.
    """
    turned = rotate(quat, axis)
    return np.arctan2(turned[..., 1], turned[..., 0])


def tilt(quat: FloatArray) -> FloatArray:
    """Return the angle between the sensor's z axis and the vertical [rad], shape (...)."""
    x, y = quat[..., 1], quat[..., 2]
    return np.asarray(2 * np.arcsin(np.minimum(1.0, np.sqrt(x * x + y * y))))


def about_vertical(angle_rad: FloatArray) -> FloatArray:
    """Return rotations about the world's vertical, shape (..., 4)."""
    angle_rad = np.asarray(angle_rad, dtype=np.float64)
    quat = np.zeros((*angle_rad.shape, 4))
    quat[..., 0] = np.cos(0.5 * angle_rad)
    quat[..., 3] = np.sin(0.5 * angle_rad)
    return quat
