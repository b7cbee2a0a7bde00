"""Did a shoulder test change by more than its own error?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.evidence.carry import ROM_SIDE_DF
from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.evidence.shoulder_rom import SHOULDER_ROM_ERRORS, RomError
from imucarry.basics.records import RetestFinding, RomReading
from imucarry.basics.settings import CarrySettings
from imucarry.basics.statistics import t_quantile
from imucarry.carry.rom_sittings import first_and_last
from imucarry.carry.rom_spread import pooled_sd, sets_of, sides_differ
from imucarry.carry.rom_words import (
    RomDesign,
    done_alike,
    done_otherwise,
    raters_differ,
    read_design,
)

RETEST_FINDINGS = {
    "increased_more_than_error": "the test rose by more than its own error",
    "decreased_more_than_error": "the test fell by more than its own error",
    "within_error": "the change is within the test's own error",
    "not_decidable": "it cannot be told whether the change is more than error",
}
"""Code of a finding, and what it means."""

OWN_READINGS = "own repeated readings"
ROUNDING_DEG = 1e-9
"""Means of whole degrees are not exact in binary: equal to the error is within it."""

NO_READING = "there is no reading"
DONE_OTHERWISE = "the readings were done differently"
OTHER_RATERS = "different raters took the readings"
ONE_VISIT = "a change within one visit does not show that it lasts"


@dataclass(frozen=True, slots=True)
class ErrorOfTest:
    """Change beyond error [deg] (NaN: not known), where it is from, and a word about it."""

    error_deg: float
    source: str
    explanation: str = ""


def compare_tests(
    readings: Sequence[RomReading],
    settings: CarrySettings,
    *,
    mdc_deg: float | None = None,
    bouts: Sequence[str] = (),
) -> tuple[RetestFinding, ...]:
    """Compare each shoulder test and side before and after with the test's own error.

    Parameters
    ----------
    readings : sequence of RomReading
    settings : CarrySettings
    mdc_deg : float [deg], optional
        Smallest detectable change at 95 % for two single readings, as the user
        knows it; it goes before every other source.
    bouts : sequence of str, optional
        Names of the session's bouts in the order of time: where readings name several, those
        before the first are compared with those after the last (`first_and_last`).

    Returns
    -------
    tuple of RetestFinding
        Sorted by test and side; ``finding`` is a key of ``RETEST_FINDINGS``.

    Notes
    -----
    The error is, in this order: `mdc_deg`; the client's own repeated readings, with
    at least ``own_readings_df`` degrees of freedom (`own_error`), unless different raters
    took them; a published row that matches motion, active or passive, raters, population and device
    (`published_error`); else it is not known.
    """
    keys = sorted({(item.test, item.side) for item in readings})
    return tuple(_compare(key, readings, settings, mdc_deg, bouts) for key in keys)


def _compare(
    key: tuple[str, str],
    readings: Sequence[RomReading],
    settings: CarrySettings,
    mdc_deg: float | None,
    bouts: Sequence[str],
) -> RetestFinding:
    own = [item for item in readings if (item.test, item.side) == key]
    before, after = first_and_last(own, bouts)
    means = [_mean(part) for part in (before, after)]
    change = means[1] - means[0]
    error = _error(before, after, readings, settings, mdc_deg)
    finding = _finding(change, error.error_deg)
    larger = _larger_published(error, before, after)
    return RetestFinding(
        key[0], key[1], means[0], means[1], change, error.error_deg, error.source, finding,
        error.explanation + _beside_published(change, finding, larger), larger,
    )  # fmt: skip


def counts_as_changed(found: RetestFinding) -> bool:
    """Whether a test changed by more than its own error and than that of a new positioning.

    Between before and after the person got up and lay down again, which the scatter of
    repeats within one sitting does not hold. Where a larger published error is known
    (``positioning_deg``), the change has to pass it too.
    """
    beyond = found.finding.endswith("more_than_error")
    return beyond and not abs(found.change_deg) <= found.positioning_deg + ROUNDING_DEG


def _larger_published(
    error: ErrorOfTest, before: Sequence[RomReading], after: Sequence[RomReading]
) -> float:
    """Return a published error larger than that of own repeats; NaN without one."""
    if not error.source.startswith(OWN_READINGS):
        return float("nan")
    published = published_error(read_design(before, after)).error_deg
    return published if published > error.error_deg else float("nan")


def _beside_published(change_deg: float, finding: str, published_deg: float) -> str:
    """Set a change beyond the own error beside a larger published one; "" without one."""
    if not finding.endswith("more_than_error") or not np.isfinite(published_deg):
        return ""
    apart = abs(change_deg) - published_deg
    than = "not less" if abs(apart) <= ROUNDING_DEG else "less" if apart < 0.0 else "more"
    return (
        f"; the change is {than} than the published error for a new "
        f"positioning ({published_deg:.1f} deg)"
    )


def _mean(readings: Sequence[RomReading]) -> float:
    return float(np.mean([item.value_deg for item in readings])) if readings else float("nan")


def _finding(change_deg: float, error_deg: float) -> str:
    if not np.isfinite(change_deg + error_deg):
        return "not_decidable"
    if abs(change_deg) <= error_deg + ROUNDING_DEG:
        return "within_error"
    return "increased_more_than_error" if change_deg > 0 else "decreased_more_than_error"


def _error(
    before: Sequence[RomReading],
    after: Sequence[RomReading],
    readings: Sequence[RomReading],
    settings: CarrySettings,
    mdc_deg: float | None,
) -> ErrorOfTest:
    """Return the error of one test and side from the first source that has it."""
    if not before or not after:
        missing = "before" if not before else "after"
        return ErrorOfTest(float("nan"), "", f"{NO_READING} {missing}")
    if not done_alike([*before, *after]):
        how = done_otherwise(before, after)
        return ErrorOfTest(
            float("nan"), "", f"{DONE_OTHERWISE} ({how}): their change is not the shoulder's alone"
        )
    if mdc_deg is not None:
        return ErrorOfTest(mdc_deg, "given smallest detectable change")
    own = own_error(before, after, readings, settings)
    if own is not None:
        return own
    published = published_error(read_design(before, after))
    if np.isfinite(published.error_deg):
        return published
    if raters_differ([*before, *after]):
        why = f"{OTHER_RATERS}, and repeats do not show how far raters differ; "
        return replace(published, explanation=why + published.explanation)
    missing = _repeats_missing(_this_side(before, after, readings), readings, settings)
    return replace(published, explanation=published.explanation + missing)


def _repeats_missing(
    own: Sequence[RomReading], readings: Sequence[RomReading], settings: CarrySettings
) -> str:
    """Say how many readings more would give an error of its own; "" without any repeats."""
    _, df = pooled_sd(sets_of(own))
    if not df:
        return ""
    more = settings.own_readings_df - df
    both = [item for item in readings if item.test == own[0].test]
    other = ", or repeats of the other side too," if _one_way(both) else ""
    return (
        f"; {more} more reading{'s' if more > 1 else ''} of this side{other} would give the error "
        "from the test's own repeats"
    )


def _this_side(
    before: Sequence[RomReading], after: Sequence[RomReading], readings: Sequence[RomReading]
) -> list[RomReading]:
    """Return all sittings of a test and side, or those compared where others were unlike."""
    one = before[0]
    every = [item for item in readings if (item.test, item.side) == (one.test, one.side)]
    return every if _one_way(every) else [*before, *after]


def _one_way(readings: Sequence[RomReading]) -> bool:
    """Whether all readings were done alike, by one rater as far as is told."""
    return done_alike(readings) and not raters_differ(readings)


# --- the client's own repeated readings ------------------------------------------


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
    s is the pooled SD within sets of repeats (same side, time and bout). Of this test and
    side where that has enough degrees of freedom, else of this test over both sides; where
    one side scatters clearly more than the other (`sides_differ`), of this side alone, from
    ``rom_side_df`` degrees of freedom on (engineering choices).
    The mean of n readings after and of m before differ by chance, at 95 %, by less than
    t(0.975, df) s sqrt(1/m + 1/n). s is never below the reading step / sqrt 12, and the
    error never below one step: where the scatter is smaller than the step, repeats are
    rounded alike, so that their mean is no finer than one reading, and two means differ
    by up to a step when the angles hardly do.
    """
    test = before[0].test
    both = [item for item in readings if item.test == test]
    apart = sides_differ(both, settings.reading_step_deg)
    least = ROM_SIDE_DF.value if apart else settings.own_readings_df
    pools = [
        (_this_side(before, after, readings), "this side"),
        *([] if apart else [(both, "both sides")]),
    ]
    for pool, words in pools:
        s, df = pooled_sd(sets_of(pool))
        if df < least or not _one_way(pool):
            continue
        s = max(s, settings.reading_step_deg / float(np.sqrt(12.0)))
        quantile = t_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value, df)
        scatter = quantile * s * float(np.sqrt(1.0 / len(before) + 1.0 / len(after)))
        step = settings.reading_step_deg
        what = "the error is the scatter of repeats within one sitting"
        what += "; the sides scatter differently and are not pooled" if apart else ""
        if scatter < step:
            what = (
                "the repeats of one sitting scatter by less than a reading step "
                f"({step:g} deg), which is taken as the error"
            )
        return ErrorOfTest(max(scatter, step), f"{OWN_READINGS} ({words}, {df} df)", what)
    return None


# --- published errors ----------------------------------------------------------------


def published_error(design: RomDesign) -> ErrorOfTest:
    """Return the largest published error that matches a design in every respect."""
    if design.unknown:
        return ErrorOfTest(float("nan"), "", f"no published error fits because {design.unknown}")
    rows = [row for row in SHOULDER_ROM_ERRORS.value if matches(row, design)]
    if not rows:
        return ErrorOfTest(float("nan"), "", "no published error matches this test, rater, "
                         "population and device")  # fmt: skip
    largest = max(rows, key=lambda row: row.mdc95_high_deg)
    low = min(row.mdc95_low_deg for row in rows)
    several = f"published errors that match run from {low:g} to {largest.mdc95_high_deg:g} deg; " \
        "the largest is used"  # fmt: skip
    return ErrorOfTest(
        largest.mdc95_high_deg,
        f"{largest.source} ({largest.basis})",
        several if low < largest.mdc95_high_deg else "",
    )


def matches(row: RomError, design: RomDesign) -> bool:
    """Whether a published row may be used for a design."""
    return (
        not row.not_selectable
        and design.motion in row.motions
        and design.active_passive == row.active_passive
        and design.rater == row.rater
        and design.population == row.population
        and design.device == row.device
    )
