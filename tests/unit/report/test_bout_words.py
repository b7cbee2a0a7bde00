"""What a bout's card, its labels and the terminal say of pain, free arms, hands and elastic."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scores_builder import VISIT, build_scores

from imucarry.basics.records import (
    BoutResult,
    BoutRow,
    Comparison,
    Estimate,
    Notice,
    Score,
    SessionScores,
    StoppedLoad,
)
from imucarry.basics.settings import CarrySettings, Settings
from imucarry.carry.bout_checks import FREE_ARM, NOTED, PAIN_NOTED, STOPPED, bout_checks
from imucarry.carry.kept import ACROSS
from imucarry.report.figures.sketch import sketch_svg, sketch_words
from imucarry.report.notices import checks
from imucarry.report.page import render
from imucarry.report.summary import alarm_views, check_views, finding
from imucarry.report.wording import say, say_arms, say_checks, terminal_lines, texts
from imucarry.report.wording.terminal_cells import of_sternum
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
    assert card.rotation.startswith("Stopped for pain (6 of 10). The trunk swung through 9.1")
    assert card.reading == ""


def stopped(
    scores: SessionScores, index: int, pain: float = float("nan"), reason: str = ""
) -> SessionScores:
    """A visit of which one bout hurt or was stopped, as its sheet and its checks say."""
    told = changed(scores, index, pain_0_10=pain, stop_reason=reason)
    (notice,) = bout_checks(
        told.bouts[index].data.row, Comparison((), (), "unclear"), CarrySettings()
    )
    return with_check(told, index, notice.code, notice.message)


def checked(scores: SessionScores) -> list[str]:
    return [notice.message.replace("\u00a0", " ") for _, notice in checks(scores)]


def test_pain_and_stops_stand_first_worst_first_with_hold_side_and_load(
    scores: SessionScores,
) -> None:
    told = stopped(scores, 1, pain=2.0)
    told = stopped(told, 2, pain=6.0)
    told = stopped(told, 3, reason="grip", pain=0.0)
    told = stopped(told, 4, reason="dizzy", pain=0.0)
    told = stopped(told, 5, reason="pain")
    assert checked(told)[:5] == [
        "Stopped: dizzy; rack, left, 6 kg (rack 6)",
        "Stopped for pain: rack, left, 10 kg (rack 10)",
        "Pain 6 of 10: weight at the side, right, 16 kg (suitcase 16)",
        "Pain 2 of 10: weight at the side, right, 8 kg (suitcase 8)",
        "Stopped: grip; weight at the side, right, 24 kg (suitcase 24)",
    ]
    lines = [line for line in terminal_lines(told) if line.startswith("  check")]
    assert lines[0].startswith("  check first: Stopped: dizzy; rack, left, 6 kg (rack 6)")
    firsts = [line.startswith("  check first: ") for line in lines]
    assert firsts == [True] * 5 + [False] * (len(firsts) - 5)
    assert len(firsts) > 5
    printed = terminal_lines(told)
    pointer = [k for k, line in enumerate(printed) if "Stop at once for" in line]
    assert len(pointer) == 1
    answers = [k for k, line in enumerate(printed) if line.startswith("  Weight at the side")]
    assert pointer[0] < min(answers), "what hurt stands before what was kept"
    page = render(told, Settings())
    assert page.count('See "Stop at once for"') + page.count("See &#34;Stop at once for&#34;") == 1
    first = [notice.message for _, notice in checks(told)[:5]]
    assert [view.message for view in alarm_views(told)] == first
    assert not {view.message for view in check_views(told)} & set(first)


def test_numbness_and_a_symptom_in_a_note_stand_after_the_worse_alarms(
    scores: SessionScores,
) -> None:
    told = stopped(scores, 1, reason="numb hand", pain=7.0)
    told = stopped(told, 2, reason="chest tightness")
    told = changed(told, 4, note="Client felt dizzy after.")
    (noted,) = bout_checks(told.bouts[4].data.row, Comparison((), (), "unclear"), CarrySettings())
    told = with_check(stopped(told, 3, pain=9.0), 4, noted.code, noted.message)
    assert checked(told)[:4] == [
        "Stopped: chest tightness; weight at the side, right, 16 kg (suitcase 16)",
        "Stopped: numb hand (pain 7 of 10); weight at the side, right, 8 kg (suitcase 8)",
        'The note says "dizzy": rack, left, 6 kg (rack 6)',
        "Pain 9 of 10: weight at the side, right, 24 kg (suitcase 24)",
    ]


@pytest.mark.parametrize(
    ("reason", "pain", "mark"),
    [
        ("dizzy", 3.0, "kept turning, stopped, pain\u00a03"),
        ("grip", 2.0, "kept turning, stopped, pain\u00a02"),
        ("pain", 6.0, "kept turning, stopped, pain\u00a06"),
        ("", 6.0, "kept turning, pain\u00a06"),
        ("dizzy", 0.0, "kept turning, stopped"),
    ],
)
def test_a_stop_is_not_hidden_behind_pain(
    scores: SessionScores, reason: str, pain: float, mark: str
) -> None:
    told = stopped(scores, 1, pain=pain, reason=reason)
    assert finding(told, told.bouts[1], Settings()).mark == mark


def test_pain_in_the_same_words_is_told_once_with_every_bouts_name(scores: SessionScores) -> None:
    told = stopped(changed(scores, 3, load_kg=8.0), 3, pain=2.0)
    told = stopped(told, 1, pain=2.0)
    said = "Pain 2 of 10: weight at the side, right, 8 kg (suitcase 8, suitcase 24)"
    assert checked(told)[0] == said
    assert f"<li><b>{said}</b>".replace("8 kg (", "8\u00a0kg (") in render(told, Settings())


def test_all_pain_and_stops_stand_on_the_first_screen(scores: SessionScores) -> None:
    told = scores
    for index in range(1, 7):
        told = stopped(told, index, pain=float(index))
    doubts = [Notice("x", f"doubt {k}", severity="check") for k in range(6)]
    told = replace(told, notices=(*told.notices, *doubts))
    first, _, rest = render(told, Settings()).partition("more among the notes")
    assert all(f"<li><b>Pain {k} of 10" in first for k in range(1, 7))
    said = [say.sentence_case(words) for words in checked(told)]
    assert first.count("<li><b>Pain") == 6
    assert said[9] in first
    assert said[10] not in first
    assert said[10] in rest


def test_pain_of_a_free_walk_is_said_of_what_is_compared_with_it(scores: SessionScores) -> None:
    assert checked(stopped(scores, 0, pain=6.0))[0] == (
        "Pain 6 of 10: free walk (free 1). The carries are compared with it, and a guarded "
        "walk makes them look better"
    )


def test_alarms_in_a_note_stand_before_pain_beside_the_finding(scores: SessionScores) -> None:
    row = replace(scores.bouts[1].data.row, note="dizzy, then numb fingers", pain_0_10=2.0)
    assert say_checks.beside("less", row).replace("\u00a0", " ") == (
        "less, dizzy and numb noted, pain 2"
    )
    assert say_checks.in_short(row) == "dizzy and numb, pain 2"


def test_pain_and_a_stop_stand_beside_the_finding(scores: SessionScores) -> None:
    told = stopped(scores, 1, pain=6.0)
    told = stopped(told, 2, pain=0.0, reason="grip")
    assert finding(told, told.bouts[1], Settings()).mark == "kept turning, pain\u00a06"
    assert finding(told, told.bouts[2], Settings()).mark.endswith(", stopped")
    short = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, bout=str(k))))
        for k, b in enumerate(told.bouts)
    )
    assert "  kept turning, pain 6  " in bout_lines(short)[2]
    bare = stopped(build_scores(chest=False), 1, pain=6.0)
    heading, *lines = bout_lines(bare.bouts)
    assert "noted" not in heading
    assert "  side right 8  " in lines[1]
    assert lines[-1] == "  noted: suitcase 8 pain 6"
    narrow = tuple(
        replace(b, data=replace(b.data, swing={"left": b.data.swing["left"]})) for b in bare.bouts
    )
    heading, *lines = bout_lines(narrow)
    assert heading.endswith("  noted")
    assert lines[1].endswith("  pain 6")
    assert max(map(len, lines)) < 80


def test_a_bout_without_a_value_is_marked_by_what_it_lacks(scores: SessionScores) -> None:
    bout = scores.bouts[2]

    def missing(why: str) -> BoutResult:
        none = Estimate(missing_because=why)
        scored = tuple(
            replace(s, estimate=none) if s.measure == "sternum_yaw_range" else s
            for s in bout.scores
        )
        compared = replace(bout.comparison, rotation_finding="unclear")
        return replace(bout, scores=scored, comparison=compared)

    few = missing("too_few_strides")
    assert finding(scores, few, Settings()).mark == "too few strides"
    assert "  too few strides  " in bout_lines([few])[1]
    other = missing("direction_unknown")
    assert finding(scores, other, Settings()).mark == "not measured"
    measured = replace(bout, comparison=replace(bout.comparison, rotation_finding="unclear"))
    assert finding(scores, measured, Settings()).mark == "not clear"


def test_a_long_finding_does_not_push_the_load_off_its_line(scores: SessionScores) -> None:
    told = stopped(scores, 1, pain=3.0, reason="dizzy")
    _, *lines = bout_lines(told.bouts)
    assert "  side right 8  " in lines[1]
    assert "  kept turning  " in lines[1]
    assert lines[-1] == "  noted: suitcase 8 stopped, pain 3"
    assert max(map(len, lines)) < 80
    few = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, bout=str(k))))
        for k, b in enumerate(told.bouts)
    )
    _, *lines = bout_lines(few)
    assert "  side right 8  " in lines[1]
    assert "  kept turning, stopped  " in lines[1]
    assert lines[-1] == "  noted: bout 1 stopped, pain 3"


def test_loads_that_hurt_are_said_not_to_count_over_the_ladders_picture_too(
    scores: SessionScores,
) -> None:
    hurt = replace(scores.ladder[0], stopped=(StoppedLoad(24.0, 6.0, ""),))
    page = render(replace(scores, ladder=(hurt, *scores.ladder[1:])), Settings())
    assert "`[carry]" not in page
    found = page.partition('id="f-ladder-1">')[2].partition("</p>")[0]
    assert "any pain, an alarm symptom or an early stop are not counted as kept." in found.replace(
        "\u00a0", " "
    )


def test_pain_within_the_set_limit_is_still_told(scores: SessionScores) -> None:
    told = changed(scores, 1, pain_0_10=3.0)
    limit = Settings(carry=CarrySettings(pain_limit_0_10=3.0))
    card = finding(told, told.bouts[1], limit)
    assert card.rotation.startswith("Pain 3 of 10, within the set limit of 3. The trunk")
    assert card.mark == "kept turning, pain\u00a03"
    assert "within the set limit" not in finding(told, told.bouts[1], Settings()).rotation


def test_a_note_stands_in_the_bouts_row(scores: SessionScores) -> None:
    told = changed(scores, 1, note="client felt\n dizzy after.")
    card = finding(told, told.bouts[1], Settings())
    assert card.rotation.startswith("Noted: client felt dizzy after. The trunk swung")
    assert card.mark == "kept turning, dizzy\u00a0noted"
    plain = changed(scores, 1, note="client asked for\n a longer rest.")
    said = finding(plain, plain.bouts[1], Settings())
    assert said.rotation.endswith("Noted: client asked for a longer rest.")
    assert said.mark == "kept turning"
    long = changed(scores, 1, note="word " * 100)
    assert finding(long, long.bouts[1], Settings()).rotation.endswith("word word ...")
    assert "Noted" not in finding(scores, scores.bouts[1], Settings()).rotation


def test_pain_that_was_not_asked_is_told(scores: SessionScores) -> None:
    assert checked(scores)[-1] == "Pain was not noted for any carry."
    some = changed(changed(scores, 1, pain_0_10=0.0), 2, pain_0_10=0.0)
    assert checked(some)[-1] == ("Pain was not noted for suitcase 24, rack 6, rack 10, overhead.")
    numbered = some
    for index in range(len(scores.bouts)):
        numbered = changed(numbered, index, bout=str(index + 1))
    assert checked(numbered)[-1] == "Pain was not noted for bouts 4 to 7."
    for index in range(len(scores.bouts)):
        some = changed(some, index, pain_0_10=0.0)
    assert not [words for words in checked(some) if "noted" in words]


def test_pain_under_another_name_is_not_said_to_be_missing(scores: SessionScores) -> None:
    message = "Pain was not noted for any carry. If the column 'pain' holds it, name it pain_0_10"
    notice = Notice("column_not_read", message, "bouts.csv", "header", "check")
    told = replace(scores, session=replace(scores.session, notices=(notice,)))
    assert [said for said in checked(told) if "Pain was not noted" in said] == [message]
    other = replace(notice, message="column 'comments' is not read: name it note")
    noted = replace(notice, message="column 'pain' (name it pain_0_10 if it is)", severity="note")
    for item in (other, noted):
        told = replace(scores, session=replace(scores.session, notices=(item,)))
        assert checked(told)[-1] == "Pain was not noted for any carry."


# --- arms -----------------------------------------------------------------------


def test_a_held_arm_is_left_to_the_tables(scores: SessionScores) -> None:
    assert say_arms.arms(scores.bouts[1]) == (
        "Free left arm kept swinging: 24.0 deg, 92 % of its free swing (81 to 103)."
    )
    both = build_scores(visit=(VISIT[0], replace(VISIT[1], hold="farmer", loaded_side="both")))
    assert say_arms.arms(both.bouts[1]) == ""


def test_a_free_arm_that_swung_less_is_told_first(scores: SessionScores) -> None:
    assert say_arms.arms(scores.bouts[3]).startswith(
        "The free left arm swung less: 12.0 deg, 46 % of its free swing (35 to 57)."
    )
    hardly = say_arms.arms(scores.bouts[3], (75.0, 58.0))
    assert "The free left arm hardly swung: 12.0 deg, 46 %" in hardly
    assert "Free left arm, swing not clear: 12.0 deg, 46 %" in say_arms.arms(
        scores.bouts[3], (50.0, 20.0)
    )


def test_a_free_walks_arms_are_compared_with_the_other_walks(scores: SessionScores) -> None:
    walk = scores.bouts[0]
    said = (
        "Free left arm swung 26.0 deg, 100 % (89 to 111); free right arm swung 27.0 deg, 100 % "
        "(89 to 111), "
    )
    assert say_arms.arms(walk) == f"{said}of the swing in the other free walk."
    two = replace(walk, comparison=replace(walk.comparison, baseline_bouts=("a", "b")))
    assert say_arms.arms(two) == f"{said}of the swing in the other free walks."
    assert "of the other free walks' 9.8" in say.rotation(
        scores, replace(two, comparison=replace(two.comparison, baseline_bouts=("free 2",) * 2))
    )


def test_an_arm_is_read_against_the_free_walks_of_like_pace_where_those_differ(
    scores: SessionScores,
) -> None:
    walk = scores.bouts[1]
    like = Score("suitcase 8", "arm_swing_kept_matched", "left", "free", "%",
                 Estimate(58.0, 48.0, 70.0, 20))  # fmt: skip
    apart = Notice("arm_swing_apart", "the arms swung very differently", severity="check")
    found = replace(walk.comparison, scores=(*walk.comparison.scores, like), notices=(apart,))
    told = replace(walk, comparison=found)
    assert say_arms.arms(told).startswith(
        "The free left arm swung less: 24.0 deg, 58 % of its swing in the free walks of like pace "
        "(48 to 70)"
    )
    assert bout_lines([told])[1].endswith("  L 58")
    even = replace(told, comparison=replace(found, notices=()))
    assert "92 % of its free swing" in say_arms.arms(even)


def test_a_carrys_free_arm_without_a_sensor_is_named() -> None:
    left = build_scores(wrists=("left",))
    assert "right" not in say_arms.arms(left.bouts[0])
    assert "right" not in say_arms.arms(left.bouts[1])
    assert say_arms.arms(left.bouts[4]) == "Free right arm: no sensor."
    assert say_arms.arms(build_scores(wrists=()).bouts[4]) == ""


@pytest.mark.parametrize("code", [NOTED, PAIN_NOTED])
def test_a_bout_whose_note_names_a_symptom_is_not_read_against_its_aim(
    scores: SessionScores, code: str
) -> None:
    kept = aimed(scores, 1, "mobility_kept")
    assert say.aim_reading(kept.bouts[1])
    assert say.aim_reading(with_check(kept, 1, code, "the note says so").bouts[1]) == ""
    row = replace(kept.bouts[1].data.row, note="short of breath")
    assert say_checks.beside("kept turning", row) == "kept turning, see\u00a0note"
    assert say_checks.beside("kept turning", replace(row, note="no pain")) == "kept turning"


def test_the_aim_is_not_called_reached_where_the_free_arm_stopped(scores: SessionScores) -> None:
    told = with_check(aimed(scores, 1, "mobility_kept"), 1, FREE_ARM, "the free left arm hung")
    assert say.aim_reading(told.bouts[1]) == (
        "For mobility: the free arm swung less, though the trunk kept turning."
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
            "weights at both sides, 24 kg",
            "sides 24",
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
    assert sketch_words(told, told.bouts[3]).startswith(
        "suitcase 24, side right, on elastic: 4.1 deg"
    )


def test_a_sketch_puts_each_load_below_its_own_hand(scores: SessionScores) -> None:
    both = changed(scores, 3, loaded_side="both", left_load_kg=8.0, right_load_kg=16.0)
    drawn = sketch_svg(both, both.bouts[3])
    assert drawn.index("8 kg") < drawn.index("16 kg")
    assert "24 kg" not in drawn
    whole = changed(scores, 3, loaded_side="both")
    assert '<text class="tick" x="62.0" y="114.0" text-anchor="middle">24 kg' in sketch_svg(
        whole, whole.bouts[3]
    )


# --- free walks ---------------------------------------------------------------------


def found_so(scores: SessionScores, code: str, because: str = "") -> SessionScores:
    """A visit whose first bout, a free walk, has so much of the other's rotation."""
    walk = scores.bouts[0]
    compared = replace(walk.comparison, rotation_finding=code, finding_because=because)
    return replace(scores, bouts=(replace(walk, comparison=compared), *scores.bouts[1:]))


