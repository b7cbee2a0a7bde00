"""Every code that another room may hand over has words, and the sentences say the numbers."""

from __future__ import annotations

import math
import string
from dataclasses import replace

import pytest
from scores_builder import build_scores, with_participant

from imucarry.basics.records import (
    AIMS,
    DROP_REASONS,
    HOLDS,
    LOADED_SIDES,
    PLACEMENTS,
    AimReading,
    BoutRow,
    Estimate,
    LadderRung,
    Notice,
    RetestFinding,
    SessionScores,
    StoppedLoad,
)
from imucarry.carry.aim import AIM_CODES
from imucarry.carry.ladder import LADDER_ANSWERS
from imucarry.carry.retest import RETEST_FINDINGS
from imucarry.measures.reasons import MISSING, NOTES
from imucarry.measures.table import MEASURES
from imucarry.report.ladder_table import ladder_answers
from imucarry.report.lookup import estimate_of
from imucarry.report.pictures import ladder_table
from imucarry.report.wording import (
    ladder_names,
    say,
    say_ladder,
    say_retest,
    terminal_lines,
    texts,
    words_ladder,
)
from imucarry.report.wording.numbers import kilograms, number, quantity
from imucarry.report.wording.terminal_table import bout_lines

FINDINGS = ("rotates", "reduced", "minimal", "unclear", "no_baseline", "not_measured")


@pytest.mark.parametrize(
    ("codes", "table"),
    [
        (HOLDS, texts.HOLDS),
        (HOLDS, texts.HOLDS_SHORT),
        (LOADED_SIDES, texts.LOADED_SIDES),
        (AIMS, texts.AIMS),
        (PLACEMENTS, texts.PLACEMENTS),
        (DROP_REASONS, texts.DROP_REASONS),
        (FINDINGS, texts.ROTATION),
        (FINDINGS, texts.FINDING_MARK),
        (FINDINGS, texts.FINDING_GLYPH),
        (AIM_CODES, texts.AIM_READINGS),
        (LADDER_ANSWERS, words_ladder.LADDER),
        (RETEST_FINDINGS, texts.RETEST),
        (RETEST_FINDINGS, texts.RETEST_WORDS),
        (MISSING, texts.REASONS),
        (NOTES, texts.NOTES),
    ],
)  # fmt: skip
def test_every_code_has_words(codes: object, table: dict[str, str]) -> None:
    without_words = set(codes) - set(table)  # type: ignore[call-overload]
    assert not without_words, f"beside {list(table.values())[:3]} in report/wording"


def test_every_group_of_measures_has_a_heading() -> None:
    assert {measure.group for measure in MEASURES} <= set(texts.GROUPS)


def test_the_sentence_of_a_reduced_bout_has_swing_share_baseline_and_interval(
    scores: SessionScores,
) -> None:
    assert say.rotation(scores, scores.bouts[3]) == (
        "The trunk swung through 4.1 deg side to side in each stride, 41 % of the free walks' "
        "10.0 (32 to 50): it turned less."
    )


def test_a_free_walk_is_compared_with_the_other_one(scores: SessionScores) -> None:
    assert "of the other free walk's 9.8" in say.rotation(scores, scores.bouts[0])


def test_an_unclear_bout_says_why(scores: SessionScores) -> None:
    assert say.rotation(scores, scores.bouts[6]).endswith("because too few strides count.")


def test_without_a_chest_sensor_the_sentence_says_so() -> None:
    scores = build_scores(chest=False)
    assert "no chest sensor" in say.rotation(scores, scores.bouts[0])
    assert say.certainty(scores.bouts[0], 75.0, 40.0) == ""


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (80.0, 100.0, "all above 75 %"),
        (50.0, 70.0, "all below 75 %"),
        (20.0, 39.0, "all below 40 %"),
        (60.0, 90.0, "across the 75 % line"),
    ],
)
def test_certainty_tells_where_the_interval_lies(
    scores: SessionScores, low: float, high: float, words: str
) -> None:
    bout = scores.bouts[1]
    kept = next(s for s in bout.comparison.scores if s.measure == "yaw_kept")
    moved = replace(kept, estimate=Estimate((low + high) / 2, low, high, 40))
    others = tuple(s for s in bout.comparison.scores if s is not kept)
    changed = replace(bout, comparison=replace(bout.comparison, scores=(moved, *others)))
    assert words in say.certainty(changed, 75.0, 40.0)


