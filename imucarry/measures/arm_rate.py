"""How often an arm swings in a stride: with the opposite leg, or with every step."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.records import Estimate, FloatArray, Side
from imucarry.basics.statistics import share_interval
from imucarry.basics.units import DEG_PER_RAD
from imucarry.measures.measure import Measure
from imucarry.measures.results import given, missing
from imucarry.measures.sample import BoutSample
from imucarry.measures.swing import direction_missing


def at_step_rate(sample: BoutSample, side: Side) -> FloatArray:
    """Return for each kept stride of an arm whether it swings mainly at step rate.

    Returns
    -------
    ndarray, shape (K,)
        1.0 at step rate, 0.0 at stride rate, NaN where neither is known.
    """
    swing, rows = sample.data.swing[side], sample.arms[side].rows
    stride, step = swing.amplitude_rad[rows], swing.step_amplitude_rad[rows]
    return np.where(np.isfinite(stride + step), (step > stride).astype(float), np.nan)


def swing_missing(sample: BoutSample, side: Side) -> str:
    """Return why an arm's place in the stride cannot be told, "" when it can."""
    because = direction_missing(sample, side)
    if because:
        return because
    swing, rows = sample.data.swing[side], sample.arms[side].rows
    both = np.stack([swing.amplitude_rad[rows], swing.step_amplitude_rad[rows]])
    known = both[:, np.isfinite(both).all(axis=0)]
    if known.shape[1] == 0:
        return ""
    stride_deg, step_deg = 2.0 * DEG_PER_RAD * known.mean(axis=1)
    least_deg = sample.settings.least_phase_arm_deg
    if max(stride_deg, step_deg) < least_deg:
        return "amplitude_under_floor"
    if (known[1] > known[0]).mean() > evidence.STEP_RATE_SHARE.value:
        return "two_to_one"
    return "" if stride_deg >= least_deg else "amplitude_under_floor"


def arm_step_frequency_ratio(sample: BoutSample, side: Side, least: int) -> Estimate:
    """Arm swings a stride: 1 with the opposite leg, 2 with every step."""
    if side not in sample.arms:
        return missing("no_wrist_sensor")
    if sample.data.trunk is None:
        return missing("no_chest_sensor")
    swing, kept = sample.data.swing[side], sample.arms[side]
    larger = np.maximum(swing.amplitude_rad, swing.step_amplitude_rad)[kept.rows]
    known = larger[np.isfinite(larger)]
    if known.size < least:
        return missing("too_few_strides", int(known.size))
    if 2.0 * DEG_PER_RAD * float(known.mean()) < sample.settings.least_phase_arm_deg:
        return missing("amplitude_under_floor", int(known.size))
    share = share_interval(at_step_rate(sample, side), kept.order)
    once_more = replace(share, value=1 + share.value, low=1 + share.low, high=1 + share.high)
    return given(once_more, least)


MEAN = evidence.LEAST_STRIDES_MEAN

ARM_RATE: tuple[Measure, ...] = (
    Measure(
        "arm_step_frequency_ratio",
        "Arm swings a stride",
        "1",
        "How often the forearm swings in a stride: 1 with the opposite leg, 2 with every "
        "step; between them when strides differ.",
        "after Wagenaar & van Emmerik 2000 (quoted); engineering choice",
        MEAN,
        "coordination",
        sides="arms",
        by_side=arm_step_frequency_ratio,
    ),
)
