"""The number that an aim asks for stands beside what it means."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scores_builder import VISIT, build_scores

from imucarry.basics.records import BoutResult, Estimate, Notice, Score, SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.summary import finding
from imucarry.report.wording import say
from imucarry.report.wording.say_aim import aim_number


def visit(aim: str, measure: str, found: Estimate) -> tuple[SessionScores, BoutResult]:
    scores = build_scores(visit=(VISIT[0], replace(VISIT[1], aim=aim)))
    bout = scores.bouts[1]
    kept = tuple(score for score in bout.scores if score.measure != measure)
    score = Score(bout.data.row.bout, measure, "none", "none", "deg/min", found)
    bout = replace(bout, scores=(*kept, score))
    return replace(scores, bouts=(scores.bouts[0], bout)), bout


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (Estimate(-0.1, -0.9, 0.7, 20), "changed by -0.1 deg a minute (-0.9 to 0.7): no fading "
         "seen."),
        (Estimate(-2.0, -3.1, -0.8, 20), "changed by -2.0 deg a minute (-3.1 to -0.8): it faded."),
        (Estimate(2.0, 0.8, 3.1, 20), "changed by 2.0 deg a minute (0.8 to 3.1): it grew."),
    ],
)  # fmt: skip
def test_an_endurance_carry_tells_whether_it_faded(found: Estimate, words: str) -> None:
    scores, bout = visit("endurance", "sternum_yaw_trend", found)
    assert aim_number(scores, bout) == f"Over the bout trunk rotation {words}"


def test_without_an_interval_nothing_is_said_of_fading() -> None:
    missing = Estimate(missing_because="too_few_strides")
    assert aim_number(*visit("endurance", "sternum_yaw_trend", missing)) == ""


def test_a_control_carry_tells_its_spread() -> None:
    said = aim_number(*visit("control", "sternum_yaw_sd", Estimate(0.93, 0.7, 1.2, 20)))
    assert said.startswith(
        "From stride to stride trunk rotation differed by 0.9 deg (standard deviation"
    )


def test_another_aim_asks_for_no_number() -> None:
    assert aim_number(*visit("mobility", "sternum_yaw_trend", Estimate(-2.0, -3.1, -0.8, 20))) == ""


def test_the_number_stands_after_the_reading_and_not_where_there_is_none() -> None:
    scores, bout = visit("endurance", "sternum_yaw_trend", Estimate(-2.0, -3.1, -0.8, 20))
    read = replace(bout, aim_reading=replace(bout.aim_reading, code="endurance_kept"))
    said = finding(scores, read, Settings()).reading
    assert said.startswith(
        "For endurance: the trunk kept turning. Over the bout trunk rotation changed"
    )
    unread = replace(bout, aim_reading=replace(bout.aim_reading, code=""))
    assert finding(scores, unread, Settings()).reading == ""


def test_not_clear_says_which_line(scores: SessionScores) -> None:
    bout = scores.bouts[2]
    across = replace(bout.comparison, finding_because="interval_holds_threshold")
    said = say.rotation(scores, replace(bout, comparison=across))
    assert said.endswith(": not clear, the true value may lie on either side of 75 %.")


def test_sensors_are_named_in_words() -> None:
    notice = Notice("x", "m", where="left_wrist, right_wrist")
    assert say.place("", notice) == "left wrist, right wrist"