@pytest.mark.parametrize("code", sorted(AIM_CODES))
def test_a_lighter_load_that_kept_the_turn_is_named(scores: SessionScores, code: str) -> None:
    bout = replace(scores.bouts[3], aim_reading=AimReading(code, 8.0))
    said = say.aim_reading(bout)
    assert "8 kg" in said
    assert not said.endswith("expected. 8 kg in this hold kept it.")
    hurt = replace(bout, aim_reading=AimReading(code, 8.0, 3.0, 3.0))
    assert "8 kg (pain up to 3 of 10) in this hold kept it" in say.aim_reading(hurt)
    other = replace(bout, aim_reading=AimReading(code, 8.0, 7.0, 0.0))
    assert "8 kg (in another bout pain 7 of 10) in this hold kept it" in say.aim_reading(other)
    alarm = replace(bout, aim_reading=AimReading(code, 8.0, math.nan, 0.0, "dizzy"))
    assert "8 kg (in another bout stopped: dizzy) in this hold kept it" in say.aim_reading(alarm)


@pytest.mark.parametrize("answer", sorted(LADDER_ANSWERS))
def test_every_ladder_answer_is_a_sentence_about_its_hold(
    scores: SessionScores, answer: str
) -> None:
    said = say_ladder.ladder(replace(scores.ladder[0], answer=answer))
    assert said.startswith("Weight at the side, right, kettlebell: ")
    assert said.endswith(".")
    assert "{" not in said


def rung_of(kept: tuple[float, ...], half: float = 8.0, **changed: object) -> LadderRung:
    """A rung at 8, 12, 16 ... kg with an interval of so many points to either side."""
    nan = float("nan")
    loads = tuple(8.0 + 4.0 * k for k in range(len(kept)))
    fields = {
        "hold": "rack", "loaded_side": "right", "implement": "", "threshold_pct": 75.0,
        "heaviest_kept_kg": nan, "next_kg": nan, "answer": "no_tested_load", "loads_kg": loads,
        "kept_pct": kept, "ci_low_pct": tuple(v - half for v in kept),
        "ci_high_pct": tuple(v + half for v in kept), **changed,
    }  # fmt: skip
    return LadderRung(**fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kept", "stopped", "words"),
    [
        (
            (100.0, 50.0),
            (),
            "At 12 kg, the next load tested, less was kept: the limit lies between 8 and 12 kg.",
        ),
        ((100.0, 80.0), (), "At 12 kg, the next load tested, this was no longer certain (80 %)."),
        ((100.0, math.nan), (12.0,), "12 kg, the next load tested, does not count (pain 5 of 10)."),
        ((100.0, math.nan), (), "At 12 kg, the next load tested, this was not measured."),
    ],
)
def test_the_next_load_is_told_as_it_is(
    kept: tuple[float, ...], stopped: tuple[float, ...], words: str
) -> None:
    rung = rung_of(
        kept,
        answer="kept_up_to",
        heaviest_kept_kg=8.0,
        next_kg=12.0,
        stopped=tuple(StoppedLoad(load, 5.0, "") for load in stopped),
    )
    said = say_ladder.ladder(rung)
    assert "up to 8 kg." in said
    assert words in said


def test_a_load_without_a_count_is_named_with_the_reason() -> None:
    said = say_ladder.ladder(
        rung_of((math.nan, 50.0, 30.0), stopped=(StoppedLoad(8.0, math.nan, "grip"),))
    )
    assert "every load that counts kept less than 75 %" in said
    assert said.endswith("Not counted: 8 kg (stopped: grip).")
    assert "certainly" in say_ladder.ladder(rung_of((78.0, 60.0)))
    only = rung_of(
        (math.nan, 98.0, math.nan),
        answer="one_load_only",
        stopped=(StoppedLoad(8.0, math.nan, "grip"),),
    )
    said = say_ladder.ladder(only)
    assert (
        "only 12 kg counts. It kept 98 % of the free walk's trunk rotation (90 to "
        "106), clearly above 75 %." in said
    )
    assert "Not counted: 8 kg (stopped: grip)." in said
    assert "Not measured: 16 kg." in said


