"""How much strides differ from each other: times, angles."""

from __future__ import annotations

from collections.abc import Callable

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE
from imucarry.basics.records import Estimate, FloatArray, Side
from imucarry.basics.statistics import (
    Interval,
    Neighbours,
    cv_interval,
    robust_sd_interval,
    scaled,
    sd_interval,
)
from imucarry.basics.units import DEG_PER_RAD
from imucarry.measures.measure import Measure
from imucarry.measures.results import given, missing, total, with_note
from imucarry.measures.sample import BoutSample
from imucarry.measures.swing import with_clock_note
from imucarry.measures.timing import step_times, stride_times
from imucarry.measures.timing_noise import interval_noise_s, timing_missing

IntervalOf = Callable[[FloatArray, Neighbours | None], Interval]


def spread(sample: BoutSample, interval: Interval, least: int) -> Estimate:
    """Return a spread as an estimate, noted where it rests on few strides."""
    few = interval.n < sample.settings.reliable_strides_variability
    return with_note(given(interval, least), "few_strides_for_variability", when=few)


def time_spread(sample: BoutSample, interval: Interval, floor: float, least: int) -> Estimate:
    """Return a spread of times; noted where its lower limit is not above the noise."""
    found = spread(sample, interval, least)
    return with_note(found, "below_timing_noise", when=found.ci_low <= floor)


def _time_sd(
    sample: BoutSample, times_s: FloatArray, interval_of: IntervalOf, least: int
) -> Estimate:
    """Return a standard deviation of times [s]."""
    because = timing_missing(sample)
    if because:
        return missing(because)
    found = interval_of(times_s, sample.timing.order)
    return time_spread(sample, found, interval_noise_s(sample.settings), least)


def _time_cv(sample: BoutSample, times_s: FloatArray, in_stride: float, least: int) -> Estimate:
    """Return a coefficient of variation [%] of times of which `in_stride` make a stride."""
    because = timing_missing(sample)
    if because:
        return missing(because)
    found = scaled(cv_interval(times_s, sample.timing.order), 100.0)
    return time_spread(sample, found, in_stride * cv_floor_pct(sample), least)


def cv_floor_pct(sample: BoutSample) -> float:
    """Return the CV of stride time that contact noise alone would give [%]."""
    return 100.0 * interval_noise_s(sample.settings) / sample.mean_stride_time.value


def stride_time_sd(sample: BoutSample, least: int) -> Estimate:
    """Standard deviation of stride time."""
    return _time_sd(sample, stride_times(sample), sd_interval, least)


def stride_time_robust_sd(sample: BoutSample, least: int) -> Estimate:
    """Robust standard deviation of stride time."""
    return _time_sd(sample, stride_times(sample), robust_sd_interval, least)


def stride_time_cv(sample: BoutSample, least: int) -> Estimate:
    """Coefficient of variation of stride time, corrected for few strides."""
    return _time_cv(sample, stride_times(sample), 1.0, least)


def stride_time_cv_floor(sample: BoutSample, least: int) -> Estimate:
    """CV of stride time that the scatter of contact times alone would give."""
    because = timing_missing(sample)
    n_strides = int(sample.timing.rows.size)
    if because or n_strides < least:
        return missing(because or "too_few_strides", n_strides)
    return total(cv_floor_pct(sample), n_strides)


