"""Earlier visits on the page."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from imucarry.basics.records import Notice, SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.earlier import HISTORY_FINDINGS, History, HistoryRow
from imucarry.carry.visits import Visit
from imucarry.report.history import history_notes, history_tables
from imucarry.report.page import render
from imucarry.report.wording import terminal_lines, texts
from imucarry.report.wording.say_visits import history_lines

NAN = float("nan")
ROWS = (
    HistoryRow("yaw_kept", "none", "%", "suitcase", "right", 16.0, "", "1", 52.0, 44.0, 60.0, 1,
               error=11.0, error_source="between visits, 20 participants"),
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
    assert kept.heads[:2] == ("visit 1, 2026-01-10", "visit 2, 2026-02-10")
    first = kept.rows[0].cells
    assert [cell.value for cell in first[:4]] == ["52.0", "70.0", "18.0", "11.0"]
    assert first[0].below == "44.0 to 60.0"
    assert first[4].value == "rose beyond the error"
    assert flexion.caption == "flexion, left (deg)"
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


def rung(heaviest: float, answer: str = "kept_up_to") -> dict[str, str | float]:
    return {"hold": "suitcase", "loaded_side": "right", "implement": "", "threshold_pct": 75.0,
            "heaviest_kept_kg": heaviest, "next_kg": 24.0, "answer": answer}  # fmt: skip


def test_columns_stand_in_the_order_of_the_visits() -> None:
    visits = (Visit("1", ()), Visit("2", ()), Visit("3", ()))
    spread = [replace(row, place=place) for row, place in zip(ROWS[:4], (0, 2, 1, 2), strict=True)]
    (table,) = history_tables(History(visits, tuple(spread)))
    assert table.heads[:3] == ("visit 1", "visit 2", "visit 3")


def test_why_nothing_can_be_told_is_said_once_and_intervals_apart_are_shown() -> None:
    rows = [
        replace(ROWS[0], error=NAN),
        replace(ROWS[1], error=NAN, ci_low=63.0, ci_high=77.0, finding="not_decidable"),
    ]
    history = replace(HISTORY, rows=(*rows, *ROWS[2:4]))
    tables = history_tables(history)
    assert tables[0].rows[0].cells[-1].below == "intervals lie apart"
    assert tables[0].rows[1].cells[-1].below == ""
    assert [table.notes for table in tables] == [()]
    assert len(history_notes(history)) == 1


def test_the_change_since_the_first_visit_stands_on_top_and_in_the_terminal(
    scores: SessionScores,
) -> None:
    (line,) = history_lines(replace(HISTORY, rows=(*ROWS[:2], *ROWS[4:])))
    assert line == (
        "Since visit 1 (2026-01-10): flexion left 150.0 to 149.0 deg (within the error); "
        "of the free walk's swing side right 16 kg 52 to 70 %."
    )
    assert "Since visit 1 (2026-01-10)" in render(scores, Settings(), earlier=HISTORY)
    lines = terminal_lines(scores, HISTORY)
    assert max(map(len, lines)) <= 79
    assert any("Since visit 1 (2026-01-10)" in line for line in lines)


def test_without_a_repeated_carry_the_ladders_answers_stand_side_by_side() -> None:
    first = replace(FIRST, ladder=(rung(16.0),))
    now = replace(NOW, ladder=(rung(NAN, "no_tested_load"),))
    history = History((first, now), ())
    (table,) = history_tables(history)
    cells = [cell.value for cell in table.rows[0].cells]
    assert cells == ["16 kg (next tested 24 kg)", "none of those tested"]
    said = history_lines(history)
    assert "No carry of this visit was repeated" in said[0]
    assert "16 kg (next tested 24 kg) at visit 1 (2026-01-10), none of those tested now" in said[1]
    assert history_notes(history) == (said[0],)


def test_carries_are_told_in_degrees_where_the_free_walks_differ() -> None:
    swung = tuple(replace(row, measure="sternum_yaw_range", unit="deg", value=value)
                  for row, value in zip(ROWS[:2], (5.0, 3.0), strict=True))  # fmt: skip
    history = replace(HISTORY, rows=(*ROWS[:2], *swung),
                      notices=(Notice("free_walk_differs_between_visits", "x"),))  # fmt: skip
    (line,) = history_lines(history)
    assert line.endswith(": the sternum swung side right 16 kg 5.0 to 3.0 deg.")


def test_a_first_visit_beside_a_later_one_looks_ahead() -> None:
    now, later = replace(FIRST, current=True), replace(NOW, current=False)
    (line,) = history_lines(History((now, later), ROWS[:2]))
    assert line.startswith("From this visit to visit 2 (2026-02-10): ")
    assert "52 to 70 %" in line


def test_the_error_of_the_carries_is_told_where_it_is_not_known() -> None:
    rows = (ROWS[0], replace(ROWS[1], finding="not_decidable"))
    (line,) = history_lines(replace(HISTORY, rows=rows))
    assert line.endswith("(error between visits not known).")


def test_an_anonymous_page_names_no_person_in_the_names_of_visits(scores: SessionScores) -> None:
    named = replace(scores, session=replace(scores.session, participant="Zorblax"))
    history = replace(HISTORY, visits=(replace(FIRST, session="zorblax 1"), NOW))
    assert "zorblax 1" in render(named, Settings(), earlier=history)
    page = render(named, Settings(), earlier=history, anonymous=True)
    assert "zorblax" not in page.lower()