@pytest.mark.parametrize(
    ("kept", "words"),
    [
        (98.0, "8 kg, the only load tested, kept 98 % of the free walk's trunk rotation (90 to "
         "106), clearly above 75 %."),
        (31.0, "kept 31 % of the free walk's trunk rotation (23 to 39), clearly less than 75 %."),
        (78.0, "kept 78 % of the free walk's trunk rotation (70 to 86), not clearly above "
         "or below 75 %."),
        (math.nan, "no answer, because only one load was tested and it was not measured."),
    ],
)  # fmt: skip
def test_one_load_says_what_it_kept(kept: float, words: str) -> None:
    assert words in say_ladder.ladder(rung_of((kept,), answer="one_load_only"))


def test_a_load_that_kept_it_carries_its_pain() -> None:
    rung = rung_of((100.0, 98.0), answer="not_yet_reached", heaviest_kept_kg=12.0,
                   pains_0_10=(0.0, 3.0), pain_limit_0_10=3.0)  # fmt: skip
    assert (
        "up to 12 kg, the heaviest load tested (pain up to 3 of 10, within the set limit of 3), "
        in say_ladder.ladder(rung)
    )
    known = replace(rung, answer="kept_up_to", next_kg=12.0, heaviest_kept_kg=8.0)
    assert "kept up to 8 kg. " in say_ladder.ladder(known)
    other = replace(known, pains_0_10=(1.0, 0.0), pain_limit_0_10=0.0)
    assert "kept up to 8 kg (in another bout pain 1 of 10). " in say_ladder.ladder(other)


@pytest.mark.parametrize(
    ("pain", "stop", "words"),
    [
        (math.nan, "chest tightness", " (in another bout stopped: chest tightness)"),
        (3.0, "dizzy", " (in another bout stopped: dizzy, pain 3 of 10)"),
        (4.0, "pain", " (in another bout pain 4 of 10)"),
        (math.nan, "pain", " (in another bout stopped: pain)"),
        (0.0, "", ""),
    ],
)
def test_a_load_that_kept_it_carries_its_early_stops(pain: float, stop: str, words: str) -> None:
    rung = rung_of((100.0, 50.0), answer="kept_up_to", heaviest_kept_kg=8.0, next_kg=12.0,
                   pains_0_10=(pain, 0.0), stops=(stop, "grip"))  # fmt: skip
    assert f"kept up to 8 kg{words}. " in say_ladder.ladder(rung)
    within = replace(rung, pain_limit_0_10=5.0, pains_0_10=(2.0, 0.0))
    if stop == "dizzy":
        assert (
            "8 kg (pain up to 2 of 10, within the set limit of 5; in another bout stopped: dizzy)"
            in say_ladder.ladder(within)
        )


def test_carries_on_elastic_are_named_below_the_ladder() -> None:
    scores = build_scores()
    plain = say_ladder.lines_of(scores)
    assert say_ladder.left_out(scores) == ()
    bouts = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, perturbed="elastic")))
        if b.data.row.bout in ("rack 6", "free 2") else b
        for b in scores.bouts
    )  # fmt: skip
    told = replace(scores, bouts=bouts)
    *lines, last = say_ladder.lines_of(told)
    assert len(lines) == len(plain)
    assert last == (
        "Not in the load ladder, because the load hung on elastic: rack, left, 6\u00a0kg (rack 6)."
    )
    assert len(say_ladder.answers_of(told)) == len(say_ladder.lines_of(told))
    assert "because the load hung on elastic" in " ".join(" ".join(terminal_lines(told)).split())
    many = replace(told, ladder=told.ladder * 4)
    table = ladder_answers(many)
    assert table is not None
    assert last in table.notes


def test_the_limit_of_pain_is_said_where_a_load_does_not_count_for_it() -> None:
    stopped = (StoppedLoad(8.0, 5.0, ""),)
    rung = rung_of((math.nan, 50.0, 30.0), stopped=stopped, pain_limit_0_10=2.0)
    assert say_ladder.ladder(rung).endswith(
        "Not counted: 8 kg (pain 5 of 10). Loads with pain above 2 of 10, an alarm "
        "symptom or an early stop are not counted as kept."
    )
    pair = (rung, replace(rung, hold="overhead"))
    lines = say_ladder.lines_of(replace(build_scores(), ladder=pair))
    assert [line.count("are not counted as kept") for line in lines] == [1, 0]
    assert lines[1].endswith("Not counted: 8 kg (pain 5 of 10).")
    grip = replace(rung, stopped=(StoppedLoad(8.0, math.nan, "grip"),))
    assert "counted as kept" not in say_ladder.ladder(grip)
    none = replace(rung, pain_limit_0_10=0.0)
    assert say_ladder.ladder(none).endswith(
        " Loads with any pain, an alarm symptom or an early stop are not counted as kept."
    )


