"""Regularity of the trunk's motion from step to step and stride to stride."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.records import Estimate, FloatArray
from imucarry.basics.statistics import Interval, mean_interval, subset
from imucarry.measures.autocorrelation import regularity
from imucarry.measures.harmonics import harmonics_within
from imucarry.measures.measure import Measure
from imucarry.measures.results import given, missing, with_note
from imucarry.measures.sample import BoutSample
from imucarry.measures.swing import on_z_scale
from imucarry.measures.timing import stride_times

FORWARD, SIDEWAYS, UP = 0, 1, 2


def stride_regularity(sample: BoutSample, least: int) -> Estimate:
    """Autocorrelation of vertical trunk acceleration at a lag of one stride."""
    return _regularity(sample, 1.0, least)


def step_regularity(sample: BoutSample, least: int) -> Estimate:
    """Autocorrelation of vertical trunk acceleration at a lag of one step."""
    return _regularity(sample, 0.5, least)


def _regularity(sample: BoutSample, strides_of_lag: float, least: int) -> Estimate:
    if sample.data.trunk is None:
        return missing("no_chest_sensor")
    n_strides = int(sample.timing.rows.size)
    if n_strides < least:
        return missing("too_few_strides", n_strides)
    found = vertical_regularity(sample, strides_of_lag)
    # The last stride of a run has no next one to be compared with.
    return given(on_z_scale(found), min(least, 2))


def vertical_regularity(sample: BoutSample, strides_of_lag: float) -> Interval:
    """Return the regularity of vertical acceleration over the strides kept for timing."""
    trunk, rows = sample.data.trunk, sample.timing.rows
    if trunk is None:
        return Interval()
    first_s, rate_hz = trunk.time_s[0], trunk.rate_hz
    starts, ends = (
        np.clip(np.round((times[rows] - first_s) * rate_hz), 0, trunk.time_s.size).astype(np.int64)
        for times in (sample.data.strides.start_s, sample.data.strides.end_s)
    )
    lag = strides_of_lag * rate_hz * float(stride_times(sample).mean())
    return regularity(trunk.acc_mps2[:, UP], starts, ends, sample.timing.order, lag)


def _mean_ratio(sample: BoutSample, ratios: FloatArray, axis: int, least: int) -> Estimate:
    if sample.data.trunk is None:
        return missing("no_chest_sensor")
    if ratios.shape[0] < least:
        return missing("too_few_strides", ratios.shape[0])
    column = ratios[:, axis]
    finite = np.isfinite(column)
    return given(mean_interval(column[finite], subset(sample.timing.order, finite)), least)


def _harmonic_ratio(sample: BoutSample, axis: int, least: int) -> Estimate:
    found = _mean_ratio(sample, sample.harmonic_ratio, axis, least)
    return with_note(found, "fewer_harmonics", when=_fewer_harmonics(sample))


def _fewer_harmonics(sample: BoutSample) -> bool:
    """Whether the rate is too low for as many harmonics as the ratio is usually taken over."""
    trunk, rows, strides = sample.data.trunk, sample.timing.rows, sample.data.strides
    if trunk is None or not rows.size:
        return False
    n_harmonics = harmonics_within(trunk.rate_hz, strides.start_s[rows], strides.end_s[rows])
    return n_harmonics < evidence.N_HARMONICS.value


def harmonic_ratio_forward(sample: BoutSample, least: int) -> Estimate:
    """Mean harmonic ratio of forward acceleration."""
    return _harmonic_ratio(sample, FORWARD, least)


def harmonic_ratio_sideways(sample: BoutSample, least: int) -> Estimate:
    """Mean harmonic ratio of sideways acceleration."""
    return _harmonic_ratio(sample, SIDEWAYS, least)


def harmonic_ratio_vertical(sample: BoutSample, least: int) -> Estimate:
    """Mean harmonic ratio of vertical acceleration."""
    return _harmonic_ratio(sample, UP, least)


def improved_harmonic_ratio_forward(sample: BoutSample, least: int) -> Estimate:
    """Mean improved harmonic ratio of forward acceleration."""
    return _mean_ratio(sample, sample.improved_harmonic_ratio, FORWARD, least)


def improved_harmonic_ratio_sideways(sample: BoutSample, least: int) -> Estimate:
    """Mean improved harmonic ratio of sideways acceleration."""
    return _mean_ratio(sample, sample.improved_harmonic_ratio, SIDEWAYS, least)


def improved_harmonic_ratio_vertical(sample: BoutSample, least: int) -> Estimate:
    """Mean improved harmonic ratio of vertical acceleration."""
    return _mean_ratio(sample, sample.improved_harmonic_ratio, UP, least)


MEAN = evidence.LEAST_STRIDES_MEAN
AUTOCORRELATION_SOURCE = "Moe-Nilssen & Helbostad 2004, J Biomech 37:121-126"
RATIO_SOURCE = "Menz et al. 2003, Gait Posture 18:35-46; Bellanca et al. 2013, J Biomech 46:828-831"
IMPROVED_SOURCE = "Pasciuto et al. 2017, J Biomech 53:84-89"

REGULARITY: tuple[Measure, ...] = (
    Measure(
        "stride_regularity",
        "Stride regularity",
        "1",
        "How alike the trunk's vertical motion is from one stride to the next: unbiased "
        "autocorrelation at a lag of one stride, never across passes. 1 is alike.",
        AUTOCORRELATION_SOURCE,
        MEAN,
        "variability",
        whole=stride_regularity,
    ),
    Measure(
        "step_regularity",
        "Step regularity",
        "1",
        "How alike the trunk's vertical motion is from one step to the next: unbiased "
        "autocorrelation at a lag of one step, never across passes. 1 is alike.",
        AUTOCORRELATION_SOURCE,
        MEAN,
        "variability",
        whole=step_regularity,
    ),
    Measure(
        "harmonic_ratio_forward",
        "Harmonic ratio, forward",
        "1",
        "How alike the two steps of a stride are in the trunk's forward acceleration: amplitudes "
        "that repeat as equal steps do, over those that do not; mean of the kept strides.",
        RATIO_SOURCE,
        MEAN,
        "variability",
        whole=harmonic_ratio_forward,
    ),
    Measure(
        "improved_harmonic_ratio_forward",
        "Improved harmonic ratio, forward",
        "%",
        "Share of the power of the trunk's forward acceleration that repeats as equal steps do: "
        "100 is equal steps; mean of the kept strides.",
        IMPROVED_SOURCE,
        MEAN,
        "variability",
        whole=improved_harmonic_ratio_forward,
    ),
    Measure(
        "harmonic_ratio_sideways",
        "Harmonic ratio, sideways",
        "1",
        "How alike the two steps of a stride are in the trunk's sideways acceleration: amplitudes "
        "that repeat as equal steps do, over those that do not; mean of the kept strides.",
        RATIO_SOURCE,
        MEAN,
        "variability",
        whole=harmonic_ratio_sideways,
    ),
    Measure(
        "improved_harmonic_ratio_sideways",
        "Improved harmonic ratio, sideways",
        "%",
        "Share of the power of the trunk's sideways acceleration that repeats as equal steps do: "
        "100 is equal steps; mean of the kept strides.",
        IMPROVED_SOURCE,
        MEAN,
        "variability",
        whole=improved_harmonic_ratio_sideways,
    ),
    Measure(
        "harmonic_ratio_vertical",
        "Harmonic ratio, vertical",
        "1",
        "How alike the two steps of a stride are in the trunk's vertical acceleration: amplitudes "
        "that repeat as equal steps do, over those that do not; mean of the kept strides.",
        RATIO_SOURCE,
        MEAN,
        "variability",
        whole=harmonic_ratio_vertical,
    ),
    Measure(
        "improved_harmonic_ratio_vertical",
        "Improved harmonic ratio, vertical",
        "%",
        "Share of the power of the trunk's vertical acceleration that repeats as equal steps do: "
        "100 is equal steps; mean of the kept strides.",
        IMPROVED_SOURCE,
        MEAN,
        "variability",
        whole=improved_harmonic_ratio_vertical,
    ),
)
