"""The number that an aim asks for stands beside what it means."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from moving_body import first_rows
from scores_builder import VISIT, build_scores

from imucarry.basics.records import BoutResult, Estimate, Notice, Score, SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.summary import finding
from imucarry.report.wording import say
from imucarry.report.wording.numbers import MINUS
from imucarry.report.wording.say_aim import aim_number

REDUCED_PCT = 75.0


def visit(aim: str, measure: str, found: Estimate) -> tuple[SessionScores, BoutResult]:
    scores = build_scores(visit=(VISIT[0], replace(VISIT[1], aim=aim)))
    bout = scores.bouts[1]
    kept = tuple(score for score in bout.scores if score.measure != measure)
    score = Score(bout.data.row.bout, measure, "none", "none", "deg/min", found)
    bout = replace(bout, scores=(*kept, score))
    return replace(scores, bouts=(scores.bouts[0], bout)), bout


def half_a_minute_of_10_deg(trend: Estimate) -> tuple[SessionScores, BoutResult]:
    """An endurance carry: 30 strides of 1 s that count, after one that does not, about 10 deg."""
    scores, bout = visit("endurance", "sternum_yaw_trend", trend)
    start_s = np.concatenate(([20.0], 60.0 + np.arange(30.0)))
    strides = replace(
        first_rows(bout.data.strides, start_s.size),
        start_s=start_s,
        end_s=start_s + 1.0,
        kept_yaw=start_s > 30.0,
    )
    mean = Score("b", "sternum_yaw_range", "none", "none", "deg", Estimate(10.0, 9.0, 11.0, 30))
    others = (score for score in bout.scores if score.measure != "sternum_yaw_range")
    bout = replace(bout, data=replace(bout.data, strides=strides), scores=(*others, mean))
    return scores, bout


@pytest.mark.parametrize(
    ("found", "words"),
    [
        # A quarter of 10 deg is lost in half a minute at -5 deg/min.
        (Estimate(-0.2, -1.8, 1.4, 30), "-0.1 deg (-0.9 to 0.7): no fading seen."),
        (Estimate(-0.2, -4.9, 4.5, 30), "-0.1 deg (-2.5 to 2.2): no fading seen."),
        (Estimate(-0.2, -5.1, 4.7, 30), "-0.1 deg (-2.5 to 2.4): whether it faded is not clear."),
        (Estimate(-0.6, -6.7, 5.5, 30), "-0.3 deg (-3.4 to 2.8): whether it faded is not clear."),
        (Estimate(-4.0, -6.2, -1.8, 30), "-2.0 deg (-3.1 to -0.9): it faded."),
        (Estimate(-4.0, -7.96, -0.04, 30), "-2.0 deg (-4.0 to -0.02): it faded."),
        (Estimate(4.0, 1.8, 6.2, 30), "2.0 deg (0.9 to 3.1): it grew."),
    ],
)
def test_an_endurance_carry_tells_whether_it_faded(found: Estimate, words: str) -> None:
    said = aim_number(*half_a_minute_of_10_deg(found), REDUCED_PCT)
    assert said == f"Over the bout trunk rotation changed by {words}".replace("-", MINUS)


def test_no_fading_is_read_against_the_reduced_line_of_the_settings() -> None:
    carry = half_a_minute_of_10_deg(Estimate(-0.2, -1.8, 1.4, 30))
    assert aim_number(*carry, 92.0).endswith("whether it faded is not clear.")
    assert aim_number(*carry, 90.0).endswith("no fading seen.")


def test_without_an_interval_nothing_is_said_of_fading() -> None:
    missing = Estimate(missing_because="too_few_strides")
    assert aim_number(*visit("endurance", "sternum_yaw_trend", missing), REDUCED_PCT) == ""


def test_a_control_carry_tells_its_spread() -> None:
    said = aim_number(
        *visit("control", "sternum_yaw_sd", Estimate(0.93, 0.7, 1.2, 20)), REDUCED_PCT
    )
    assert said.startswith(
        "From stride to stride trunk rotation differed by 0.9 deg (standard deviation"
    )


def test_another_aim_asks_for_no_number() -> None:
    other = visit("mobility", "sternum_yaw_trend", Estimate(-2.0, -3.1, -0.8, 20))
    assert aim_number(*other, REDUCED_PCT) == ""


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
