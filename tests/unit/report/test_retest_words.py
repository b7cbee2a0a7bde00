"""Shoulder tests in words: each sentence, the sides' bouts once, and all in short."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from visits_builder import HISTORY

from imucarry.basics.records import BoutRow, RetestFinding, SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.page import render
from imucarry.report.retest_table import retest_table
from imucarry.report.wording import retest_lines, say_retest, say_retest_short, terminal_lines

NAN = float("nan")
ROSE = RetestFinding("internal_rotation", "right", 50.0, 70.0, 20.0, 4.8, "x",
                     "increased_more_than_error")  # fmt: skip
SAME = RetestFinding("internal_rotation", "left", 55.0, 55.0, 0.0, 4.8, "x", "within_error")
UNKNOWN = RetestFinding(
    "flexion", "right", 150.0, 165.0, 15.0, NAN, "", "not_decidable",
    "no published error fits because 'population' is not given in rom.csv",
)  # fmt: skip
FELL = RetestFinding("external_rotation", "right", 80.0, 70.0, -10.0, 1.88, "x",
                     "decreased_more_than_error", "", 6.0)  # fmt: skip
SMALL = replace(FELL, after_deg=83.0, change_deg=3.0, finding="increased_more_than_error",
                explanation="the error is the scatter of repeats within one sitting")  # fmt: skip
EQUAL = replace(FELL, after_deg=74.0, change_deg=-6.000000000000001)
WITHIN = replace(FELL, after_deg=90.0, change_deg=10.0, error_deg=10.7, positioning_deg=NAN,
                 finding="within_error")  # fmt: skip
OTHERWISE = replace(UNKNOWN, explanation="the readings were done differently (passive before, "
                    "active after): their change is not the shoulder's alone")  # fmt: skip
RATERS = replace(UNKNOWN, explanation="different raters took the readings, and repeats do not show "
                 "how far raters differ; no published error fits")  # fmt: skip
HALF = RetestFinding("flexion", "left", 150.0, NAN, NAN, NAN, "", "not_decidable",
                     "there is no reading after")  # fmt: skip


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (UNKNOWN, "Flexion, right: 150.0 to 165.0 deg, +15.0 deg. No published error fits because "
                  "'population' is not given in rom.csv."),
        (SAME, "Internal rotation, left: 55.0 deg before and after."),
        (replace(UNKNOWN, after_deg=150.0, change_deg=0.0),
         "Flexion, right: 150.0 deg before and after. No published error fits because "
         "'population' is not given in rom.csv."),
        (HALF, "Flexion, left: not compared. There is no reading after."),
    ],
)  # fmt: skip
def test_sentences(found: RetestFinding, words: str) -> None:
    assert say_retest.retest(found) == words


@pytest.mark.parametrize(
    ("tests", "words"),
    [
        ((), ""),
        ((ROSE,), "Internal rotation right: +20 deg from before to after, beyond its {R}. {O}"),
        ((FELL, SAME), "1 of 2 shoulder tests changed within the visit by more than the error: "
                       "external rotation right fell by 10 deg (error 6). {O}"),
        ((SAME,), "Internal rotation left: no change (55 deg before and after)."),
        ((UNKNOWN,), "Flexion right: 150 deg before, 165 after (+15); this cannot be judged "
                     "(error not known). {T}"),
        ((replace(UNKNOWN, after_deg=150.0, change_deg=0.0),),
         "Flexion right: 150 deg before and after; this cannot be judged (error not known). {T}"),
        ((HALF,), "Flexion left cannot be judged (no reading after)."),
        ((SAME, SAME), "None of 2 shoulder tests changed within the visit by more than "
                       "the error."),
        ((ROSE, SAME, UNKNOWN, HALF),
         "1 of 2 shoulder tests that can be judged changed within the visit by more than the "
         "error: internal rotation right rose by 20 deg ({R_SHORT}). 2 cannot be judged: flexion "
         "right +15 deg (error not known), flexion left (no reading after). {T} {O}"),
        ((UNKNOWN, HALF),
         "None of 2 shoulder tests can be judged: flexion right +15 deg (error not known), "
         "flexion left (no reading after). {T}"),
        ((replace(WITHIN, after_deg=78.0, change_deg=-2.0), OTHERWISE),
         "External rotation right: \u22122 deg from before to after, within its error of 10.7. "
         "1 cannot be judged: flexion right +15 deg (passive before, active after)."),
        ((SAME, RATERS),
         "Internal rotation left: no change (55 deg before and after). 1 cannot be judged: "
         "flexion right +15 deg (different raters took the readings)."),
        ((SMALL, SAME), "None of 2 shoulder tests changed within the visit by more than the error. "
                        "External rotation right +3 deg: more than its repeats scatter (1.9), "
                        "less than the published error of a new positioning (6)."),
        ((EQUAL,), "External rotation right \u22126 deg: more than its repeats scatter (1.9), no "
                   "more than the published error of a new positioning (6)."),
    ],
)  # fmt: skip
def test_all_in_short(tests: tuple[RetestFinding, ...], words: str) -> None:
    parts = {
        "{O}": "A change within one visit does not show that it lasts.",
        "{T}": "Three readings of each side, before and after, would give the error.",
        "{R}": f"error of {ROSE.error_deg:.1f}",
        "{R_SHORT}": f"error {ROSE.error_deg:.1f}",
    }
    for part, said in parts.items():
        words = words.replace(part, said)
    assert say_retest_short.retest_short(tests) == words


@pytest.mark.parametrize(
    ("tests", "words"),
    [
        ((ROSE, SAME, UNKNOWN), "1 of 2 tests that can be judged changed by more than the error; "
                                "1 cannot be judged."),
        ((SAME, UNKNOWN, HALF), "The only test that can be judged did not change by more than the "
                                "error; 2 cannot be judged."),
        ((ROSE, UNKNOWN), "The only test that can be judged changed by more than the error; "
                          "1 cannot be judged."),
        ((UNKNOWN, UNKNOWN), "None of 2 tests can be judged."),
        ((UNKNOWN,), "The test cannot be judged."),
    ],
)  # fmt: skip
def test_the_picture_counts_a_test_that_cannot_be_judged_apart(
    tests: tuple[RetestFinding, ...], words: str
) -> None:
    assert say_retest_short.retest_count(tests) == words


def test_a_fall_has_a_minus_sign_on_the_page_and_a_hyphen_in_the_terminal(
    scores: SessionScores,
) -> None:
    told = replace(scores, retest=(EQUAL,))
    assert "<td>\u22126</td>" in render(told, Settings())
    assert any("right -6 deg" in line for line in terminal_lines(told))
    table = retest_table(told.retest)
    assert table is not None
    assert table.rows[0].cells[2].value == "\u22126"


def test_one_test_is_no_plural_in_the_picture() -> None:
    assert (
        say_retest_short.retest_count([SAME]) == "The test did not change by more than the error."
    )
    assert say_retest_short.retest_count([SAME, ROSE]).startswith("1 of 2 tests")


def test_a_change_that_a_new_positioning_can_make_is_not_counted() -> None:
    assert say_retest_short.retest_count([SMALL, FELL, EQUAL]).startswith("1 of 3 tests")
    assert say_retest.retest_finding(SMALL) == "within the error of a new positioning"
    assert say_retest.retest_finding(FELL) == "fell beyond the error"
    assert say_retest.retest(SMALL) == (
        "External rotation, right +3.0 deg: more than its repeats scatter (1.9), less than the "
        "published error of a new positioning (6.0)."
    )
    close = replace(SMALL, change_deg=5.98)
    assert "+5.98 deg: more than its repeats scatter (1.88)" in say_retest.retest(close)


def test_the_table_has_a_row_a_test_with_the_error_that_its_change_has_to_pass() -> None:
    table = retest_table((SAME, SMALL, ROSE, HALF))
    assert table is not None
    assert table.heads == ("before", "after", "change", "error", "finding")
    assert [(row.head, *(cell.value + cell.marks for cell in row.cells)) for row in table.rows] == [
        ("Internal rotation right", "50", "70", "+20", "4.8", "rose beyond the error"),
        ("Internal rotation left", "55", "55", "0", "4.8", "within the error"),
        ("External rotation right", "80", "83", "+3", "6*", "within the error of a new "
                                                            "positioning"),
        ("Flexion left", "150", "\u2013", "\u2013", "\u2013", "cannot be told"),
    ]  # fmt: skip
    assert table.rows[-1].cells[-1].below == "no reading after"
    assert table.notes == (
        "* Of a new positioning, as published. Repeats in one sitting scatter less.",
        "A change within one visit does not show that it lasts.",
    )
    unknown = retest_table((UNKNOWN,))
    assert unknown is not None
    assert unknown.notes == (
        "Three readings of each side, before and after, would give the error.",
    )


def test_one_reading_that_is_no_whole_degree_gives_all_of_them_a_decimal() -> None:
    table = retest_table((ROSE, replace(SAME, before_deg=54.5, change_deg=0.5)))
    assert table is not None
    assert [cell.value for cell in table.rows[0].cells[:4]] == ["50.0", "70.0", "+20.0", "4.8"]
    whole = retest_table((ROSE, replace(SAME, after_deg=55.0 + 1e-13)))
    assert whole is not None
    assert [cell.value for cell in whole.rows[1].cells[:2]] == ["55", "55"]
    close = replace(SMALL, after_deg=86.0, change_deg=6.0, positioning_deg=5.98)
    told = retest_table((close,))
    assert told is not None
    assert [cell.value for cell in told.rows[0].cells[2:4]] == ["+6.00", "5.98"]


def test_errors_and_what_they_rest_on_are_told_once_for_tests_that_share_them(
    scores: SessionScores,
) -> None:
    tests = (ROSE, SAME, SMALL, UNKNOWN, replace(FELL, side="left"))
    told = replace(scores, bouts=(), retest=tests)
    assert say_retest.retest_paragraphs(told) == [
        "Internal rotation right, internal rotation left: error 4.8 deg, from x.",
        "External rotation right: error 1.9 deg, from x. The error is the scatter of repeats "
        "within one sitting. The published error of a new positioning is 6 deg.",
        "Flexion right: no published error fits because 'population' is not given in rom.csv.",
        "External rotation left: error 1.9 deg, from x. The published error of a new positioning "
        "is 6 deg.",
    ]


def _with_rows(scores: SessionScores, *rows: BoutRow) -> SessionScores:
    bouts = [
        replace(bout, data=replace(bout.data, row=row))
        for bout, row in zip(scores.bouts, rows, strict=False)
    ]
    return replace(scores, bouts=tuple(bouts), retest=(ROSE, UNKNOWN, SAME))


def test_bouts_are_named_once_a_side(
    scores: SessionScores,
) -> None:
    told = _with_rows(
        scores,
        BoutRow("free1", 0, 1, hold="free"),
        BoutRow("s8", 0, 1, hold="suitcase", loaded_side="right",
                shoulder_rotation_aim="internal_rotation"),
        BoutRow("s12", 0, 1, hold="suitcase", loaded_side="right",
                shoulder_rotation_aim="internal_rotation"),
        BoutRow("s16", 0, 1, hold="suitcase", loaded_side="right"),
    )  # fmt: skip
    assert say_retest.retest_paragraphs(told)[2:] == [
        "Bouts between the tests of the right side: s8, s12 (aimed at internal rotation); s16.",
        "The left side carried no load between its tests.",
    ]


def test_tests_stand_in_one_table_on_top_of_the_page_and_in_the_terminal(
    scores: SessionScores,
) -> None:
    told = replace(scores, retest=(ROSE, SAME))
    top, below = render(told, Settings()).split('id="pictures"', 1)
    assert "<caption>Before and after the carries" in top
    assert "1 of 2 shoulder tests" not in top
    assert "it may be measurement noise" not in below
    assert "Before and after the carries" not in re.sub("(?s)<details.*?</details>", "", below)
    lines = terminal_lines(told)
    assert any("1 of 2 shoulder tests changed" in line for line in lines)
    assert max(map(len, lines)) <= 79


def test_beside_earlier_visits_only_tests_that_changed_are_named_and_the_table_stands_below(
    scores: SessionScores,
) -> None:
    told = replace(scores, retest=(ROSE, replace(SAME, after_deg=56.0, change_deg=1.0)))
    top, below = render(told, Settings(), earlier=HISTORY).split('id="pictures"', 1)
    assert "1 of 2 shoulder tests changed" in top
    assert "Before and after the carries" not in top
    assert "<caption>Before and after the carries" in re.sub("(?s)<details.*?</details>", "", below)
    for said in (top, "\n".join(terminal_lines(told, HISTORY))):
        assert "Within the error:" not in said
    assert "Within the error:" in "\n".join(terminal_lines(told))


def test_only_the_command_for_tests_alone_names_its_option(scores: SessionScores) -> None:
    told = replace(scores, retest=(UNKNOWN,))
    assert any("--mdc" in line for line in retest_lines([UNKNOWN]))
    assert not any("--mdc" in line for line in retest_lines([SAME]))
    assert "--mdc" not in "\n".join(terminal_lines(told)) + render(told, Settings())
