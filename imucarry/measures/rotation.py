"""Rotation of the sternum, lean and pitch of the trunk."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE
from imucarry.basics.records import Estimate, FloatArray, Side
from imucarry.basics.statistics import (
    circular_interval,
    mean_interval,
    scaled,
    slope_interval,
)
from imucarry.basics.units import DEG_PER_RAD, RAD_PER_DEG
from imucarry.measures.measure import Measure
from imucarry.measures.results import (
    given,
    into_turn,
    missing,
    phase_estimate,
    with_note,
)
from imucarry.measures.roles import arm_role
from imucarry.measures.sample import BoutSample

SECONDS_A_MINUTE = 60.0


def yaw_column(sample: BoutSample, name: str) -> FloatArray:
    """Return a column over the strides kept for yaw, shape (K,)."""
    return sample.data.columns[name][sample.yaw.rows]


def yaw_mean(sample: BoutSample, name: str, least: int) -> Estimate:
    """Return the mean of a column over the strides kept for yaw."""
    if sample.data.yaw is None:
        return missing("no_chest_sensor")
    return given(mean_interval(yaw_column(sample, name), sample.yaw.order), least)


def sternum_yaw_range(sample: BoutSample, least: int) -> Estimate:
    """Mean of how far the sternum swings through in a stride."""
    found = yaw_mean(sample, "sternum_yaw_range_deg", least)
    found = with_note(found, "below_walking_floor", when=under_floor(sample, found.value))
    return with_note(found, "levelled_at_bout_mean", when=not was_standing(sample))


def sternum_yaw_locked(sample: BoutSample, least: int) -> Estimate:
    """Mean of the part of the swing that is locked to the stride."""
    found = yaw_mean(sample, "sternum_yaw_locked_deg", least)
    return with_note(found, "below_walking_floor", when=under_floor(sample, found.value))


def under_floor(sample: BoutSample, value_deg: float) -> bool:
    """Whether a mean swing is not above the bout's walking floor."""
    if sample.data.yaw is None:
        return False
    floor = yaw_column(sample, "sternum_yaw_floor_deg")
    known = floor[np.isfinite(floor)]
    return bool(known.size and value_deg <= known.mean())


def was_standing(sample: BoutSample) -> bool:
    """Whether the trunk was levelled in quiet standing."""
    return sample.data.trunk is None or sample.data.trunk.levelled_in != "bout_mean"


def sternum_yaw_phase(sample: BoutSample, least: int) -> Estimate:
    """Circular mean of when in the stride the sternum faces farthest left, 0 to 360."""
    if sample.data.yaw is None:
        return missing("no_chest_sensor")
    angles = yaw_column(sample, "sternum_yaw_phase_deg") * RAD_PER_DEG
    found = scaled(circular_interval(angles, sample.yaw.order), DEG_PER_RAD)
    if found.n >= least and yaw_too_small(sample):
        return missing("amplitude_under_floor", found.n)
    return phase_estimate(into_turn(found), angles, least)


def yaw_too_small(sample: BoutSample) -> bool:
    """Whether the sternum's stride-rate swing is too small for a phase."""
    if sample.data.yaw is None:
        return True
    swing_deg = 2.0 * DEG_PER_RAD * sample.data.yaw.amplitude_rad[sample.yaw.rows]
    swing_deg = swing_deg[np.isfinite(swing_deg)]
    if swing_deg.size == 0:
        return True
    return float(swing_deg.mean()) < sample.settings.least_phase_yaw_deg


def sternum_peak_yaw_rate(sample: BoutSample, least: int) -> Estimate:
    """Mean of the largest yaw rate of a stride."""
    return yaw_mean(sample, "sternum_peak_yaw_rate_degps", least)


def sternum_yaw_floor(sample: BoutSample, least: int) -> Estimate:
    """Mean of what the part not locked to the stride would give: the walking floor."""
    return yaw_mean(sample, "sternum_yaw_floor_deg", least)


def sternum_yaw_trend(sample: BoutSample, least: int) -> Estimate:
    """Slope of the yaw range over the bout, lanes that differ allowed for: does it fade?"""
    if sample.data.yaw is None:
        return missing("no_chest_sensor")
    minutes = sample.data.strides.start_s[sample.yaw.rows] / SECONDS_A_MINUTE
    swing = yaw_column(sample, "sternum_yaw_range_deg")
    differ = evidence.PASSES_DIFFER.value
    return given(slope_interval(minutes, swing, sample.yaw.order, passes_differ=differ), least)


def torso_lean(sample: BoutSample, least: int) -> Estimate:
    """Mean side lean against quiet standing, right positive."""
    return _posture(sample, "torso_lean_deg", least)


def torso_pitch(sample: BoutSample, least: int) -> Estimate:
    """Mean pitch against quiet standing, forward positive."""
    return _posture(sample, "torso_pitch_deg", least)


def _posture(sample: BoutSample, name: str, least: int) -> Estimate:
    if sample.data.yaw is not None and not was_standing(sample):
        return missing("not_quiet_standing")
    return yaw_mean(sample, name, least)