@pytest.mark.parametrize(
    ("pain", "reason", "words"),
    [
        (6.0, "pain", "8 kg (pain 6 of 10)."),
        (6.0, "grip", "8 kg (stopped: grip, pain 6 of 10)."),
        (math.nan, "end of rope", "8 kg (stopped: end of rope)."),
    ],
)
def test_why_a_load_does_not_count_is_said(pain: float, reason: str, words: str) -> None:
    stopped = (StoppedLoad(8.0, pain, reason),)
    said = say_ladder.ladder(rung_of((math.nan,), answer="pain_or_early_stop", stopped=stopped))
    assert words in said


def test_bouts_judged_together_are_told_with_what_is_not_clear_alone() -> None:
    one = rung_of((90.0,), answer="one_load_only", n_counted=(2,), unclear_alone=(("3",),))
    assert say_ladder.ladder(one).endswith(
        "(82 to 98, both bouts together), above 75 %; bout 3 by itself is not clear."
    )
    both = replace(one, unclear_alone=((),))
    assert say_ladder.ladder(both).endswith("(82 to 98, both bouts together), clearly above 75 %.")
    once = replace(one, n_counted=(1,))
    assert say_ladder.ladder(once).endswith("(82 to 98), clearly above 75 %.")
    rung = rung_of((100.0, 50.0), answer="kept_up_to", heaviest_kept_kg=8.0, next_kg=12.0,
                   n_counted=(3, 1), unclear_alone=(("4", "8"), ()))  # fmt: skip
    assert say_ladder.ladder(rung).endswith(
        " All 3 bouts at 8 kg were judged together; bouts 4 and 8 by themselves are not clear."
    )
    assert "together" not in say_ladder.ladder(replace(rung, n_counted=(1, 2)))


def test_a_best_estimate_is_not_given_for_a_load_whose_pace_may_overstate_it() -> None:
    rung = rung_of((82.0, 60.0), likely_kept_kg=8.0)
    assert "best estimate" in say_ladder.ladder(rung)
    assert "best estimate" not in say_ladder.ladder(replace(rung, overstated_kg=(8.0,)))


def test_a_repeat_that_differs_stands_instead_of_a_best_estimate() -> None:
    plain = rung_of((82.0, 60.0), likely_kept_kg=8.0)
    assert "best estimate" in say_ladder.ladder(plain)
    said = say_ladder.ladder(replace(plain, repeats=((8.0, 105.0, 65.0),)))
    assert (
        "8 kg was carried more than once and kept 105 % the first time, 65 % the last time" in said
    )
    assert "fatigue may be behind it" in said
    assert "best estimate" not in said


def test_loads_that_rose_with_the_order_are_said_with_the_ladder() -> None:
    notice = Notice("load_and_order_rise_together", "", severity="note")
    rung = rung_of((100.0, 50.0), answer="kept_up_to", heaviest_kept_kg=8.0, next_kg=12.0)
    assert "from light to heavy" not in say_ladder.ladder(rung)
    assert "from light to heavy" in say_ladder.ladder(replace(rung, notices=(notice,)))


def test_loads_that_are_kept_for_a_heavier_ones_sake_are_named() -> None:
    rung = rung_of((100.0, 80.0, 90.0), answer="not_yet_reached", heaviest_kept_kg=16.0)
    assert "The bouts at 12 kg are not clear by themselves" in say_ladder.ladder(rung)


def test_no_load_is_named_where_a_heavier_one_kept_more() -> None:
    said = say_ladder.ladder(rung_of((50.0, 100.0, 98.0, 80.0)))
    assert said == (
        "Rack, right: no heaviest load can be named, because 12 kg kept more than 8 kg, by more "
        "than chance. At 12 and 16 kg at least 75 % of the free walk's trunk rotation was kept. "
        "At 8 kg less was kept. At 20 kg this is not clear. Load alone is not the cause: repeat "
        "the loads in another order."
    )
    beyond = rung_of((98.0, 40.0, 98.0), answer="kept_up_to", heaviest_kept_kg=8.0, next_kg=12.0)
    assert "no heaviest load can be named, because 16 kg kept" in say_ladder.ladder(beyond)
    within = rung_of((85.0, 105.0), answer="not_yet_reached", heaviest_kept_kg=12.0)
    said = say_ladder.ladder(within)
    assert "up to 12 kg, the heaviest load tested" in said
    assert "12 kg kept more than 8 kg, by more than chance: load alone is not the cause." in said


