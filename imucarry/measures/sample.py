"""What the measures of one bout share, prepared once: which strides count, and their order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.records import (
    SIDES,
    BoolArray,
    BoutData,
    FloatArray,
    IntArray,
    Side,
    Strides,
    StrideSwing,
)
from imucarry.basics.settings import MeasureSettings
from imucarry.basics.statistics import (
    Interval,
    Neighbours,
    mean_interval,
    neighbours,
    paired_log_ratio,
)
from imucarry.measures.harmonics import stride_harmonic_ratios


@dataclass(frozen=True, slots=True)
class Kept:
    """Strides that count: their rows, shape (K,), and which follow each other."""

    rows: IntArray
    order: Neighbours


@dataclass(frozen=True)
class BoutSample:
    """One bout, ready to be measured.

    What several measures need is computed when the first asks for it, and kept.

    Attributes
    ----------
    data : BoutData
    settings : MeasureSettings
    timing, yaw : Kept
    arms : mapping of Side to Kept
        An entry for each worn wrist; without a chest sensor the arm's own cycles.
    harmonic_ratio, improved_harmonic_ratio : ndarray, shape (K, 3)
        Of the strides kept for timing, along forward, left, up.
    """

    data: BoutData
    settings: MeasureSettings
    timing: Kept
    yaw: Kept
    arms: Mapping[Side, Kept]
    harmonic_ratio: FloatArray
    improved_harmonic_ratio: FloatArray

    @cached_property
    def mean_stride_time(self) -> Interval:
        """Mean time [s] of the strides kept for timing."""
        strides, rows = self.data.strides, self.timing.rows
        return mean_interval(strides.end_s[rows] - strides.start_s[rows], self.timing.order)

    @cached_property
    def step_time_log_ratio(self) -> Interval:
        """ln(right / left step time) of the strides kept for timing."""
        strides, rows = self.data.strides, self.timing.rows
        right, left = strides.right_step_time_s[rows], strides.left_step_time_s[rows]
        return paired_log_ratio(right, left, self.timing.order)

    @cached_property
    def both_arms(self) -> Kept:
        """The strides kept for both arms."""
        strides = self.data.strides
        both = strides.kept_left_arm & strides.kept_right_arm
        return kept_strides(strides, both, (self.timing, self.yaw))

    @cached_property
    def yaw_and_arm(self) -> Mapping[Side, Kept]:
        """The strides kept for yaw and for an arm, by the arm."""
        strides = self.data.strides
        known = (self.timing, self.yaw)
        return {
            side: kept_strides(strides, strides.kept_yaw & strides.kept_arm(side), known)
            for side in SIDES
        }


def prepare(data: BoutData, settings: MeasureSettings) -> BoutSample:
    """Find which strides of a bout count for what, and what several measures share."""
    strides = data.strides
    timing = kept_strides(strides, strides.kept_timing)
    yaw = kept_strides(strides, strides.kept_yaw, (timing,))
    arms = {side: _kept_arm(data, side, (timing, yaw)) for side in SIDES if side in data.swing}
    ratio, improved = np.empty((0, 3)), np.empty((0, 3))
    if data.trunk is not None and timing.rows.size:
        ratio, improved = stride_harmonic_ratios(
            data.trunk.acc_mps2,
            data.trunk.rate_hz,
            strides.start_s[timing.rows] - data.trunk.time_s[0],
            strides.end_s[timing.rows] - data.trunk.time_s[0],
        )
    return BoutSample(data, settings, timing, yaw, arms, ratio, improved)


def kept_strides(strides: Strides, mask: BoolArray, known: Iterable[Kept] = ()) -> Kept:
    """Return the strides that a mask of shape (S,) picks, with their order.

    Most masks of a bout pick the same strides: those already known are handed back.
    """
    rows = np.flatnonzero(mask)
    for kept in known:
        if np.array_equal(kept.rows, rows):
            return kept
    return Kept(rows, neighbours(strides.pass_number[rows], strides.stride_in_pass[rows]))


def _kept_arm(data: BoutData, side: Side, known: Iterable[Kept]) -> Kept:
    if data.trunk is not None:
        return kept_strides(data.strides, data.strides.kept_arm(side), known)
    return own_cycles(data.swing[side])


def own_cycles(swing: StrideSwing) -> Kept:
    """Return an arm's own cycles in their order: one follows another when it starts at its end."""
    rows = np.flatnonzero(np.isfinite(swing.range_rad))
    start, end = swing.start_s[rows], swing.end_s[rows]
    late_frac = np.abs(start[1:] - end[:-1]) / (end[:-1] - start[:-1])
    breaks = late_frac > evidence.CYCLES_TOUCH_FRAC.value
    run = np.concatenate((np.zeros(min(rows.size, 1)), np.cumsum(breaks)))
    return Kept(rows, neighbours(run, np.arange(rows.size)))
