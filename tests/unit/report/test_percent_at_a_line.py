"""A share beside a line shows on which side of it it lies."""

from __future__ import annotations

from dataclasses import replace

import pytest

from imucarry.basics.records import Estimate, SessionScores
from imucarry.report.tabulate import measure_tables
from imucarry.report.wording import say
from imucarry.report.wording.numbers import NONE


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (73.6, "74"),
        (74.6, "<75"),
        (75.4, ">75"),
        (74.992, "<75"),
        (75.0, "75"),
        (75.004, ">75"),
        (40.010, ">40"),
        (39.96, "<40"),
        (float("nan"), NONE),
    ],
)
def test_a_share_is_never_rounded_onto_a_line(value: float, shown: str) -> None:
    assert say.percent(value, (75.0, 40.0)) == shown


@pytest.mark.parametrize(
    ("limits", "shown"), [((75.0, 40.0), "39.96 to 74.99"), ((60.0, 30.0), "40.0 to 75.0")]
)
def test_the_table_of_measures_rounds_no_share_onto_a_line(
    scores: SessionScores, limits: tuple[float, float], shown: str
) -> None:
    bout = scores.bouts[1]
    shares = tuple(
        replace(score, estimate=Estimate(55.0, 39.96, 74.992, 20))
        if score.measure == "yaw_kept" else score
        for score in bout.comparison.scores
    )  # fmt: skip
    comparison = replace(bout.comparison, scores=shares)
    alone = replace(scores, bouts=(replace(bout, comparison=comparison),))
    cells = [
        cell
        for table in measure_tables(alone, limits)
        for row in table.rows
        if row.key == "yaw_kept"
        for cell in row.cells
    ]
    assert [(cell.value, cell.below) for cell in cells] == [("55.0", shown)]
