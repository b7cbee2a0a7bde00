"""Dose: how long, how far and how heavy a bout was."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import COMMON_PRACTICE
from imucarry.basics.records import BoutRow, Estimate, Side
from imucarry.measures.measure import Measure
from imucarry.measures.results import missing, total, with_note
from imucarry.measures.roles import arm_role
from imucarry.measures.sample import BoutSample
from imucarry.measures.timing import distance


def load_missing(row: BoutRow, *, needs_kg: bool = False) -> str:
    """Return why a bout has no dose, "" when it has."""
    if row.hold == "free" or row.load_kg == 0.0:
        return "not_loaded"
    if row.hold == "unknown" and row.loaded_side == "none" and math.isnan(row.load_kg):
        return "load_unknown"
    return "load_unknown" if needs_kg and math.isnan(row.load_kg) else ""


def walked_span(sample: BoutSample) -> Estimate:
    """Return the time from first to last contact [s].

    Without a chest sensor: from the first to the last of an arm's own cycles; where no
    arm's cycles cover the bout, from its start to its end.
    """
    contacts = sample.data.contacts.time_s
    if contacts.size >= 2:
        return total(float(contacts[-1] - contacts[0]), int(sample.data.strides.start_s.size))
    covering = [side for side in sample.arms if _covers(sample, side)]
    if sample.data.trunk is None and covering:
        longest = max((sample.data.swing[side] for side in covering), key=lambda s: s.start_s.size)
        span_s = float(longest.end_s[-1] - longest.start_s[0])
        return total(span_s, int(longest.start_s.size))
    noted = total(sample.data.row.end_s - sample.data.row.start_s, 0)
    return with_note(noted, "bout_times", when=sample.data.trunk is None)


def _covers(sample: BoutSample, side: Side) -> bool:
    """Whether an arm's own cycles show the whole walk.

    Those of a free arm do once there are enough for a mean: a bout's time may have standing
    in it.
    """
    row, swing = sample.data.row, sample.data.swing[side]
    n_cycles = int(sample.arms[side].rows.size)
    if arm_role(row, side) == "free" and n_cycles >= sample.settings.least_strides_mean:
        return True
    walked_s = float(np.sum(swing.end_s - swing.start_s))
    least_s = evidence.CYCLES_COVER_LEAST_FRAC.value * (row.end_s - row.start_s)
    return n_cycles > 0 and walked_s >= least_s


def loaded_time(sample: BoutSample, least: int) -> Estimate:
    """Time walked under load, turns and stops in it."""
    because = load_missing(sample.data.row)
    return missing(because) if because else walked_span(sample)


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
    walked = walked_span(sample)
    return replace(walked, value=sample.data.row.load_kg * walked.value)


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
