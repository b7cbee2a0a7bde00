"""A visit without a chest sensor: the arms answer, and what was not worn is said once."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scores_builder import VISIT, build_scores

from imucarry.basics.records import Estimate, LadderRung, Notice, SessionScores, StoppedLoad
from imucarry.basics.settings import Settings
from imucarry.carry.baseline_moved import ARMS_APART, ARMS_UNLIKE
from imucarry.carry.bout_checks import FREE_ARM, UNLIKE_STRIDES
from imucarry.report.assemble import assemble
from imucarry.report.glyphs import kept_strip
from imucarry.report.lookup import estimate_of
from imucarry.report.notices import checks
from imucarry.report.page import render
from imucarry.report.views import PageView
from imucarry.report.wording import terminal_lines
from imucarry.report.wording.by_walk import by_walk
from imucarry.report.wording.say_arm_ladder import arm_ladder


def unmeasured(rung: LadderRung) -> LadderRung:
    return replace(rung, answer="not_measured", stopped=())


@pytest.fixture(scope="module")
def arms() -> SessionScores:
    scores = build_scores(chest=False)
    bouts = tuple(
        replace(b, comparison=replace(b.comparison, rotation_finding="not_measured"))
        for b in scores.bouts
    )
    return replace(scores, bouts=bouts, ladder=tuple(map(unmeasured, scores.ladder[:1])))


@pytest.fixture(scope="module")
def view(arms: SessionScores) -> PageView:
    return assemble(arms, Settings(), title="", earlier=None)


def test_the_first_box_answers_with_the_free_arm(arms: SessionScores, view: PageView) -> None:
    assert view.ladder_head == "How much load keeps the arm swinging"
    (missing, _), (answer, _) = view.ladder
    assert "No chest sensor" in missing
    for bout in arms.bouts[1:4]:
        kept = estimate_of(bout, "arm_swing_kept", "left").value
        assert f"{kept:.0f} % at {bout.data.row.load_kg:g} kg" in answer
    assert "free left arm" in answer


def test_a_load_with_pain_is_not_counted_for_the_arm_either(arms: SessionScores) -> None:
    rung = replace(arms.ladder[0], stopped=(StoppedLoad(24.0, 6.0, ""),))
    (said,) = arm_ladder(replace(arms, ladder=(rung,)))
    assert "% at 24 kg" not in said
    assert said.endswith("Not counted: 24 kg (pain 6 of 10).")


def test_a_bout_that_was_stopped_is_left_out_and_told_beside_its_load(arms: SessionScores) -> None:
    first, again = arms.bouts[1], arms.bouts[2]
    load = first.data.row.load_kg
    row = replace(again.data.row, load_kg=load, stop_reason="chest tightness")
    stopped = replace(again, data=replace(again.data, row=row))
    rung = replace(arms.ladder[0], loads_kg=(load,), stops=("chest tightness",))
    (said,) = arm_ladder(replace(arms, bouts=(arms.bouts[0], first, stopped), ladder=(rung,)))
    kept = estimate_of(first, "arm_swing_kept", "left").value
    assert said.endswith(
        f"kept {kept:.0f} % at {load:g} kg (in another bout stopped: chest tightness)."
    )


def walks_apart() -> SessionScores:
    """Without a chest sensor; the left arm swung 26 deg in one free walk, 20 in the other."""
    scores = build_scores(chest=False, visit=(*VISIT[:7], replace(VISIT[7], left_deg=20.0)))
    notice = Notice(ARMS_APART, "the arms swung very differently", severity="check")
    bouts = tuple(
        replace(b, comparison=replace(b.comparison, rotation_finding="not_measured",
                                      notices=(notice,)))
        for b in scores.bouts
    )  # fmt: skip
    return replace(scores, bouts=bouts, ladder=tuple(map(unmeasured, scores.ladder[:1])))


def test_free_walks_that_differ_still_tell_what_both_agree_on() -> None:
    shown = assemble(walks_apart(), Settings(), title="", earlier=None)
    kept, unsure, less = shown.findings[:3]
    assert [found.mark for found in (kept, unsure, less)] == [
        "arm kept swinging", "not clear", "arm swung less",
    ]  # fmt: skip
    assert kept.rotation.startswith(
        "Free left arm kept swinging, whichever free walk it is compared with: 24.0 deg, 92 % of "
        "its free swing (84 to 134)"
    )
    assert unsure.rotation.startswith(
        "Free left arm, swing not clear: 20.0 deg, 77 % of its free swing (69 to 113, depending on "
        "the free walk)"
    )
    assert less.rotation.startswith(
        "The free left arm swung less, whichever free walk it is compared with: 12.0 deg, "
        "46 % of its free swing (just under 40 to 70)."
    )
    assert less.certainty == "<40 to 70 % (left arm), whichever free walk it is compared with"
    assert unsure.certainty.endswith("; not clear: the free walks differ widely")


def test_a_carry_has_one_interval_in_its_row_its_strip_its_mark_and_the_terminal() -> None:
    scores = walks_apart()
    shown = assemble(scores, Settings(), title="", earlier=None)
    said = terminal_lines(scores)
    for bout, found in zip(scores.bouts[1:4], shown.findings[:3], strict=True):
        walks = by_walk(scores.bouts, bout, "left")
        assert walks is not None
        low, high = walks.ci_low_pct, walks.ci_high_pct
        clear = low > 75.0 or high < 75.0
        assert (found.mark != "not clear") == clear
        value = estimate_of(bout, "arm_swing_kept", "left").value
        assert found.strip == kept_strip(Estimate(value, low, high, 20), (75.0, 40.0))
        told = found.certainty.partition(" %")[0]
        assert f" free swing ({told.replace('<', 'just under ')}" in found.rotation
        (line,) = [line for line in said if line.startswith(f"  {bout.data.row.bout} ")]
        assert f"({told if '<' in told else told.replace(' to ', '-')})" in line


def test_that_the_free_walks_differ_is_a_check_and_said_once() -> None:
    scores = walks_apart()
    (first,) = arm_ladder(scores)
    assert "92 % at 8 kg (at least 75 %, whichever free walk it is compared with), " in first
    assert "77 % at 16 kg, 46 % at 24 kg (less than 75 %, whichever" in first
    (told,) = [n.message for _, n in checks(scores) if n.code == ARMS_APART]
    assert told.startswith("the free walks' arm swing differs widely (left 20 to 26 deg): shares")
    shown = assemble(scores, Settings(), title="", earlier=None)
    assert [check.message for check in shown.checks if check.code == ARMS_APART] == [
        "The free walks' arm swing differs widely (left 20 to 26 deg): shares may be too high or "
        "too low. Name the free walks of like pace in the column `baseline` of the bouts sheet."
    ]
    assert sum("arm swing differs" in line for line in terminal_lines(scores)) == 1


def test_without_a_walk_of_like_pace_an_arm_is_said_neither_to_have_swung_less_nor_as_ever(
    arms: SessionScores, view: PageView
) -> None:
    apart, why = Notice(ARMS_UNLIKE, "", severity="check"), "no free walk of like pace"
    doubtful = replace(
        arms,
        bouts=tuple(
            replace(b, comparison=replace(b.comparison, notices=(apart,))) for b in arms.bouts
        ),
    )
    shown = assemble(doubtful, Settings(), title="", earlier=None)
    before = [found.mark for found in view.findings]
    after = [found.mark for found in shown.findings]
    assert {"arm kept swinging", "arm swung less"} <= set(before)
    carries = [k for k, found in enumerate(shown.findings) if found.hold != "free walk"]
    assert len(carries) > 2
    for k in carries:
        assert after[k] == "not clear"
        found = shown.findings[k]
        assert found.certainty.endswith(f"; not clear: {why}")
        assert " arm in doubt: " in found.rotation
        assert "swung less" not in found.rotation
    assert not any("not clear: " in found.certainty for found in view.findings)
    assert "may be too high or too low" in shown.ladder[1][0]
    assert "may be too high or too low" not in view.ladder[1][0]


def gesturing(scores: SessionScores, *which: int) -> SessionScores:
    notice = Notice(UNLIKE_STRIDES, "the free left arm moved", severity="check")
    bouts = list(scores.bouts)
    for k in which:
        bouts[k] = replace(bouts[k], notices=(*bouts[k].notices, notice))
    return replace(scores, bouts=tuple(bouts))


def test_an_arm_that_moved_but_not_with_the_strides_is_not_said_to_have_kept_swinging(
    arms: SessionScores, view: PageView
) -> None:
    shown = assemble(gesturing(arms, 1), Settings(), title="", earlier=None)
    before, after = view.findings[0], shown.findings[0]
    assert (before.mark, after.mark) == ("arm kept swinging", "not clear")
    assert after.rotation.startswith("Free left arm moved, but not with the strides: 24.0 deg, ")
    assert after.certainty.endswith("; not clear: an arm moved, but not with the strides")
    assert [f.mark for f in shown.findings[1:]] == [f.mark for f in view.findings[1:]]
    told = "Not counted: 8 kg (the arm moved, but not with the strides)."
    assert " % at 8 kg" in view.ladder[1][0]
    assert " % at 8 kg" not in shown.ladder[1][0]
    assert shown.ladder[1][0].endswith(told)


def test_where_no_arm_moved_with_the_strides_none_is_said_to_have_kept_swinging(
    arms: SessionScores,
) -> None:
    (said,) = arm_ladder(gesturing(arms, 1, 2, 3))
    assert said == (
        "Weight at the side, right: whether the free left arm kept swinging is not "
        "known. Not counted: 8, 16, 24 kg (the arm moved, but not with the strides)."
    )


def test_a_free_walk_is_held_against_no_line_whether_or_not_the_walks_arms_differ(
    arms: SessionScores, view: PageView
) -> None:
    carry = arms.bouts[1]
    noted = replace(carry.comparison, notices=(Notice(ARMS_APART, ""),))
    told = replace(arms, bouts=(arms.bouts[0], replace(carry, comparison=noted), *arms.bouts[2:]))
    shown = assemble(told, Settings(), title="", earlier=None)
    for before, after in zip(view.findings, shown.findings, strict=True):
        if after.hold != "free walk":
            assert (after.mark, after.certainty) == (before.mark, before.certainty)
        else:
            assert before.mark == after.mark == "free walk"
            assert "not clear" not in after.certainty
            assert "l-limit" not in after.strip


def test_a_carry_without_a_noted_load_stands_at_no_load(arms: SessionScores) -> None:
    unknown = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, load_kg=float("nan"))))
        for b in arms.bouts
    )
    assert arm_ladder(replace(arms, bouts=unknown)) == []
    (said,) = arm_ladder(replace(arms, bouts=(unknown[1], *arms.bouts[2:])))
    assert "% at 16 kg" in said
    assert said.count("% at ") == 2


def test_each_row_says_what_the_arm_did(view: PageView) -> None:
    carry = view.findings[2]
    assert carry.rotation.startswith("The free left arm swung less")
    assert carry.mark == "arm swung less"
    assert carry.strip
    assert carry.arms == carry.reading == ""


def test_what_was_not_worn_is_said_once(arms: SessionScores) -> None:
    page = render(arms, Settings())
    top = page[page.index('id="findings"') : page.index('id="pictures"')]
    assert top.count("chest sensor") == 1
    assert "not measured" not in top.replace("trunk rotation was not measured", "")


def test_the_arms_finding_is_no_check_but_stays_one_beside_the_trunk(arms: SessionScores) -> None:
    notice = Notice(FREE_ARM, "the free left arm swung less", severity="check")

    def codes(scores: SessionScores) -> set[str]:
        noted = replace(scores, bouts=(replace(scores.bouts[3], notices=(notice,)),))
        return {item.code for _, item in checks(noted)}

    assert FREE_ARM not in codes(arms)
    assert FREE_ARM in codes(build_scores())


def test_the_terminal_answers_with_the_arm_too(arms: SessionScores) -> None:
    said = " ".join(" ".join(terminal_lines(arms)).split())
    assert "the free left arm kept" in said
    assert "no answer" not in said


def test_with_a_chest_sensor_nothing_changes() -> None:
    assert arm_ladder(build_scores()) == []


def test_the_interval_names_its_arm(view: PageView) -> None:
    assert view.findings[2].certainty.endswith("% (left arm)")
    assert view.findings[-1].certainty.endswith(" arm, the lower)")


def test_without_a_free_arm_that_was_measured_nothing_is_said_of_the_trunk() -> None:
    held = build_scores(chest=False, wrists=("right",))
    held = replace(held, bouts=held.bouts[:4], ladder=tuple(map(unmeasured, held.ladder[:1])))
    seen = assemble(held, Settings(), title="", earlier=None)
    assert seen.strip_words == "arm swing, % of the free walk"
    assert seen.strip_how.endswith("Not clear: it crosses 75 %.")
    assert seen.ladder_head == "How much load keeps the arm swinging"
    assert "No chest sensor" in seen.ladder[0][0]
    none = "The swing of no free arm is known, so there is no answer."
    assert seen.ladder[1:] == ((none, ""),)
    assert seen.ladder_answers is None


def test_an_interval_beyond_the_strip_ends_in_an_arrow() -> None:
    inside = kept_strip(Estimate(100.0, 80.0, 139.0, 20), (75.0, 40.0))
    beyond = kept_strip(Estimate(120.0, 80.0, 184.0, 20), (75.0, 40.0))
    assert inside.count('class="d-mean"') == 1
    assert beyond.count('class="d-mean"') == 2
