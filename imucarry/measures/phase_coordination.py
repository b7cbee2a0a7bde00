"""Phase coordination index: how evenly each step divides the stride."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import ENGINEERING_CHOICE
from imucarry.basics.records import Estimate
from imucarry.measures.asymmetry import contact_phase_deg, pci_interval
from imucarry.measures.measure import Measure
from imucarry.measures.results import given, missing, total, with_note
from imucarry.measures.sample import BoutSample
from imucarry.measures.timing_noise import pci_noise_pct, timing_missing


def phase_coordination_index(sample: BoutSample, least: int) -> Estimate:
    """Phase coordination index with the left foot as reference."""
    because = timing_missing(sample)
    if because:
        return missing(because)
    strides, rows = sample.data.strides, sample.timing.rows
    phase = contact_phase_deg(
        strides.start_s[rows], strides.right_contact_s[rows], strides.end_s[rows]
    )
    interval = pci_interval(phase, sample.timing.order)
    found = given(interval, least)
    if found.missing_because:
        return found
    floor = pci_noise_pct(sample.mean_stride_time.value, sample.settings)
    return with_note(found, "below_timing_noise", when=found.ci_low <= floor)


def phase_coordination_floor(sample: BoutSample, least: int) -> Estimate:
    """Phase coordination index that contact noise alone would give."""
    because = timing_missing(sample)
    n_strides = int(np.isfinite(sample.data.strides.right_contact_s[sample.timing.rows]).sum())
    if because or n_strides < least:
        return missing(because or "too_few_strides", n_strides)
    return total(pci_noise_pct(sample.mean_stride_time.value, sample.settings), n_strides)


PCI = evidence.LEAST_STRIDES_PCI

PHASE_COORDINATION: tuple[Measure, ...] = (
    Measure(
        "phase_coordination_index",
        "Phase coordination index",
        "%",
        "How far and how unevenly the right contact departs from the middle of the left "
        "stride; 0 is perfect. The left foot is the reference, not the leg with the longer "
        "swing.",
        "Plotnik et al. 2007, Exp Brain Res 181:561-570; reference left (a deviation)",
        PCI,
        "symmetry",
        whole=phase_coordination_index,
    ),
    Measure(
        "phase_coordination_floor",
        "Phase coordination index from contact scatter",
        "%",
        "Phase coordination index that the scatter of the contact times alone would give "
        "equal steps.",
        ENGINEERING_CHOICE,
        PCI,
        "symmetry",
        whole=phase_coordination_floor,
    ),
)
