"""Notices of several bouts that say the same stand in one line."""

from __future__ import annotations

from dataclasses import replace

import pytest

from imucarry.basics.records import Notice, SessionScores
from imucarry.report.joined import joined
from imucarry.report.notices import all_notices, checks, notes
from imucarry.report.wording import say, terminal_lines


def pace(speed: str, severity: str = "check", bout: str = "c") -> Notice:
    message = f"no free walk of like pace ({speed} m/s, the nearest 1.22 m/s)"
    return Notice("speed_differs", message, where=bout, severity=severity)  # type: ignore[arg-type]


def test_bouts_of_the_same_check_are_named_together_with_the_range_of_their_numbers() -> None:
    found = joined([("fa24", pace("1.13")), ("other", Notice("x", "y")), ("fa48", pace("1.09"))])
    assert [(about, notice.message) for about, notice in found] == [
        ("bouts fa24, fa48", "no free walk of like pace (1.09 to 1.13 m/s, the nearest 1.22 m/s)"),
        ("other", "y"),
    ]


@pytest.mark.parametrize(
    "other",
    [pace("1.13", "note"), replace(pace("1.13"), message="another 1.13"),
     replace(pace("1.13"), code="few_strides")],
)  # fmt: skip
def test_what_differs_in_more_than_numbers_stays_apart(other: Notice) -> None:
    assert len(joined([("a", pace("1.13")), ("b", other)])) == 2


def test_a_single_bout_is_left_as_it_is() -> None:
    assert joined([("a", pace("1.13"))]) == (("a", pace("1.13")),)


def told(scores: SessionScores, *notices: Notice) -> SessionScores:
    """The same notices at two carries."""
    bouts = list(scores.bouts)
    for k in (1, 3):
        found = replace(bouts[k].comparison, notices=notices)
        bouts[k] = replace(bouts[k], comparison=found)
    return replace(scores, bouts=tuple(bouts))


def test_the_terminal_names_bouts_of_the_same_check_in_one_line(scores: SessionScores) -> None:
    lines = " ".join(terminal_lines(told(scores, pace("1.13")))).split()
    names = [scores.bouts[k].data.row.bout for k in (1, 3)]
    assert " ".join(lines).count("No free walk of like pace") == 1
    assert f"check: Bouts {names[0]}, {names[1]}: No free walk" in " ".join(lines)


def test_a_doubt_that_needs_no_number_names_every_bout(scores: SessionScores) -> None:
    unclear = Notice("side_unclear", "the feet may be swapped", severity="check")
    said = replace(told(scores, unclear), notices=(unclear,))
    (about,) = [a for a, n in checks(said) if n.code == "side_unclear"]
    assert about == "bouts " + ", ".join(scores.bouts[k].data.row.bout for k in (1, 3))


@pytest.mark.parametrize("code", ["baseline_moved", "baseline_small", "one_free_walk"])
def test_what_is_said_of_the_free_walks_is_said_of_no_carry(
    scores: SessionScores, code: str
) -> None:
    said = told(scores, Notice(code, "the free walks moved", where="f1 / f2", severity="check"))
    ((about, notice),) = [item for item in checks(said) if item[1].code == code]
    assert say.place(about, notice) == ""


def test_the_same_doubt_of_several_ladders_stands_once() -> None:
    def doubt(hold: str, severity: str = "check") -> Notice:
        return Notice("load_and_order_rise_together", "both rise", where=hold, severity=severity)  # type: ignore[arg-type]

    found = joined([("", doubt("rack")), ("", doubt("overhead")), ("", doubt("side", "note"))])
    assert [(about, notice.where) for about, notice in found] == [
        ("", "rack; overhead"),
        ("", "side"),
    ]


def test_a_notice_of_the_ladder_names_the_hold_in_words(scores: SessionScores) -> None:
    rung = replace(
        scores.ladder[0], hold="suitcase", loaded_side="right", implement="kettlebell",
        notices=(Notice("ladder_bout_left_out", "left out", where="suitcase right kettlebell"),),
    )  # fmt: skip
    said = replace(scores, ladder=(rung,))
    places = [say.place(a, n) for a, n in notes(said) if n.code == "ladder_bout_left_out"]
    assert places == ["weight at the side, right, kettlebell"]
    assert all("suitcase right" not in n.where for _, n in all_notices(said))
