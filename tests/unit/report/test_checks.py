"""What a person is told to check, and what the page does not claim."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from imucarry.basics.records import BoutResult, Estimate, Notice, SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.bout_checks import FREE_ARM
from imucarry.carry.ladder_doubts import IMPLEMENTS_APART
from imucarry.readers.halves import HALVES_APART
from imucarry.report.figures.strip import strip_chart
from imucarry.report.lookup import all_scores
from imucarry.report.notices import checks, notes
from imucarry.report.page import render
from imucarry.report.summary import finding
from imucarry.report.wording import say, say_checks, terminal_lines
from imucarry.walk.strides import no_strides
from imucarry.walk.turned_alike import TURNS_CONTRADICT
from imucarry.walk.worn import WRONG_SIDE


def with_bout(scores: SessionScores, index: int, bout: BoutResult) -> SessionScores:
    return replace(scores, bouts=(*scores.bouts[:index], bout, *scores.bouts[index + 1 :]))


def without_walking(bout: BoutResult) -> BoutResult:
    """A bout whose chest sensor saw no stride: every measure has too few."""
    data = replace(bout.data, strides=no_strides(), yaw=None, swing={}, columns={})
    few = tuple(
        replace(score, estimate=replace(score.estimate, value=float("nan"), ci_low=float("nan"),
                ci_high=float("nan"), missing_because="too_few_strides"))
        for score in bout.scores
    )  # fmt: skip
    found = replace(bout.comparison, scores=(), rotation_finding="unclear")
    return replace(bout, data=data, scores=few, comparison=found)


def test_a_bout_without_walking_is_told_as_such(scores: SessionScores) -> None:
    bout = without_walking(scores.bouts[6])
    assert say.rotation(scores, bout) == "No walking was found between 560 and 622 s."
    assert say.certainty(bout, 75.0, 40.0) == ""
    assert say.aim_reading(bout) == ""
    assert {score.estimate.missing_because for score in all_scores(bout)} == {"no_walking"}
    page = render(with_bout(scores, 6, bout), Settings())
    assert "0 of 0 strides" not in page
    assert "too few strides count" not in page


def test_a_bout_is_named_once_with_its_check(scores: SessionScores) -> None:
    bout = scores.bouts[1]
    notice = replace(scores.notices[0], message="few strides", file="", where="bout suitcase 8")
    told = with_bout(scores, 1, replace(bout, notices=(notice,)))
    assert "  check: suitcase 8: Few strides." in terminal_lines(told)


NO_SPEED = "speed not known, so less rotation may be shorter steps"


def unchecked_speed(scores: SessionScores, *indices: int) -> SessionScores:
    for index in indices:
        bout = scores.bouts[index]
        notice = Notice("speed_not_checked", NO_SPEED, where=bout.data.row.bout)
        told = replace(bout, comparison=replace(bout.comparison, notices=(notice,)))
        scores = with_bout(scores, index, told)
    return scores


def test_speed_that_is_not_known_is_a_check_of_the_bouts_where_rotation_fell(
    scores: SessionScores,
) -> None:
    told = unchecked_speed(scores, 1, 3, 4, 5)
    said = [(about, n.message) for about, n in checks(told) if n.code == "speed_not_checked"]
    assert said == [("bouts suitcase 24, rack 6, rack 10", NO_SPEED)]
    noted = [about for about, n in notes(told) if n.code == "speed_not_checked"]
    assert noted == ["suitcase 8"]
    lines = terminal_lines(unchecked_speed(scores, 3))
    assert lines.count(f"  check: suitcase 24: {say.sentence_case(NO_SPEED)}.") == 1


def test_speed_that_is_not_known_is_only_noted_where_no_rotation_fell(
    scores: SessionScores,
) -> None:
    told = unchecked_speed(scores, 1, 2)
    assert not [n for _, n in checks(told) if n.code == "speed_not_checked"]
    assert len([n for _, n in notes(told) if n.code == "speed_not_checked"]) == 1


def test_a_share_of_a_free_walk_that_hardly_turned_is_not_shown(scores: SessionScores) -> None:
    bout = scores.bouts[1]
    huge = Estimate(4936.0, 830.0, 29337.0, 40)
    shares = tuple(
        replace(score, estimate=huge) if score.measure == "yaw_kept" else score
        for score in bout.comparison.scores
    )
    found = replace(
        bout.comparison,
        scores=shares,
        rotation_finding="unclear",
        finding_because="baseline_small",
    )
    small = with_bout(scores, 1, replace(bout, comparison=found))
    assert say.rotation(small, small.bouts[1]) == (
        "The trunk swung through 9.1 deg side to side in each stride; the free walks' 10.0 deg "
        "is too little, or repeats too little with the stride, to compare it with."
    )
    assert say.certainty(small.bouts[1], 75.0, 40.0).startswith("no comparison; ")
    page = render(small, Settings())
    for text in (page, "\n".join(terminal_lines(small))):
        assert "4936" not in text
        assert "29337" not in text
    assert "29337" in render(with_bout(scores, 1, replace(
        bout, comparison=replace(found, finding_because=""))), Settings())  # fmt: skip


def test_a_check_of_a_sensor_names_it_in_words(scores: SessionScores) -> None:
    moved = replace(scores.notices[0], message="it moved", file="", where="right_wrist")
    assert "  check: Right wrist: It moved." in terminal_lines(replace(scores, notices=(moved,)))


def uncompared(scores: SessionScores) -> SessionScores:
    """The same visit in which nothing has a share of the free walks'."""
    bouts = tuple(
        replace(b, comparison=replace(b.comparison, scores=(), rotation_finding="no_baseline"))
        for b in scores.bouts
    )
    return replace(scores, bouts=bouts)


