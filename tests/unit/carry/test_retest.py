"""Shoulder tests: own repeats, published rows, a given MDC, and what cannot be decided."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from imucarry.basics.evidence.shoulder_rom import SHOULDER_ROM_ERRORS
from imucarry.basics.records import BoutRow, RomReading
from imucarry.basics.settings import CarrySettings
from imucarry.carry.retest import (
    RETEST_FINDINGS,
    compare_tests,
    counts_as_changed,
    matches,
)
from imucarry.carry.rom_sittings import bouts_between
from imucarry.carry.rom_spread import SCATTERED, pooled_sd, reading_step, scatter_notices
from imucarry.carry.rom_words import RomDesign, read_motion

SETTINGS = CarrySettings()
KNOWN = {
    "method": "goniometer", "active_passive": "active", "population": "impingement", "rater": "AB",
}  # fmt: skip


def readings(
    before: list[float], after: list[float], *, test: str = "flexion", side: str = "left",
    **words: str,
) -> list[RomReading]:  # fmt: skip
    sets = (("before", before), ("after", after))
    return [
        RomReading(test, side, when, value, **words)  # type: ignore[arg-type]
        for when, values in sets
        for value in values
    ]


def test_own_repeats_use_t_and_the_numbers_of_readings() -> None:
    """By hand: squares 8 + 8 over 6 df, s = 1.6330; t(0.975, 6) = 2.446912 (tables)."""
    given = readings([148, 150, 150, 152], [158, 160, 160, 162])
    (found,) = compare_tests(given, SETTINGS)
    assert (found.before_deg, found.after_deg, found.change_deg) == (150.0, 160.0, 10.0)
    assert found.error_deg == pytest.approx(2.446912 * np.sqrt(16 / 6) * np.sqrt(0.5), rel=1e-6)
    assert found.finding == "increased_more_than_error"
    assert "6 df" in found.error_source


def test_too_few_own_repeats_are_not_used() -> None:
    (found,) = compare_tests(readings([148, 150, 152], [158, 160]), SETTINGS)
    assert found.finding == "not_decidable"
    assert np.isnan(found.error_deg)


def test_both_sides_are_pooled_where_one_is_too_few() -> None:
    """By hand: squares 8 + 2 and 2 + 2 over 7 df; t(0.975, 7) = 2.364624 (tables)."""
    left = readings([148, 150, 152], [159, 161])
    right = readings([149, 150, 151], [149, 150, 151], side="right")
    few, own = compare_tests([*left, *right], SETTINGS)
    # 3.33 of the left side alone over its 3 df is more than the 2 of both.
    assert few.error_deg == pytest.approx(2.364624 * np.sqrt(10 / 3) * np.sqrt(1 / 3 + 1 / 2))
    assert few.error_source.endswith("(both sides, 7 df)")
    assert few.explanation == (
        "the error is the scatter of repeats within one sitting, of both sides together"
    )
    assert own.error_source.endswith("(this side, 4 df)")
    steady = readings([150, 150, 150], [159, 159])
    (few, _) = compare_tests([*steady, *right], SETTINGS)
    assert few.error_deg == pytest.approx(2.364624 * np.sqrt(4 / 7) * np.sqrt(1 / 3 + 1 / 2))
    # The other side alone tells nothing of one that was read once.
    once = compare_tests([*readings([150], [159]), *right, *readings([150] * 3, [], side="right")],
                         SETTINGS)  # fmt: skip
    assert [item.finding for item in once] == ["not_decidable", "within_error"]
    # Five degrees of freedom of both sides are too few.
    assert compare_tests([*left, *right[:-2]], SETTINGS)[0].finding == "not_decidable"


def test_each_side_has_its_own_error_from_three_readings_before_and_after_on() -> None:
    """By hand: squares of right 2 + 2 over 4 df, s = 1; t(0.975, 4) = 2.776445 (tables)."""
    right = readings([150, 152, 151], [158, 157, 159], side="right")
    left = readings([150, 156, 152], [158, 164, 156])
    found = {item.side: item for item in compare_tests([*left, *right], SETTINGS)}
    own = found["right"]
    assert own.error_deg == pytest.approx(2.776445 * np.sqrt(2 / 3), rel=1e-6)
    assert own.finding == "increased_more_than_error"
    assert own.explanation == "the error is the scatter of repeats within one sitting"
    # 18.67 + 34.67 over 4 df: the steadier side takes nothing off it.
    own = found["left"]
    assert own.error_deg == pytest.approx(2.776445 * np.sqrt(160 / 3 / 4) * np.sqrt(2 / 3))
    assert (own.finding, round(own.change_deg, 1)) == ("within_error", 6.7)
    assert all(item.error_source.endswith("(this side, 4 df)") for item in found.values())
    more = replace(SETTINGS, own_readings_df=5)
    both = compare_tests([*left, *right], more)
    assert all(item.error_source.endswith("(both sides, 8 df)") for item in both)


@pytest.mark.parametrize(("right_deg", "left_deg"), [(2.0, 2.0), (5.0, 2.0), (3.0, 1.0)])
def test_an_unchanged_side_is_called_changed_once_in_twenty(
    right_deg: float, left_deg: float
) -> None:
    """Three readings before and after, in whole degrees; 1000 clients, seed fixed.

    Of 1000 at 5 % it is 50, with a standard error of 7.
    """
    rng = np.random.default_rng(3)
    changed = 0
    for _ in range(1000):
        given = [
            item
            for side, sd in (("right", right_deg), ("left", left_deg))
            for item in readings(*np.round(rng.normal(60.0, sd, (2, 3))).tolist(), side=side)
        ]
        found = {item.side: item for item in compare_tests(given, SETTINGS)}
        changed += found["right"].finding.endswith("more_than_error")
    assert 25 <= changed <= 70


def test_readings_of_one_sitting_that_lie_far_apart_are_a_check() -> None:
    far = readings([150, 170, 130], [160, 140, 165])
    near = readings([150, 152, 151], [158, 157, 172], side="right")
    (notice,) = scatter_notices([*far, *near])
    assert (notice.code, notice.severity) == (SCATTERED, "check")
    assert notice.message == (
        "flexion left: readings of one sitting differ by up to 40 deg: repeat the test"
    )
    assert scatter_notices(()) == ()


def test_equal_readings_do_not_mean_no_error() -> None:
    (found,) = compare_tests(readings([151] * 4, [151] * 4), SETTINGS)
    assert found.error_deg == SETTINGS.reading_step_deg


def test_one_reading_step_is_never_beyond_the_error_of_own_repeats() -> None:
    """Four readings of 55 and four of 56: 55.49 and 55.51 deg read so too."""
    (found,) = compare_tests(readings([55] * 4, [56] * 4), SETTINGS)
    assert (found.change_deg, found.error_deg, found.finding) == (1.0, 1.0, "within_error")
    third = compare_tests(readings([55, 55, 55, 55, 56, 55], [56, 56, 56, 56, 57, 56]), SETTINGS)
    assert third[0].finding == "within_error"
    (coarse,) = compare_tests(readings([55] * 4, [60] * 4), CarrySettings(reading_step_deg=5.0))
    assert (coarse.error_deg, coarse.finding) == (5.0, "within_error")


def test_readings_that_are_all_multiples_of_5_are_read_to_5() -> None:
    (found,) = compare_tests(readings([150] * 4, [155] * 4), SETTINGS)
    assert (found.change_deg, found.error_deg, found.finding) == (5.0, 5.0, "within_error")
    assert found.explanation == (
        "the repeats of one sitting scatter by less than a reading step (5 deg), which is taken as "
        "the error; all readings of the test are multiples of 5 deg"
    )
    (finer,) = compare_tests(readings([150] * 4, [155] * 3 + [156]), SETTINGS)
    assert finer.error_deg < 5.0
    (two,) = compare_tests(readings([150] * 4, [160] * 4), SETTINGS)
    assert two.finding == "increased_more_than_error"
    # Scatter of more than a step is the error as ever: squares 50 + 50 over 4 df, t 2.776445.
    (wide,) = compare_tests(readings([145, 150, 155], [150, 155, 160]), SETTINGS)
    assert wide.error_deg == pytest.approx(2.776445 * np.sqrt(100 / 4) * np.sqrt(2 / 3))
    assert wide.explanation == "the error is the scatter of repeats within one sitting"


def test_a_step_of_5_is_judged_from_six_readings_of_a_test_on() -> None:
    left = readings([150, 150], [155])
    right = readings([145, 145], [140], side="right")
    other = readings([41], [43], test="extension")
    assert reading_step([*left, *right, *other], "flexion", 1.0) == 5.0
    assert reading_step([*left, *right[:-1]], "flexion", 1.0) == 1.0
    assert reading_step([*left, *right], "flexion", 10.0) == 10.0
    assert reading_step([*left, *right[:-1], replace(right[-1], value_deg=142.5)],
                        "flexion", 1.0) == 1.0  # fmt: skip


def test_a_published_error_below_a_step_of_5_is_no_finer_than_the_step() -> None:
    words = {"test": "internal_rotation", "method": "inclinometer", "active_passive": "active",
             "population": "healthy", "rater": "A"}  # fmt: skip
    left = readings([50], [55], **words)
    right = readings([50, 50], [55, 50], side="right", **words)
    (found, _) = compare_tests([*left, *right], SETTINGS)
    assert (found.error_deg, found.finding) == (5.0, "within_error")
    assert found.error_source == "reading step"
    assert found.explanation == (
        "all readings of the test are multiples of 5 deg: one such step is taken as the error, "
        "which is more than the published 4.8 deg"
    )
    (few,) = compare_tests(left, SETTINGS)
    assert (few.error_deg, few.finding) == (4.8, "increased_more_than_error")


def test_a_change_beyond_own_repeats_stands_beside_a_larger_published_error() -> None:
    words = {"method": "inclinometer", "active_passive": "active", "population": "healthy",
             "rater": "A", "test": "external_rotation"}  # fmt: skip
    (less,) = compare_tests(readings([88, 89, 88, 89], [84, 83, 84, 83], **words), SETTINGS)
    assert less.finding == "decreased_more_than_error"
    assert "; the change is less than the published error for a new positioning" in less.explanation
    assert "(6.0 deg)" in less.explanation
    (more,) = compare_tests(readings([80, 81, 80, 81], [90, 91, 90, 91], **words), SETTINGS)
    assert "; the change is more than the published" in more.explanation
    (wide,) = compare_tests(readings([148, 150, 150, 152], [158, 160, 160, 162]), SETTINGS)
    assert wide.explanation == "the error is the scatter of repeats within one sitting"
    (bare,) = compare_tests(readings([80, 81, 80, 81], [90, 91, 90, 91]), SETTINGS)
    assert "published" not in bare.explanation


def test_a_change_within_a_larger_published_error_does_not_count() -> None:
    words = {"method": "inclinometer", "active_passive": "active", "population": "healthy",
             "rater": "A", "test": "external_rotation"}  # fmt: skip
    before = [82, 83, 81, 82]
    for rise, counts in ((3, False), (6, False), (7, True)):
        (found,) = compare_tests(readings(before, [v + rise for v in before], **words), SETTINGS)
        assert found.finding == "increased_more_than_error"
        assert found.positioning_deg == 6.0
        assert counts_as_changed(found) is counts
    (bare,) = compare_tests(readings(before, [v + 3 for v in before]), SETTINGS)
    assert np.isnan(bare.positioning_deg)
    assert counts_as_changed(bare)
    (given,) = compare_tests(readings(before, [85, 86, 84, 85], **words), SETTINGS, mdc_deg=2.0)
    assert counts_as_changed(given)


def test_the_repeats_that_would_give_an_error_are_told() -> None:
    (few,) = compare_tests(readings([140, 139], [141, 142]), SETTINGS)
    assert few.finding == "not_decidable"
    assert "three readings of each side, before and after, would give" in few.explanation
    enough = compare_tests(readings([140, 139, 140], [141, 142, 141]), SETTINGS)
    assert enough[0].finding != "not_decidable"
    (single,) = compare_tests(readings([140], [141]), SETTINGS)
    assert "three readings" not in single.explanation


def test_pooled_sd_of_known_sets() -> None:
    s, df = pooled_sd([np.array([1.0, 3.0]), np.array([10.0, 12.0, 14.0]), np.array([5.0])])
    assert df == 3
    assert s == pytest.approx(np.sqrt((2 + 8) / 3))


def test_a_published_row_is_used_when_all_matches_and_the_largest_end_of_its_range() -> None:
    (found,) = compare_tests(readings([150], [160], **KNOWN), SETTINGS)
    assert found.error_deg == 27.4
    assert "Fieseler" in found.error_source
    assert "12.2 to 27.4" in found.explanation
    assert found.finding == "within_error"


def test_several_rows_that_match_give_the_largest_and_the_range() -> None:
    given = readings([40], [70], test="ER passive", method="digital inclinometer",
                     population="shoulder pain", rater="different")  # fmt: skip
    (found,) = compare_tests(given, SETTINGS)
    assert found.error_deg == 25.0
    assert "18.8 to 25" in found.explanation
    assert found.finding == "increased_more_than_error"


@pytest.mark.parametrize("missing", list(KNOWN))
def test_a_published_row_needs_every_respect(missing: str) -> None:
    words = {name: value for name, value in KNOWN.items() if name != missing}
    (found,) = compare_tests(readings([150], [160], **words), SETTINGS)
    assert found.finding == "not_decidable"
    assert missing in found.explanation


@pytest.mark.parametrize(
    ("name", "value"),
    [("population", "healthy"), ("method", "inclinometer"), ("active_passive", "passive")],
)
def test_a_published_row_must_match_in_every_respect(name: str, value: str) -> None:
    (found,) = compare_tests(readings([150], [160], **{**KNOWN, name: value}), SETTINGS)
    assert found.finding == "not_decidable"


def test_raters_are_told_apart_by_name() -> None:
    given = readings([150], [160], **KNOWN)
    two = [given[0], replace(given[1], rater="CD")]
    assert compare_tests(two, SETTINGS)[0].error_deg == 24.4
    assert compare_tests(given, SETTINGS)[0].error_deg == 27.4


TWO_RATERS = [*readings([60, 61, 60, 61], [], rater="Ann"),
              *readings([], [65, 66, 65, 66], rater="Ben")]  # fmt: skip


def test_repeats_of_each_rater_do_not_judge_a_change_between_raters() -> None:
    (found,) = compare_tests(TWO_RATERS, SETTINGS)
    assert found.finding == "not_decidable"
    assert np.isnan(found.error_deg)
    assert found.explanation.startswith(
        "different raters took the readings, and repeats do not show how far raters differ; no "
        "published error fits because "
    )
    one = [replace(item, rater="Ann") for item in TWO_RATERS]
    assert compare_tests(one, SETTINGS)[0].finding == "increased_more_than_error"
    # One reading by the other is enough; one without a name tells nothing.
    mixed = [*one[:-1], TWO_RATERS[-1]]
    assert compare_tests(mixed, SETTINGS)[0].finding == "not_decidable"
    unnamed = [*one[:-1], replace(one[-1], rater="")]
    assert compare_tests(unnamed, SETTINGS)[0].finding == "increased_more_than_error"
    said = [replace(item, rater="different") for item in one]
    assert compare_tests(said, SETTINGS)[0].finding == "not_decidable"


def test_a_published_error_between_raters_goes_before_their_repeats() -> None:
    words = {"test": "external_rotation", "method": "inclinometer", "active_passive": "active",
             "population": "healthy"}  # fmt: skip
    (found,) = compare_tests([replace(item, **words) for item in TWO_RATERS], SETTINGS)
    assert (found.error_deg, found.finding) == (10.7, "within_error")
    assert "Kolber" in found.error_source
    (given,) = compare_tests(TWO_RATERS, SETTINGS, mdc_deg=4.0)
    assert given.finding == "increased_more_than_error"


def test_sides_read_by_different_raters_are_not_pooled() -> None:
    left = readings([148, 150, 152], [160], rater="Ann")
    right = readings([149, 150, 151, 150], [149, 150, 151], side="right", rater="Ben")
    apart = {item.side: item for item in compare_tests([*left, *right], SETTINGS)}
    assert apart["left"].finding == "not_decidable"
    assert "other side" not in apart["left"].explanation
    alike = compare_tests([*left, *(replace(item, rater="Ann") for item in right)], SETTINGS)
    assert alike[0].error_source.endswith("(both sides, 7 df)")


def test_implausible_rows_are_never_selected() -> None:
    design = RomDesign("flexion", "passive", "same", "asymptomatic", "inclinometer")
    rows = [row for row in SHOULDER_ROM_ERRORS.value if "Dougherty" in row.source]
    assert len(rows) == 2
    assert not any(matches(row, design) for row in SHOULDER_ROM_ERRORS.value)
    assert any(matches(replace(row, not_selectable=""), design) for row in rows)


def test_a_given_mdc_goes_first() -> None:
    (found,) = compare_tests(readings([150], [160], **KNOWN), SETTINGS, mdc_deg=9.0)
    assert (found.error_deg, found.finding) == (9.0, "increased_more_than_error")
    (found,) = compare_tests(readings([160], [150]), SETTINGS, mdc_deg=9.0)
    assert found.finding == "decreased_more_than_error"
    (found,) = compare_tests(readings([160], [151]), SETTINGS, mdc_deg=9.0)
    assert found.finding == "within_error"


def test_readings_taken_in_different_ways_are_not_compared() -> None:
    given = readings([150], [160], **KNOWN)
    mixed = [given[0], replace(given[1], method="inclinometer")]
    (found,) = compare_tests(mixed, SETTINGS, mdc_deg=5.0)
    assert found.finding == "not_decidable"
    assert "done differently (" in found.explanation


def test_a_test_without_readings_after_is_not_decidable() -> None:
    (found,) = compare_tests(readings([150], []), SETTINGS, mdc_deg=5.0)
    assert found.finding == "not_decidable"
    assert np.isnan(found.after_deg)
    assert "no reading after" in found.explanation


def test_a_change_is_linked_to_the_bouts_that_loaded_its_side() -> None:
    rows = [
        BoutRow("free1", 0, 1, hold="free"),
        BoutRow("rack1", 0, 1, hold="rack", loaded_side="left"),
        BoutRow("suit1", 0, 1, hold="suitcase", loaded_side="right"),
        BoutRow("farm1", 0, 1, hold="farmer", loaded_side="both"),
    ]
    given = readings([150], [160], **KNOWN)
    (found,) = compare_tests(given, SETTINGS)
    assert [row.bout for row in bouts_between(found, given, rows)] == ["rack1", "farm1"]
    named = [replace(item, bout="farm1") for item in given]
    assert [row.bout for row in bouts_between(found, named, rows)] == ["farm1"]
    neck = replace(found, side="")
    assert [row.bout for row in bouts_between(neck, given, rows)] == ["rack1", "suit1", "farm1"]


def test_what_is_not_given_is_told_apart_from_what_no_published_error_has() -> None:
    (found,) = compare_tests(readings([150], [165], **{**KNOWN, "population": ""}), SETTINGS)
    assert found.explanation == (
        "no published error fits because 'population' is not given in rom.csv"
    )
    (found,) = compare_tests(readings([150], [165], **{**KNOWN, "population": "rowers"}), SETTINGS)
    assert found.explanation == (
        "no published error fits because none is held for the population 'rowers'"
    )
    given = readings([150], [165], test="horizontal_adduction", **KNOWN)
    (found,) = compare_tests(given, SETTINGS)
    assert found.explanation == "no published error fits because none is held for this motion"


@pytest.mark.parametrize(
    ("test", "motion"),
    [
        ("shoulder_flexion", "flexion"), ("ER", "external_rotation"),
        ("Internal rotation at 90", "internal_rotation"), ("medial rotation", "internal_rotation"),
        ("abduction", "abduction"), ("glenohumeral abduction", "glenohumeral_abduction"),
        ("horizontal abduction", ""), ("total rotation", ""), ("extension", ""),
        ("adduction", ""),
    ],
)  # fmt: skip
def test_motions_are_read_from_a_tests_name(test: str, motion: str) -> None:
    assert read_motion(test) == motion


def test_every_finding_has_a_meaning() -> None:
    assert set(RETEST_FINDINGS) == {
        "increased_more_than_error", "decreased_more_than_error", "within_error", "not_decidable",
    }  # fmt: skip
