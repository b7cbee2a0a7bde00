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

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import BoolArray, FloatArray
from imucarry.walk.stride_grid import N_STEPS, OWN, QUARTER

QUARTERS_OWN = 4


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
    n_strides = windows.shape[0]
    curve = np.full((n_strides, N_STEPS + 1), np.nan)
    error = np.full(n_strides, np.inf)
    for row in evidence.YAW_FITS.value:
        fit = _Fit(int(row[0]), int(row[1]), int(row[2]), float(row[3]))
        allowed = usable[:, 4 - fit.before : 8 + fit.after].all(axis=1)
        left, expected = _fitted(windows, fit)
        better = allowed & (expected < error)
        curve[better], error[better] = left[better], expected[better]
    alone = np.isinf(error)
    lined = alone & usable[:, 4:8].all(axis=1)
    curve[lined] = _without_line(windows[lined][:, OWN])
    error[alone] = np.nan
    return curve - curve.mean(axis=1, keepdims=True), error


def _fitted(windows: FloatArray, fit: _Fit) -> tuple[FloatArray, FloatArray]:
    """Return each stride without its polynomial, and the error to expect."""
    first = N_STEPS - fit.before * QUARTER
    last = 2 * N_STEPS + fit.after * QUARTER + 1
    phase = np.arange(first, last) / N_STEPS - 1.5
    powers = phase[:, None] ** np.arange(fit.degree + 1)
    order = np.arange(1, evidence.YAW_HARMONICS.value + 1)
    angle = 2.0 * np.pi * phase[:, None] * order
    design = np.concatenate([powers, np.cos(angle), np.sin(angle)], axis=1)
    part = windows[:, first:last]
    weights = part @ np.linalg.pinv(design).T
    residual = part - weights @ design.T
    path = weights[:, : fit.degree + 1] @ powers.T
    own = slice(N_STEPS - first, 2 * N_STEPS + 1 - first)
    return (part - path)[:, own], fit.gain * np.sqrt(np.mean(residual**2, axis=1))


def _without_line(strides: FloatArray) -> FloatArray:
    """Take out the line that joins the ends of each stride, shape (S, 101)."""
    fraction = np.linspace(0.0, 1.0, N_STEPS + 1)
    return strides - (strides[:, -1:] - strides[:, :1]) * fraction