def said_of_comparing(scores: SessionScores) -> list[str]:
    return [n.message for _, n in checks(scores) if n.code == "nothing_compared"]


def test_a_visit_in_which_nothing_could_be_compared_says_why(scores: SessionScores) -> None:
    assert said_of_comparing(scores) == []
    bare = uncompared(scores)
    (said,) = said_of_comparing(bare)
    assert said.startswith("No carry could be compared with the free walks: neither trunk rotation")
    carries = tuple(bout for bout in bare.bouts if bout.data.row.hold != "free")
    (said,) = said_of_comparing(replace(bare, bouts=carries))
    assert said == "No free walk was recorded, so nothing can be compared. Record two or more."
    unknown = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, hold="unknown")))
        for b in bare.bouts
    )
    (said,) = said_of_comparing(replace(bare, bouts=unknown))
    assert said.startswith("No hold was given, so nothing can be compared")
    walks = tuple(bout for bout in bare.bouts if bout.data.row.hold == "free")
    assert said_of_comparing(replace(bare, bouts=walks)) == []
    small = tuple(
        replace(b, comparison=replace(b.comparison, finding_because="baseline_small"))
        for b in bare.bouts
    )
    assert said_of_comparing(replace(bare, bouts=small)) == []


def test_a_doubtful_loaded_side_stands_first_and_the_free_arm_it_fakes_is_not_told(
    scores: SessionScores,
) -> None:
    pace = Notice("pace", "walked slower", severity="check")
    names = [bout.data.row.bout for bout in scores.bouts[1:3]]
    arms = [Notice(FREE_ARM, "the free arm swung less", severity="check") for _ in names]
    bouts = tuple(
        replace(bout, notices=(pace, arm))
        for bout, arm in zip(scores.bouts[1:3], arms, strict=True)
    )
    told = replace(scores, bouts=(scores.bouts[0], *bouts), notices=())
    assert [about for about, n in checks(told) if n.code == FREE_ARM] == [
        f"bouts {', '.join(names)}"
    ]
    side = Notice(WRONG_SIDE, "check the loaded side", where=names[1], severity="check")
    doubtful = replace(told, notices=(side,))
    doubts = [n.code for _, n in checks(doubtful) if n.code in (WRONG_SIDE, "pace", FREE_ARM)]
    assert doubts == [WRONG_SIDE, "pace", FREE_ARM]
    assert [about for about, n in checks(doubtful) if n.code == FREE_ARM] == names[:1]
    split = Notice(IMPLEMENTS_APART, "split by implement", severity="check")
    rung = replace(scores.ladder[0], notices=(split,))
    both = [n.code for _, n in checks(replace(doubtful, ladder=(rung,)))]
    assert both.index(WRONG_SIDE) < both.index(IMPLEMENTS_APART) < both.index("pace")
    everywhere = replace(side, where="left_wrist, right_wrist")
    assert not [n for _, n in checks(replace(told, notices=(everywhere,))) if n.code == FREE_ARM]
    kept = replace(bouts[1], aim_reading=replace(bouts[1].aim_reading, code="mobility_kept"))
    one = (scores.bouts[0], bouts[0], kept)
    arm_said = "the free arm swung less"
    assert arm_said in finding(replace(told, bouts=one), kept, Settings()).reading
    assert arm_said not in finding(replace(doubtful, bouts=one), kept, Settings()).reading


def test_halves_without_a_common_clock_stand_before_other_faults(scores: SessionScores) -> None:
    turns = Notice(TURNS_CONTRADICT, "the turns contradict each other", severity="check")
    halves = Notice(HALVES_APART, "two files without a common clock", severity="check")
    session = replace(scores.session, notices=(halves,))
    told = replace(scores, session=session, notices=(turns,))
    codes = [notice.code for _, notice in checks(told)]
    assert codes.index(HALVES_APART) == codes.index(TURNS_CONTRADICT) - 1


