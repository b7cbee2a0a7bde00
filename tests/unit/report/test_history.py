"""Earlier visits on the page."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from imucarry.basics.records import SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.earlier import (
    HISTORY_FINDINGS,
    IF_DONE_ALIKE,
    History,
    HistoryRow,
    compare_visits,
)
from imucarry.carry.visits import Visit
from imucarry.report.assemble import assemble
from imucarry.report.history import history_notes, history_tables
from imucarry.report.page import render
from imucarry.report.wording import terminal_lines, texts
from imucarry.report.wording.numbers import NONE
from imucarry.report.wording.say_visits import history_lines

NAN = float("nan")
ROWS = (
    HistoryRow("yaw_kept", "none", "%", "suitcase", "right", 16.0, "", "1", 52.0, 44.0, 60.0, 1,
               error=11.0, error_source="between visits, 20 participants", span_low=44.0,
               span_high=60.0),
    HistoryRow("yaw_kept", "none", "%", "suitcase", "right", 16.0, "", "2", 70.0, NAN, NAN, 2,
               18.0, 11.0, "between visits, 20 participants", "increased_more_than_error", 1),
    HistoryRow("yaw_kept", "none", "%", "unknown", "none", NAN, "", "1", 80.0),
    HistoryRow("yaw_kept", "none", "%", "unknown", "none", NAN, "", "2", 81.0, change=1.0,
               finding="not_decidable", place=1),
    HistoryRow("flexion", "left", "deg", "", "", NAN, "", "1", 150.0),
    HistoryRow("flexion", "left", "deg", "", "", NAN, "", "2", 149.0, change=-1.0, error=7.0,
               error_source="x", finding="within_error", place=1),
)  # fmt: skip
FIRST = Visit("1", (), date=dt.date(2026, 1, 10))
NOW = Visit("2", (), date=dt.date(2026, 2, 10), current=True)
HISTORY = History((FIRST, NOW), ROWS)


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


def rung(
    heaviest: float, answer: str = "kept_up_to", following: float = 24.0
) -> dict[str, str | float]:
    return {"hold": "suitcase", "loaded_side": "right", "implement": "", "threshold_pct": 75.0,
            "heaviest_kept_kg": heaviest, "next_kg": following, "answer": answer}  # fmt: skip


def carried(load: float, pain: float, low: float = 80.0, stop: str = "") -> dict[str, str | float]:
    return {"hold": "suitcase", "loaded_side": "right", "implement": "", "load_kg": load,
            "pain_0_10": pain, "yaw_kept_ci_low_pct": low, "stop_reason": stop}  # fmt: skip


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
    assert table.rows[0].cells[-1].below == "intervals lie apart"
    assert table.rows[0].cells[-1].value == "+18.0"
    assert table.rows[1].cells[-1].below == ""
    assert table.notes == ()
    assert len(history_notes(history)) == 1


def test_what_changed_over_weeks_stands_before_the_tests_of_one_visit(
    scores: SessionScores,
) -> None:
    followed = assemble(scores, Settings(), title="", earlier=HISTORY).followed
    assert followed[0].startswith("Compared with visit 1")
    assert "shoulder test" in followed[-1]
    assert "Compared with" not in followed[-1]
    assert any(words.startswith("Shoulder tests from visit to visit, ") for words in followed)
    lines = terminal_lines(scores, HISTORY)
    first = next(k for k, line in enumerate(lines) if "Compared with visit 1" in line)
    assert any("changed within the visit" in line for line in lines[first:])


def test_the_change_since_the_first_visit_stands_on_top_and_in_the_terminal(
    scores: SessionScores,
) -> None:
    head, carries, tests = history_lines(replace(HISTORY, rows=(*ROWS[:2], *ROWS[4:])))
    assert head == "Compared with visit 1 (2026-01-10):"
    assert carries == (
        "Trunk rotation kept at the same load: side right 16 kg, 52 % at visit 1, 70 % now (more)."
    )
    assert tests == (
        "Shoulder tests from visit to visit, no change beyond the error: flexion left."
    )
    top, _ = render(scores, Settings(), earlier=HISTORY).split('id="pictures"', 1)
    assert "Compared with visit 1 (2026-01-10):" in top
    lines = terminal_lines(scores, HISTORY)
    assert max(map(len, lines)) <= 79
    assert any("Compared with visit 1 (2026-01-10):" in line for line in lines)


def test_heaviest_loads_stand_side_by_side_without_a_repeated_carry_too() -> None:
    first = replace(FIRST, ladder=(rung(16.0),))
    now = replace(NOW, ladder=(rung(NAN, "no_tested_load", 8.0),))
    history = History((first, now), ())
    (table,) = history_tables(history)
    cells = [cell.value for cell in table.rows[0].cells]
    assert cells == ["16 kg (next tested 24 kg)", "none for certain"]
    _, none, line = history_lines(history)
    assert "No carry of this visit was repeated" in none
    assert line == (
        "Heaviest load kept, weight at the side, right: 16 kg at visit 1, none for certain now "
        "(not clearly different)."
    )
    assert history_notes(history) == (none,)


def test_the_first_and_the_last_other_visit_are_told_and_the_rest_counted() -> None:
    dates = (dt.date(2026, 1, day) for day in (5, 6, 7, 8))
    loads = (8.0, 24.0, 8.0, 16.0)
    visits = [Visit(str(k), (), date=date, ladder=(rung(load, following=16.0),))
              for k, (date, load) in enumerate(zip(dates, loads, strict=True))]  # fmt: skip
    visits[3] = replace(visits[3], current=True)
    head, _, line = history_lines(History(tuple(visits), (), moved=(1,)))
    assert head == (
        "Compared with visit 0 (2026-01-05) and visit 2 (2026-01-07) (1 between: see the tables):"
    )
    assert line.endswith(": 8 kg at visit 0, 8 kg at visit 2, 16 kg now (not clearly different).")


@pytest.mark.parametrize(
    ("now", "words"),
    [
        (rung(16.0), "8 kg at visit 1, 16 kg now (not clearly different)."),
        (rung(12.0), "8 kg (next tested 16 kg) at visit 1, 12 kg (next tested 24 kg) now."),
        (rung(16.0) | {"threshold_pct": 60.0},
         "8 kg (next tested 16 kg) at visit 1, 16 kg (next tested 24 kg) now."),
    ],
)  # fmt: skip
def test_a_heavier_load_is_more_only_where_it_was_tested_before(
    now: dict[str, str | float], words: str
) -> None:
    first = replace(FIRST, ladder=(rung(8.0, following=16.0),))
    line = history_lines(History((first, replace(NOW, ladder=(now,))), ()))[-1]
    assert line.endswith(f"right: {words}")


def kept(place: int, load: float, value: float, reach: float = 5.0) -> HistoryRow:
    """A carry at the side, right, with its interval."""
    return HistoryRow("yaw_kept", "none", "%", "suitcase", "right", load, "", str(place + 1), value,
                      value - reach, value + reach, 1, place=place,
                      span_low=value - reach, span_high=value + reach)  # fmt: skip


@pytest.mark.parametrize(
    ("carries", "words"),
    [
        ((kept(0, 8.0, 95.0), kept(1, 8.0, 60.0)), "(less)"),
        ((kept(0, 8.0, 95.0), kept(1, 8.0, 88.0)), "(not clearly different)"),
        ((kept(0, 8.0, 60.0), kept(1, 8.0, 95.0)), "(not clearly different)"),
        ((kept(0, 16.0, 95.0), kept(1, 16.0, 60.0)), "(not clearly different)"),
    ],
)
def test_the_heaviest_load_is_less_only_where_that_load_clearly_kept_less(
    carries: tuple[HistoryRow, ...], words: str
) -> None:
    first = replace(FIRST, ladder=(rung(8.0, following=16.0),))
    now = replace(NOW, ladder=(rung(NAN, "no_tested_load", 8.0),))
    line = history_lines(History((first, now), carries))[1]
    assert line.endswith(f"right: 8 kg at visit 1, none for certain now {words}.")


def test_other_visits_that_do_not_agree_on_the_heaviest_load_are_named() -> None:
    visits = [Visit(str(k + 1), (), ladder=(rung(load, following=16.0),))
              for k, load in enumerate((8.0, 16.0, 8.0))]  # fmt: skip
    visits[2] = replace(visits[2], current=True)
    carries = (kept(0, 16.0, 60.0), kept(1, 16.0, 90.0), kept(2, 16.0, 61.0))
    line = history_lines(History(tuple(visits), carries))[1]
    assert line.endswith(
        ": 8 kg at visit 1, 16 kg at visit 2, 8 kg now (the same as at visit 1, less than at "
        "visit 2)."
    )


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
    lines = history_lines(History((first, now), carries))
    (line,) = [line for line in lines if line.startswith("Heaviest")]
    assert line.endswith(f": none that counts ({words}) at visit 1, 8 kg (next tested 16 kg) now.")


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
    history = History((first, now), carries)
    (line,) = [line for line in history_lines(history) if line.startswith("Heaviest")]
    but = "16 kg (but 8 kg: stopped, chest tightness, pain 4 of 10"
    assert but in line
    assert "more" not in line
    (table,) = [t for t in history_tables(history) if "Heaviest" in t.caption]
    assert any(cell.value.startswith(but) for cell in table.rows[0].cells)


def test_a_fall_since_the_last_visit_is_named_though_the_first_was_as_low() -> None:
    loads = (6.0, 8.0, 10.0, 12.0, 16.0, 24.0)
    first = [kept(0, load, 40.0) for load in loads]
    last = [kept(1, load, 80.0) for load in loads]
    now = [kept(2, load, 40.0) for load in loads[:5]] + [kept(2, 24.0, 95.0)]
    visits = (Visit("1", ()), Visit("2", ()), Visit("3", (), current=True))
    rows = tuple(row for of_load in zip(first, last, now, strict=True) for row in of_load)
    (line,) = history_lines(History(visits, rows))[1:]
    assert line.startswith(
        "Trunk rotation kept at the same load: side right 6 kg, 80 % at visit 2, 40 % now (less); "
        "side right 8 kg, "
    )
    assert line.endswith(
        "; side right 16 kg, 80 % at visit 2, 40 % now (less); 1 more under Earlier visits. How "
        "much visits differ by chance is not known."
    )


def test_holds_whose_heaviest_load_stayed_the_same_share_a_line() -> None:
    rack = {"hold": "rack"}
    first = replace(FIRST, ladder=(rung(8.0), rung(6.0) | rack))
    now = replace(NOW, ladder=(rung(8.0, following=12.0), rung(6.0) | rack))
    assert history_lines(History((first, now), ()))[2:] == [
        "Heaviest load kept, the same each time: weight at the side, right 8 kg; rack, right 6 kg."
    ]


def test_a_ladder_that_pain_left_without_an_answer_is_told_beside_one_that_has_it() -> None:
    first = replace(FIRST, ladder=(rung(NAN, "one_load_only", NAN),), bouts=(carried(8.0, 1.0),))
    now = replace(NOW, ladder=(rung(8.0),))
    line = history_lines(History((first, now), ()))[-1]
    assert line.endswith("no answer (8 kg: pain 1 of 10) at visit 1, 8 kg (next tested 24 kg) now.")
    silent = History((first, replace(first, current=True)), ())
    assert not any("Heaviest" in line for line in history_lines(silent))
    assert [table.caption for table in history_tables(silent)] == [
        "Pain (0 to 10), the most at each load"
    ]


def test_a_load_that_was_the_heaviest_tested_may_not_have_been_the_limit() -> None:
    first = replace(FIRST, ladder=(rung(8.0, "not_yet_reached", NAN),))
    line = history_lines(History((first, replace(NOW, ladder=(rung(16.0),))), ()))[-1]
    assert line.endswith(
        "right: 8 kg (the heaviest tested) at visit 1, 16 kg (next tested 24 kg) now."
    )


def test_pain_at_the_same_load_is_followed_and_stands_where_it_kept_a_load_from_counting() -> None:
    first = replace(
        FIRST,
        ladder=(rung(NAN, "no_tested_load", 8.0),),
        bouts=(carried(8.0, 5.0), carried(8.0, 2.0), carried(16.0, 0.0, 40.0)),
    )
    now = replace(NOW, ladder=(rung(8.0, following=16.0),),
                  bouts=(carried(8.0, 0.0), carried(16.0, NAN, 40.0)))  # fmt: skip
    history = History((first, now), ())
    table, pains = history_tables(history)
    assert [cell.value for cell in pains.rows[0].cells] == ["5", "0"]
    assert [row.head for row in pains.rows] == ["weight at the side, right, 8\u00a0kg"]
    assert [cell.value for cell in table.rows[0].cells] == [
        "none without pain (8 kg: pain 5 of 10)", "8 kg (next tested 16 kg)",
    ]  # fmt: skip
    lines = history_lines(history)
    assert lines[2:] == [
        "Pain, weight at the side, right, 8 kg: 5 of 10 at visit 1, 0 of 10 now (less).",
        "Heaviest load kept, weight at the side, right: none without pain (8 kg: pain 5 of 10) "
        "at visit 1, 8 kg (next tested 16 kg) now.",
    ]


def test_pain_that_came_is_told_the_worst_first_with_what_was_not_noted() -> None:
    first = replace(FIRST, bouts=(carried(8.0, 0.0), carried(16.0, NAN), carried(24.0, 0.0)))
    between = Visit("1b", (carried(8.0, 7.0),), date=dt.date(2026, 1, 20))
    last = Visit("1c", (), date=dt.date(2026, 1, 30))
    now = replace(NOW, bouts=(carried(8.0, 1.0), carried(16.0, NAN, stop="pain"),
                              carried(24.0, 0.0), carried(32.0, 9.0)))  # fmt: skip
    history = History((first, between, last, now), ())
    (pains,) = history_tables(history)
    cells = [(cell.value, cell.below) for cell in pains.rows[0].cells]
    assert cells == [("–", ""), ("", ""), ("", ""), ("–", "stopped for pain")]  # noqa: RUF001
    assert history_lines(history)[2:] == [
        "Pain, weight at the side, right, 16 kg: not noted at visit 1, not noted (stopped for "
        "pain) now.",
        "Pain, weight at the side, right, 8 kg: 0 of 10 at visit 1, 7 of 10 at visit 1b, "
        "1 of 10 now (more).",
    ]


def test_a_load_that_hurt_and_did_not_keep_is_none_for_certain_with_its_pain() -> None:
    first = replace(FIRST, ladder=(rung(NAN, "no_tested_load", 8.0),),
                    bouts=(carried(8.0, 5.0, 60.0),))  # fmt: skip
    now = replace(NOW, ladder=(rung(NAN, "pain_or_early_stop", NAN),),
                  bouts=(carried(8.0, 3.0, 60.0),))  # fmt: skip
    table, _ = history_tables(History((first, now), ()))
    assert [cell.value for cell in table.rows[0].cells] == [
        "none for certain (8 kg: pain 5 of 10)",
        "none without pain or an early stop (8 kg: pain 3 of 10)",
    ]


def test_where_the_free_walks_differ_degrees_are_told_and_no_heaviest_load() -> None:
    swung = tuple(replace(row, measure="sternum_yaw_range", unit="deg", value=value, error=NAN,
                          span_low=value - 0.5, span_high=value + 0.5)
                  for row, value in zip(ROWS[:2], (5.0, 3.0), strict=True))  # fmt: skip
    history = History((replace(FIRST, ladder=(rung(8.0, following=16.0),)),
                       replace(NOW, ladder=(rung(16.0),))), (*ROWS[:2], *swung),
                      moved=(1,))  # fmt: skip
    _, moved, line = history_lines(history)
    assert moved == "The free walk itself changed, so the heaviest loads kept are not compared."
    assert line == (
        "Trunk rotation at the same load: side right 16 kg, 5.0 deg at visit 1, 3.0 deg now "
        "(less). How much visits differ by chance is not known."
    )


def test_a_first_visit_beside_a_later_one_looks_ahead() -> None:
    now, later = replace(FIRST, current=True), replace(NOW, current=False)
    head, line = history_lines(History((now, later), ROWS[:2]))
    assert head == "Compared with visit 2 (2026-02-10):"
    assert line.endswith(": side right 16 kg, 52 % now, 70 % at visit 2 (more).")


def test_the_error_of_the_carries_is_told_where_it_is_not_known() -> None:
    rows = (replace(ROWS[0], error=NAN), replace(ROWS[1], error=NAN, finding="not_decidable"))
    _, line = history_lines(replace(HISTORY, rows=rows))
    assert line == (
        "Trunk rotation kept at the same load: not clearly different. How much visits differ by "
        "chance is not known."
    )


def test_carries_that_are_not_clearly_different_are_counted() -> None:
    far = [replace(ROWS[0], error=NAN), replace(ROWS[1], error=NAN, span_low=63.0, span_high=77.0)]
    near = [replace(row, load_kg=8.0) for row in (far[0], far[1])]
    near[1] = replace(near[1], span_low=55.0)
    _, line = history_lines(replace(HISTORY, rows=(*near, *far)))
    assert (
        ": side right 16 kg, 52 % at visit 1, 70 % now (more); 1 other not clearly different."
        in line
    )


def test_where_no_carry_clearly_differs_that_alone_is_said() -> None:
    carries = (kept(0, 8.0, 95.0), kept(1, 8.0, 88.0), kept(0, 16.0, 56.0), kept(1, 16.0, 64.0))
    rows = tuple(replace(row, error=20.0) for row in carries)
    assert history_lines(replace(HISTORY, rows=rows))[1:] == [
        "Trunk rotation kept at the same load: none clearly different."
    ]


def test_free_arms_are_followed_in_short_and_held_ones_are_not() -> None:
    shares = [(55.0, 107.0), (80.0, 84.0)]
    free = [
        replace(kept(place, load, share[place]), measure="arm_swing_kept", side="left")
        for load, share in zip((16.0, 8.0), shares, strict=True)
        for place in (0, 1)
    ]
    held = [replace(row, side="right", value=10.0 + 50.0 * row.place) for row in free]
    no_side = [replace(row, hold="unknown", loaded_side="none", load_kg=NAN) for row in free[:2]]
    rows = (kept(0, 8.0, 95.0), kept(1, 8.0, 60.0), *free, *held, *no_side)
    assert history_lines(replace(HISTORY, rows=rows))[2:] == [
        "Free arm's swing kept at the same load: side right 16 kg, 55 % at visit 1, 107 % now "
        "(more); hold not given left arm, 55 % at visit 1, 107 % now (more); 1 other not clearly "
        "different. How much visits differ by chance is not known."
    ]
    near = tuple(replace(row, value=80.0, span_low=60.0, span_high=90.0) for row in free)
    beside = history_lines(replace(HISTORY, rows=(*rows[:2], *near)))[2]
    assert beside.startswith("Free arm's swing kept at the same load: none clearly different.")


def test_an_arm_without_a_fair_free_walk_at_a_visit_is_in_doubt_and_neither_more_nor_less() -> None:
    arm = [replace(kept(place, load, value), measure="arm_swing_kept", side="left",
                   in_doubt=load == 24.0 and place == 0, finding=finding)
           for load in (16.0, 24.0)
           for place, value, finding in ((0, 30.0, "first"), (1, 69.0, "not_decidable"))
           ]  # fmt: skip
    arm[1] = replace(arm[1], change=39.0)
    arm[3] = replace(arm[3], change=39.0, finding="in_doubt")
    (line,) = history_lines(replace(HISTORY, rows=tuple(arm)))[1:]
    assert line.startswith(
        "Free arm's swing kept at the same load: side right 16 kg, 30 % at visit 1, 69 % now "
        "(more); side right 24 kg not compared between visits (no free walk of like pace). "
        "How much"
    )
    (table,) = history_tables(replace(HISTORY, rows=tuple(arm)))
    cells = [[cell.below for cell in row.cells] for row in table.rows]
    assert cells == [
        ["25.0 to 35.0", "64.0 to 74.0", "intervals lie apart"],
        ["25.0 to 35.0, not compared", "64.0 to 74.0", "not compared"],
    ]
    assert [row.cells[-1].value for row in table.rows] == ["+39.0", NONE]


def test_where_the_free_walks_differ_the_arms_are_told_in_degrees_too() -> None:
    swung = [replace(kept(place, 16.0, value), measure="arm_swing", side="left", unit="deg")
             for place, value in ((0, 12.0), (1, 30.0))]  # fmt: skip
    shares = [replace(row, measure="arm_swing_kept", unit="%") for row in swung]
    (line,) = history_lines(replace(HISTORY, rows=(*swung, *shares), moved=(1,)))[1:]
    assert line.startswith(
        "Free arm's swing at the same load: side right 16 kg, 12.0 deg at visit 1, 30.0 deg now "
        "(more)."
    )


def test_a_test_that_changed_since_one_visit_alone_says_which() -> None:
    rows = [replace(ROWS[4], session=str(k), value=value, error=6.0, place=k)
            for k, value in enumerate((70.0, 80.0, 82.0))]  # fmt: skip
    visits = (Visit("1", ()), Visit("2", ()), Visit("3", (), current=True))
    assert history_lines(History(visits, tuple(rows)))[2] == (
        "Flexion left 82.0 deg now: rose by 12.0 deg since visit 1, beyond the error of 6.0; rose "
        "by 2.0 deg since visit 2, within the error of 6.0."
    )


def test_shoulder_tests_rise_and_fall_against_the_first_and_the_last_visit() -> None:
    done = {"error": 6.0, "error_source": IF_DONE_ALIKE + "a study"}
    one = replace(ROWS[4], measure="external_rotation", **done)
    values = (70.0, 75.0, 62.0)
    rows = [replace(one, session=str(k), value=value, place=k) for k, value in enumerate(values)]
    bare = [replace(ROWS[k], error=NAN, place=2 * (k - 4)) for k in (4, 5)]
    visits = (Visit("1", ()), Visit("2", ()), Visit("3", (), current=True))
    assert history_lines(History(visits, (*bare, *rows)))[2:] == [
        "External rotation left 62.0 deg now: fell by 8.0 deg since visit 1 and by 13.0 deg "
        "since visit 2, beyond the error of 6.0.",
        "Flexion left 149.0 deg now: fell by 1.0 deg since visit 1, error between visits not "
        "known. Tests before the carries are compared; the published errors hold if they were "
        "done the same way each time.",
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
    assert (cell.value, cell.below) == ("-38.0", "intervals lie apart")
    known = [replace(row, error=11.0, finding="within_error") for row in rows]
    (table,) = history_tables(History(visits, tuple(known)))
    assert len(table.heads) == len(table.rows[0].cells) == 7
    assert table.rows[0].cells[-1].below == "fell beyond the error"
    (two,) = history_tables(History(visits[:2], tuple(rows[:2])))
    assert two.heads[2:] == ("change since the first",)


@pytest.mark.parametrize(("now", "words"), [((60.0, 64.0), "(less)"), ((60.0, 74.0), "(not clear")])
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
    line = next(line for line in history_lines(history) if line.startswith("Heaviest"))
    assert f"8 kg at visit 1, none for certain now {words}" in line


def test_a_carry_that_changed_both_ways_says_at_which_visit() -> None:
    visits = (Visit("1", ()), Visit("2", (), current=True), Visit("3", ()))
    rows = tuple(kept(place, 8.0, value) for place, value in enumerate((90.0, 60.0, 95.0)))
    assert history_lines(History(visits, rows))[1].startswith(
        "Trunk rotation kept at the same load: side right 8 kg, 90 % at visit 1, 60 % now, 95 % at "
        "visit 3 (less than at visit 1, more at visit 3)."
    )
