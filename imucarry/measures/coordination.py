"""When arms and sternum swing in the stride, and against each other."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import ENGINEERING_CHOICE
from imucarry.basics.records import Estimate, FloatArray, Side
from imucarry.basics.statistics import (
    Interval,
    circular_difference,
    circular_interval,
    normal_quantile,
    resultant_interval,
    scaled,
    share_interval,
)
from imucarry.basics.units import DEG_PER_RAD, DEG_PER_TURN
from imucarry.measures.arm_rate import swing_missing
from imucarry.measures.asymmetry import contact_phase_deg
from imucarry.measures.measure import Measure
from imucarry.measures.results import given, into_turn, missing, phase_estimate
from imucarry.measures.roles import arm_role
from imucarry.measures.rotation import yaw_too_small
from imucarry.measures.sample import BoutSample, Kept

# --- phases ------------------------------------------------------------------


def clock_reach_deg(sample: BoutSample, side: Side) -> float:
    """Return how far the wrist's clock may move a phase (95 %), in degrees of the stride."""
    clock_s = sample.data.clock_sd_s.get(side, 0.0)
    level = 0.5 + evidence.INTERVAL_LEVEL.value / 2.0
    return normal_quantile(level) * DEG_PER_TURN * clock_s / sample.mean_stride_time.value


def with_clock(interval_deg: Interval, sample: BoutSample, side: Side) -> Interval:
    """Widen the interval of a phase by what the wrist's clock may be off the chest's."""
    own_deg = interval_deg.high - interval_deg.value
    reach_deg = math.hypot(own_deg, clock_reach_deg(sample, side))
    value = interval_deg.value
    return replace(interval_deg, low=value - reach_deg, high=value + reach_deg)


def chest_and_arm_missing(sample: BoutSample, side: Side) -> str:
    """Return why an arm cannot be timed against the stride, "" when it can."""
    if arm_role(sample.data.row, side) == "held":
        return "held_arm"
    if sample.data.trunk is None:
        return "no_chest_sensor"
    because = swing_missing(sample, side)
    if because or sample.timing.rows.size == 0:
        return because
    told = clock_reach_deg(sample, side) <= evidence.MOST_CLOCK_REACH_DEG.value
    return "" if told else "clock_unknown"


