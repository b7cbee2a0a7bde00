"""Earlier visits on the page."""

from __future__ import annotations

from dataclasses import replace

from visits_builder import FIRST, HISTORY, NAN, NOW, ROWS, carried, kept, rung

from imucarry.basics.records import SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.earlier import (
    HISTORY_FINDINGS,
    History,
)
from imucarry.carry.visits import Visit
from imucarry.report.history import history_notes, history_tables
from imucarry.report.page import render
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import NONE


def test_one_table_a_measure_one_row_a_condition_one_column_a_visit() -> None:
    kept, flexion = history_tables(HISTORY)
    assert [row.head for row in kept.rows] == [
        "weight at the side, right, 16\u00a0kg",
        "hold not given",
    ]
    assert kept.heads[:2] == (
        "visit 1, 2026\u201101\u201110",
        "visit 2, 2026\u201102\u201110",
    )
    first = kept.rows[0].cells
    assert [cell.value for cell in first[:4]] == ["52.0", "70.0", "+18.0", "11.0"]
    assert first[0].below == "44.0 to 60.0"
    assert first[4].value == "rose beyond the error"
    assert flexion.caption == "Flexion, left (deg)"
    assert (kept.corner, flexion.corner) == ("hold and load", "when")
    assert flexion.rows[0].cells[-1].value == "within the error"


def test_two_visits_of_one_name_are_both_shown() -> None:
    (table,) = history_tables(History((Visit("1", ()), Visit("1", ())), ROWS[:2]))
    assert table.heads[:2] == ("visit 1", "visit 1 (2)")
    assert [cell.value for cell in table.rows[0].cells[:2]] == ["52.0", "70.0"]


def test_every_finding_has_words() -> None:
    assert set(HISTORY_FINDINGS) == set(texts.HISTORY_FINDINGS)


def test_the_page_has_the_part_only_with_earlier_visits(scores: SessionScores) -> None:
    assert 'id="earlier"' in render(scores, Settings(), earlier=HISTORY)
    assert 'id="earlier"' not in render(scores, Settings())


def test_columns_stand_in_the_order_of_the_visits() -> None:
    visits = (Visit("1", ()), Visit("2", ()), Visit("3", ()))
    spread = [replace(row, place=place) for row, place in zip(ROWS[:4], (0, 2, 1, 2), strict=True)]
    (table,) = history_tables(History(visits, tuple(spread)))
    assert table.heads[:3] == ("visit 1", "visit 2", "visit 3")


def test_why_nothing_can_be_told_is_said_once_and_intervals_apart_are_shown() -> None:
    rows = [
        replace(ROWS[0], error=NAN),
        replace(ROWS[1], error=NAN, span_low=63.0, span_high=77.0, finding="not_decidable"),
    ]
    history = replace(HISTORY, rows=(*rows, *ROWS[2:4]))
    (table,) = history_tables(history)
    assert table.heads[2:] == ("change since the first",)
    assert table.rows[0].cells[-1].below == "differs beyond its day's own scatter"
    assert table.rows[0].cells[-1].value == "+18.0"
    assert table.rows[1].cells[-1].below == ""
    assert table.notes == ()
    assert len(history_notes(history)) == 1


def test_a_planned_end_is_no_stop_and_a_stop_beside_the_load_kept_is_told() -> None:
    ladder = (rung(8.0, following=16.0),)
    planned = (carried(8.0, 0.0), carried(8.0, 0.0, stop="completed, no pain"))
    first = replace(FIRST, ladder=ladder, bouts=planned)
    stopped = (carried(8.0, 0.0), carried(8.0, 0.0, stop="faint"))
    now = replace(NOW, ladder=ladder, bouts=stopped)
    (table,) = history_tables(History((first, now), ()))
    assert [cell.value for cell in table.rows[0].cells] == [
        "8 kg (next tested 16 kg)",
        "8 kg (in another bout stopped, faint; next tested 16 kg)",
    ]


def test_a_load_that_hurt_and_did_not_keep_is_none_for_certain_with_its_pain() -> None:
    first = replace(FIRST, ladder=(rung(NAN, "no_tested_load", 8.0),),
                    bouts=(carried(8.0, 5.0, 60.0),))  # fmt: skip
    now = replace(NOW, ladder=(rung(NAN, "pain_or_early_stop", NAN),),
                  bouts=(carried(8.0, 3.0, 60.0),))  # fmt: skip
    table, _ = history_tables(History((first, now), ()))
    assert [cell.value for cell in table.rows[0].cells] == [
        "none for certain (8 kg: pain 5 of 10)",
        "none that counts (8 kg: pain 3 of 10)",
    ]


def test_an_anonymous_page_names_no_person_in_the_names_of_visits(scores: SessionScores) -> None:
    named = replace(scores, session=replace(scores.session, participant="Zorblax"))
    history = replace(HISTORY, visits=(replace(FIRST, session="zorblax 1"), NOW))
    assert "zorblax 1" in render(named, Settings(), earlier=history)
    page = render(named, Settings(), earlier=history, anonymous=True)
    assert "zorblax" not in page.lower()


