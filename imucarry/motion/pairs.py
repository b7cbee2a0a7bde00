"""Quaternions as pairs of complex numbers, ``a + b j`` with ``a = w + xi``, ``b = y + zi``.

One product of pairs takes 4 complex multiplications. A pair shares its memory with
the real array of shape (..., 4) that the rest of the package uses (`as_pair`).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from imucarry.basics.records import FloatArray

ComplexArray = NDArray[np.complex128]
Pair = tuple[ComplexArray, ComplexArray]

# Up to so many quaternions, plain numbers are faster than arrays of them.
_FEW = 24
_TINY = float(np.finfo(np.float64).tiny)


# --- forms and products ----------------------------------------------------------


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


def from_half_turns(half_rad: FloatArray) -> Pair:
    """Return the rotations about each vector by twice its length.

    Parameters
    ----------
    half_rad : ndarray, shape (3, ...) [rad]

    Returns
    -------
    two complex arrays, shape (...)
    """
    # Anything as small as this has its own sine, so that 0 needs no case of its own.
    angle = np.sqrt(np.einsum("i...,i...->...", half_rad, half_rad)) + _TINY
    sine = np.sin(angle)
    a = np.empty(angle.shape, dtype=np.complex128)
    b = np.empty(angle.shape, dtype=np.complex128)
    # A step of more than half a turn looks like a smaller one back: the cosine is positive.
    np.sqrt(1 - sine * sine, out=a.real)
    sine /= angle
    for part, axis in zip((a.imag, b.real, b.imag), half_rad, strict=True):
        np.multiply(axis, sine, out=part)
    return a, b


def multiply_pairs(first: Pair, second: Pair) -> Pair:
    """Multiply quaternions that are held as pairs of complex numbers."""
    a, b = first
    c, d = second
    # In place where it can be: fresh memory costs as much here as the arithmetic.
    product_a = a * c
    product_a -= b * d.conj()
    product_b = a * d
    product_b += b * c.conj()
    return product_a, product_b


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


# --- turning vectors -------------------------------------------------------------

Squares = tuple[ComplexArray, ComplexArray, ComplexArray, ComplexArray, FloatArray]


def pair_squares(pair: Pair) -> Squares:
    """Return all that a rotation matrix is made of.

    Parameters
    ----------
    pair : two complex arrays, shape (...)

    Returns
    -------
    four complex arrays and a real one, shape (...) [1]
        ``a^2, b^2, a b, a b*, |b|^2``.
    """
    a, b = pair
    return a * a, b * b, a * b, a * b.conj(), b.real * b.real + b.imag * b.imag


def turn_by_squares(
    squares: Squares, x: FloatArray, yz: ComplexArray
) -> tuple[FloatArray, ComplexArray]:
    """Turn vectors given as ``x`` and ``y + z i``; the result has the same form.

    Notes
    -----
    Written out from ``(a + b j) (x i + (y + z i) j) (a + b j)*``.
    """
    aa, bb, ab, ab_conj, b_length2 = squares
    twice_x = 2 * x
    turned_x = x + 2 * (ab_conj * yz).imag
    turned_x -= b_length2 * twice_x
    turned_yz = np.asarray(aa * yz)
    turned_yz += bb * yz.conj()
    turned_yz.real += ab.imag * twice_x
    turned_yz.imag -= ab.real * twice_x
    return turned_x, turned_yz


def matrix_from_squares(squares: Squares) -> FloatArray:
    """Return the matrices, shape (3, 3, ...), of `pair_squares` or of their means."""
    aa, bb, ab, ab_conj, b_length2 = squares
    matrix = np.empty((3, 3, *aa.shape))
    matrix[0, 0] = 1 - 2 * b_length2
    matrix[0, 1] = 2 * ab_conj.imag
    matrix[0, 2] = 2 * ab_conj.real
    matrix[1, 0] = 2 * ab.imag
    matrix[2, 0] = -2 * ab.real
    plus, minus = aa + bb, aa - bb
    matrix[1, 1] = plus.real
    matrix[2, 1] = plus.imag
    matrix[1, 2] = -minus.imag
    matrix[2, 2] = minus.real
    return matrix