def torso_lean_range(sample: BoutSample, least: int) -> Estimate:
    """Mean of how far the trunk leans from side to side in a stride."""
    return yaw_mean(sample, "torso_lean_range_deg", least)


def held_arm_rotation(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Mean of how far the sternum turns about the forearm that holds the load."""
    if arm_role(sample.data.row, side) != "held":
        return missing("not_held")
    if sample.data.yaw is None:
        return missing("no_chest_sensor")
    if side not in sample.data.swing:
        return missing("no_wrist_sensor")
    kept = sample.yaw_and_arm[side]
    turn = sample.data.columns[f"{side}_sternum_on_arm_deg"][kept.rows]
    return given(mean_interval(turn, kept.order), least)


MEAN = evidence.LEAST_STRIDES_MEAN

ROTATION: tuple[Measure, ...] = (
    Measure(
        "sternum_yaw_range",
        "Trunk rotation (swung through)",
        "deg",
        "How far the sternum turns from side to side in a stride, peak to peak, with the path's "
        "own heading removed; mean of the kept strides.",
        "definition an engineering choice; range in the lab frame as in Chung et al. 2010, "
        "J Neuroeng Rehabil 7:9",
        MEAN,
        "rotation",
        whole=sternum_yaw_range,
    ),
    Measure(
        "sternum_yaw_locked",
        "Trunk rotation, locked to the stride",
        "deg",
        "Peak to peak of the part of the turning that repeats with the stride and the step; "
        "mean of the kept strides.",
        ENGINEERING_CHOICE,
        MEAN,
        "rotation",
        whole=sternum_yaw_locked,
    ),
    Measure(
        "sternum_yaw_phase",
        "When the trunk faces farthest left",
        "deg",
        "Place in the stride where the sternum faces farthest left: 0 at left contact, 360 a "
        "stride; circular mean of the stride-rate harmonic's phase.",
        "after Lamoth et al. 2002, Gait Posture 16:101-114 (phase of the main harmonic)",
        MEAN,
        "rotation",
        whole=sternum_yaw_phase,
    ),
    Measure(
        "sternum_peak_yaw_rate",
        "Fastest trunk rotation",
        "deg/s",
        "Largest yaw rate of the sternum in a stride; mean of the kept strides.",
        COMMON_PRACTICE,
        MEAN,
        "rotation",
        whole=sternum_peak_yaw_rate,
    ),
    Measure(
        "sternum_yaw_floor",
        "Trunk rotation that does not repeat with the stride",
        "deg",
        "Peak to peak that the part of the turning which is not locked to the stride would "
        "give; rotation below it is not claimed.",
        ENGINEERING_CHOICE,
        MEAN,
        "rotation",
        whole=sternum_yaw_floor,
    ),
    Measure(
        "yaw_kept",
        "Trunk rotation kept",
        "%",
        "Mean sternum yaw range of the bout as a share of the same person's in the free walk.",
        ENGINEERING_CHOICE,
        MEAN,
        "rotation",
    ),
    Measure(
        "yaw_kept_matched",
        "Trunk rotation kept, at like speed",
        "%",
        "Rotation kept against those free walks only that were walked at a like speed and stride "
        "length; only where the distance is known.",
        ENGINEERING_CHOICE,
        MEAN,
        "rotation",
    ),
    Measure(
        "sternum_yaw_trend",
        "Change of trunk rotation over the bout",
        "deg/min",
        "Slope of the sternum yaw range over the bout: below 0 the rotation fades.",
        COMMON_PRACTICE,
        evidence.LEAST_STRIDES_TREND,
        "rotation",
        whole=sternum_yaw_trend,
    ),
    Measure(
        "torso_lean",
        "Side lean",
        "deg",
        "Mean side lean of the trunk against quiet standing, right positive.",
        COMMON_PRACTICE,
        MEAN,
        "rotation",
        whole=torso_lean,
    ),
    Measure(
        "torso_lean_range",
        "Side lean range",
        "deg",
        "How far the trunk leans from side to side in a stride, peak to peak; mean of the kept "
        "strides.",
        COMMON_PRACTICE,
        MEAN,
        "rotation",
        whole=torso_lean_range,
    ),
    Measure(
        "torso_pitch",
        "Forward lean",
        "deg",
        "Mean pitch of the trunk against quiet standing, forward positive.",
        COMMON_PRACTICE,
        MEAN,
        "rotation",
        whole=torso_pitch,
    ),
    Measure(
        "held_arm_rotation",
        "Trunk rotation about the held arm",
        "deg",
        "Within-stride range of sternum yaw minus the loaded forearm's rotation about the "
        "vertical, each with its stride mean removed. A proxy for the rib cage moving around "
        "a still arm: the shoulder is not seen, and turning the palm is part of it.",
        ENGINEERING_CHOICE,
        MEAN,
        "rotation",
        sides="arms",
        by_side=held_arm_rotation,
    ),
)
