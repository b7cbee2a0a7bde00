"""What a bout's card, its labels and the terminal say of pain, free arms, hands and elastic."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scores_builder import build_scores

from imucarry.basics.records import BoutRow, Notice, SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.bout_checks import FREE_ARM, PAIN, STOPPED
from imucarry.report.figures.sketch import sketch_svg, sketch_words
from imucarry.report.page import render
from imucarry.report.summary import finding
from imucarry.report.wording import say, say_arms, terminal_lines, texts
from imucarry.report.wording.terminal_table import bout_lines


def with_check(scores: SessionScores, index: int, code: str, message: str) -> SessionScores:
    bout = scores.bouts[index]
    notice = Notice(code, message, where=bout.data.row.bout, severity="check")
    told = replace(bout, notices=(*bout.notices, notice))
    return replace(scores, bouts=(*scores.bouts[:index], told, *scores.bouts[index + 1 :]))


def aimed(scores: SessionScores, index: int, code: str) -> SessionScores:
    bout = scores.bouts[index]
    told = replace(bout, aim_reading=replace(bout.aim_reading, code=code))
    return replace(scores, bouts=(*scores.bouts[:index], told, *scores.bouts[index + 1 :]))


# --- pain and early stops -----------------------------------------------------


def test_a_card_says_first_that_a_bout_was_stopped_and_reads_no_aim() -> None:
    scores = aimed(build_scores(), 1, "mobility_kept")
    assert "kept turning at this load" in finding(scores, scores.bouts[1], Settings()).reading
    told = with_check(scores, 1, STOPPED, "stopped for pain (6 of 10)")
    card = finding(told, told.bouts[1], Settings())
    assert card.rotation.startswith("Stopped for pain (6 of 10). The sternum swung through 9.1")
    assert card.reading == ""


def test_the_terminal_marks_a_bout_with_pain_before_all_other_checks(
    scores: SessionScores,
) -> None:
    told = with_check(scores, 5, STOPPED, "stopped: grip (pain 2 of 10)")
    said = [line for line in terminal_lines(told) if "check:" in line]
    assert said[0] == "  check: rack 10: stopped: grip (pain 2 of 10)"
    assert len(said) > 1


def test_pain_in_the_same_words_is_told_once_with_every_bouts_name(scores: SessionScores) -> None:
    told = with_check(scores, 1, PAIN, "pain 2 of 10")
    told = with_check(told, 3, PAIN, "pain 2 of 10")
    assert "  check: bouts suitcase 8, suitcase 24: pain 2 of 10" in terminal_lines(told)
    assert "<b>bouts suitcase 8, suitcase 24:</b> pain 2 of 10" in render(told, Settings())


# --- arms -----------------------------------------------------------------------


def test_arms_are_called_free_and_held(scores: SessionScores) -> None:
    assert say_arms.arms(scores.bouts[1]) == (
        "Free left arm 24.0 deg, 92 % kept (81 to 103); held right arm 7.0 deg."
    )


def test_a_free_arm_that_swung_less_is_told_first(scores: SessionScores) -> None:
    assert say_arms.arms(scores.bouts[3]).startswith(
        "The free left arm swung less: 46 % of its free swing (35 to 57), 12.0 deg; held right"
    )
    assert "The free left arm hardly swung: 46 %" in say_arms.arms(scores.bouts[3], (75.0, 58.0))
    assert "Free left arm 12.0 deg, 46 %" in say_arms.arms(scores.bouts[3], (50.0, 20.0))


def test_a_free_walks_arms_are_compared_with_the_other_walks(scores: SessionScores) -> None:
    walk = scores.bouts[0]
    said = "Free left arm 26.0 deg, 100 % (89 to 111); free right arm 27.0 deg, 100 % (89 to 111), "
    assert say_arms.arms(walk) == f"{said}of the other free walk's."
    two = replace(walk, comparison=replace(walk.comparison, baseline_bouts=("a", "b")))
    assert say_arms.arms(two) == f"{said}of the other free walks'."
    assert "of the other free walks' 9.8" in say.rotation(
        scores, replace(two, comparison=replace(two.comparison, baseline_bouts=("free 2",) * 2))
    )


def test_a_carrys_free_arm_without_a_sensor_is_named() -> None:
    left = build_scores(wrists=("left",))
    assert "right" not in say_arms.arms(left.bouts[0])
    assert "right" not in say_arms.arms(left.bouts[1])
    assert say_arms.arms(left.bouts[4]) == "Held left arm 2.5 deg; free right arm: no sensor."
    assert say_arms.arms(build_scores(wrists=()).bouts[4]) == ""


def test_the_aim_is_not_called_reached_where_the_free_arm_stopped(scores: SessionScores) -> None:
    told = with_check(aimed(scores, 1, "mobility_kept"), 1, FREE_ARM, "the free left arm hung")
    assert say.aim_reading(told.bouts[1]) == (
        "For mobility: the trunk kept turning at this load. The free arm swung less."
    )


# --- labels ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "long", "short"),
    [
        (
            {"hold": "suitcase", "loaded_side": "right", "load_kg": 16.0, "perturbed": "elastic"},
            "weight at the side, right, 16 kg, on elastic",
            "side right 16 on elastic",
        ),
        (
            {"hold": "mixed", "loaded_side": "both", "load_kg": 24.0, "left_hold": "rack",
             "right_hold": "suitcase", "left_load_kg": 8.0, "right_load_kg": 16.0},
            "rack left 8 kg, side right 16 kg",
            "rack L 8, side R 16",
        ),
        (
            {"hold": "mixed", "loaded_side": "both", "load_kg": 24.0, "left_hold": "rack",
             "right_hold": "suitcase"},
            "rack left, side right, 24 kg",
            "rack L, side R 24",
        ),
        (
            {"hold": "mixed", "loaded_side": "right", "load_kg": 8.0, "left_hold": "free",
             "right_hold": "rack", "left_load_kg": 0.0, "right_load_kg": 8.0},
            "rack right 8 kg",
            "rack R 8",
        ),
        (
            {"hold": "farmer", "loaded_side": "both", "load_kg": 40.0, "left_load_kg": 16.0,
             "right_load_kg": 24.0},
            "weights at both sides, 16 kg left, 24 kg right",
            "sides L 16 R 24",
        ),
        (
            {"hold": "farmer", "loaded_side": "both", "load_kg": 24.0, "left_load_kg": 12.0,
             "right_load_kg": 12.0},
            "weights at both sides, both sides, 24 kg",
            "sides both 24",
        ),
        (
            {"hold": "suitcase", "loaded_side": "right", "load_kg": 16.0, "left_load_kg": 0.0,
             "right_load_kg": 16.0},
            "weight at the side, right, 16 kg",
            "side right 16",
        ),
        ({"hold": "mixed", "loaded_side": "both", "load_kg": 24.0},
         "two different holds, both sides, 24 kg", "two holds both 24"),
        ({"hold": "free", "load_kg": 0.0}, "free walk", "free walk"),
    ],
)  # fmt: skip
def test_a_label_tells_which_hand_held_what_and_on_elastic(
    fields: dict[str, object], long: str, short: str
) -> None:
    row = BoutRow("b", 0.0, 1.0, **fields)  # type: ignore[arg-type]
    assert say.hold_and_load(row).replace("\u00a0", " ") == long
    assert say.hold_in_short(row) == short


@pytest.mark.parametrize("code", ["rotates", "reduced", "minimal", "unclear"])
def test_the_card_and_its_badge_use_one_word(scores: SessionScores, code: str) -> None:
    bout = scores.bouts[3]
    told = replace(bout, comparison=replace(bout.comparison, rotation_finding=code))
    card = finding(scores, told, Settings())
    assert card.mark == texts.FINDING_MARK[code]
    assert card.mark in card.rotation


def changed(scores: SessionScores, index: int, **fields: object) -> SessionScores:
    bout = scores.bouts[index]
    row = replace(bout.data.row, **fields)  # type: ignore[arg-type]
    told = replace(bout, data=replace(bout.data, row=row))
    return replace(scores, bouts=(*scores.bouts[:index], told, *scores.bouts[index + 1 :]))


def test_the_terminal_tells_elastic_in_the_row_or_below_where_it_is_narrow(
    scores: SessionScores,
) -> None:
    told = changed(scores, 3, perturbed="elastic")
    lines = bout_lines(told.bouts)
    assert all(len(line) < 80 for line in lines)
    assert lines[4].startswith("  suitcase 24  side right 24    turned less")
    assert lines[-1] == "  on elastic: suitcase 24"
    few = bout_lines(told.bouts[1:4])
    assert few[3].startswith("  suitcase 24  side right 24 on elastic  turned less")
    assert len(few) == 4
    shorter = changed(told, 1, bout="suitcase number 8")
    few = bout_lines(shorter.bouts[1:4])
    assert few[3].startswith("  suitcase 24     side right 24 elastic  turned less")
    assert len(few) == 4


def test_a_sketch_tells_elastic(scores: SessionScores) -> None:
    told = changed(scores, 3, perturbed="elastic")
    assert sketch_words(told, told.bouts[3]).startswith("suitcase 24, on elastic: 4.1 deg")


def test_a_sketch_puts_each_load_below_its_own_hand(scores: SessionScores) -> None:
    both = changed(scores, 3, loaded_side="both", left_load_kg=8.0, right_load_kg=16.0)
    drawn = sketch_svg(both, both.bouts[3])
    assert drawn.index("8 kg") < drawn.index("16 kg")
    assert "24 kg" not in drawn
    whole = changed(scores, 3, loaded_side="both")
    assert '<text class="tick" x="62.0" y="114.0" text-anchor="middle">24 kg' in sketch_svg(
        whole, whole.bouts[3]
    )