def test_the_arms_table_says_which_free_walks_it_shows() -> None:
    rows = tuple(replace(row, measure="arm_swing_kept", side="left") for row in ROWS[:2])
    arms, kept_table = history_tables(History((FIRST, NOW), (*rows, *ROWS[:2])))[::-1]
    assert kept_table.notes == ()
    assert arms.notes == (
        "Each share is of the free walks that the bout's own row is compared with. Not compared: "
        "none of them was of like pace. Carries in which the arm moved, but not with the strides, "
        "are left out.",
    )


def test_three_visits_show_the_change_since_the_visit_before_too() -> None:
    visits = (Visit("1", ()), Visit("2", ()), Visit("3", (), current=True))
    rows = [
        replace(kept(place, 16.0, value), finding="not_decidable")
        for place, value in enumerate((40.0, 80.0, 42.0))
    ]
    (table,) = history_tables(History(visits, tuple(rows)))
    assert table.heads[3:] == ("change since the first", "change since the visit before")
    cell = table.rows[0].cells[-1]
    assert (cell.value, cell.below) == ("\u221238.0", "differs beyond its day's own scatter")
    known = [replace(row, error=11.0, finding="within_error") for row in rows]
    (table,) = history_tables(History(visits, tuple(known)))
    assert len(table.heads) == len(table.rows[0].cells) == 7
    assert table.rows[0].cells[-1].below == "fell beyond the error"
    (two,) = history_tables(History(visits[:2], tuple(rows[:2])))
    assert two.heads[2:] == ("change since the first",)


def test_degrees_and_shares_that_can_differ_are_explained_once() -> None:
    swung = [replace(row, measure="sternum_yaw_range", unit="deg") for row in ROWS[:2]]
    note = "Degrees and shares can tell different things"
    both = history_notes(replace(HISTORY, rows=(*ROWS, *swung)))
    assert [words.startswith(note) for words in both].count(True) == 1
    assert not any(words.startswith(note) for words in history_notes(HISTORY))


def test_heaviest_loads_stand_side_by_side_with_the_next_load_tested() -> None:
    first = replace(FIRST, ladder=(rung(16.0),))
    now = replace(NOW, ladder=(rung(NAN, "no_tested_load", 8.0),))
    history = History((first, now), ())
    (table,) = history_tables(history)
    cells = [cell.value for cell in table.rows[0].cells]
    assert cells == ["16 kg (next tested 24 kg)", "none for certain"]
    (none,) = history_notes(history)
    assert "No carry of this visit was repeated" in none


def test_pain_stands_beside_the_load_that_it_kept_from_counting() -> None:
    first = replace(
        FIRST,
        ladder=(rung(NAN, "no_tested_load", 8.0),),
        bouts=(carried(8.0, 5.0), carried(8.0, 2.0), carried(16.0, 0.0, 40.0)),
    )
    now = replace(NOW, ladder=(rung(8.0, following=16.0),),
                  bouts=(carried(8.0, 0.0), carried(16.0, NAN, 40.0)))  # fmt: skip
    table, pains = history_tables(History((first, now), ()))
    assert [cell.value for cell in pains.rows[0].cells] == ["5", "0"]
    assert [row.head for row in pains.rows] == ["weight at the side, right, 8\u00a0kg"]
    assert [cell.value for cell in table.rows[0].cells] == [
        "none without pain (8 kg: pain 5 of 10)", "8 kg (next tested 16 kg)",
    ]  # fmt: skip


def test_a_carry_that_a_visit_did_not_have_is_no_carry_whose_pain_was_not_noted() -> None:
    first = replace(FIRST, bouts=(carried(16.0, NAN),))
    now = replace(NOW, bouts=(carried(16.0, NAN, stop="pain"),))
    (pains,) = history_tables(History((first, Visit("1b", ()), now), ()))
    cells = [(cell.value, cell.below) for cell in pains.rows[0].cells]
    assert cells == [(NONE, ""), ("", ""), (NONE, "stopped for pain")]


def test_an_arm_without_a_fair_free_walk_at_a_visit_is_not_compared() -> None:
    arm = [replace(kept(place, load, value), measure="arm_swing_kept", side="left",
                   change=39.0 * place, in_doubt=load == 24.0 and place == 0, finding=finding)
           for load in (16.0, 24.0)
           for place, value, finding in ((0, 30.0, "first"), (1, 69.0, "not_decidable"))
           ]  # fmt: skip
    arm[3] = replace(arm[3], finding="in_doubt")
    (table,) = history_tables(replace(HISTORY, rows=tuple(arm)))
    assert [[cell.below for cell in row.cells] for row in table.rows] == [
        ["25.0 to 35.0", "64.0 to 74.0", "differs beyond its day's own scatter"],
        ["25.0 to 35.0, not compared", "64.0 to 74.0", "not compared"],
    ]
    assert [row.cells[-1].value for row in table.rows] == ["+39.0", NONE]
