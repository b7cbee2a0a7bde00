"""Forearm swing of each arm."""

from __future__ import annotations

import math

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE
from imucarry.basics.records import BoolArray, Estimate, FloatArray, IntArray, Side
from imucarry.basics.statistics import Interval, influence_interval, mean_interval, neighbours
from imucarry.basics.units import DEG_PER_RAD
from imucarry.measures.columns import peak_rate
from imucarry.measures.measure import Measure
from imucarry.measures.results import from_zero, given, missing, with_note
from imucarry.measures.sample import BoutSample


def arm_mean(sample: BoutSample, side: Side, values_rad: FloatArray, least: int) -> Estimate:
    """Return the mean of an arm's values, shape (S,) [rad or rad/s], over its kept strides."""
    kept = sample.arms[side]
    found = given(mean_interval(values_rad[kept.rows] * DEG_PER_RAD, kept.order), least)
    found = with_note(found, "own_cycles", when=sample.data.trunk is None)
    return with_clock_note(found, sample, side)


def with_clock_note(estimate: Estimate, sample: BoutSample, side: Side) -> Estimate:
    """Note where the chest's strides are cut from a wrist whose clock is not known."""
    unknown = math.isnan(sample.data.clock_sd_s.get(side, 0.0))
    return with_note(estimate, "clock_not_set", when=unknown and sample.data.trunk is not None)


