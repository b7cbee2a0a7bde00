"""Shoulder tests in words: each sentence, the sides' bouts once, and all in short."""

from __future__ import annotations

from dataclasses import replace

import pytest

from imucarry.basics.records import BoutRow, RetestFinding, SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.page import render
from imucarry.report.wording import retest_lines, say_retest, terminal_lines

NAN = float("nan")
ROSE = RetestFinding("internal_rotation", "right", 50.0, 70.0, 20.0, 4.8, "x",
                     "increased_more_than_error")  # fmt: skip
SAME = RetestFinding("internal_rotation", "left", 55.0, 55.0, 0.0, 4.8, "x", "within_error")
UNKNOWN = RetestFinding(
    "flexion", "right", 150.0, 165.0, 15.0, NAN, "", "not_decidable",
    "no published error fits because 'population' is not given in rom.csv",
)  # fmt: skip
HALF = RetestFinding("flexion", "left", 150.0, NAN, NAN, NAN, "", "not_decidable",
                     "there is no reading after")  # fmt: skip


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (UNKNOWN, "Flexion, right: 150.0 to 165.0 deg, +15.0 deg. No published error fits because "
                  "'population' is not given in rom.csv."),
        (SAME, "Internal rotation, left: no change (55.0 deg before and after)."),
        (HALF, "Flexion, left: not compared. There is no reading after."),
    ],
)  # fmt: skip
def test_sentences(found: RetestFinding, words: str) -> None:
    assert say_retest.retest(found) == words


@pytest.mark.parametrize(
    ("tests", "words"),
    [
        ((), ""),
        ((ROSE,), "The shoulder test changed within the visit by more than its own error: internal "
                  "rotation right +20.0 deg."),
        ((SAME,), "The shoulder test did not change within the visit by more than its own error."),
        ((UNKNOWN,), "Whether the shoulder test changed within the visit by more than its own "
                     "error cannot be told."),
        ((SAME, SAME), "None of 2 shoulder tests changed within the visit by more than "
                       "its own error."),
        ((ROSE, SAME, UNKNOWN), "1 of 3 shoulder tests changed within the visit by more than "
                                "their own error: internal rotation right +20.0 deg; 1 cannot "
                                "be told."),
    ],
)  # fmt: skip
def test_all_in_short(tests: tuple[RetestFinding, ...], words: str) -> None:
    assert say_retest.retest_short(tests) == words


def test_one_test_is_no_plural_in_the_picture() -> None:
    assert say_retest.retest_count([SAME]) == "The test did not change by more than its own error."
    assert say_retest.retest_count([SAME, ROSE]).startswith("1 of 2 tests")


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
        BoutRow("s16", 0, 1, hold="suitcase", loaded_side="right"),
    )  # fmt: skip
    assert say_retest.retest_paragraphs(told)[3:] == [
        "Bouts between the tests of the right side: s8 (internal rotation), s16.",
        "No bout between the tests of the left side loaded that side.",
        "Before and after in one visit shows no lasting change.",
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