def step_time_sd(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Standard deviation of step time."""
    return _time_sd(sample, step_times(sample, side), sd_interval, least)


def step_time_robust_sd(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Robust standard deviation of step time."""
    return _time_sd(sample, step_times(sample, side), robust_sd_interval, least)


def step_time_cv(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Coefficient of variation of step time, corrected for few strides."""
    return _time_cv(sample, step_times(sample, side), 2.0, least)


def sternum_yaw_sd(sample: BoutSample, least: int) -> Estimate:
    """Standard deviation of the sternum yaw range."""
    return _yaw_spread(sample, "sternum_yaw_range_deg", least)


def torso_lean_sd(sample: BoutSample, least: int) -> Estimate:
    """Standard deviation of the mean side lean of a stride."""
    trunk = sample.data.trunk
    if trunk is not None and trunk.levelled_in == "bout_mean":
        return missing("not_quiet_standing")
    return _yaw_spread(sample, "torso_lean_deg", least)


def _yaw_spread(sample: BoutSample, name: str, least: int) -> Estimate:
    if sample.data.yaw is None:
        return missing("no_chest_sensor")
    values: FloatArray = sample.data.columns[name][sample.yaw.rows]
    return spread(sample, sd_interval(values, sample.yaw.order), least)


def arm_swing_sd(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Standard deviation of the arm swing."""
    if side not in sample.arms:
        return missing("no_wrist_sensor")
    kept = sample.arms[side]
    swing = sample.data.swing[side].range_rad[kept.rows] * DEG_PER_RAD
    found = spread(sample, sd_interval(swing, kept.order), least)
    found = with_note(found, "own_cycles", when=sample.data.trunk is None)
    return with_clock_note(found, sample, side)


MEAN = evidence.LEAST_STRIDES_MEAN
CV_SOURCE = "Sokal & Rohlf 1995, Biometry (small-sample factor from memory, not confirmed)"
MAD_SOURCE = "common practice, no source (1.4826 times the median absolute deviation)"

SPREAD: tuple[Measure, ...] = (
    Measure(
        "stride_time_sd",
        "Spread of stride time",
        "s",
        "Standard deviation of the kept stride times; the scatter of the contact times is in it.",
        COMMON_PRACTICE,
        MEAN,
        "variability",
        whole=stride_time_sd,
    ),
    Measure(
        "stride_time_cv",
        "Variation of stride time",
        "%",
        "Standard deviation of stride time as a share of its mean, with the correction for few "
        "strides; the scatter of the contact times is in it.",
        CV_SOURCE,
        MEAN,
        "variability",
        whole=stride_time_cv,
    ),
    Measure(
        "stride_time_cv_floor",
        "Variation of stride time from contact scatter",
        "%",
        "Variation of stride time that the scatter of the contact times alone would give.",
        ENGINEERING_CHOICE,
        MEAN,
        "variability",
        whole=stride_time_cv_floor,
    ),
    Measure(
        "stride_time_robust_sd",
        "Robust spread of stride time",
        "s",
        "Spread of stride time that single odd strides hardly move: 1.4826 times the median "
        "absolute deviation from the median.",
        MAD_SOURCE,
        MEAN,
        "variability",
        whole=stride_time_robust_sd,
    ),
    Measure(
        "step_time_sd",
        "Spread of step time",
        "s",
        "Standard deviation of the kept step times of one foot.",
        COMMON_PRACTICE,
        MEAN,
        "variability",
        sides="feet",
        by_side=step_time_sd,
    ),
    Measure(
        "step_time_cv",
        "Variation of step time",
        "%",
        "Standard deviation of one foot's step times as a share of their mean, with the "
        "correction for few strides.",
        CV_SOURCE,
        MEAN,
        "variability",
        sides="feet",
        by_side=step_time_cv,
    ),
    Measure(
        "step_time_robust_sd",
        "Robust spread of step time",
        "s",
        "Spread of one foot's step times that single odd steps hardly move.",
        MAD_SOURCE,
        MEAN,
        "variability",
        sides="feet",
        by_side=step_time_robust_sd,
    ),
    Measure(
        "sternum_yaw_sd",
        "Spread of trunk rotation",
        "deg",
        "Standard deviation of the sternum yaw range over the kept strides. In degrees, for a "
        "percentage of a small rotation explodes.",
        COMMON_PRACTICE,
        MEAN,
        "variability",
        whole=sternum_yaw_sd,
    ),
    Measure(
        "torso_lean_sd",
        "Spread of side lean",
        "deg",
        "Standard deviation, over the kept strides, of the stride's mean side lean.",
        COMMON_PRACTICE,
        MEAN,
        "variability",
        whole=torso_lean_sd,
    ),
    Measure(
        "arm_swing_sd",
        "Spread of arm swing",
        "deg",
        "Standard deviation of the arm swing over the kept strides.",
        COMMON_PRACTICE,
        MEAN,
        "variability",
        sides="arms",
        by_side=arm_swing_sd,
    ),
)
