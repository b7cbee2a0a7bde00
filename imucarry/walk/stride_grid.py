"""Signals on the grid of the strides: the points 0, 1 ... 100 % of each.

A stride's window is the stride before it, the stride and the stride after it,
each stretched to the same 100 steps, so that whatever repeats with the stride
repeats on the grid whatever the cadence does.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from imucarry.basics.records import BoolArray, FloatArray

N_STEPS = 100
"""Grid steps a stride, so that a curve has 101 points."""

QUARTER = N_STEPS // 4
"""Grid steps in a quarter of a stride: the unit in which context is measured."""

OWN = slice(N_STEPS, 2 * N_STEPS + 1)
"""The stride itself within its window."""

ComplexArray = NDArray[np.complex128]
Values = TypeVar("Values", FloatArray, ComplexArray)


def stride_times(start_s: FloatArray, end_s: FloatArray) -> FloatArray:
    """Return the times of the points 0, 1 ... 100 % of each stride, shape (S, 101) [s]."""
    return start_s[:, None] + (end_s - start_s)[:, None] * _fraction()


# The same for every bout: worked out once.
@cache
def _fraction() -> FloatArray:
    fraction = np.linspace(0.0, 1.0, N_STEPS + 1)
    fraction.setflags(write=False)
    return fraction


@cache
def _waves(orders: tuple[int, ...]) -> ComplexArray:
    """Return what a curve is multiplied by for its harmonics, shape (H, 101)."""
    phase = np.arange(N_STEPS + 1) / N_STEPS
    weights = np.full(N_STEPS + 1, 2.0 / N_STEPS)
    weights[[0, -1]] /= 2.0
    waves = weights * np.exp(-2j * np.pi * np.array(orders)[:, None] * phase)
    waves.setflags(write=False)
    return waves


def window_times(start_s: FloatArray, end_s: FloatArray) -> FloatArray:
    """Return the times of each stride's window, shape (S, 301) [s].

    Where the neighbour does not join on, the stride's own duration goes on.
    """
    duration = end_s - start_s
    joins = np.isclose(start_s[1:], end_s[:-1], rtol=0.0, atol=1e-6)
    before, after = duration.copy(), duration.copy()
    before[1:][joins] = duration[:-1][joins]
    after[:-1][joins] = duration[1:][joins]
    return np.concatenate(
        [
            stride_times(start_s - before, start_s)[:, :-1],
            stride_times(start_s, end_s),
            stride_times(end_s, end_s + after)[:, 1:],
        ],
        axis=1,
    )


def sample(times_s: FloatArray, time_s: FloatArray, values: Values) -> Values:
    """Read `values`, shape (N,) or (N, C), at `times_s` by linear interpolation.

    NaN where there is no sample at all: a sensor that was off during a bout.
    """
    if time_s.size == 0:
        return np.full(times_s.shape + values.shape[1:], np.nan)
    if values.ndim == 1:
        return np.interp(times_s, time_s, values)
    place = np.interp(times_s, time_s, np.arange(time_s.size))
    low = np.minimum(place.astype(np.int64), max(time_s.size - 2, 0))
    part = (place - low)[..., None]
    high = np.minimum(low + 1, time_s.size - 1)
    result: Values = values[low] * (1.0 - part) + values[high] * part
    return result


def quarters_usable(times_s: FloatArray, time_s: FloatArray, usable: BoolArray) -> BoolArray:
    """Tell which quarter strides of windows or strides rest on usable samples alone.

    Parameters
    ----------
    times_s : ndarray, shape (S, 100 n + 1) [s]
    time_s, usable : ndarray, shape (N,)

    Returns
    -------
    ndarray of bool, shape (S, 4 n)
    """
    edges = times_s[:, ::QUARTER]
    if time_s.size == 0:
        return np.zeros((edges.shape[0], edges.shape[1] - 1), dtype=bool)
    step = (time_s[-1] - time_s[0]) / max(time_s.size - 1, 1)
    bad_before = np.concatenate([[0], np.cumsum(~usable)])
    first = np.searchsorted(time_s, edges[:, :-1] - 0.5 * step)
    last = np.searchsorted(time_s, edges[:, 1:] + 0.5 * step)
    inside = (edges[:, :-1] >= time_s[0] - step) & (edges[:, 1:] <= time_s[-1] + step)
    return np.asarray(inside & (bad_before[last] == bad_before[first]))


def harmonic(curves: FloatArray | ComplexArray, order: int) -> ComplexArray:
    """Return the complex amplitude of a stride harmonic.

    Parameters
    ----------
    curves : ndarray, shape (S, 101) or (S, 101, C)
    order : int
        1 is the stride rate, 2 the step rate; may be negative for complex curves.

    Returns
    -------
    ndarray of complex, shape (S,) or (S, C)
        ``c`` of the part ``Re(c exp(2 pi i order phase))`` of a real curve; of a
        complex curve, ``c / 2`` is its Fourier coefficient.
    """
    return np.asarray(harmonics(curves, [order])[0], dtype=np.complex128)


def harmonics(curves: FloatArray | ComplexArray, orders: Sequence[int]) -> ComplexArray:
    """Return several stride harmonics, each as `harmonic` does, shape (H, S) or (H, S, C)."""
    return np.tensordot(_waves(tuple(orders)), curves, axes=(1, 1))


def wave(amplitude: ComplexArray, order: int) -> FloatArray:
    """Return the curve of a real harmonic, shape (S, 101)."""
    phase = np.arange(N_STEPS + 1) / N_STEPS
    return np.real(amplitude[:, None] * np.exp(2j * np.pi * order * phase))


def peak_phase(amplitude: ComplexArray) -> FloatArray:
    """Return when in the stride the stride-rate harmonic is highest, 0 to 2 pi [rad]."""
    return np.mod(-np.angle(amplitude), 2.0 * np.pi)


def peak_to_peak(curves: FloatArray) -> FloatArray:
    """Return the range of each curve, shape (S,); NaN where a curve has NaN."""
    return np.asarray(curves.max(axis=1) - curves.min(axis=1)) if curves.size else np.empty(0)


def slope(curves: FloatArray, duration_s: FloatArray) -> FloatArray:
    """Return the time derivative of each curve, shape (S, 101), per second."""
    steps = np.gradient(curves, axis=1, edge_order=2) * N_STEPS
    return np.asarray(steps / duration_s[:, None])