def arm_step_phase(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Circular mean of when in the stride the forearm is farthest forward, 0 to 360."""
    because = chest_and_arm_missing(sample, side)
    if because:
        return missing(because)
    kept = sample.arms[side]
    angles = sample.data.swing[side].phase_rad[kept.rows]
    found = into_turn(scaled(circular_interval(angles, kept.order), DEG_PER_RAD))
    return phase_estimate(with_clock(found, sample, side), angles, least)


def arm_step_consistency(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Resultant length of the forearm's phase to the steps."""
    because = chest_and_arm_missing(sample, side)
    if because:
        return missing(because)
    kept = sample.arms[side]
    return given(
        resultant_interval(sample.data.swing[side].phase_rad[kept.rows], kept.order), least
    )


def sternum_step_consistency(sample: BoutSample, least: int) -> Estimate:
    """Resultant length of the sternum's phase to the steps."""
    if sample.data.yaw is None:
        return missing("no_chest_sensor")
    found = resultant_interval(sample.data.yaw.phase_rad[sample.yaw.rows], sample.yaw.order)
    if found.n >= least and yaw_too_small(sample):
        return missing("amplitude_under_floor", found.n)
    return given(found, least)


def arm_sternum_missing(sample: BoutSample, side: Side) -> str:
    """Return why arm and sternum cannot be timed against each other, "" when they can."""
    because = chest_and_arm_missing(sample, side)
    if because or not np.isfinite(_arm_less_sternum(sample, side)[1]).any():
        return because
    return "amplitude_under_floor" if yaw_too_small(sample) else ""


def _arm_less_sternum(sample: BoutSample, side: Side) -> tuple[Kept, FloatArray]:
    """Return the strides kept for both and the arm's phase less the sternum's [rad]."""
    yaw, kept = sample.data.yaw, sample.yaw_and_arm[side]
    if yaw is None:
        return kept, np.full(kept.rows.size, np.nan)
    arm = sample.data.swing[side].phase_rad[kept.rows]
    return kept, circular_difference(arm, yaw.phase_rad[kept.rows])


def arm_sternum_phase(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Circular mean of the free arm's phase less the sternum's, -180 to 180."""
    because = arm_sternum_missing(sample, side)
    if because:
        return missing(because)
    kept, difference = _arm_less_sternum(sample, side)
    found = scaled(circular_interval(difference, kept.order), DEG_PER_RAD)
    return phase_estimate(with_clock(found, sample, side), difference, least)


def arm_sternum_consistency(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Resultant length of the free arm's phase less the sternum's."""
    because = arm_sternum_missing(sample, side)
    if because:
        return missing(because)
    kept, difference = _arm_less_sternum(sample, side)
    return given(resultant_interval(difference, kept.order), least)


def arm_opposite_leg_share(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Share of strides in which the arm is farthest forward near the opposite contact."""
    because = chest_and_arm_missing(sample, side)
    if because:
        return missing(because)
    kept, strides = sample.arms[side], sample.data.strides
    rows = kept.rows
    contact_deg = contact_phase_deg(
        strides.start_s[rows], strides.right_contact_s[rows], strides.end_s[rows]
    )
    opposite_deg = contact_deg if side == "left" else np.zeros(rows.size)
    arm_deg = sample.data.swing[side].phase_rad[rows] * DEG_PER_RAD
    apart = circular_difference(arm_deg / DEG_PER_RAD, opposite_deg / DEG_PER_RAD) * DEG_PER_RAD
    near = np.abs(apart) <= evidence.OPPOSITE_LEG_WITHIN_DEG.value
    holds = np.where(np.isfinite(apart), near.astype(float), np.nan)
    return given(scaled(share_interval(holds, kept.order), 100.0), least)


MEAN = evidence.LEAST_STRIDES_MEAN
PHASE_SOURCE = (
    "phase of the main harmonic after Lamoth et al. 2002, Gait Posture 16:101-114; circular "
    "statistics after Mardia & Jupp 2000"
)

COORDINATION: tuple[Measure, ...] = (
    Measure(
        "arm_sternum_phase",
        "Arm against trunk",
        "deg",
        "When the free forearm is farthest forward minus when the sternum faces farthest "
        "left, in degrees of the stride, -180 to 180; circular mean of the stride-rate "
        "harmonics. In usual walking near 0 for the right arm and 180 for the left.",
        PHASE_SOURCE,
        MEAN,
        "coordination",
        sides="arms",
        by_side=arm_sternum_phase,
    ),
    Measure(
        "arm_sternum_consistency",
        "Arm against trunk, consistency",
        "1",
        "How alike the timing of free forearm and sternum is from stride to stride: "
        "resultant length, 1 alike, 0 spread out.",
        PHASE_SOURCE,
        MEAN,
        "coordination",
        sides="arms",
        by_side=arm_sternum_consistency,
    ),
    Measure(
        "arm_step_phase",
        "When the arm is farthest forward",
        "deg",
        "Place in the stride where the free forearm is farthest forward: 0 at left contact, "
        "360 a stride; circular mean.",
        PHASE_SOURCE,
        MEAN,
        "coordination",
        sides="arms",
        by_side=arm_step_phase,
    ),
    Measure(
        "arm_step_consistency",
        "Arm against steps, consistency",
        "1",
        "How alike the timing of the free forearm to the steps is from stride to stride: "
        "resultant length, 1 alike, 0 spread out.",
        PHASE_SOURCE,
        MEAN,
        "coordination",
        sides="arms",
        by_side=arm_step_consistency,
    ),
    Measure(
        "sternum_step_consistency",
        "Trunk against steps, consistency",
        "1",
        "How alike the timing of the sternum to the steps is from stride to stride: "
        "resultant length, 1 alike, 0 spread out.",
        PHASE_SOURCE,
        MEAN,
        "coordination",
        whole=sternum_step_consistency,
    ),
    Measure(
        "arm_opposite_leg_share",
        "Arm swings with the opposite leg",
        "%",
        "Share of strides in which the free forearm is farthest forward within a quarter "
        "stride of the opposite foot's contact.",
        ENGINEERING_CHOICE,
        MEAN,
        "coordination",
        sides="arms",
        by_side=arm_opposite_leg_share,
    ),
)