def test_what_a_sensor_did_not_record_stands_before_remarks_of_pace(scores: SessionScores) -> None:
    codes = ("speed_differs", "gaps", "sensor_not_recording")
    found = tuple(Notice(code, f"said of {code}", severity="check") for code in codes)
    told = checks(replace(scores, notices=found))
    assert [n.code for _, n in told if n.code in codes] == [
        "sensor_not_recording", "gaps", "speed_differs",
    ]  # fmt: skip


def test_doubts_of_the_trunk_stand_before_pain_not_noted_and_the_arms(
    scores: SessionScores,
) -> None:
    found = (
        Notice("held_values", "asleep", where="right_wrist", severity="check"),
        Notice("arm_swing_apart", "the arms differ", severity="check"),
        Notice("sensor_not_recording", "it ends", where="chest", severity="check"),
        Notice("few_strides", "only 8 of 12 strides count", severity="check"),
        Notice("baseline_moved", "the free walks moved", severity="check"),
    )
    told = checks(replace(scores, notices=found))
    known = {"pain_not_noted", *(notice.code for notice in found)}
    assert [n.code for _, n in told if n.code in known] == [
        "baseline_moved", "sensor_not_recording", "few_strides", "pain_not_noted",
        "held_values", "arm_swing_apart",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("about", "message", "shown"),
    [
        ("suitcase_R_8", "only 8 strides count", ("suitcase_R_8", "Only 8 strides count.")),
        ("right_wrist", "`load` is not read.", ("Right wrist", "`load` is not read.")),
        ("bouts 3, 4", "why?", ("Bouts 3, 4", "Why?")),
        ("4", "chest.csv has gaps (2)", ("Bout 4", "chest.csv has gaps (2).")),
        ("", "22 s missing in rack 8", ("", "22 s missing in rack 8.")),
    ],
)
def test_a_check_is_a_sentence_and_names_stay_as_written(
    about: str, message: str, shown: tuple[str, str]
) -> None:
    assert say_checks.as_sentence(about, Notice("x", message)) == shown


def with_gap(scores: SessionScores, index: int, start_s: float, end_s: float) -> SessionScores:
    """The visit with a hole in the chest's samples, from and to so many seconds after a bout's."""
    bout = scores.bouts[index]
    begin_s = bout.data.row.start_s
    trunk, sensor = bout.data.trunk, scores.sensors[0]
    assert trunk is not None
    lost = (trunk.time_s >= begin_s + start_s) & (trunk.time_s <= begin_s + end_s)
    first, last = np.searchsorted(sensor.recording.time_s, (begin_s + start_s, begin_s + end_s))
    gaps = Notice("gaps", "1 gap, the longest 15.00 s; strides that this touches are left out",
                  file="chest.csv", severity="check")  # fmt: skip
    recording = replace(sensor.recording, gaps=((int(first), int(last) + 1),), notices=(gaps,))
    told = replace(bout, data=replace(bout.data, trunk=replace(trunk, usable=~lost)))
    session = replace(scores.session, notices=(*scores.session.notices, gaps))
    sensors = (replace(sensor, recording=recording), *scores.sensors[1:])
    return with_bout(replace(scores, session=session, sensors=sensors), index, told)


def test_missing_samples_are_tied_to_the_bout_that_lacks_them(scores: SessionScores) -> None:
    told = with_gap(scores, 1, 28.0, 43.0)
    said = [(about, n.message) for about, n in checks(told) if n.code == "gaps"]
    assert said == [(
        "chest",
        "15 s missing in suitcase 8 (138 to 153 s); strides that this touches are left out",
    )]  # fmt: skip
    limits = Settings()
    assert finding(told, told.bouts[1], limits).certainty.endswith(
        "strides count; 15 s without chest data"
    )
    assert "chest data" not in finding(told, told.bouts[2], limits).certainty
    chart = strip_chart(told, told.bouts[1])
    assert chart is not None
    assert chart.finding.endswith(" Chest data are missing from 138 to 153 s.")


def test_missing_samples_between_strides_are_drawn_as_such_and_not_as_a_new_pass(
    scores: SessionScores,
) -> None:
    # The invented visit's two passes lie 3 s apart, from 27.9 to 30.9 s after the bout's start.
    chart = strip_chart(with_gap(scores, 1, 28.5, 30.0), scores.bouts[1])
    assert chart is not None
    assert "samples missing" not in [mark.label for mark in chart.panels[0].marks]
    told = with_gap(scores, 1, 28.5, 30.0)
    chart = strip_chart(told, told.bouts[1])
    assert chart is not None
    labels = [mark.label for mark in chart.panels[0].marks]
    assert "samples missing" in labels
    assert "next pass" not in labels
    assert chart.caption.endswith("A shaded bar stands where samples are missing.")


def test_missing_samples_outside_the_bouts_are_told_as_they_were(scores: SessionScores) -> None:
    told = with_gap(scores, 1, -15.0, -5.0)
    said = [n.message for _, n in checks(told) if n.code == "gaps"]
    assert said == ["1 gap, the longest 15.00 s; strides that this touches are left out"]
