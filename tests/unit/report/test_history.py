"""Earlier visits on the page."""

from __future__ import annotations

from dataclasses import replace

from imucarry.basics.records import SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.earlier import HISTORY_FINDINGS, HistoryRow
from imucarry.report.history import history_tables
from imucarry.report.page import render
from imucarry.report.wording import texts

NAN = float("nan")
ROWS = (
    HistoryRow("yaw_kept", "none", "%", "suitcase", "right", 16.0, "", "1", 52.0, 44.0, 60.0, 1,
               error=11.0, error_source="between visits, 20 participants"),
    HistoryRow("yaw_kept", "none", "%", "suitcase", "right", 16.0, "", "2", 70.0, NAN, NAN, 2,
               18.0, 11.0, "between visits, 20 participants", "increased_more_than_error"),
    HistoryRow("yaw_kept", "none", "%", "unknown", "none", NAN, "", "1", 80.0),
    HistoryRow("yaw_kept", "none", "%", "unknown", "none", NAN, "", "2", 81.0, change=1.0,
               finding="not_decidable"),
    HistoryRow("flexion", "left", "deg", "", "", NAN, "", "1", 150.0),
    HistoryRow("flexion", "left", "deg", "", "", NAN, "", "2", 149.0, change=-1.0, error=7.0,
               error_source="x", finding="within_error"),
)  # fmt: skip


def test_one_table_a_measure_one_row_a_condition_one_column_a_visit() -> None:
    kept, flexion = history_tables(ROWS)
    assert [row.head for row in kept.rows] == [
        "weight at the side, right, 16\u00a0kg",
        "hold not given",
    ]
    assert kept.heads[:2] == ("visit 1", "visit 2")
    first = kept.rows[0].cells
    assert [cell.value for cell in first[:4]] == ["52.0", "70.0", "18.0", "11.0"]
    assert first[0].below == "44.0 to 60.0"
    assert first[4].value == "rose beyond the error"
    assert flexion.caption == "flexion, left (deg)"
    assert flexion.rows[0].cells[-1].value == "within the error"


def test_two_visits_of_one_name_are_both_shown() -> None:
    (table,) = history_tables([replace(row, session="1") for row in ROWS[:2]])
    assert table.heads[:2] == ("visit 1", "visit 1 (2)")
    assert [cell.value for cell in table.rows[0].cells[:2]] == ["52.0", "70.0"]


def test_every_finding_has_words() -> None:
    assert set(HISTORY_FINDINGS) == set(texts.HISTORY_FINDINGS)


def test_the_page_has_the_part_only_with_earlier_visits(scores: SessionScores) -> None:
    assert 'id="earlier"' in render(scores, Settings(), earlier=ROWS)
    assert 'id="earlier"' not in render(scores, Settings())
