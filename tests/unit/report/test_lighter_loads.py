"""A lighter load that hurt, was stopped or raised an alarm is never hidden by "up to"."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from imucarry.basics.records import LadderRung, SessionScores, StoppedLoad
from imucarry.report.ladder_table import ladder_answers
from imucarry.report.wording import say_ladder, say_lighter

NAN = math.nan
NOT_REACHED = "Where it stops has not been reached"


def rung(kept: tuple[float, ...], **changed: Any) -> LadderRung:
    """A rung at 8, 16, 24 kg, of which all that were measured kept."""
    fields: dict[str, Any] = {
        "hold": "suitcase", "loaded_side": "right", "implement": "", "threshold_pct": 75.0,
        "heaviest_kept_kg": 24.0, "next_kg": NAN, "answer": "not_yet_reached",
        "loads_kg": (8.0, 16.0, 24.0), "kept_pct": kept,
        "ci_low_pct": tuple(value - 8.0 for value in kept),
        "ci_high_pct": tuple(value + 8.0 for value in kept), **changed,
    }  # fmt: skip
    return LadderRung(**fields)


CHEST = (StoppedLoad(8.0, NAN, "chest tightness"),)
HURT = (StoppedLoad(8.0, 5.0, ""),)
GRIP = (StoppedLoad(8.0, NAN, "grip"),)


@pytest.mark.parametrize(
    ("stopped", "why"), [(CHEST, "stopped: chest tightness"), (HURT, "pain 5 of 10")]
)
def test_a_lighter_load_with_an_alarm_or_pain_is_named_and_no_leave_is_given(
    stopped: tuple[StoppedLoad, ...], why: str
) -> None:
    said = say_ladder.ladder(rung((NAN, 95.0, 90.0), stopped=stopped))
    assert said.startswith(
        "Weight at the side, right: at 16 and 24 kg, the heaviest load tested, at least 75 % of "
        f"the free walk's trunk rotation was kept. A lighter load does not count: 8 kg ({why})."
    )
    assert "up to" not in said
    assert NOT_REACHED not in said
    assert "Not counted" not in said


def test_a_lighter_load_stopped_for_grip_is_named_and_the_limit_is_still_open() -> None:
    said = say_ladder.ladder(rung((NAN, 95.0, 90.0), stopped=GRIP))
    assert "up to" not in said
    assert "A lighter load does not count: 8 kg (stopped: grip)." in said
    assert NOT_REACHED in said


def test_kept_up_to_a_load_over_a_lighter_one_that_hurt_names_the_loads() -> None:
    found = rung((NAN, 95.0, 50.0), stopped=HURT, answer="kept_up_to", heaviest_kept_kg=16.0,
                 next_kg=24.0)  # fmt: skip
    said = say_ladder.ladder(found)
    assert "right: at 16 kg at least 75 %" in said
    assert "A lighter load does not count: 8 kg (pain 5 of 10)." in said
    assert said.count("8 kg") == 1
    assert "At 24 kg, the next load tested, less was kept." in said


def test_a_lighter_load_that_counts_but_was_stopped_in_another_bout_says_so() -> None:
    found = rung((95.0, 95.0, 90.0), stops=("dizzy", "", ""), pains_0_10=(0.0, 0.0, 0.0))
    said = say_ladder.ladder(found)
    assert "at 8 kg (in another bout stopped: dizzy), 16 and 24 kg, the heaviest" in said
    assert NOT_REACHED not in said


def test_without_such_a_load_up_to_stays() -> None:
    said = say_ladder.ladder(rung((95.0, 95.0, 90.0)))
    assert "up to 24 kg, the heaviest load tested, at least 75 %" in said
    assert said.count(NOT_REACHED) == 1


def test_the_table_of_many_ladders_names_the_loads_too() -> None:
    found = rung((NAN, 95.0, 90.0), stopped=CHEST)
    assert say_lighter.has_gap(found)
    assert say_lighter.loads_cell(found) == "at 16 and 24 kg, not 8 kg"


DIZZY = (StoppedLoad(8.0, NAN, "", ("dizzy", "arm went dead")),)


def test_a_load_with_an_alarm_symptom_is_not_counted_and_says_why() -> None:
    lighter = say_ladder.ladder(rung((NAN, 95.0, 90.0), stopped=DIZZY))
    assert "A lighter load does not count: 8 kg (noted: dizzy, arm went dead)." in lighter
    assert NOT_REACHED not in lighter
    heavier = rung((95.0, 95.0, NAN), stopped=(StoppedLoad(24.0, NAN, "", ("dizzy",)),),
                   answer="kept_up_to", heaviest_kept_kg=16.0, next_kg=24.0)  # fmt: skip
    said = say_ladder.ladder(heavier)
    assert "kept up to 16 kg. 24 kg, the next load tested, does not count (noted: dizzy)." in said
    alone = rung((95.0, NAN, NAN), stopped=(StoppedLoad(16.0, 2.0, "", ("numb",)),),
                 answer="one_load_only", heaviest_kept_kg=NAN)  # fmt: skip
    assert "Not counted: 16 kg (pain 2 of 10, noted: numb)." in say_ladder.ladder(alone)
    none = rung((NAN,), loads_kg=(8.0,), stopped=DIZZY, answer="pain_or_early_stop",
                heaviest_kept_kg=NAN)  # fmt: skip
    assert say_ladder.ladder(none) == (
        "Weight at the side, right: no answer. Not counted: 8 kg (noted: dizzy, arm went dead)."
    )


def test_an_alarm_symptom_of_another_bout_stands_beside_the_load_that_kept() -> None:
    said = say_ladder.ladder(rung((95.0, 95.0, 90.0), alarms=((), (), ("dizzy",))))
    assert "up to 24 kg, the heaviest load tested (in another bout noted: dizzy), at" in said
    assert NOT_REACHED not in said


@pytest.mark.parametrize("told", ["noted", "alarms"])
def test_a_load_with_a_symptom_noted_does_not_stand_out_as_safe(told: str) -> None:
    plain = rung((95.0, 95.0, 90.0))
    assert say_ladder.answer(plain) == "up to 24 kg"
    assert say_ladder.answer(rung((95.0, 95.0, 90.0), **{told: ((), (), ("sharp pain",))})) == ""
    lighter = rung((95.0, 95.0, 90.0), **{told: (("sharp pain",), (), ())})
    assert say_ladder.answer(lighter) == ""
    alone = rung((95.0,), loads_kg=(6.0,), answer="one_load_only", heaviest_kept_kg=NAN)
    assert say_ladder.answer(alone) == "clearly above 75 %"
    hurt = rung((95.0,), loads_kg=(6.0,), answer="one_load_only", heaviest_kept_kg=NAN,
                **{told: (("sharp pain",),)})  # fmt: skip
    assert say_ladder.answer(hurt) == ""
    less = rung((50.0,), loads_kg=(6.0,), answer="one_load_only", heaviest_kept_kg=NAN,
                **{told: (("sharp pain",),)})  # fmt: skip
    assert say_ladder.answer(less) == "clearly less than 75 %"


def test_pain_in_a_note_stands_beside_the_load_that_kept() -> None:
    found = rung((95.0, 95.0, 90.0), noted=((), (), ("sharp pain",)))
    said = say_ladder.ladder(found)
    assert (
        'up to 24 kg, the heaviest load tested, if its pain was 0 (the note says "sharp pain"), at'
        in said
    )
    assert NOT_REACHED not in said
    lighter = say_ladder.ladder(rung((95.0, 95.0, 90.0), noted=(("pain 5/10",), (), ())))
    assert (
        'at 8 kg, if its pain was 0 (the note says "pain 5/10"), 16 and 24 kg, the heaviest'
        in lighter
    )


@pytest.mark.parametrize(
    ("kept", "words"),
    [
        (95.0, "8 kg, the only load that counts: 95 % ("),
        (76.0, "not clear: 8 kg, the only load that counts, kept 76 % ("),
        (50.0, "none: 8 kg, the only load that counts, kept 50 % ("),
    ],
)
def test_a_load_that_was_judged_and_does_not_count_is_not_said_to_be_beyond_judging(
    scores: SessionScores, kept: float, words: str
) -> None:
    found = rung((kept, NAN), loads_kg=(8.0, 12.0), answer="one_load_only", heaviest_kept_kg=NAN,
                 stopped=(StoppedLoad(12.0, 3.0, ""),))  # fmt: skip
    table = ladder_answers(replace(scores, ladder=(found, found)))
    assert table is not None
    assert table.rows[0].cells[0].value.startswith(words)
    assert "right: only 8 kg counts. It kept " in say_ladder.ladder(found)


@pytest.mark.parametrize(
    ("limit", "pain", "words"),
    [
        (0.0, 0.0, '6 kg, if its pain was 0 (the note says "pain"), the only one tested: 95 % ('),
        (2.0, NAN, '6 kg, if its pain was 2 or less (the note says "pain"), the only one'),
        (2.0, 1.0, '6 kg (the note says "pain"; pain up to 1 of 10, within the set limit of 2), '),
    ],
)
def test_a_load_whose_note_speaks_of_pain_counts_on_a_condition(
    scores: SessionScores, limit: float, pain: float, words: str
) -> None:
    found = rung((95.0,), loads_kg=(6.0,), answer="one_load_only", heaviest_kept_kg=NAN,
                 noted=(("pain",),), pains_0_10=(pain,), pain_limit_0_10=limit)  # fmt: skip
    table = ladder_answers(replace(scores, ladder=(found, found)))
    assert table is not None
    assert table.rows[0].cells[0].value.startswith(words)
    assert f"right: {words.partition(', the only')[0]}" in say_ladder.ladder(found)
