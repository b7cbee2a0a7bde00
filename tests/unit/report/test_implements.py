"""The implement stands in every label of a hold and side that was carried with several."""

from __future__ import annotations

from dataclasses import replace

from drawn import rotation_charts, swing_charts
from scores_builder import build_scores

from imucarry.basics.records import AimReading, SessionScores
from imucarry.basics.settings import Settings
from imucarry.report import pictures
from imucarry.report.assemble import assemble
from imucarry.report.figures.sketch import sketch_words
from imucarry.report.wording import say
from imucarry.report.wording.implements import several_implements
from imucarry.report.wording.terminal_table import COLUMNS, bout_lines


def carried_with(scores: SessionScores, implements: dict[int, str]) -> SessionScores:
    """The visit with the implements of some bouts, by place; each bout called by its number."""
    bouts = []
    for place, bout in enumerate(scores.bouts):
        implement = implements.get(place, bout.data.row.implement)
        row = replace(bout.data.row, bout=str(place + 1), implement=implement)
        bouts.append(replace(bout, data=replace(bout.data, row=row)))
    return replace(scores, bouts=tuple(bouts))


def labels(scores: SessionScores, place: int) -> list[str]:
    """Every label of one bout: row, pictures, their tables, table heads, sketch, terminal."""
    view = assemble(scores, Settings(), title="", earlier=None)
    (rotation,) = rotation_charts(scores)
    table = pictures.rows_table(scores, scores.bouts, "arm_swing", ("left",), "")
    return [
        view.bouts[place].finding.hold,
        rotation.panels[0].row_labels[place][1],
        *(panel.row_labels[place][1] for chart in swing_charts(scores) for panel in chart.panels),
        table.rows[place].head,
        view.tables[0].below[place],
        sketch_words(scores, scores.bouts[place]),
        bout_lines(scores.bouts)[place + 1],
    ]


def test_two_implements_of_a_hold_and_side_are_told_apart_in_every_label() -> None:
    told = carried_with(build_scores(), {2: "sandbag"})
    assert all("sandbag" in label for label in labels(told, 2))
    for place in (1, 3):
        assert all("kettlebell" in label for label in labels(told, place))
    assert labels(told, 2)[0] == "weight at the side, right, 16\u00a0kg, sandbag"
    assert labels(told, 2)[-3:-1] == [
        "side right 16 sandbag",
        "bout 3, side right, sandbag: 7.0 deg.",
    ]


def test_the_implement_stands_in_no_label_of_a_hold_and_side_that_had_but_one() -> None:
    told = carried_with(build_scores(), {2: "sandbag", 1: "Kettle bell", 5: "KettleBell"})
    for place in (0, 4, 5, 6, 7):
        assert not [words for words in labels(told, place) if "bell" in words.casefold()]


def test_implements_that_make_the_terminals_lines_too_long_are_told_below() -> None:
    long = "competition kettlebell of a gym"
    lines = bout_lines(carried_with(build_scores(), {1: long, 2: "sandbag", 3: long}).bouts)
    assert max(map(len, lines)) <= COLUMNS
    assert f"  {long}: 2, 4; sandbag: 3" in lines
    assert not any("sandbag" in line for line in lines[:9])


def test_the_lighter_load_that_kept_the_turn_is_named_with_its_implement() -> None:
    told = carried_with(build_scores(), {2: "sandbag"})
    heavy = replace(told.bouts[3], aim_reading=AimReading("mobility_reduced_lighter_kept", 8.0))
    several = several_implements(told.bouts)
    assert "8 kg (kettlebell) in this hold kept it" in say.aim_reading(heavy, several)
    assert "8 kg in this hold kept it" in say.aim_reading(heavy)
