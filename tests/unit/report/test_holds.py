"""One hold has one name: on cards and ladders, over weeks and in sketches."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest
from visits_builder import FIRST, NOW, carried, kept, rung

from imucarry.basics.records import BoutRow, SessionScores
from imucarry.carry.earlier import History
from imucarry.carry.visits import Condition, condition_of
from imucarry.report.figures import sketch
from imucarry.report.history import history_tables
from imucarry.report.wording import say
from imucarry.report.wording.holds import hold_named
from imucarry.report.wording.say_visits import history_table
from imucarry.report.wording.visit_names import carry_in_full, carry_name
from imucarry.tables.build import visits

MIXED = {"hold": "mixed", "loaded_side": "both", "left_hold": "rack", "right_hold": "suitcase"}
NAMED = "rack left, side right"


@pytest.mark.parametrize(
    ("fields", "long", "short"),
    [
        (MIXED, NAMED, NAMED),
        ({"hold": "mixed", "loaded_side": "both"}, "two different holds, both sides",
         "two holds both"),
        ({**MIXED, "left_hold": "free", "loaded_side": "right"}, "side right", "side right"),
        ({"hold": "suitcase", "loaded_side": "left"}, "weight at the side, left", "side left"),
        ({"hold": "farmer", "loaded_side": "both"}, "weights at both sides", "sides"),
        ({"hold": "rack", "loaded_side": "both"}, "rack, both sides", "rack both"),
        ({"hold": "free", "loaded_side": "none"}, "free walk", "free walk"),
    ],
)  # fmt: skip
def test_a_hold_is_named_with_its_side_or_by_hands(
    fields: dict[str, str], long: str, short: str
) -> None:
    held = SimpleNamespace(**{"left_hold": "", "right_hold": "", **fields})
    assert hold_named(held) == long
    assert hold_named(held, short=True) == short


def test_over_weeks_a_carry_of_two_holds_is_named_as_on_its_card() -> None:
    ladder = ({**rung(16.0), **MIXED},)
    bouts = ({**carried(16.0, 5.0), **MIXED},)
    rows = tuple(replace(kept(place, 16.0, 80.0), **MIXED) for place in (0, 1))  # type: ignore[arg-type]
    told = (replace(FIRST, ladder=ladder, bouts=bouts), replace(NOW, ladder=ladder, bouts=bouts))
    history = History(told, rows)
    heads = [row.head for table in history_tables(history) for row in table.rows]
    assert heads == [NAMED, f"{NAMED}, 16\u00a0kg", f"{NAMED}, 16\u00a0kg"]
    short = history_table(history)
    assert short is not None
    assert all("rack left, side right" in row.head.lower() for row in short.rows)
    assert "suitcase" not in "".join(row.head for row in short.rows)
    card = say.hold_and_load(BoutRow("b", 0.0, 1.0, load_kg=16.0, **MIXED))  # type: ignore[arg-type]
    assert card == heads[1]


def test_two_mixed_carries_that_differ_are_two_rows_over_weeks() -> None:
    other = {**MIXED, "left_hold": "suitcase", "right_hold": "rack"}
    rows = tuple(
        replace(kept(place, 16.0, 80.0), **hands)  # type: ignore[arg-type]
        for hands in (MIXED, other)
        for place in (0, 1)
    )
    (table,) = history_tables(History((FIRST, NOW), rows))
    assert [row.head for row in table.rows] == [
        f"{NAMED}, 16\u00a0kg",
        "side left, rack right, 16\u00a0kg",
    ]


def test_names_over_weeks_end_with_load_and_implement() -> None:
    held = condition_of({**MIXED, "implement": "kettlebell"})
    assert carry_in_full(held, 24.0) == f"{NAMED}, 24\u00a0kg, kettlebell"
    assert carry_name(held, 24.0, implement=True) == "Rack left, side right, 24\u00a0kg kettlebell"
    rack = Condition("rack", "right", "kettlebell", "", "")
    assert carry_name(rack, 6.0, implement=False) == "Rack right 6\u00a0kg"


def test_the_sketch_names_both_hands(scores: SessionScores) -> None:
    bout = scores.bouts[-1]
    row = replace(bout.data.row, **MIXED)
    said = sketch.sketch_words(scores, replace(bout, data=replace(bout.data, row=row)))
    assert NAMED in said


def test_the_table_of_visits_keeps_the_codes_of_both_hands(scores: SessionScores) -> None:
    rows = (replace(kept(0, 16.0, 80.0), **MIXED), kept(1, 16.0, 80.0))  # type: ignore[arg-type]
    assert visits(scores, History((FIRST, NOW), rows))["hold"] == [
        "mixed (rack, suitcase)",
        "suitcase",
    ]
