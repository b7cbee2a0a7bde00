"""From an interval to an `Estimate`, or to the reason why there is none."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.records import Estimate, FloatArray
from imucarry.basics.statistics import Interval, resultant_length
from imucarry.basics.units import DEG_PER_TURN


def missing(reason: str, n_used: int = 0) -> Estimate:
    """Return the estimate of what cannot be measured."""
    return Estimate(n_used=n_used, missing_because=reason)


def given(interval: Interval, least: int) -> Estimate:
    """Return an interval as an estimate; missing when it rests on fewer strides than `least`."""
    if interval.n < least:
        return missing("too_few_strides", interval.n)
    if not math.isfinite(interval.value):
        return missing("not_positive", interval.n)
    codes = () if math.isfinite(interval.high - interval.low) else ("interval_undefined",)
    return Estimate(interval.value, interval.low, interval.high, interval.n, notes=codes)


def phase_estimate(interval: Interval, angles_rad: FloatArray, least: int) -> Estimate:
    """Return a mean phase; `phase_not_stable` where the timing itself scatters.

    Parameters
    ----------
    interval : Interval
    angles_rad : ndarray, shape (K,) [rad]
        The phases behind it; NaN is left out.
    least : int

    Notes
    -----
    Limits may be undefined because strides are few and seem alike: the mean then
    stays, with open limits and the note ``interval_undefined``. It is withheld only where
    the resultant length lies below `PHASE_STABLE_LEAST` too.
    """
    if interval.n >= least and not math.isfinite(interval.high):
        length = resultant_length(angles_rad[np.isfinite(angles_rad)])
        if length < evidence.PHASE_STABLE_LEAST.value:
            return missing("phase_not_stable", interval.n)
    return given(interval, least)


def total(value: float, n_used: int) -> Estimate:
    """Return a total or a known limit, which has no interval."""
    return Estimate(value=value, n_used=n_used, notes=("no_interval",))


def from_zero(estimate: Estimate) -> Estimate:
    """Return an estimate of what is never below 0 with a lower limit that is not either.

    The cut takes nothing from the interval's coverage.
    """
    return replace(estimate, ci_low=0.0) if estimate.ci_low < 0.0 else estimate


def into_turn(interval_deg: Interval) -> Interval:
    """Return a direction with its value in 0 to 360 deg; the limits move along with it."""
    if not math.isfinite(interval_deg.value):
        return interval_deg
    turns_deg = DEG_PER_TURN * math.floor(interval_deg.value / DEG_PER_TURN)
    return replace(
        interval_deg,
        value=interval_deg.value - turns_deg,
        low=interval_deg.low - turns_deg,
        high=interval_deg.high - turns_deg,
    )


def with_note(estimate: Estimate, note: str, *, when: bool) -> Estimate:
    """Add a note to an estimate that has a value."""
    if not when or estimate.missing_because:
        return estimate
    return replace(estimate, notes=(*estimate.notes, note))
