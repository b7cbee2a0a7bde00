"""A long visit: many holds, many bouts."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scores_builder import VISIT, build_scores

from imucarry.basics.records import Estimate, Notice, Score, SessionScores, StoppedLoad
from imucarry.basics.settings import Settings
from imucarry.report.assemble import assemble
from imucarry.report.ladder_table import ladder_answers
from imucarry.report.tabulate import MOST_COLUMNS, measure_tables

RISE = Notice("load_and_order_rise_together", "load and order rise together")


def test_three_ladders_are_answered_in_sentences(scores: SessionScores) -> None:
    three = replace(scores, ladder=(scores.ladder * 3)[:3])
    assert ladder_answers(three) is None


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
        "kept swinging at 8 kg (92 %); not clear at 16 kg (77 %); swung less at 24 kg (46 %)",
        "", "", "",
    ]  # fmt: skip
    assert cells[0] == ["8 kg", "16 kg: not certain (70 %)", ""]
    assert cells[1] == ["8 kg", "16 kg: not certain (70 %)", "24 kg (pain 6 of 10)"]
    assert cells[2] == ["6 kg, the only one tested: 90 % (80 to 99)", "", ""]
    assert cells[3] == ["10 kg, the heaviest tested", "", ""]
    doubt, limit = table.notes
    assert limit == "Loads with any pain are not counted as kept."
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
        ((80.0, 70.0, 90.0), "not clear ({load}, the only one tested: 80 %, 70 to 90)"),
        ((59.0, 50.0, 70.0), "none ({load}, the only one tested: 59 %, 50 to 70)"),
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