def arm_swing(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Mean of how far the forearm swings through in a stride."""
    if side not in sample.arms:
        return missing("no_wrist_sensor")
    found = arm_mean(sample, side, sample.data.swing[side].range_rad, least)
    return from_zero(found) if sample.data.trunk is None else found


def arm_peak_rate(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Mean of the forearm's largest rate in a stride, either way."""
    rate = peak_rate(sample.data.swing.get(side))
    if rate is None:
        return missing("no_wrist_sensor")
    found = arm_mean(sample, side, rate, least)
    return from_zero(found) if sample.data.trunk is None else found


def direction_missing(sample: BoutSample, side: Side) -> str:
    """Return why forward is not told for an arm, "" when it is."""
    if side not in sample.arms:
        return "no_wrist_sensor"
    told = sample.data.swing[side].direction_source != "unknown"
    return "" if told else "direction_unknown"


def arm_peak_rate_forward(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Mean of the forearm's largest forward rate in a stride."""
    because = direction_missing(sample, side)
    if because:
        return missing(because)
    return arm_mean(sample, side, np.abs(sample.data.swing[side].peak_forward_radps), least)


def arm_peak_rate_backward(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Mean of the forearm's largest backward rate in a stride."""
    because = direction_missing(sample, side)
    if because:
        return missing(because)
    return arm_mean(sample, side, np.abs(sample.data.swing[side].peak_backward_radps), least)


def arm_mean_angle(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Mean angle of the forearm against its own standing, forward positive."""
    because = direction_missing(sample, side)
    if because:
        return missing(because)
    angle = sample.data.swing[side].mean_angle_rad
    if not np.isfinite(angle).any():
        return missing("not_quiet_standing")
    return arm_mean(sample, side, angle, least)


def arm_regularity(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Autocorrelation of the forearm's angle at a lag of one stride."""
    if side not in sample.arms:
        return missing("no_wrist_sensor")
    kept = sample.arms[side]
    curves = sample.data.swing[side].angle_curve_rad[kept.rows]
    adjacent = kept.order.adjacent & np.isfinite(curves[1:] + curves[:-1]).all(axis=1)
    if not adjacent.any():
        return missing("too_few_strides", int(kept.rows.size))
    found = given(curve_regularity(curves, adjacent, kept.order.pass_number), least - 1)
    return with_note(found, "own_cycles", when=sample.data.trunk is None)


def curve_regularity(curves: FloatArray, adjacent: BoolArray, run: IntArray) -> Interval:
    """Return how alike neighbouring curves are: 1 alike, 0 unrelated, -1 opposite.

    Parameters
    ----------
    curves : ndarray, shape (K, P)
        Zero mean each.
    adjacent : ndarray of bool, shape (K - 1,)
        Whether curve i + 1 follows curve i.
    run : ndarray of int, shape (K,)
        Pass of each curve.

    Notes
    -----
    Unbiased autocorrelation at a lag of one stride, over the pairs that exist: mean
    product / mean power of the pairs, so that it stays within -1 and 1.
    The interval is formed on Fisher's z scale.
    """
    first = np.flatnonzero(adjacent)
    products = (curves[first] * curves[first + 1]).mean(axis=1)
    power = (curves**2).mean(axis=1)
    of_pair = 0.5 * (power[first] + power[first + 1])
    mean_power = float(of_pair.mean())
    if mean_power == 0.0:
        return Interval(n=int(first.size))
    value = float(products.mean()) / mean_power
    influence = (products - value * of_pair) / mean_power
    return on_z_scale(influence_interval(value, influence, neighbours(run[first], first)))


def on_z_scale(interval: Interval) -> Interval:
    """Return the interval of a correlation with limits formed on Fisher's z scale."""
    value = min(max(interval.value, -1.0), 1.0)
    room = 1.0 - value * value
    if room <= 0.0 or not math.isfinite(interval.high):
        return interval
    reach = (interval.high - interval.value) / room
    z = math.atanh(value)
    return Interval(
        value,
        math.tanh(z - reach),
        math.tanh(z + reach),
        interval.standard_error,
        interval.degrees_of_freedom,
        interval.n,
        interval.n_effective,
        interval.correlation,
    )


MEAN = evidence.LEAST_STRIDES_MEAN

SWING: tuple[Measure, ...] = (
    Measure(
        "arm_swing",
        "Arm swing",
        "deg",
        "How far the forearm swings through in a stride: peak to peak of its angle in its own "
        "swing plane, mean of the kept strides. Elbow bend and trunk pitch are part of it.",
        ENGINEERING_CHOICE,
        MEAN,
        "arm swing",
        sides="arms",
        by_side=arm_swing,
    ),
    Measure(
        "arm_swing_kept",
        "Arm swing kept",
        "%",
        "Mean arm swing of the bout as a share of the same arm's in the free walk.",
        ENGINEERING_CHOICE,
        MEAN,
        "arm swing",
        sides="arms",
    ),
    Measure(
        "arm_swing_kept_matched",
        "Arm swing kept, at like speed",
        "%",
        "Arm swing kept against those free walks only that were walked at a like speed and stride "
        "length; only where the distance is known.",
        ENGINEERING_CHOICE,
        MEAN,
        "arm swing",
        sides="arms",
    ),
    Measure(
        "arm_peak_rate",
        "Fastest arm swing",
        "deg/s",
        "Largest rate of the forearm about the normal of its swing plane in a stride, either "
        "way; mean of the kept strides.",
        COMMON_PRACTICE,
        MEAN,
        "arm swing",
        sides="arms",
        by_side=arm_peak_rate,
    ),
    Measure(
        "arm_peak_rate_forward",
        "Fastest arm swing forward",
        "deg/s",
        "Largest forward rate of the forearm in a stride; mean of the kept strides.",
        COMMON_PRACTICE,
        MEAN,
        "arm swing",
        sides="arms",
        by_side=arm_peak_rate_forward,
    ),
    Measure(
        "arm_peak_rate_backward",
        "Fastest arm swing backward",
        "deg/s",
        "Largest backward rate of the forearm in a stride; mean of the kept strides.",
        COMMON_PRACTICE,
        MEAN,
        "arm swing",
        sides="arms",
        by_side=arm_peak_rate_backward,
    ),
    Measure(
        "arm_mean_angle",
        "Mean arm angle",
        "deg",
        "Mean angle of the forearm in its swing plane against quiet standing, forward positive.",
        COMMON_PRACTICE,
        MEAN,
        "arm swing",
        sides="arms",
        by_side=arm_mean_angle,
    ),
    Measure(
        "arm_regularity",
        "Arm swing regularity",
        "1",
        "How alike the forearm's swing is from one stride to the next: autocorrelation at a lag "
        "of one stride, time within the stride normalised, never across passes. 1 is alike.",
        "after Moe-Nilssen & Helbostad 2004, J Biomech 37:121-126; on strides brought to one "
        "length (a deviation)",
        MEAN,
        "arm swing",
        sides="arms",
        by_side=arm_regularity,
    ),
)