def test_a_ladder_of_which_every_load_kept_less_says_where_it_stops() -> None:
    said = say_ladder.ladder(rung_of((50.0, 40.0)))
    assert said.endswith(", so the limit lies below 8 kg, the lightest load tested.")
    hurt = rung_of((math.nan, 50.0), stopped=(StoppedLoad(8.0, 5.0, ""),))
    assert ", so the limit lies below 12 kg, the lightest load that counts." in say_ladder.ladder(
        hurt
    )


def test_the_best_estimate_of_a_ladder_is_told_where_it_goes_further(
    scores: SessionScores,
) -> None:
    rung = replace(scores.ladder[0], likely_kept_kg=16.0, fit_pct=(92.0, 78.0, 46.0))
    assert say_ladder.ladder(rung).endswith(
        "The best estimate for 16 kg (78 %) is above 75 % too, but not certainly."
    )
    assert "best estimate" not in say_ladder.ladder(replace(rung, likely_kept_kg=8.0))


@pytest.mark.parametrize(
    ("finding", "change", "words"),
    [
        ("increased_more_than_error", 9.0, "rose by 9.0 deg, more than the error"),
        ("decreased_more_than_error", -9.0, "fell by 9.0 deg, more than the error"),
        ("within_error", -3.0, "left: \u22123.0 deg, within the error of 6.0 deg"),
        ("not_decidable", 3.0, "100.0 to 103.0 deg, +3.0 deg"),
    ],
)
def test_shoulder_tests_in_words(finding: str, change: float, words: str) -> None:
    found = RetestFinding("flexion", "left", 100.0, 100.0 + change, change, 6.0, "x", finding)
    assert words in say_retest.retest(found)


@pytest.mark.parametrize(
    ("change", "error", "words"),
    [
        (0.5, 0.49948, "rose by 0.500 deg, more than the error of 0.499 deg"),
        (2.04, 1.96, "rose by 2.04 deg, more than the error of 1.96 deg"),
        (9.0, 6.0, "rose by 9.0 deg, more than the error of 6.0 deg"),
    ],
)
def test_a_change_beyond_the_error_has_the_digits_that_show_it(
    change: float, error: float, words: str
) -> None:
    found = RetestFinding(
        "flexion", "left", 100.0, 100.0 + change, change, error, "x", "increased_more_than_error"
    )
    assert words in say_retest.retest(found)


def test_templates_and_their_fields_are_plain() -> None:
    for name in filter(str.isupper, vars(texts)):
        for template in _strings(getattr(texts, name)):
            fields = [field for _, field, _, _ in string.Formatter().parse(template) if field]
            assert all(field.isidentifier() for field in fields), template


def _strings(tree: object) -> list[str]:
    if isinstance(tree, str):
        return [tree]
    return [s for v in tree.values() for s in _strings(v)] if isinstance(tree, dict) else []


def test_terminal_lines_are_short_ascii_and_answer_the_question(scores: SessionScores) -> None:
    lines = terminal_lines(scores)
    assert all(line.isascii() and len(line) < 80 for line in lines)
    text = "\n".join(lines)
    assert "P07, visit 2, 2026-03-14" in text
    heading = next(k for k, line in enumerate(lines) if "rotation" in line)
    for bout, line in zip(scores.bouts, lines[heading + 1 :], strict=False):
        assert bout.data.row.bout[:10] in line
        assert say.hold_in_short(bout.data.row) in line
        assert f" {number(estimate_of(bout, 'sternum_yaw_range').value)} " in line
    assert "turned less" in text
    assert "up to 8 kg" in text.replace("\n    ", " ")
    assert "check: suitcase 16: The wrist sensors look swapped" in text


def test_the_terminals_table_tells_what_the_free_arms_kept(scores: SessionScores) -> None:
    heading, *lines = bout_lines(scores.bouts)
    assert heading.endswith("arms %")
    said = dict(zip((bout.data.row.bout for bout in scores.bouts), lines, strict=True))
    assert said["free 1"].endswith("  L 100 R 100")
    assert said["suitcase 24"].endswith("  41 (32-50)    L 46")
    assert said["rack 10"].endswith("  26 (17-35)    R 41")
    assert bout_lines(build_scores(wrists=()).bouts)[0].endswith("% of free")


