"""The error of a shoulder test from the client's own repeated readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence.carry import ROM_BOTH_SIDES_DF
from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import RomReading
from imucarry.basics.settings import CarrySettings
from imucarry.basics.statistics import t_quantile
from imucarry.carry.rom_spread import pooled_sd, reading_step, sets_of
from imucarry.carry.rom_words import one_way

OWN_READINGS = "own repeated readings"
BOTH_SIDES = "both sides"
ALL_MULTIPLES = "all readings of the test are multiples of {step:g} deg"
THREE_OF_EACH = (
    "; three readings of each side, before and after, would give the error from the test's own "
    "repeats"
)


@dataclass(frozen=True, slots=True)
class ErrorOfTest:
    """Change beyond error [deg] (NaN: not known), where it is from, and a word about it."""

    error_deg: float
    source: str
    explanation: str = ""


def own_error(
    before: Sequence[RomReading],
    after: Sequence[RomReading],
    readings: Sequence[RomReading],
    settings: CarrySettings,
) -> ErrorOfTest | None:
    """Return the error from the client's own repeated readings, or None with too few.

    None too where different raters took the readings: how far raters differ is no part of
    the scatter within the repeats of one.

    Notes
    -----
    s is the pooled SD within sets of repeats (same side, time and bout): of this test and
    side where that has ``own_readings_df`` degrees of freedom, for sides may scatter unlike;
    else, where it has any repeats, of this test over both sides where they have
    ``rom_both_sides_df``, and then never below that of this side alone (engineering choices).
    The mean of n readings after and of m before differ by chance, at 95 %, by less than
    t(0.975, df) s sqrt(1/m + 1/n). s is never below the reading step / sqrt 12, and the
    error never below one step: where the scatter is smaller than the step, repeats are
    rounded alike, so that their mean is no finer than one reading, and two means differ
    by up to a step when the angles hardly do. The step is `reading_step`.
    """
    side = _this_side(before, after, readings)
    pool, words = _pool(side, readings, settings)
    if not pool or not one_way(pool):
        return None
    s, df = pooled_sd(sets_of(pool))
    step = reading_step(readings, before[0].test, settings.reading_step_deg)
    s = max(s, np.nan_to_num(pooled_sd(sets_of(side))[0]), step / float(np.sqrt(12.0)))
    quantile = t_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value, df)
    scatter = quantile * s * float(np.sqrt(1.0 / len(before) + 1.0 / len(after)))
    what = "the error is the scatter of repeats within one sitting"
    what += ", of both sides together" if words == BOTH_SIDES else ""
    if scatter < step:
        what = (
            "the repeats of one sitting scatter by less than a reading step "
            f"({step:g} deg), which is taken as the error"
        )
        what += f"; {ALL_MULTIPLES.format(step=step)}" if step > settings.reading_step_deg else ""
    return ErrorOfTest(max(scatter, step), f"{OWN_READINGS} ({words}, {df} df)", what)


def _pool(
    side: Sequence[RomReading], readings: Sequence[RomReading], settings: CarrySettings
) -> tuple[Sequence[RomReading], str]:
    """Return the readings that give the error and whose they are; none where all are too few."""
    _, df = pooled_sd(sets_of(side))
    if df >= settings.own_readings_df:
        return side, "this side"
    both = [item for item in readings if item.test == side[0].test]
    least = max(ROM_BOTH_SIDES_DF.value, settings.own_readings_df)
    enough = df > 0 and pooled_sd(sets_of(both))[1] >= least
    return (both if enough else []), BOTH_SIDES


def _this_side(
    before: Sequence[RomReading], after: Sequence[RomReading], readings: Sequence[RomReading]
) -> list[RomReading]:
    """Return all sittings of a test and side, or those compared where others were unlike."""
    one = before[0]
    every = [item for item in readings if (item.test, item.side) == (one.test, one.side)]
    return every if one_way(every) else [*before, *after]


def repeats_missing(
    before: Sequence[RomReading],
    after: Sequence[RomReading],
    readings: Sequence[RomReading],
) -> str:
    """Say which readings would give an error of its own; "" without any repeats."""
    _, df = pooled_sd(sets_of(_this_side(before, after, readings)))
    return THREE_OF_EACH if df else ""
