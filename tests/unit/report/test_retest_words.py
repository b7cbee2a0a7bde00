"""Shoulder tests in words: each sentence, the sides' bouts once, and all in short."""

from __future__ import annotations

from dataclasses import replace

import pytest

from imucarry.basics.records import BoutRow, RetestFinding, SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.page import render
from imucarry.report.tabulate import retest_table
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
        ((ROSE,), "Internal rotation right: +20.0 deg from before to after, beyond its {R}. {O}"),
        ((FELL, SAME), "1 of 2 shoulder tests changed within the visit by more than the error: "
                       "external rotation right fell by 10.0 deg (error 6.0). {O}"),
        ((SAME,), "Internal rotation left: no change (55.0 deg before and after)."),
        ((UNKNOWN,), "Flexion right: 150.0 deg before, 165.0 after (+15.0); this cannot be judged "
                     "(error not known). {T}"),
        ((replace(UNKNOWN, after_deg=150.0, change_deg=0.0),),
         "Flexion right: 150.0 deg before and after; this cannot be judged (error not known). {T}"),
        ((HALF,), "Flexion left cannot be judged (no reading after)."),
        ((SAME, SAME), "None of 2 shoulder tests changed within the visit by more than "
                       "the error."),
        ((ROSE, SAME, UNKNOWN, HALF),
         "1 of 2 shoulder tests that can be judged changed within the visit by more than the "
         "error: internal rotation right rose by 20.0 deg ({R_SHORT}). 2 cannot be judged: flexion "
         "right +15.0 deg (error not known), flexion left (no reading after). {T} {O}"),
        ((UNKNOWN, HALF),
         "None of 2 shoulder tests can be judged: flexion right +15.0 deg (error not known), "
         "flexion left (no reading after). {T}"),
        ((replace(WITHIN, after_deg=78.0, change_deg=-2.0), OTHERWISE),
         "External rotation right: \u22122.0 deg from before to after, within its error of 10.7. "
         "1 cannot be judged: flexion right +15.0 deg (passive before, active after)."),
        ((SAME, RATERS),
         "Internal rotation left: no change (55.0 deg before and after). 1 cannot be judged: "
         "flexion right +15.0 deg (different raters took the readings)."),
        ((SMALL, SAME), "None of 2 shoulder tests changed within the visit by more than the error. "
                        "External rotation right +3.0 deg: more than its repeats scatter (1.9), "
                        "less than the published error of a new positioning (6.0)."),
        ((EQUAL,), "External rotation right \u22126.0 deg: more than its repeats scatter (1.9), no "
                   "more than the published error of a new positioning (6.0)."),
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
    assert "right \u22126.0\u00a0deg" in render(told, Settings())
    assert any("right -6.0 deg" in line for line in terminal_lines(told))
    table = retest_table(told)
    assert table is not None
    assert table.rows[0].cells[2].value == "\u22126.0"


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


def test_the_table_has_the_error_of_a_new_positioning_below_the_tests_own(
    scores: SessionScores,
) -> None:
    table = retest_table(replace(scores, retest=(SMALL, ROSE)))
    assert table is not None
    assert [(row.cells[3].value, row.cells[3].below) for row in table.rows] == [
        ("1.9", "new positioning 6.0"), ("4.8", ""),
    ]  # fmt: skip


def _with_rows(scores: SessionScores, *rows: BoutRow) -> SessionScores:
    bouts = [
        replace(bout, data=replace(bout.data, row=row))
        for bout, row in zip(scores.bouts, rows, strict=False)
    ]
    return replace(scores, bouts=tuple(bouts), retest=(ROSE, UNKNOWN, SAME))


def test_bouts_are_named_once_a_side_and_one_visit_shows_nothing_lasting_once(
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
    assert say_retest.retest_paragraphs(told)[3:] == [
        "Bouts between the tests of the right side: s8, s12 (aimed at internal rotation); s16.",
        "The left side carried no load between its tests.",
        "A change within one visit does not show that it lasts.",
    ]


def test_tests_stand_on_top_of_the_page_and_in_the_terminal(scores: SessionScores) -> None:
    told = replace(scores, retest=(ROSE, SAME))
    top, _ = render(told, Settings()).split('id="pictures"', 1)
    assert "1 of 2 shoulder tests changed" in top
    lines = terminal_lines(told)
    assert any("1 of 2 shoulder tests changed" in line for line in lines)
    assert max(map(len, lines)) <= 79


def test_only_the_command_for_tests_alone_names_its_option(scores: SessionScores) -> None:
    told = replace(scores, retest=(UNKNOWN,))
    assert any("--mdc" in line for line in retest_lines([UNKNOWN]))
    assert not any("--mdc" in line for line in retest_lines([SAME]))
    assert "--mdc" not in "\n".join(terminal_lines(told)) + render(told, Settings())
