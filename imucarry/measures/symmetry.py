"""Left against right: step times, arm swings, phase coordination."""

from __future__ import annotations

from collections.abc import Callable

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE
from imucarry.basics.records import SIDES, Estimate
from imucarry.basics.statistics import (
    Interval,
    log_ratio_interval,
    mean_interval,
    paired_log_ratio,
    scaled,
)
from imucarry.basics.units import DEG_PER_RAD
from imucarry.measures.asymmetry import (
    asymmetry_index,
    log_ratio_pct,
    mapped,
    symmetry_angle,
)
from imucarry.measures.measure import Measure
from imucarry.measures.results import given, missing, total, with_note
from imucarry.measures.roles import arm_role, loaded_side
from imucarry.measures.sample import BoutSample
from imucarry.measures.swing import direction_missing
from imucarry.measures.timing_noise import (
    asymmetry_noise_pct,
    timing_missing,
    within_noise,
)

Index = Callable[[float], float]


def _step_times(sample: BoutSample, index: Index, least: int, *, sign: float = 1.0) -> Estimate:
    """Return an asymmetry of step times in %, noted where contact noise reaches it."""
    because = timing_missing(sample)
    if because:
        return missing(because)
    found = given(mapped(scaled(sample.step_time_log_ratio, sign), index), least)
    if found.missing_because:
        return found
    noise = _step_noise_pct(sample, found.n_used)
    small = within_noise(asymmetry_of(sample), noise)
    return with_note(found, "below_timing_noise", when=small)


def asymmetry_of(sample: BoutSample) -> float:
    """Return the bout's step-time asymmetry index [%]."""
    return asymmetry_index(sample.step_time_log_ratio.value)


def _step_noise_pct(sample: BoutSample, n_strides: int) -> float:
    mean_step_s = 0.5 * sample.mean_stride_time.value
    return asymmetry_noise_pct(n_strides, mean_step_s, sample.settings)


def step_time_asymmetry(sample: BoutSample, least: int) -> Estimate:
    """100 (right - left) / mean of both step times."""
    return _step_times(sample, asymmetry_index, least)


def step_time_symmetry_angle(sample: BoutSample, least: int) -> Estimate:
    """Symmetry angle of the step times."""
    return _step_times(sample, symmetry_angle, least)


def step_time_log_ratio(sample: BoutSample, least: int) -> Estimate:
    """100 ln(right / left) of the step times."""
    return _step_times(sample, log_ratio_pct, least)


def step_time_asymmetry_floor(sample: BoutSample, least: int) -> Estimate:
    """Standard deviation that contact noise alone gives the step-time asymmetry."""
    because = timing_missing(sample)
    n_strides = int(sample.timing.rows.size)
    if because or n_strides < least:
        return missing(because or "too_few_strides", n_strides)
    return total(_step_noise_pct(sample, n_strides), n_strides)


def step_time_loaded_difference(sample: BoutSample, least: int) -> Estimate:
    """100 (loaded - unloaded side) / mean of both step times."""
    side = loaded_side(sample.data.row)
    if side is None:
        return missing("no_loaded_side")
    sign = 1.0 if side == "right" else -1.0
    return _step_times(sample, asymmetry_index, least, sign=sign)


# --- arms --------------------------------------------------------------------


def arms_missing(sample: BoutSample) -> str:
    """Return why the two arms cannot be compared as free arms, "" when they can."""
    if any(arm_role(sample.data.row, side) == "held" for side in SIDES):
        return "held_arm"
    return sides_missing(sample)


def sides_missing(sample: BoutSample) -> str:
    """Return why left and right arm swing cannot be set against each other, "" when they can.

    Notes
    -----
    Which way a forearm hangs outward is known only where forward is. Else its turning about its
    length leaks into the swing, with opposite sign left and right: each swing is off by little,
    their difference by twice that. A stated axis does not mend it: a sensor strapped on 3 deg
    from it leaks as much.
    """
    if not all(side in sample.arms for side in SIDES):
        return "no_wrist_sensor"
    return next(filter(None, (direction_missing(sample, side) for side in SIDES)), "")


def arm_log_ratio_interval(sample: BoutSample) -> Interval:
    """Return ln(right / left arm swing); of the same strides where there are strides."""
    left, right = (sample.data.swing[side].range_rad for side in SIDES)
    if sample.data.trunk is not None:
        kept = sample.both_arms
        return paired_log_ratio(right[kept.rows], left[kept.rows], kept.order)
    means = [
        mean_interval(swing[sample.arms[side].rows], sample.arms[side].order)
        for side, swing in zip(SIDES, (left, right), strict=True)
    ]
    return log_ratio_interval(means[1], means[0])


def _arms(sample: BoutSample, index: Index, least: int) -> Estimate:
    because = arms_missing(sample)
    if because:
        return missing(because)
    found = given(mapped(arm_log_ratio_interval(sample), index), least)
    return with_note(found, "own_cycles", when=sample.data.trunk is None)


