"""Cadence, stride and step times, speed."""

from __future__ import annotations

import math

from imucarry.basics.evidence import contacts as contact_evidence
from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import COMMON_PRACTICE
from imucarry.basics.records import Estimate, FloatArray, Side
from imucarry.basics.statistics import Interval, mean_interval
from imucarry.measures.measure import Measure
from imucarry.measures.results import given, missing, total
from imucarry.measures.sample import BoutSample
from imucarry.walk.passes import count_lanes

STEPS_A_STRIDE_PER_MINUTE = 120.0


def stride_times(sample: BoutSample) -> FloatArray:
    """Return the stride times of the strides kept for timing, shape (K,) [s]."""
    rows = sample.timing.rows
    times: FloatArray = sample.data.strides.end_s[rows] - sample.data.strides.start_s[rows]
    return times


def step_times(sample: BoutSample, side: Side) -> FloatArray:
    """Return the step times that end with a foot's contact, shape (K,) [s]."""
    strides = sample.data.strides
    times = strides.left_step_time_s if side == "left" else strides.right_step_time_s
    return times[sample.timing.rows]


def stride_time(sample: BoutSample, least: int) -> Estimate:
    """Mean time from a left contact to the next."""
    if sample.data.trunk is None:
        return missing("no_chest_sensor")
    return given(sample.mean_stride_time, least)


def cadence(sample: BoutSample, least: int) -> Estimate:
    """Steps per minute: two a mean stride time."""
    if sample.data.trunk is None:
        return missing("no_chest_sensor")
    time = sample.mean_stride_time
    if time.n < least:
        return missing("too_few_strides", time.n)
    low, value, high = (
        STEPS_A_STRIDE_PER_MINUTE / limit if limit > 0.0 else math.nan
        for limit in (time.high, time.value, time.low)
    )
    return given(Interval(value, low, high, n=time.n), least)


def step_time(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Mean time from the other foot's contact to this foot's."""
    if sample.data.trunk is None:
        return missing("no_chest_sensor")
    return given(mean_interval(step_times(sample, side), sample.timing.order), least)


def walked_m(sample: BoutSample) -> float:
    """Return the distance walked [m]: as given, else all lanes; NaN when unknown."""
    data, given_m = sample.data, sample.data.row.distance_m
    if math.isfinite(given_m) or math.isnan(data.lane_m) or data.trunk is None:
        return given_m if math.isfinite(given_m) else data.lane_m * len(data.passes)
    return data.lane_m * count_lanes(data.trunk, data.contacts, data.passes)


def walked_s(sample: BoutSample) -> float:
    """Return the time spent in passes [s]: without turns and standing."""
    return math.fsum(item.end_s - item.start_s for item in sample.data.passes)


def walk_is_seen(sample: BoutSample) -> bool:
    """Tell whether the chest sensor was on wherever the passes may have gone on."""
    trunk = sample.data.trunk
    if trunk is None:
        return False
    unseen = ~trunk.usable
    for item in sample.data.passes:
        unseen &= (trunk.time_s < item.start_s) | (trunk.time_s > item.end_s)
    return float(unseen.sum()) <= contact_evidence.GAP_SEEN_THROUGH_S.value * trunk.rate_hz


def distance(sample: BoutSample, least: int) -> Estimate:
    """Distance walked in the bout."""
    walked = walked_m(sample)
    if not math.isfinite(walked):
        return missing("no_distance")
    if math.isnan(sample.data.row.distance_m) and sample.data.trunk is None:
        return missing("no_chest_sensor")
    if math.isnan(sample.data.row.distance_m) and not walk_is_seen(sample):
        return missing("walk_not_seen")
    return total(walked, int(sample.data.strides.start_s.size))


def speed(sample: BoutSample, least: int) -> Estimate:
    """Mean speed over the passes."""
    if sample.data.trunk is None:
        return missing("no_chest_sensor")
    if not math.isfinite(walked_m(sample)):
        return missing("no_distance")
    if walked_s(sample) <= 0.0:
        return missing("too_few_strides")
    if not walk_is_seen(sample):
        return missing("walk_not_seen")
    return total(walked_m(sample) / walked_s(sample), int(sample.data.strides.start_s.size))


def stride_length(sample: BoutSample, least: int) -> Estimate:
    """Mean stride length: mean speed times mean stride time."""
    pace, time = speed(sample, least), sample.mean_stride_time
    if pace.missing_because:
        return pace
    if time.n < least:
        return missing("too_few_strides", time.n)
    return total(pace.value * time.value, time.n)


MEAN = evidence.LEAST_STRIDES_MEAN

TIMING: tuple[Measure, ...] = (
    Measure(
        "cadence",
        "Cadence",
        "{steps}/min",
        "Steps per minute over the kept strides: 120 divided by the mean stride time.",
        COMMON_PRACTICE,
        MEAN,
        "timing",
        whole=cadence,
    ),
    Measure(
        "stride_time",
        "Stride time",
        "s",
        "Time from a left contact to the next left contact; mean of the kept strides.",
        COMMON_PRACTICE,
        MEAN,
        "timing",
        whole=stride_time,
    ),
    Measure(
        "step_time",
        "Step time",
        "s",
        "Time from the other foot's contact to this foot's; mean of the kept strides.",
        COMMON_PRACTICE,
        MEAN,
        "timing",
        sides="feet",
        by_side=step_time,
    ),
    Measure(
        "distance",
        "Distance",
        "m",
        "Distance walked: as given for the bout, else the length of the lane for each pass.",
        COMMON_PRACTICE,
        evidence.LEAST_COUNT,
        "timing",
        whole=distance,
    ),
    Measure(
        "speed",
        "Speed",
        "m/s",
        "Distance walked divided by the time spent in passes, turns left out; only where a "
        "distance or the lane is given.",
        COMMON_PRACTICE,
        evidence.LEAST_COUNT,
        "timing",
        whole=speed,
    ),
    Measure(
        "stride_length",
        "Stride length",
        "m",
        "Mean speed times mean stride time; only where a distance or the lane is given.",
        COMMON_PRACTICE,
        MEAN,
        "timing",
        whole=stride_length,
    ),
)
