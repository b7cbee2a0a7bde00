"""Asymmetry from one ratio: index, symmetry angle, log ratio; phase coordination index.

All three asymmetries are functions of ln(right / left), so one interval serves them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.basics.statistics import Interval, Neighbours, influence_interval, subset, unrelated
from imucarry.basics.units import DEG_PER_TURN

HALF_STRIDE_DEG = 180.0


def asymmetry_index(log_ratio: float) -> float:
    """Return 100 (right - left) / mean of both [%] from ln(right / left)."""
    return 200.0 * math.tanh(log_ratio / 2.0)


def symmetry_angle(log_ratio: float) -> float:
    """Return the symmetry angle 100 (45 deg - atan(left / right)) / 90 deg [%].

    Zifchock et al. 2008, Gait Posture 27:622-627 (from memory, not confirmed); for
    positive values it lies within -50 and 50, 0 is equal, right larger is positive.
    """
    return 100.0 * (math.pi / 4.0 - math.atan(math.exp(-log_ratio))) / (math.pi / 2.0)


def log_ratio_pct(log_ratio: float) -> float:
    """Return 100 ln(right / left) [%]."""
    return 100.0 * log_ratio


def mapped(interval: Interval, function: Callable[[float], float]) -> Interval:
    """Return an interval through a rising function."""
    return Interval(
        function(interval.value),
        function(interval.low),
        function(interval.high),
        degrees_of_freedom=interval.degrees_of_freedom,
        n=interval.n,
        n_effective=interval.n_effective,
        correlation=interval.correlation,
    )


def contact_phase_deg(start_s: FloatArray, other_s: FloatArray, end_s: FloatArray) -> FloatArray:
    """Return when in the stride the other foot lands, shape (K,) [deg]; 180 is halfway."""
    phase: FloatArray = DEG_PER_TURN * (other_s - start_s) / (end_s - start_s)
    return phase


def phase_coordination(phase_deg: FloatArray) -> tuple[float, float]:
    """Return the two parts of the phase coordination index [%]: spread, mean departure.

    Plotnik, Giladi & Hausdorff 2007, Exp Brain Res 181:561-570: 100 SD / mean of the phase
    (n - 1), and 100 mean(abs(phase - 180)) / 180.
    """
    spread = 100.0 * float(phase_deg.std(ddof=1)) / float(phase_deg.mean())
    departure = 100.0 * float(np.abs(phase_deg - HALF_STRIDE_DEG).mean()) / HALF_STRIDE_DEG
    return spread, departure


def pci_interval(phase_deg: FloatArray, order: Neighbours | None = None) -> Interval:
    """Return the phase coordination index [%] with its interval.

    Notes
    -----
    What a stride adds to it, by the delta method: to the spread
    ``((phase - mean)^2 - s^2) / (2 s mean) - s (phase - mean) / mean^2``, to the mean
    departure its own. The limits are formed on the log scale, for it cannot be negative.
    """
    order = unrelated(phase_deg.size) if order is None else order
    finite = np.isfinite(phase_deg)
    phase, order = phase_deg[finite], subset(order, finite)
    if phase.size < 2:
        return Interval(n=int(phase.size))
    spread, departure = phase_coordination(phase)
    value, mean, sd = spread + departure, float(phase.mean()), float(phase.std(ddof=1))
    if sd == 0.0:
        return Interval(value=value, low=value, high=value, n=int(phase.size))
    away = phase - mean
    influence = (away**2 - sd**2) / (2.0 * sd * mean) - sd * away / mean**2
    influence = 100.0 * (influence + np.abs(phase - HALF_STRIDE_DEG) / HALF_STRIDE_DEG)
    linear = influence_interval(value, influence, order)
    reach = math.exp((linear.high - value) / value)
    return replace(linear, low=value / reach, high=value * reach)