def test_the_terminals_table_shows_the_arms_where_no_chest_was_worn() -> None:
    heading, *lines = bout_lines(build_scores(chest=False).bouts)
    assert "rotation" not in heading
    assert not any("not measured" in line for line in lines)
    assert lines[0].split("  ")[-1].strip() == "100 (89-111)"
    assert lines[3].endswith("  12.0 deg  46 (35-57)    held")
    assert "held" in lines[5]
    assert lines[5].endswith("  11.0 deg   41 (30-52)")
    one = bout_lines(build_scores(chest=False, wrists=("left",)).bouts)
    assert "right arm" not in one[0]
    assert one[4].endswith("  12.0 deg  46 (35-57)")


def test_the_terminals_table_shortens_words_before_it_cuts_a_load() -> None:
    long_name = "carry number fourteen"
    bouts = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, bout=long_name, load_kg=12.25)))
        for b in build_scores().bouts
    )
    narrow = bout_lines(bouts)
    assert max(map(len, narrow)) < 80
    assert narrow[2].startswith("  carry number~  side R 12.25      kept       ")
    wide = bout_lines(bouts, columns=109)
    assert wide[2].startswith("  carry number fourteen  side right 12.25     kept turning  ")
    assert wide[2].endswith("  L 92")


def test_the_terminals_table_leaves_the_arms_out_before_a_load_and_marks_what_it_cuts() -> None:
    two = BoutRow("b", 0.0, 1.0, "mixed", "both", 48.2, left_hold="overhead", right_hold="suitcase",
                  left_load_kg=24.1, right_load_kg=24.1)  # fmt: skip
    bouts = [
        replace(b, data=replace(b.data, row=replace(two, bout="carry number fourteen")))
        for b in build_scores().bouts
    ]
    heading, line, *_ = bout_lines(bouts)
    assert "arms %" not in heading
    assert "  overhead L 24.1, side R 24.1  kept  " in line
    cut = bout_lines(bouts, columns=60)
    assert all(len(line) <= 60 for line in cut)
    assert "  overhead L~  " in cut[1]
    assert bout_lines(bouts, columns=109)[0].endswith("  arms %")


def test_a_terminals_first_line_below_who_says_that_the_trunk_was_not_measured() -> None:
    line = "  No chest sensor: whether the trunk turned was not measured."
    assert terminal_lines(build_scores(chest=False))[1] == line
    assert line not in terminal_lines(build_scores())


def test_a_numbered_bout_is_called_a_bout(scores: SessionScores) -> None:
    row = replace(scores.bouts[1].data.row, bout="4")
    assert say.bout_name(row) == "bout 4"
    assert say.bout_label(row) == "bout 4: weight at the side, right, 8\u00a0kg"
    assert say.bout_name(scores.bouts[1].data.row) == "suitcase 8"


def test_terminal_lines_hold_no_control_character() -> None:
    scores = with_participant(build_scores(text="a\x1b[31m\r\n\u2028é"), "x\x07y")
    for line in terminal_lines(scores):
        assert line.isascii()
        assert line.isprintable()
        assert len(line) < 80


def test_terminal_lines_without_any_bout() -> None:
    assert "no bout was found" in terminal_lines(build_scores(visit=()))


@pytest.mark.parametrize(
    ("value", "digits", "shown"),
    [(-0.04, 1, "0.0"), (float("nan"), 1, "–"), (9.96, 1, "10.0"), (-1.25, 1, "-1.2")],  # noqa: RUF001
)
def test_numbers_are_rounded_for_people(value: float, digits: int, shown: str) -> None:
    assert number(value, digits) == shown


def test_units_set_the_digits() -> None:
    assert quantity(1.23456, "s") == "1.235"
    assert quantity(107.14, "{steps}/min") == "107.1"
    assert kilograms(8.0) == "8"
    assert kilograms(7.5) == "7.5"


def test_the_ladders_table_names_why_a_load_has_no_numbers() -> None:
    rung = rung_of((100.0, math.nan), stopped=(StoppedLoad(12.0, 6.0, ""),))
    table = ladder_table(rung, "")
    assert [row.head for row in table.rows] == ["8 kg", "12 kg (pain 6 of 10)"]


def test_a_ladder_of_two_holds_names_both() -> None:
    rung = rung_of((98.0,), hold="mixed", left_hold="rack", right_hold="suitcase", answer="x")
    assert ladder_names.ladder_hold(rung) == "rack left, side right"
