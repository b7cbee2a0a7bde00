"""Taking the path's own heading out of the trunk's, stride by stride.

What turns with the path is slow; what swings repeats with the stride. Over a
stride and part of its neighbours a polynomial and the stride's harmonics are
fitted together and the polynomial is taken out. A polynomial over more than one
stride and harmonics are nearly orthogonal, so a swing that differs from stride
to stride moves the polynomial little: less than subtracting a one-stride mean
twice does (0.08 against 0.16 deg on invented straight strides).

Beside a turn or a stop the neighbour is no help. Each stride therefore takes,
out of several fits with more or less of either neighbour, the one whose
residual promises the smallest error. Nothing has to tell where the turn is.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.stride_grid import N_STEPS, OWN, QUARTER


@dataclass(frozen=True, slots=True)
class _Fit:
    """One fit: quarter strides of context before and after, degree, error a residual."""

    before: int
    after: int
    degree: int
    gain: float


def without_path(windows: FloatArray, usable: BoolArray) -> tuple[FloatArray, FloatArray]:
    """Take the path's heading out of each stride.

    Parameters
    ----------
    windows : ndarray, shape (S, 301) [rad]
        Heading over the stride before, the stride and the stride after.
    usable : ndarray of bool, shape (S, 12)
        Which quarter strides of the window may be used.

    Returns
    -------
    curve : ndarray, shape (S, 101) [rad]
        What is left, with zero mean; NaN where the stride itself is not usable.
    error : ndarray, shape (S,) [rad]
        Expected error of its peak to peak, from the residual of the fit taken;
        NaN where only a straight line could be taken out.
    """
    # About the stride's middle, so that a large heading costs no digits.
    level = windows - windows[:, [windows.shape[1] // 2]]
    expected = _expected_errors(level, usable)
    error = expected.min(axis=1)
    taken = np.where(np.isfinite(error), expected.argmin(axis=1), -1)
    curve = level[:, OWN] - _paths(level, taken)
    curve[taken < 0] = np.nan
    alone = (taken < 0) & usable[:, 4:8].all(axis=1)
    curve[alone] = _without_line(level[alone][:, OWN])
    error[taken < 0] = np.nan
    return curve - curve.mean(axis=1, keepdims=True), error


def _expected_errors(windows: FloatArray, usable: BoolArray) -> FloatArray:
    """Return the error to expect of each fit, shape (S, fits); infinite where not to be used."""
    bases, columns = _bases()
    in_fit = np.add.reduceat((windows @ bases) ** 2, columns, axis=1)
    first, last = np.array([(span.start, span.stop) for span in map(_context, _fits())]).T
    squares = _running(windows**2)
    left = squares[:, last] - squares[:, first] - in_fit
    gain = np.array([fit.gain for fit in _fits()])
    expected = gain * np.sqrt(np.maximum(left, 0.0) / (last - first))
    gaps = _running(~usable)
    before, after = np.array([(4 - fit.before, 8 + fit.after) for fit in _fits()]).T
    return np.where(gaps[:, after] == gaps[:, before], expected, np.inf)


def _running(x: FloatArray | BoolArray) -> FloatArray:
    """Return the sums of all points before each, shape (S, P + 1)."""
    total = np.zeros((x.shape[0], x.shape[1] + 1))
    np.cumsum(x, axis=1, out=total[:, 1:])
    return total


def _paths(windows: FloatArray, taken: IntArray) -> FloatArray:
    """Return the path under each stride by the fit that it takes, shape (S, 101)."""
    weights = _polynomial_weights()
    all_fits = (windows @ weights.reshape(windows.shape[1], -1)).reshape(-1, *weights.shape[1:])
    coefficients = all_fits[np.arange(taken.size), taken]
    phase = np.arange(N_STEPS + 1) / N_STEPS - 0.5
    return coefficients @ phase ** np.arange(weights.shape[2])[:, None]


# The fits are few and fixed: what depends on them alone is worked out once.
@cache
def _fits() -> tuple[_Fit, ...]:
    return tuple(_Fit(int(a), int(b), int(c), float(d)) for a, b, c, d in evidence.YAW_FITS.value)


@cache
def _bases() -> tuple[FloatArray, IntArray]:
    """Return orthonormal bases of all designs over the whole window, and where each begins."""
    parts = [np.linalg.qr(_design(fit))[0] for fit in _fits()]
    bases = np.zeros((3 * N_STEPS + 1, sum(part.shape[1] for part in parts)))
    ends = np.cumsum([part.shape[1] for part in parts])
    columns = np.concatenate([[0], ends[:-1]])
    for fit, part, first, last in zip(_fits(), parts, columns, ends, strict=True):
        bases[_context(fit), first:last] = part
    bases.setflags(write=False)
    return bases, columns


@cache
def _polynomial_weights() -> FloatArray:
    """Return what turns a window into each fit's polynomial, shape (301, fits, powers)."""
    n_powers = 1 + max(fit.degree for fit in _fits())
    weights = np.zeros((3 * N_STEPS + 1, len(_fits()), n_powers))
    for k, fit in enumerate(_fits()):
        of_fit = np.linalg.pinv(_design(fit))[: fit.degree + 1]
        weights[_context(fit), k, : fit.degree + 1] = of_fit.T
    weights.setflags(write=False)
    return weights


def _design(fit: _Fit) -> FloatArray:
    """Return the polynomial and the stride's harmonics over the context, one a column."""
    phase = _phase(fit)[:, None]
    angle = 2.0 * np.pi * phase * np.arange(1, evidence.YAW_HARMONICS.value + 1)
    return np.concatenate(
        [phase ** np.arange(fit.degree + 1), np.cos(angle), np.sin(angle)], axis=1
    )


def _context(fit: _Fit) -> slice:
    """Return the points of a window that one fit uses."""
    return slice(N_STEPS - fit.before * QUARTER, 2 * N_STEPS + fit.after * QUARTER + 1)


def _phase(fit: _Fit) -> FloatArray:
    """Return the phase of those points, 0 at the stride's middle [strides]."""
    context = _context(fit)
    return np.arange(context.start, context.stop) / N_STEPS - 1.5


def _without_line(strides: FloatArray) -> FloatArray:
    """Take out the line that joins the ends of each stride, shape (S, 101)."""
    fraction = np.linspace(0.0, 1.0, N_STEPS + 1)
    return strides - (strides[:, -1:] - strides[:, :1]) * fraction
