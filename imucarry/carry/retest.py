"""Did a shoulder test change by more than its own error?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.evidence.shoulder_rom import SHOULDER_ROM_ERRORS, RomError
from imucarry.basics.records import RetestFinding, RomReading
from imucarry.basics.settings import CarrySettings
from imucarry.carry.rom_own import (
    ALL_MULTIPLES,
    OWN_READINGS,
    ErrorOfTest,
    own_error,
    repeats_missing,
)
from imucarry.carry.rom_sittings import first_and_last
from imucarry.carry.rom_spread import reading_step
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

ROUNDING_DEG = 1e-9
"""Means of whole degrees are not exact in binary: equal to the error is within it."""

NO_READING = "there is no reading"
DONE_OTHERWISE = "the readings were done differently"
OTHER_RATERS = "different raters took the readings"
ONE_VISIT = "a change within one visit does not show that it lasts"


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
        return _at_least_a_step(published, before[0].test, readings, settings)
    if raters_differ([*before, *after]):
        why = f"{OTHER_RATERS}, and repeats do not show how far raters differ; "
        return replace(published, explanation=why + published.explanation)
    missing = repeats_missing(before, after, readings)
    return replace(published, explanation=published.explanation + missing)


def _at_least_a_step(
    published: ErrorOfTest, test: str, readings: Sequence[RomReading], settings: CarrySettings
) -> ErrorOfTest:
    """Return the reading step where the test was read too coarsely for a published error."""
    step = reading_step(readings, test, settings.reading_step_deg)
    if step <= max(published.error_deg, settings.reading_step_deg):
        return published
    why = (
        f"{ALL_MULTIPLES.format(step=step)}: one such step is taken as the error, "
        f"which is more than the published {published.error_deg:g} deg"
    )
    return ErrorOfTest(step, "reading step", why)


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
