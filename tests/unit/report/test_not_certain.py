"""Loads that neither kept rotation nor lost it for certain: nothing is promised of them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from imucarry.basics.records import LadderRung, SessionScores
from imucarry.report.ladder_table import ladder_answers
from imucarry.report.wording.not_certain import kind_of
from imucarry.report.wording.say_ladder import ladder

NAN = math.nan


def rung(
    *loads: tuple[float, float, float], likely_kg: float = NAN, **changed: object
) -> LadderRung:
    """A rung at 8, 16, 24 kg of shares with their lower and upper limits [%]."""
    kept, low, high = zip(*loads, strict=True)
    fields = {
        "hold": "suitcase", "loaded_side": "right", "implement": "", "threshold_pct": 75.0,
        "heaviest_kept_kg": NAN, "next_kg": 8.0, "answer": "no_tested_load",
        "loads_kg": tuple(8.0 * (k + 1) for k in range(len(loads))), "kept_pct": kept,
        "ci_low_pct": low, "ci_high_pct": high, "fit_pct": kept, "likely_kept_kg": likely_kg,
        **changed,
    }  # fmt: skip
    return LadderRung(**fields)  # type: ignore[arg-type]


def next_cell(scores: SessionScores, found: LadderRung) -> str:
    table = ladder_answers(replace(scores, ladder=(found, found)))
    assert table is not None
    return table.rows[0].cells[table.heads.index("next load tested")].value


@pytest.mark.parametrize(
    ("load", "likely_kg", "kind"),
    [
        ((90.0, 80.0, 101.0), 8.0, "kept"),
        ((60.0, 54.0, 67.0), NAN, "less"),
        ((64.0, 54.0, 75.2), NAN, "probably_less"),
        ((72.0, 60.0, 85.0), NAN, "unsure"),  # the line lies well inside the interval
        ((79.0, 67.0, 93.0), 8.0, "perhaps"),
        ((79.0, 67.0, 93.0), NAN, "unsure"),  # by the other loads it lies below the line
        ((70.0, 61.0, 79.0), 8.0, "unsure"),  # by the other loads it lies above the line
    ],
)
def test_less_is_probable_only_where_estimate_and_most_of_the_interval_lie_below(
    load: tuple[float, float, float], likely_kg: float, kind: str
) -> None:
    assert kind_of(rung(load, likely_kg=likely_kg), 0) == kind


def test_nothing_is_guessed_of_a_load_whose_pace_may_have_turned_the_trunk() -> None:
    found = rung((79.0, 67.0, 93.0), likely_kg=8.0)
    assert kind_of(replace(found, overstated_kg=(8.0,)), 0) == "unsure"


def test_the_next_load_is_told_by_where_its_interval_lies(scores: SessionScores) -> None:
    kept = (98.0, 88.0, 109.0)
    up_to = {"answer": "kept_up_to", "heaviest_kept_kg": 8.0, "next_kg": 16.0}
    too_heavy = rung(kept, (64.0, 54.0, 75.2), likely_kg=8.0, **up_to)
    assert (
        " At 16 kg, the next load tested, probably less was kept (64 %), but this is not certain."
    ) in ladder(too_heavy)
    assert next_cell(scores, too_heavy) == "16 kg: probably less, not certain (64 %)"
    maybe = rung(kept, (79.0, 67.0, 93.0), likely_kg=16.0, **up_to)
    assert "this was no longer certain. The best estimate for 16 kg (79 %)" in ladder(maybe)
    assert next_cell(scores, maybe) == "16 kg: perhaps kept, not certain (79 %)"


def test_the_limit_is_named_between_the_load_that_kept_it_and_the_one_that_kept_less(
    scores: SessionScores,
) -> None:
    found = rung((98.0, 88.0, 109.0), (60.0, 54.0, 67.0), likely_kg=8.0, answer="kept_up_to",
                 heaviest_kept_kg=8.0, next_kg=16.0)  # fmt: skip
    limit = "less was kept: the limit lies between 8 and 16 kg."
    assert limit in ladder(found)
    assert next_cell(scores, found) == "16 kg: kept less (between: not tested)"
    for doubt in ({"noted": (("sharp pain",), ())}, {"repeats": ((8.0, 105.0, 65.0),)}):
        assert "limit lies" not in ladder(replace(found, **doubt))  # type: ignore[arg-type]


def test_every_load_is_told_of_where_none_is_kept_for_certain(scores: SessionScores) -> None:
    found = rung((79.0, 67.0, 93.0), (72.0, 60.0, 85.0), (64.0, 54.0, 75.2), likely_kg=8.0)
    assert ladder(found) == (
        "Weight at the side, right: no load tested certainly kept 75 % of the free walk's trunk "
        "rotation. At 24 kg (64 %) probably less was kept, but this is not certain. At 16 kg "
        "(72 %) this is not certain. The best estimate for 8 kg (79 %) is above 75 %, but not "
        "certainly."
    )
    assert next_cell(scores, found) == (
        "8 kg: perhaps kept, not certain (79 %); 16 kg: not certain (72 %); "
        "24 kg: probably less, not certain (64 %)"
    )