def arm_swing_asymmetry(sample: BoutSample, least: int) -> Estimate:
    """100 (right - left) / mean of both arm swings."""
    return _arms(sample, asymmetry_index, least)


def arm_swing_symmetry_angle(sample: BoutSample, least: int) -> Estimate:
    """Symmetry angle of the arm swings."""
    return _arms(sample, symmetry_angle, least)


def arm_swing_log_ratio(sample: BoutSample, least: int) -> Estimate:
    """100 ln(right / left) of the arm swings."""
    return _arms(sample, log_ratio_pct, least)


def arm_swing_loaded_difference(sample: BoutSample, least: int) -> Estimate:
    """Arm swing of the loaded side minus that of the other."""
    side = loaded_side(sample.data.row)
    if side is None:
        return missing("no_loaded_side")
    if sample.data.trunk is None:
        return missing("no_chest_sensor")
    because = sides_missing(sample)
    if because:
        return missing(because)
    kept = sample.both_arms
    right, left = (sample.data.swing[arm].range_rad[kept.rows] for arm in ("right", "left"))
    difference = (right - left if side == "right" else left - right) * DEG_PER_RAD
    return given(mean_interval(difference, kept.order), least)


MEAN = evidence.LEAST_STRIDES_MEAN
INDEX_SOURCE = "formula of Lauziere et al. 2014, Int J Phys Med Rehabil 2:201, Table 1"
ANGLE_SOURCE = "Zifchock et al. 2008, Gait Posture 27:622-627 (from memory, not confirmed)"
LOG_SOURCE = "after Plotnik et al. 2005, Ann Neurol 57:656-663 (from memory, not confirmed)"


SYMMETRY: tuple[Measure, ...] = (
    Measure(
        "step_time_asymmetry",
        "Step time asymmetry",
        "%",
        "Right minus left step time as a share of their mean; 0 is equal. What contact "
        "scatter alone can give is step_time_asymmetry_floor.",
        INDEX_SOURCE,
        MEAN,
        "symmetry",
        whole=step_time_asymmetry,
    ),
    Measure(
        "step_time_symmetry_angle",
        "Step time symmetry angle",
        "%",
        "Angle between the two step times and equal ones, as a share of 90 deg; 0 is equal, "
        "right longer is positive.",
        ANGLE_SOURCE,
        MEAN,
        "symmetry",
        whole=step_time_symmetry_angle,
    ),
    Measure(
        "step_time_log_ratio",
        "Step time log ratio",
        "%",
        "100 times the natural logarithm of right over left step time; 0 is equal.",
        LOG_SOURCE,
        MEAN,
        "symmetry",
        whole=step_time_log_ratio,
    ),
    Measure(
        "step_time_asymmetry_floor",
        "Step time asymmetry from contact scatter",
        "%",
        "Standard deviation that the scatter of the contact times alone gives the step time "
        "asymmetry of as many strides.",
        ENGINEERING_CHOICE,
        MEAN,
        "symmetry",
        whole=step_time_asymmetry_floor,
    ),
    Measure(
        "step_time_loaded_difference",
        "Step time, loaded minus unloaded side",
        "%",
        "Step time of the loaded side minus that of the other as a share of their mean; "
        "loads on one side only.",
        COMMON_PRACTICE,
        MEAN,
        "symmetry",
        whole=step_time_loaded_difference,
    ),
    Measure(
        "arm_swing_asymmetry",
        "Arm swing asymmetry",
        "%",
        "Right minus left arm swing as a share of their mean; 0 is equal. Not applicable "
        "when an arm holds a load.",
        INDEX_SOURCE,
        MEAN,
        "symmetry",
        whole=arm_swing_asymmetry,
    ),
    Measure(
        "arm_swing_symmetry_angle",
        "Arm swing symmetry angle",
        "%",
        "Angle between the two arm swings and equal ones, as a share of 90 deg; 0 is equal. "
        "Not applicable when an arm holds a load.",
        ANGLE_SOURCE,
        MEAN,
        "symmetry",
        whole=arm_swing_symmetry_angle,
    ),
    Measure(
        "arm_swing_log_ratio",
        "Arm swing log ratio",
        "%",
        "100 times the natural logarithm of right over left arm swing; 0 is equal. Not "
        "applicable when an arm holds a load.",
        LOG_SOURCE,
        MEAN,
        "symmetry",
        whole=arm_swing_log_ratio,
    ),
    Measure(
        "arm_swing_loaded_difference",
        "Arm swing, loaded minus unloaded side",
        "deg",
        "Arm swing of the loaded side minus that of the other; loads on one side only.",
        COMMON_PRACTICE,
        MEAN,
        "symmetry",
        whole=arm_swing_loaded_difference,
    ),
)
