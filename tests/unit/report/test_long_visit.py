"""A long visit: many holds, many bouts."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from scores_builder import VISIT, build_scores

from imucarry.basics.records import Estimate, Notice, Score, SessionScores, StoppedLoad
from imucarry.basics.settings import Settings
from imucarry.report.assemble import assemble
from imucarry.report.ladder_table import ladder_answers
from imucarry.report.tabulate import MOST_COLUMNS, measure_tables
from imucarry.report.wording import say_ladder

RISE = Notice("load_and_order_rise_together", "load and order rise together")


def test_one_ladder_is_answered_in_a_sentence_two_in_a_table(scores: SessionScores) -> None:
    assert ladder_answers(replace(scores, ladder=scores.ladder[:1])) is None
    table = ladder_answers(replace(scores, ladder=scores.ladder[:2]))
    assert table is not None
    assert len(table.rows) == 2


def test_ladders_are_told_in_the_order_in_which_they_were_carried(scores: SessionScores) -> None:
    side, rack = scores.ladder[:2]
    assert (side.hold, rack.hold) == ("suitcase", "rack")
    sorted_by_hold = replace(scores, ladder=(rack, side))
    table = ladder_answers(sorted_by_hold)
    assert table is not None
    assert [row.head for row in table.rows] == ["Weight at the side, right", "Rack, left"]
    assert table.rows[0].cells[0].value == "8 kg"
    lines = say_ladder.lines_of(sorted_by_hold)
    assert lines[0].startswith("Weight at the side, right: ")
    assert say_ladder.answers_of(sorted_by_hold)[0] == "up to 8 kg"


def test_an_implement_is_named_where_the_ladders_have_several(scores: SessionScores) -> None:
    side, rack = scores.ladder[:2]
    assert side.implement == rack.implement == "kettlebell"
    table = ladder_answers(replace(scores, ladder=(side, replace(rack, implement="sandbag"))))
    assert table is not None
    assert [row.head for row in table.rows] == [
        "Weight at the side, right, kettlebell", "Rack, left, sandbag",
    ]  # fmt: skip


NONE: dict[str, Any] = {
    "answer": "no_tested_load",
    "heaviest_kept_kg": float("nan"),
    "next_kg": 8.0,
}


def first_row(scores: SessionScores, **changed: Any) -> tuple[str, str, str]:
    """Kept, next and not counted of a ladder at 8, 16, 24 kg."""
    rung = replace(scores.ladder[0], **changed)
    table = ladder_answers(replace(scores, ladder=(rung,) * 2))
    assert table is not None
    cells = dict(zip(table.heads, (cell.value for cell in table.rows[0].cells), strict=True))
    heads = "kept up to", "next load tested", "not counted"
    kept, following, out = (cells.get(head, "") for head in heads)
    return kept, following, out


def test_loads_that_were_tested_are_never_said_not_to_have_been(scores: SessionScores) -> None:
    unsure: dict[str, Any] = {"kept_pct": (85.0, 78.0, 38.0), "ci_low_pct": (71.0, 64.0, 31.0),
              "ci_high_pct": (102.0, 90.0, 46.0)}  # fmt: skip
    assert first_row(scores, **NONE, **unsure) == (
        "none for certain", "8 and 16 kg: not certain (85 and 78 %); 24 kg: kept less", "",
    )  # fmt: skip
    said = say_ladder.ladder(replace(scores.ladder[0], **NONE, **unsure))
    assert "75 % of the free walk's trunk rotation. At 24 kg less was kept." in said


def test_where_every_load_kept_less_the_lightest_is_named(scores: SessionScores) -> None:
    less: dict[str, Any] = {"kept_pct": (50.0, 45.0, 38.0), "ci_low_pct": (42.0, 38.0, 31.0),
            "ci_high_pct": (60.0, 55.0, 46.0)}  # fmt: skip
    kept = first_row(scores, **NONE, **less)
    assert kept == ("none: even 8 kg, the lightest tested, kept less", "", "")
    nan = float("nan")
    hurt = {name: (nan, *values[1:]) for name, values in less.items()}
    stopped = (StoppedLoad(8.0, nan, "", ("dizzy",)),)
    assert first_row(scores, **NONE, **hurt, stopped=stopped) == (
        "none: even 16 kg, the lightest that counts, kept less", "", "8 kg (noted: dizzy)",
    )  # fmt: skip


def test_loads_with_too_few_strides_are_told_apart_from_those_that_were_stopped(
    scores: SessionScores,
) -> None:
    nan = (float("nan"),) * 3
    few: dict[str, Any] = {
        "answer": "too_few_strides", "heaviest_kept_kg": nan[0], "next_kg": nan[0],
        "kept_pct": nan, "ci_low_pct": nan, "ci_high_pct": nan, "too_few_kg": (8.0, 24.0),
        "stopped": (StoppedLoad(16.0, nan[0], "shoulder slipped"),),
    }  # fmt: skip
    assert first_row(scores, **few) == (
        "no answer", "",
        "8 kg (too few strides), 16 kg (stopped: shoulder slipped), 24 kg (too few strides)",
    )  # fmt: skip
    rung = replace(scores.ladder[0], **few, implement="")
    assert say_ladder.ladder(rung) == (
        "Weight at the side, right: no answer. Too few strides count at 8 and 24 kg. "
        "Not counted: 16 kg (stopped: shoulder slipped)."
    )


def test_a_load_that_was_measured_is_not_called_not_measured(scores: SessionScores) -> None:
    nan = float("nan")
    gaps: dict[str, Any] = {
        name: (getattr(scores.ladder[0], name)[0], nan, nan)
        for name in ("kept_pct", "ci_low_pct", "ci_high_pct")
    } | {"not_compared_kg": (16.0,), "too_few_kg": (24.0,)}
    one = {"answer": "one_load_only", "heaviest_kept_kg": nan, "next_kg": nan, **gaps}
    assert first_row(scores, **one)[2] == (
        "16 kg (the free walk turned or repeated too little), 24 kg (too few strides)"
    )
    up_to = {"answer": "kept_up_to", "heaviest_kept_kg": 8.0, "next_kg": 16.0, **gaps}
    assert first_row(scores, **up_to)[1] == "16 kg: no answer"
    said = say_ladder.ladder(replace(scores.ladder[0], **up_to))
    assert (
        " At 16 kg, the next load tested, there is no answer: the free walk itself turned" in said
    )
    few = replace(scores.ladder[0], **up_to | {"not_compared_kg": (), "too_few_kg": (16.0,)})
    assert " At 16 kg, the next load tested, too few strides count. Not measured: 24 kg." in (
        say_ladder.ladder(few)
    )


def test_loads_are_not_listed_once_more_where_the_free_walk_answers_none(
    scores: SessionScores,
) -> None:
    nan = float("nan")
    none: dict[str, Any] = {
        "answer": "baseline_small", "heaviest_kept_kg": nan, "next_kg": nan,
        **dict.fromkeys(("kept_pct", "ci_low_pct", "ci_high_pct"), (nan,) * 3),
        "not_compared_kg": (8.0, 16.0, 24.0),
    }  # fmt: skip
    assert first_row(scores, **none) == (
        "no answer: the free walk itself turned or repeated too little",
        "",
        "",
    )


def test_four_ladders_are_answered_in_a_table_with_the_doubts_once(scores: SessionScores) -> None:
    rung = replace(
        scores.ladder[0], answer="kept_up_to", heaviest_kept_kg=8.0, next_kg=16.0, notices=(RISE,)
    )
    left = replace(rung, loaded_side="left", stopped=(StoppedLoad(24.0, 6.0, ""),))
    alone = replace(rung, hold="rack", answer="one_load_only", loads_kg=(6.0,), kept_pct=(90.0,),
                    ci_low_pct=(80.0,), ci_high_pct=(99.0,))  # fmt: skip
    reached = replace(rung, hold="overhead", answer="not_yet_reached", heaviest_kept_kg=10.0,
                      notices=())  # fmt: skip
    table = ladder_answers(replace(scores, ladder=(rung, left, alone, reached)))
    assert table is not None
    cells = [[cell.value for cell in row.cells] for row in table.rows]
    assert table.heads[2] == "free arm"
    assert [row.pop(2) for row in cells] == [
        "kept swinging at 8 kg (92 %); not clear whether it kept swinging at 16 kg (77 %); "
        "swung less at 24 kg (46 %)",
        "", "", "",
    ]  # fmt: skip
    assert cells[0] == ["8 kg", "16 kg: probably less, not certain (70 %)", ""]
    assert cells[1] == ["8 kg", "16 kg: probably less, not certain (70 %)", "24 kg (pain 6 of 10)"]
    assert cells[2] == ["6 kg, the only one tested: 90 % (80 to 99)", "", ""]
    assert cells[3] == ["10 kg, the heaviest tested", "", ""]
    doubt, limit = table.notes
    assert limit == (
        "Loads with any pain, an alarm symptom or an early stop are not counted as kept."
    )
    assert doubt.count("right") == doubt.count("left") == 1
    assert "Rack" not in doubt
    assert "rack" not in doubt
    assert doubt.endswith("load and order rise together.")
    assert "not counted" in table.heads
    checked = replace(rung, notices=(replace(RISE, severity="check"),))
    table = ladder_answers(replace(scores, ladder=(checked,) * 4))
    assert table is not None
    assert "not counted" not in table.heads
    assert all(len(row.cells) == len(table.heads) for row in table.rows)
    assert table.notes == ()


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        ((90.0, 80.0, 99.0), "{load}, the only one tested: 90 % (80 to 99)"),
        ((80.0, 70.0, 90.0), "not clear: {load}, the only one tested, kept 80 % (70 to 90)"),
        ((59.0, 50.0, 70.0), "none: {load}, the only one tested, kept 59 % (50 to 70)"),
    ],
)
def test_one_load_that_kept_less_is_not_named_as_kept(
    scores: SessionScores, kept: tuple[float, float, float], said: str
) -> None:
    value, low, high = kept
    rung = replace(
        scores.ladder[0], answer="one_load_only", loads_kg=(16.0,), kept_pct=(value,),
        ci_low_pct=(low,), ci_high_pct=(high,), stops=("dizzy",),
    )  # fmt: skip
    table = ladder_answers(replace(scores, ladder=(rung,) * 4))
    assert table is not None
    load = "16 kg (in another bout stopped: dizzy)"
    assert table.rows[0].cells[0].value == said.format(load=load)


def test_the_table_carries_the_stops_of_a_load_named_as_kept(scores: SessionScores) -> None:
    rung = replace(scores.ladder[0], answer="kept_up_to", heaviest_kept_kg=8.0, next_kg=16.0,
                   stops=("chest tightness", "", ""))  # fmt: skip
    table = ladder_answers(replace(scores, ladder=(rung,) * 4))
    assert table is not None
    assert table.rows[0].cells[0].value == "8 kg (in another bout stopped: chest tightness)"


def test_the_table_names_no_heaviest_load_where_a_heavier_one_kept_more(
    scores: SessionScores,
) -> None:
    rung = replace(
        scores.ladder[0], answer="no_tested_load", kept_pct=(50.0, 90.0, 90.0),
        ci_low_pct=(40.0, 80.0, 80.0), ci_high_pct=(60.0, 99.0, 99.0),
    )  # fmt: skip
    table = ladder_answers(replace(scores, ladder=(rung,) * 4))
    assert table is not None
    assert table.rows[0].cells[0].value == "no heaviest load: 16 kg kept more than 8 kg"


def test_the_carries_come_before_the_free_walks(scores: SessionScores) -> None:
    view = assemble(scores, Settings(), title="", earlier=None)
    holds = [finding.hold for finding in view.findings]
    n_free = sum(bout.data.row.hold == "free" for bout in scores.bouts)
    assert holds[-n_free:] == ["free walk"] * n_free
    assert "free walk" not in holds[:-n_free]
    assert [bout.finding.anchor for bout in view.bouts] == sorted(
        (finding.anchor for finding in view.findings), key=lambda name: int(name.split("-")[1])
    )


def test_tables_of_measures_are_no_wider_than_paper() -> None:
    tables = measure_tables(build_scores(visit=VISIT * 3))
    rotation = [table for table in tables if table.caption.startswith("Trunk rotation")]
    assert sum(len(table.heads) for table in rotation) == 24
    assert max(len(table.heads) for table in tables) <= MOST_COLUMNS
    assert [len(table.heads) for table in rotation] == [8, 8, 8]
    assert rotation[0].caption == "Trunk rotation, free 1 to free 2"


def test_the_columns_of_a_table_of_measures_say_hold_and_load(scores: SessionScores) -> None:
    table = measure_tables(scores)[0]
    assert table.heads[3] == "suitcase 24"
    assert table.below[3] == "side right 24"


def test_a_row_that_is_about_no_bout_of_the_visit_is_left_out(scores: SessionScores) -> None:
    def heads_with(reasons: tuple[str, ...]) -> str:
        bouts = tuple(
            replace(bout, scores=(*bout.scores, Score(
                bout.data.row.bout, "held_arm_rotation", "left", "held", "deg",
                Estimate(missing_because=reasons[k % len(reasons)]),
            )))
            for k, bout in enumerate(scores.bouts)
        )  # fmt: skip
        tables = measure_tables(replace(scores, bouts=bouts))
        return " ".join(row.key for table in tables for row in table.rows)

    assert "held_arm_rotation" not in heads_with(("not_held",))
    assert "held_arm_rotation" in heads_with(("not_held", "too_few_strides"))


def test_the_ladders_stand_first_among_the_pictures(page: str) -> None:
    """They answer the first question, and fill the page that the summary ends on."""
    keys = [f'data-figure="{key}"' for key in ("ladder-1", "rotation", "swing", "curves-1")]
    places = [page.index(key) for key in keys]
    assert places == sorted(places)