@pytest.mark.parametrize(("code", "because"), [("rotates", ""), ("unclear", ACROSS)])
def test_a_free_walk_is_marked_as_one_and_not_judged_as_a_carry(
    scores: SessionScores, code: str, because: str
) -> None:
    told = found_so(scores, code, because)
    card = finding(told, told.bouts[0], Settings())
    assert card.mark == "free walk"
    assert card.rotation.endswith(").")
    assert "% of the other free walk's" in card.rotation
    assert "75 %" not in card.certainty
    assert card.certainty.endswith("strides count")
    assert "l-limit" not in card.strip
    carry = finding(told, told.bouts[1], Settings())
    assert "l-limit" in carry.strip
    assert of_sternum(told.bouts[0], (), frozenset(), "", short=False)[0] == "-"
    assert of_sternum(told.bouts[0], (), frozenset(), "pain 3", short=False)[0] == "pain 3"
    assert of_sternum(told.bouts[1], (), frozenset(), "", short=False)[0] == "kept turning"


def test_a_free_walk_that_clearly_turned_less_than_the_others_is_still_told(
    scores: SessionScores,
) -> None:
    told = found_so(scores, "reduced")
    card = finding(told, told.bouts[0], Settings())
    assert card.mark == "turned less"
    assert card.rotation.endswith("it turned less.")
    assert of_sternum(told.bouts[0], (), frozenset(), "", short=False)[0] == "turned less"


def test_no_letter_of_a_load_is_cut_off_the_sketch(scores: SessionScores) -> None:
    drawn = sketch_svg(scores, scores.bouts[3])
    assert 'x="123.0" y="114.0" text-anchor="end">24 kg<' in drawn
    left = changed(scores, 3, loaded_side="left")
    assert 'x="1.0" y="114.0">24 kg<' in sketch_svg(left, left.bouts[3])
