"""Dose: how long, how far and how heavy a bout was."""

from __future__ import annotations

import math

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import COMMON_PRACTICE
from imucarry.basics.records import BoutRow, Estimate
from imucarry.measures.measure import Measure
from imucarry.measures.results import missing, total
from imucarry.measures.sample import BoutSample
from imucarry.measures.timing import distance


def load_missing(row: BoutRow, *, needs_kg: bool = False) -> str:
    """Return why a bout has no dose, "" when it has."""
    if row.hold == "free" or row.load_kg == 0.0:
        return "not_loaded"
    if row.hold == "unknown" and row.loaded_side == "none" and math.isnan(row.load_kg):
        return "load_unknown"
    return "load_unknown" if needs_kg and math.isnan(row.load_kg) else ""


def walked_span_s(sample: BoutSample) -> tuple[float, int]:
    """Return the time from first to last contact [s] and the number of strides.

    Without a chest sensor: of the arms' own cycles; without those, the bout's window.
    """
    contacts = sample.data.contacts.time_s
    if contacts.size >= 2:
        return float(contacts[-1] - contacts[0]), int(sample.data.strides.start_s.size)
    cycles = [sample.data.swing[side] for side in sample.arms if sample.arms[side].rows.size]
    if sample.data.trunk is None and cycles:
        longest = max(cycles, key=lambda swing: swing.start_s.size)
        return float(longest.end_s[-1] - longest.start_s[0]), int(longest.start_s.size)
    return sample.data.row.end_s - sample.data.row.start_s, 0


def loaded_time(sample: BoutSample, least: int) -> Estimate:
    """Time walked under load, turns and stops in it."""
    because = load_missing(sample.data.row)
    return missing(because) if because else total(*walked_span_s(sample))


def loaded_strides(sample: BoutSample, least: int) -> Estimate:
    """Strides walked under load, left-out ones too."""
    because = load_missing(sample.data.row)
    if not because and sample.data.trunk is None:
        because = "no_chest_sensor"
    n_strides = int(sample.data.strides.start_s.size)
    return missing(because) if because else total(float(n_strides), n_strides)


def loaded_distance(sample: BoutSample, least: int) -> Estimate:
    """Distance walked under load."""
    because = load_missing(sample.data.row)
    return missing(because) if because else distance(sample, least)


def load_time(sample: BoutSample, least: int) -> Estimate:
    """Load times time under load."""
    because = load_missing(sample.data.row, needs_kg=True)
    if because:
        return missing(because)
    span_s, n_strides = walked_span_s(sample)
    return total(sample.data.row.load_kg * span_s, n_strides)


def load_body_mass(sample: BoutSample, least: int) -> Estimate:
    """Load as a share of body mass."""
    because = load_missing(sample.data.row, needs_kg=True)
    if because:
        return missing(because)
    if not sample.data.body_mass_kg > 0.0:
        return missing("no_body_mass")
    share_pct = 100.0 * sample.data.row.load_kg / sample.data.body_mass_kg
    return total(share_pct, int(sample.data.strides.start_s.size))


COUNT = evidence.LEAST_COUNT

DOSE: tuple[Measure, ...] = (
    Measure(
        "loaded_time",
        "Time under load",
        "s",
        "Time from the first to the last contact of a loaded bout, turns and stops in it.",
        COMMON_PRACTICE,
        COUNT,
        "dose",
        whole=loaded_time,
    ),
    Measure(
        "loaded_strides",
        "Strides under load",
        "{strides}",
        "Strides walked in a loaded bout, left-out ones too.",
        COMMON_PRACTICE,
        COUNT,
        "dose",
        whole=loaded_strides,
    ),
    Measure(
        "loaded_distance",
        "Distance under load",
        "m",
        "Distance walked in a loaded bout; only where a distance or the lane is given.",
        COMMON_PRACTICE,
        COUNT,
        "dose",
        whole=loaded_distance,
    ),
    Measure(
        "load_time",
        "Load times time under load",
        "kg.s",
        "Load carried times the time under load.",
        COMMON_PRACTICE,
        COUNT,
        "dose",
        whole=load_time,
    ),
    Measure(
        "load_body_mass",
        "Load as a share of body mass",
        "%",
        "Load carried, implement included, as a share of body mass.",
        COMMON_PRACTICE,
        COUNT,
        "dose",
        whole=load_body_mass,
    ),
)
