"""A share beside a line shows on which side of it it lies."""

from __future__ import annotations

from dataclasses import replace

import pytest

from imucarry.basics.records import Estimate, Score, SessionScores
from imucarry.report.ladder_table import ladder_answers
from imucarry.report.tabulate import measure_tables
from imucarry.report.wording import say, say_arms
from imucarry.report.wording.numbers import NONE
from imucarry.report.wording.say_arm_card import arm_cell
from imucarry.report.wording.say_ladder import ladder, lines_of
from imucarry.report.wording.terminal_cells import of_sternum
from imucarry.report.wording.terminal_table import bout_lines


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


@pytest.mark.parametrize(
    ("value", "said"),
    [(74.6, "just under 75"), (75.004, "just over 75"), (75.0, "75"), (60.2, "60")],
)
def test_a_sentence_says_it_in_words(value: float, said: str) -> None:
    assert say.percent_said(value, (75.0, 40.0)) == said


def test_the_sentence_has_words_and_the_table_signs(scores: SessionScores) -> None:
    found = replace(
        scores.ladder[0], answer="one_load_only", loads_kg=(8.0,), kept_pct=(74.96,),
        ci_low_pct=(62.0,), ci_high_pct=(90.0,), fit_pct=(), fit_low_pct=(), fit_high_pct=(),
        stopped=(), heaviest_kept_kg=float("nan"),
    )  # fmt: skip
    assert "kept just under 75 % of the free walk's trunk rotation (62 to 90)" in ladder(found)
    table = ladder_answers(replace(scores, ladder=(found, found)))
    assert table is not None
    assert "<75 % (62 to 90)" in table.rows[0].cells[0].value


def test_an_arm_beside_the_line_is_shown_so_in_the_ladder_and_in_the_terminal(
    scores: SessionScores,
) -> None:
    bout = next(b for b in scores.bouts if b.data.row.load_kg == 8.0)
    name = bout.data.row.bout
    arm = Score(name, "arm_swing_kept", "left", "free", "%", Estimate(74.8, 62.0, 90.0, 20))
    others = [s for s in bout.comparison.scores if not s.measure.startswith("arm_swing_kept")]
    told = replace(bout, comparison=replace(bout.comparison, scores=(*others, arm)))
    visit = replace(scores, bouts=tuple(told if b is bout else b for b in scores.bouts))
    assert "8 kg (just under 75 %)" in " ".join(lines_of(visit))
    assert "8 kg (<75 %)" in arm_cell(visit, visit.ladder[0])
    (line,) = [line for line in bout_lines(visit.bouts) if line.startswith(f"  {name} ")]
    assert "L <75" in line
    assert "just under 75 % of its free swing" in say_arms.arms(told)


@pytest.mark.parametrize(
    ("kept", "cell"),
    [
        (Estimate(64.0, 54.0, 75.2, 20), "64 (54 to >75)"),
        (Estimate(88.0, 75.3, 104.0, 20), "88 (>75 to 104)"),
        (Estimate(92.0, 81.0, 103.0, 20), "92 (81-103)"),
    ],
)
def test_a_limit_beside_the_line_is_no_arrow_in_the_terminal(
    scores: SessionScores, kept: Estimate, cell: str
) -> None:
    bout = next(b for b in scores.bouts if b.data.row.load_kg == 8.0)
    others = [s for s in bout.comparison.scores if s.measure != "yaw_kept"]
    share = Score(bout.data.row.bout, "yaw_kept", "none", "none", "%", kept)
    told = replace(bout, comparison=replace(bout.comparison, scores=(*others, share)))
    assert of_sternum(told, (), frozenset(), "", short=False)[-1] == cell
