"""The one small table over weeks: rows, words of the change, what is left to sentences."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from visits_builder import FIRST, HISTORY, NAN, NOW, ROWS, carried, kept, rung

from imucarry.basics.records import SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.earlier import IF_DONE_ALIKE, History, HistoryRow, compare_visits
from imucarry.carry.visits import Visit
from imucarry.report.history import history_tables
from imucarry.report.page import render
from imucarry.report.views import Table
from imucarry.report.wording import terminal_lines
from imucarry.report.wording.say_visits import history_doubts, history_head, history_table

SIDE = "Side right: kept 75 % up to"
THREE = (Visit("1", ()), Visit("2", ()), Visit("3", (), current=True))


def of(history: History) -> Table:
    table = history_table(history)
    assert table is not None
    return table


def told(history: History) -> dict[str, tuple[str, ...]]:
    """Each row by its head; what stands below a value in brackets."""
    return {
        row.head.replace("\u00a0", " "): tuple(
            cell.value.replace("\u00a0", " ") + (f" ({cell.below})" if cell.below else "")
            for cell in row.cells
        )
        for row in of(history).rows
    }


def notes(history: History) -> str:
    return " ".join(of(history).notes).replace("\u00a0", " ")


# --- page and terminal ----------------------------------------------------------------


def test_a_column_a_visit_and_the_change_in_words() -> None:
    table = of(HISTORY)
    assert table.heads == ("visit 1", "now", "change")
    assert table.below == ("2026\u201101\u201110", "2026\u201102\u201110", "")
    assert told(HISTORY) == {
        "Side right 16 kg: rotation kept": ("52 %", "70 %", "more"),
        "Hold not given: rotation kept": ("80 %", "81 %", "not certainly more"),
        "Flexion left (deg)": ("150", "149", "\u22121, within the error of 7"),
    }


def test_the_table_is_on_the_first_screen_and_the_tests_of_one_visit_follow(
    scores: SessionScores,
) -> None:
    top, _ = render(scores, Settings(), earlier=HISTORY).split('id="h-findings"', 1)
    assert top.index("<caption>Over weeks</caption>") < top.index("within the visit")
    assert "Over weeks" not in render(scores, Settings()).split('id="h-findings"', 1)[0]


def test_the_terminal_has_the_table_in_columns(scores: SessionScores) -> None:
    lines = terminal_lines(scores, HISTORY)
    assert max(map(len, lines)) <= 79
    assert "\n".join(lines).isascii()
    start = lines.index("  Compared with visit 1 (2026-01-10):")
    assert lines[start + 1 : start + 5] == [
        "                                   visit 1  now",
        "  Side right 16 kg: rotation kept  52 %     70 %  more",
        "  Hold not given: rotation kept    80 %     81 %  not certainly more",
        "  Flexion left (deg)               150      149   -1, within the error of 7",
    ]


def test_a_table_that_is_too_wide_for_the_terminal_is_told_a_sentence_a_row(
    scores: SessionScores,
) -> None:
    long = "before the summer, in the other house, after the long pause"
    history = replace(HISTORY, visits=(replace(FIRST, session=long), NOW))
    lines = terminal_lines(scores, history)
    assert max(map(len, lines)) <= 79
    said = " ".join(line.strip() for line in lines)
    assert f"Side right 16 kg: rotation kept: visit {long} 52 %, now 70 %; more" in said


def test_the_same_words_below_every_value_are_printed_once(scores: SessionScores) -> None:
    stopped = (carried(8.0, 2.0, stop="pain"),)
    history = History((replace(FIRST, bouts=stopped), replace(NOW, bouts=stopped)), ())
    lines = terminal_lines(scores, history)
    (place,) = [k for k, line in enumerate(lines) if "pain, 0 to 10" in line]
    assert lines[place].split()[-3:] == ["2", "2", "same"]
    assert lines[place + 1] == "    each time: stopped for pain"


def test_four_visits_at_most_have_a_column_and_the_rest_are_counted() -> None:
    days = [dt.date(2026, 1, day) for day in range(1, 7)]
    visits = [Visit(str(k), (), date=date, ladder=(rung(8.0),)) for k, date in enumerate(days)]
    visits[5] = replace(visits[5], current=True)
    history = History(tuple(visits), ())
    assert of(history).heads == ("visit 0", "visit 3", "visit 4", "now", "change")
    assert history_head(history) == (
        "Compared with visit 0 (2026-01-01), visit 3 (2026-01-04) and visit 4 (2026-01-05) "
        "(2 between: see the tables):"
    )


def test_eight_rows_at_most_but_no_certain_change_is_left_out() -> None:
    loads = [float(load) for load in range(1, 15)]
    pairs = [(kept(0, load, 90.0), kept(1, load, 40.0)) for load in loads]
    falls = told(History((FIRST, NOW), tuple(row for pair in pairs for row in pair)))
    assert len(falls) == 14
    tests = [replace(ROWS[4 + place], measure=f"test {k}", place=place)
             for k in range(10) for place in (0, 1)]  # fmt: skip
    history = History((replace(FIRST, ladder=(rung(8.0),)), replace(NOW, ladder=(rung(8.0),))),
                      tuple(tests))  # fmt: skip
    assert len(told(history)) == 8
    assert SIDE in told(history)
    assert notes(history).endswith("3 more rows under Earlier visits.")


# --- the heaviest load kept -----------------------------------------------------------


def test_heaviest_loads_stand_side_by_side_without_a_repeated_carry_too() -> None:
    ladders = (rung(16.0),), (rung(NAN, "no_tested_load", 8.0),)
    history = History((replace(FIRST, ladder=ladders[0]), replace(NOW, ladder=ladders[1])), ())
    assert told(history) == {SIDE: ("16 kg", "none for certain", "not certainly less")}
    (none,) = history_doubts(history)
    assert "No carry of this visit was repeated" in none


@pytest.mark.parametrize(
    ("now", "words"),
    [
        (rung(16.0), ("8 kg", "16 kg", "not certainly more")),
        (rung(12.0), ("8 kg (next tested 16 kg)", "12 kg (next tested 24 kg)", "not compared")),
        (rung(8.0), ("8 kg", "8 kg", "same")),
    ],
)  # fmt: skip
def test_a_heavier_load_is_more_only_where_it_was_tested_before(
    now: dict[str, str | float], words: tuple[str, ...]
) -> None:
    first = replace(FIRST, ladder=(rung(8.0, following=16.0),))
    assert told(History((first, replace(NOW, ladder=(now,))), ()))[SIDE] == words


def test_answers_by_other_thresholds_are_not_compared_and_name_theirs() -> None:
    first = replace(FIRST, ladder=(rung(8.0, following=16.0),))
    now = replace(NOW, ladder=(rung(16.0) | {"threshold_pct": 60.0},))
    assert told(History((first, now), ())) == {
        "Side right: heaviest kept": (
            "8 kg (at least 75 %; next tested 16 kg)",
            "16 kg (at least 60 %; next tested 24 kg)",
            "not compared",
        )
    }


@pytest.mark.parametrize(
    ("carries", "words"),
    [
        ((kept(0, 8.0, 95.0), kept(1, 8.0, 60.0)), "less"),
        ((kept(0, 8.0, 95.0), kept(1, 8.0, 88.0)), "not certainly less"),
        ((kept(0, 8.0, 60.0), kept(1, 8.0, 95.0)), "not certainly less"),
        ((kept(0, 16.0, 95.0), kept(1, 16.0, 60.0)), "not certainly less"),
    ],
)
def test_the_heaviest_load_is_less_only_where_that_load_clearly_kept_less(
    carries: tuple[HistoryRow, ...], words: str
) -> None:
    first = replace(FIRST, ladder=(rung(8.0, following=16.0),))
    now = replace(NOW, ladder=(rung(NAN, "no_tested_load", 8.0),))
    row = told(History((first, now), carries))[SIDE]
    assert row == ("8 kg", "none for certain", words)


def test_other_visits_that_do_not_agree_on_the_heaviest_load_are_named() -> None:
    visits = [replace(visit, ladder=(rung(load, following=16.0),))
              for visit, load in zip(THREE, (8.0, 16.0, 8.0), strict=True)]  # fmt: skip
    carries = (kept(0, 16.0, 60.0), kept(1, 16.0, 90.0), kept(2, 16.0, 61.0))
    row = told(History(tuple(visits), carries))[SIDE]
    assert row == ("8 kg", "16 kg", "8 kg", "same; less than at visit 2")


@pytest.mark.parametrize(
    ("stops", "pain", "words"),
    [
        (("chest tightness",), 0.0, "8 kg: stopped, chest tightness"),
        (
            ("grip", "numb hand", "chest tightness"),
            NAN,
            "8 kg: stopped, chest tightness, numb hand, grip",
        ),
        (("dizzy",), 3.0, "8 kg: stopped, dizzy, pain 3 of 10"),
        (("pain",), NAN, "8 kg: stopped for pain"),
    ],
)
def test_a_load_that_kept_and_was_stopped_at_an_earlier_visit_is_named_with_its_stop(
    stops: tuple[str, ...], pain: float, words: str
) -> None:
    first = replace(FIRST, ladder=(rung(NAN, "no_tested_load", 8.0),),
                    bouts=tuple(carried(8.0, pain, stop=stop) for stop in stops))  # fmt: skip
    now = replace(NOW, ladder=(rung(8.0, following=16.0),), bouts=(carried(8.0, 0.0),))
    carries = (kept(0, 8.0, 95.0), kept(1, 8.0, 95.0))
    row = told(History((first, now), carries))[SIDE]
    assert row == (f"none that counts ({words})", "8 kg (next tested 16 kg)", "not compared")


@pytest.mark.parametrize("stop_now", [True, False])
def test_a_lighter_load_that_was_stopped_is_named_and_no_progress_is_told(stop_now: bool) -> None:
    stopped = (carried(8.0, 4.0, stop="chest tightness"), carried(16.0, 0.0))
    fine = (carried(8.0, 0.0), carried(16.0, 0.0))
    light, heavy = rung(8.0, following=16.0), rung(16.0)
    first = replace(FIRST, ladder=(light if stop_now else heavy,), bouts=fine)
    now = replace(NOW, ladder=(heavy,), bouts=stopped)
    if not stop_now:
        first, now = replace(first, bouts=stopped), replace(now, bouts=fine)
    carries = (kept(0, 16.0, 60.0), kept(1, 16.0, 95.0))
    row = told(History((first, now), carries))[SIDE]
    assert any(
        cell.startswith("16 kg (but 8 kg: stopped, chest tightness, pain 4 of 10") for cell in row
    )
    assert row[-1] == "not compared"


def test_a_load_with_an_alarm_in_a_note_is_named_with_it_and_not_compared() -> None:
    first = replace(FIRST, ladder=(rung(12.0),), bouts=(carried(12.0, 0.0),))
    dizzy = carried(12.0, 0.0) | {"note": "felt dizzy, went on"}
    now = replace(NOW, ladder=(rung(8.0, following=12.0),), bouts=(carried(8.0, 0.0), dizzy))
    assert told(History((first, now), ()))[SIDE] == (
        "12 kg (next tested 24 kg)", "8 kg (next tested 12 kg: dizzy noted)", "not compared",
    )  # fmt: skip
    none = replace(now, ladder=(rung(NAN, "pain_or_early_stop", NAN),), bouts=(dizzy,))
    assert told(History((first, none), ()))[SIDE][1] == "none that counts (12 kg: dizzy noted)"


def test_a_share_just_below_a_line_is_not_rounded_onto_it() -> None:
    rows = kept(0, 8.0, 74.96, 10.0), kept(1, 8.0, 95.0, 10.0)
    (row,) = told(History((FIRST, NOW), rows)).values()
    assert row[:2] == ("<75 %", "95 %")
    (table, *_) = history_tables(History((FIRST, NOW), rows))
    assert "74.96" in [cell.value for line in table.rows for cell in line.cells]


def test_holds_stand_in_the_order_in_which_they_were_carried() -> None:
    rack = {"hold": "rack"}
    first = replace(FIRST, ladder=(rung(8.0), rung(6.0) | rack))
    bouts = (carried(6.0, 0.0) | rack, carried(8.0, 0.0))
    now = replace(NOW, ladder=(rung(8.0), rung(6.0) | rack), bouts=bouts)
    assert told(History((first, now), ())) == {
        "Rack right: kept 75 % up to": ("6 kg", "6 kg", "same"),
        SIDE: ("8 kg", "8 kg", "same"),
    }


def test_a_ladder_that_pain_left_without_an_answer_is_told_beside_one_that_has_it() -> None:
    first = replace(FIRST, ladder=(rung(NAN, "one_load_only", NAN),), bouts=(carried(8.0, 1.0),))
    now = replace(NOW, ladder=(rung(8.0),))
    row = told(History((first, now), ()))[SIDE]
    assert row[:2] == ("no answer (8 kg: pain 1 of 10)", "8 kg (next tested 24 kg)")
    silent = History((first, replace(first, current=True)), ())
    assert list(told(silent)) == ["Side right 8 kg: pain, 0 to 10"]


def test_a_side_of_which_one_load_counts_names_it_and_is_not_called_unanswered() -> None:
    dizzy = carried(16.0, 0.0) | {"note": "dizzy"}
    one = (rung(NAN, "one_load_only", NAN),)
    now = replace(NOW, ladder=one, bouts=(carried(8.0, 0.0), dizzy))
    first = replace(FIRST, ladder=(rung(8.0),))
    assert told(History((first, now), ()))[SIDE][1] == "only 8 kg counts (16 kg: dizzy noted)"
    unmeasured = replace(now, bouts=(carried(8.0, 0.0, NAN), dizzy))
    assert told(History((first, unmeasured), ()))[SIDE][1] == "no answer (16 kg: dizzy noted)"


def test_a_load_that_was_the_heaviest_tested_may_not_have_been_the_limit() -> None:
    first = replace(FIRST, ladder=(rung(8.0, "not_yet_reached", NAN),))
    row = told(History((first, replace(NOW, ladder=(rung(16.0),))), ()))[SIDE]
    assert row == ("8 kg (the heaviest tested)", "16 kg (next tested 24 kg)", "not compared")


@pytest.mark.parametrize(
    ("now", "words"), [((60.0, 64.0), "less"), ((60.0, 74.0), "not certainly less")]
)
def test_repeated_carries_differ_clearly_where_none_reaches_any_of_the_other_visit(
    now: tuple[float, float], words: str
) -> None:
    visits = [
        Visit(
            str(place + 1),
            tuple({**carried(8.0, 0.0), "yaw_kept_pct": kept_pct, "perturbed": "none",
                   "yaw_kept_ci_low_pct": kept_pct - 8.0, "yaw_kept_ci_high_pct": kept_pct + 8.0}
                  for kept_pct in shares),
            ladder=(rung(load, answer, following=16.0 if load == 8.0 else 8.0),),
            current=place == 1,
        )
        for place, (shares, load, answer) in enumerate(
            (((88.0, 94.0), 8.0, "kept_up_to"), (now, NAN, "no_tested_load"))
        )
    ]  # fmt: skip
    history = History(tuple(visits), compare_visits(visits))
    assert told(history)[SIDE] == ("8 kg", "none for certain", words)


# --- pain -----------------------------------------------------------------------------


def test_pain_at_the_same_load_is_followed() -> None:
    first = replace(FIRST, bouts=(carried(8.0, 5.0), carried(8.0, 2.0), carried(16.0, 0.0)))
    now = replace(NOW, bouts=(carried(8.0, 0.0), carried(16.0, NAN)))
    assert told(History((first, now), ())) == {
        "Side right 8 kg: pain, 0 to 10": ("5", "0", "less"),
    }


def test_pain_that_came_is_told_the_worst_first_with_what_was_not_noted() -> None:
    first = replace(FIRST, bouts=(carried(8.0, 0.0), carried(16.0, NAN), carried(24.0, 0.0)))
    pains = {"1b": 7.0, "1c": 0.0, "1d": 3.0}
    between = [Visit(name, (carried(8.0, pain),), date=dt.date(2026, 1, 20 + k))
               for k, (name, pain) in enumerate(pains.items())]  # fmt: skip
    now = replace(NOW, bouts=(carried(8.0, 1.0), carried(16.0, NAN, stop="pain"),
                              carried(24.0, 0.0), carried(32.0, 9.0)))  # fmt: skip
    history = History((first, *between, now), ())
    assert told(history) == {
        "Side right 16 kg: pain, 0 to 10": (
            "not noted", "", "", "not noted (stopped for pain)", "stopped for it",
        ),
        "Side right 8 kg: pain, 0 to 10": (
            "0", "0", "3", "1", "more; less than at visit 1d; 7 at visit 1b",
        ),
    }  # fmt: skip


def test_a_stop_for_pain_that_is_over_is_told_though_the_pain_is_the_same() -> None:
    first = replace(FIRST, bouts=(carried(8.0, 2.0, stop="pain"),))
    now = replace(NOW, bouts=(carried(8.0, 2.0),))
    (row,) = told(History((first, now), ())).values()
    assert row == ("2 (stopped for pain)", "2", "no longer stopped")


# --- the same carries -----------------------------------------------------------------


def test_a_hold_of_one_load_has_its_share_and_one_with_a_heaviest_load_does_not() -> None:
    first = replace(FIRST, ladder=(rung(8.0, following=16.0),))
    now = replace(NOW, ladder=(rung(8.0, following=16.0),))
    rack = [replace(kept(place, 8.0, value, 20.0), hold="rack")
            for place, value in ((0, 75.0), (1, 99.0))]  # fmt: skip
    side = [kept(0, 8.0, 88.0), kept(1, 8.0, 90.0)]
    history = History((first, now), (*rack, *side))
    assert told(history) == {
        SIDE: ("8 kg", "8 kg", "same"),
        "Rack right 8 kg: rotation kept": ("75 %", "99 %", "not certainly more"),
    }
    assert "Not clearly different at the same load: trunk rotation in 1 more carry." in notes(
        history
    )


def test_a_fall_since_the_last_visit_is_named_though_the_first_was_as_low() -> None:
    rows = tuple(kept(place, 8.0, value) for place, value in enumerate((40.0, 80.0, 40.0)))
    history = History(THREE, rows)
    assert told(history) == {
        "Side right 8 kg: rotation kept": ("40 %", "80 %", "40 %", "same; less than at visit 2 *")
    }
    assert notes(history) == (
        "* By more than the days' own scatter; how much visits differ by chance is not known."
    )


def test_a_carry_that_changed_both_ways_says_at_which_visit() -> None:
    visits = (Visit("1", ()), Visit("2", (), current=True), Visit("3", ()))
    rows = tuple(kept(place, 8.0, value) for place, value in enumerate((90.0, 60.0, 95.0)))
    history = History(visits, rows)
    assert of(history).heads == ("visit 1", "now", "visit 3", "change")
    assert told(history)["Side right 8 kg: rotation kept"][-1] == "less; more at visit 3 *"


def test_a_first_visit_beside_a_later_one_looks_ahead() -> None:
    now, later = replace(FIRST, current=True), replace(NOW, current=False)
    history = History((now, later), ROWS[:2])
    assert history_head(history) == "Compared with visit 2 (2026-02-10):"
    assert told(history) == {"Side right 16 kg: rotation kept": ("52 %", "70 %", "more at visit 2")}


def test_a_change_within_the_known_error_is_called_so() -> None:
    rows = tuple(replace(kept(place, 8.0, value), error=20.0)
                 for place, value in ((0, 95.0), (1, 80.0)))  # fmt: skip
    assert told(replace(HISTORY, rows=rows)) == {
        "Side right 8 kg: rotation kept": ("95 %", "80 %", "within the error")
    }


def test_where_the_free_walks_differ_degrees_are_told_and_no_heaviest_load() -> None:
    swung = tuple(replace(row, measure="sternum_yaw_range", unit="deg", value=value, error=NAN,
                          span_low=value - 0.5, span_high=value + 0.5)
                  for row, value in zip(ROWS[:2], (5.0, 3.0), strict=True))  # fmt: skip
    history = History((replace(FIRST, ladder=(rung(8.0, following=16.0),)),
                       replace(NOW, ladder=(rung(16.0),))), (*ROWS[:2], *swung),
                      moved=(1,))  # fmt: skip
    assert history_doubts(history) == [
        "The free walk itself changed, so the heaviest loads kept are not compared."
    ]
    assert told(history) == {"Side right 16 kg: rotation": ("5.0 deg", "3.0 deg", "less *")}


# --- the same carries: free arms ------------------------------------------------------


def arm(load: float, first: float, last: float) -> list[HistoryRow]:
    return [replace(kept(place, load, value), measure="arm_swing_kept", side="left")
            for place, value in ((0, first), (1, last))]  # fmt: skip


def test_free_arms_that_clearly_changed_have_a_row_and_held_ones_have_not() -> None:
    free = [*arm(16.0, 55.0, 107.0), *arm(8.0, 80.0, 84.0)]
    held = [replace(row, side="right", value=10.0 + 50.0 * row.place) for row in free]
    no_side = [replace(row, hold="unknown", loaded_side="none", load_kg=NAN) for row in free[:2]]
    history = replace(HISTORY, rows=(*free, *held, *no_side))
    assert told(history) == {
        "Side right 16 kg: free arm's swing kept": ("55 %", "107 %", "more *"),
        "Hold not given left arm: free arm's swing kept": ("55 %", "107 %", "more *"),
    }
    assert notes(history).endswith("Not clearly different at the same load: free arm's swing in 1.")


def test_an_arm_without_a_fair_free_walk_at_a_visit_is_in_doubt_and_neither_more_nor_less() -> None:
    doubt = [replace(row, in_doubt=row.place == 0) for row in arm(24.0, 30.0, 69.0)]
    history = replace(HISTORY, rows=(*arm(16.0, 30.0, 69.0), *doubt))
    assert told(history) == {"Side right 16 kg: free arm's swing kept": ("30 %", "69 %", "more *")}
    assert [words.replace("\u00a0", " ") for words in history_doubts(history)] == [
        "Free arm's swing not compared between visits (no fair free walk): side right 24 kg."
    ]


def test_a_study_that_gives_no_error_is_not_dropped_without_a_word() -> None:
    few = "5 participants in the study given, 10 needed"
    sources = {8.0: few, 16.0: few, 24.0: "not in the study given"}
    rows = [replace(kept(place, load, 60.0 + 9.0 * place), error=NAN, error_source=source)
            for load, source in sources.items() for place in (0, 1)]  # fmt: skip
    said = [
        words.replace("\u00a0", " ") for words in history_doubts(replace(HISTORY, rows=tuple(rows)))
    ]
    so = "so how much visits differ by chance is not known."
    assert said == [
        f"Side right 8 kg, side right 16 kg: {few}, {so}",
        f"Side right 24 kg: not in the study given, {so}",
    ]
    none = [replace(row, error_source="not in the study given") for row in rows]
    assert history_doubts(replace(HISTORY, rows=tuple(none))) == [
        f"The study given has none of these carries, {so}"
    ]
    without = [replace(row, error_source="") for row in rows]
    assert history_doubts(replace(HISTORY, rows=tuple(without))) == []


def test_where_the_free_walks_differ_the_arms_are_told_in_degrees_too() -> None:
    swung = [replace(kept(place, 16.0, value), measure="arm_swing", side="left", unit="deg")
             for place, value in ((0, 12.0), (1, 30.0))]  # fmt: skip
    shares = [replace(row, measure="arm_swing_kept", unit="%") for row in swung]
    assert told(replace(HISTORY, rows=(*swung, *shares), moved=(1,))) == {
        "Side right 16 kg: free arm's swing": ("12.0 deg", "30.0 deg", "more *")
    }


# --- shoulder tests -------------------------------------------------------------------


def flexion(*values: float, error: float = NAN, source: str = "") -> list[HistoryRow]:
    return [replace(ROWS[4], session=str(k), value=value, error=error, error_source=source, place=k)
            for k, value in enumerate(values)]  # fmt: skip


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ((70.0, 80.0, 82.0), "+12, beyond the error of 6"),
        ((70.0, 75.0, 62.0), "\u22128, beyond the error of 6; \u221213 since visit 2, beyond "
                             "the error of 6"),
        ((70.0, 80.0, 72.0), "+2, within the error of 6; \u22128 since visit 2, beyond the "
                             "error of 6"),
        ((70.0, 70.0, 70.0), "same"),
    ],
)  # fmt: skip
def test_a_shoulder_test_has_its_change_beside_its_error(
    values: tuple[float, ...], words: str
) -> None:
    history = History(THREE, tuple(flexion(*values, error=6.0)))
    assert told(history)["Flexion left (deg)"][-1] == words


def test_a_test_without_an_error_says_so() -> None:
    other = [replace(row, side="right") for row in flexion(60.0, 65.0, 70.0)]
    history = History(THREE, (*flexion(62.0, 67.0, 72.0), *other))
    assert [row[-1] for row in told(history).values()] == ["+10, error not known"] * 2
    assert notes(history) == "Shoulder tests: read before the carries."


def test_each_fact_below_the_table_has_its_own_line() -> None:
    rows = [kept(place, 8.0, value) for place, value in ((0, 90.0), (1, 60.0))]
    rows += [kept(place, 4.0, value) for place, value in ((0, 90.0), (1, 91.0))]
    tests = flexion(70.0, 75.0, error=6.0, source=IF_DONE_ALIKE + "a study")
    several = [replace(row, measure=f"test {k}") for k in range(9) for row in tests]
    history = History((FIRST, NOW), (*rows, *several))
    assert of(history).notes == (
        "* By more than the days' own scatter; how much visits differ by chance is not known.",
        "Shoulder tests: read before the carries; the published errors hold if they were done the "
        "same way each time.",
        "3 more rows under Earlier visits.",
    )


def test_a_published_error_holds_for_tests_that_were_done_alike() -> None:
    rows = flexion(70.0, 75.0, 62.0, error=6.0, source=IF_DONE_ALIKE + "a study")
    assert notes(History(THREE, tuple(rows))) == (
        "Shoulder tests: read before the carries; the published errors hold if they were done the "
        "same way each time."
    )
