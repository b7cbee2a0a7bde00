"""Visits of one participant side by side."""

from __future__ import annotations

import datetime as dt
import json
import math
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from scores_builder import build_scores

from imucarry.basics.errors import SessionError
from imucarry.basics.records import RomReading
from imucarry.basics.settings import CarrySettings
from imucarry.carry.alike_names import alike_implements
from imucarry.carry.earlier import HISTORY_FINDINGS, HistoryRow, compare_visits, over_weeks
from imucarry.carry.earlier_notices import history_notices, moved_free_walks
from imucarry.carry.retest import compare_tests
from imucarry.carry.visits import Visit, by_date, read_reliability, read_visit

BOUT = {
    "participant": "P1", "hold": "suitcase", "loaded_side": "right", "load_kg": "8.00",
    "implement": "", "perturbed": "none",
}  # fmt: skip
ERROR = {
    "design": "between_visit", "measure": "yaw_kept", "side": "none", "hold": "suitcase",
    "loaded_side": "right", "load_kg": "8.00", "mdc95": "15.0", "n_participants": "40",
}  # fmt: skip


def visit(session: str, *kept: float, tests: tuple[dict[str, str | float], ...] = (), **words: str
          ) -> Visit:  # fmt: skip
    bouts = [
        {**BOUT, "session": session, "yaw_kept_pct": value, "yaw_kept_ci_low_pct": value - 10,
         "yaw_kept_ci_high_pct": value + 10, **words}
        for value in kept
    ]  # fmt: skip
    return Visit(session, tuple(bouts), tests)


def test_changes_stand_against_the_error_between_visits() -> None:
    rows = compare_visits([visit("1", 60.0), visit("2", 70.0), visit("3", 80.0)], [ERROR])
    assert [row.finding for row in rows] == ["first", "within_error", "increased_more_than_error"]
    assert [row.change for row in rows[1:]] == [10.0, 20.0]
    assert (rows[2].value, rows[2].ci_low, rows[2].ci_high) == (80.0, 70.0, 90.0)
    assert "40 participants" in rows[0].error_source
    assert {row.finding for row in rows} <= set(HISTORY_FINDINGS)


def test_an_earlier_visits_arm_swing_has_its_interval(tmp_path: Path) -> None:
    (tmp_path / "bout_summary.csv").write_text(
        "participant,session,bout,hold,loaded_side,load_kg,left_arm_swing_deg,left_arm_role\n"
        "P1,1,4,rack,right,10.00,19.7,free\nP1,1,5,rack,right,14.00,11.4,free\n",
        encoding="utf-8",
    )
    (tmp_path / "scores.csv").write_text(
        "participant,session,bout,measure,side,value,ci_low,ci_high\n"
        "P1,1,4,arm_swing,left,19.7,18.3,21.0\nP1,1,4,arm_swing_sd,left,2.0,1.0,3.0\n",
        encoding="utf-8",
    )
    then = read_visit(tmp_path, "P1")
    rows = compare_visits([then, replace(then, session="2")])
    found = {r.load_kg: (r.ci_low, r.ci_high) for r in rows if r.measure == "arm_swing"}
    assert found[10.0] == (18.3, 21.0)
    assert all(map(math.isnan, found[14.0]))


def test_without_a_known_error_nothing_is_decided() -> None:
    rows = compare_visits([visit("1", 60.0), visit("2", 95.0)])
    assert rows[1].finding == "not_decidable"
    assert math.isnan(rows[1].error)


@pytest.mark.parametrize("other", [{"load_kg": "12.0"}, {"design": "same_visit"}, {"hold": "rack"}])
def test_the_error_must_be_of_the_same_condition_and_between_visits(other: dict[str, str]) -> None:
    rows = compare_visits([visit("1", 60.0), visit("2", 95.0)], [{**ERROR, **other}])
    assert rows[1].finding == "not_decidable"


def test_conditions_are_followed_apart_and_single_ones_left_out() -> None:
    assert compare_visits([visit("1", 60.0), visit("2", 70.0, load_kg="12.0")]) == ()
    assert compare_visits([visit("1", 60.0), visit("2", 70.0, perturbed="elastic")]) == ()


def test_repeats_of_a_condition_are_averaged() -> None:
    rows = compare_visits([visit("1", 60.0, 70.0), visit("2", 70.0)])
    assert (rows[0].value, rows[0].n_bouts) == (65.0, 2)
    assert math.isnan(rows[0].ci_low)
    assert (rows[0].span_low, rows[0].span_high) == (50.0, 80.0)
    assert (rows[1].span_low, rows[1].span_high) == (rows[1].ci_low, rows[1].ci_high)


def shoulder(before: float, source: str) -> tuple[dict[str, str | float], ...]:
    return ({"test": "flexion", "side": "left", "before_deg": before, "error_deg": 6.0,
             "error_source": source},)  # fmt: skip


def test_shoulder_tests_use_a_published_error_and_not_that_of_one_sitting() -> None:
    published = [
        visit(name, tests=shoulder(value, "a study")) for name, value in (("1", 150), ("2", 160))
    ]
    assert compare_visits(published)[1].finding == "increased_more_than_error"
    own = [
        visit(name, tests=shoulder(value, "own repeated readings (this side, 8 df)"))
        for name, value in (("1", 150), ("2", 160))
    ]
    assert compare_visits(own)[1].finding == "not_decidable"


def in_weeks(
    before: float, tmp_path: Path, test: str = "external_rotation", **words: str
) -> tuple[HistoryRow, ...]:
    """External rotation of three readings each, 70 deg at the first visit and `before` now."""
    (tmp_path / "bout_summary.csv").write_text("participant,session\nP1,1\n")
    (tmp_path / "retest.csv").write_text(
        "participant,session,test,side,before_deg,error_deg,error_source\n"
        "P1,1,external_rotation,right,70.33,1.88,own repeated readings (both sides, 8 df)\n"
    )
    done = {"method": "inclinometer", "active_passive": "active", "population": "healthy",
            "rater": "A"} | words  # fmt: skip
    readings = tuple(
        RomReading(test, side, when, value, **done)  # type: ignore[arg-type]
        for side in ("left", "right")
        for when in ("before", "after")
        for value in (before, before + 1, before - 1)
    )
    scores = build_scores()
    session = replace(scores.session, participant="P1", rom=readings)
    now = replace(scores, session=session, retest=compare_tests(readings, CarrySettings()))
    return over_weeks(now, [tmp_path], CarrySettings()).rows


@pytest.mark.parametrize(
    ("before", "finding"),
    [
        (82.0 + 1 / 3, "increased_more_than_error"),
        (62.0 + 1 / 3, "decreased_more_than_error"),
        (76.0 + 1 / 3, "within_error"),
    ],
)
def test_three_readings_a_visit_are_judged_by_the_published_error_that_fits_them(
    tmp_path: Path, before: float, finding: str
) -> None:
    _, now = in_weeks(before, tmp_path)
    assert (now.error, now.finding) == (6.0, finding)
    assert now.error_source.startswith("published, if the test was done the same way at every")
    assert "Kolber et al. 2009" in now.error_source


def test_a_shoulder_test_is_followed_however_it_is_spelt(tmp_path: Path) -> None:
    rows = in_weeks(82.0 + 1 / 3, tmp_path, test="External Rotation")
    same = in_weeks(82.0 + 1 / 3, tmp_path)
    assert [str(row) for row in rows] == [str(row) for row in same]  # NaN equals no NaN
    assert len(rows) == 2


@pytest.mark.parametrize("words", [{"rater": ""}, {"population": "swimmers"}, {"method": "eye"}])
def test_without_a_published_error_that_fits_the_change_over_weeks_is_not_judged(
    tmp_path: Path, words: dict[str, str]
) -> None:
    _, now = in_weeks(82.0, tmp_path, **words)
    assert now.finding == "not_decidable"


def test_an_output_folder_is_read(tmp_path: Path) -> None:
    (tmp_path / "bout_summary.csv").write_text(
        "participant,session,bout,hold,loaded_side,load_kg,yaw_kept_pct\n"
        "P1,3,c1,suitcase,right,8.00,71.5\nP1,3,f1,free,none,0.00,\n"
    )
    found = read_visit(tmp_path, "P1")
    assert (found.session, len(found.bouts), found.retest) == ("3", 2, ())
    rows = compare_visits([found, visit("4", 80.0)])
    assert [row.value for row in rows] == [71.5, 80.0]
    with pytest.raises(SessionError, match="participant 'P1'"):
        read_visit(tmp_path, "P2")


def test_a_folder_without_results_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SessionError, match="earlier visit"):
        read_visit(tmp_path, "P1")


def test_visits_stand_by_date_and_a_later_earlier_visit_is_told() -> None:
    later = replace(visit("2", 97.0), date=dt.date(2026, 2, 10))
    now = replace(visit("1", 62.0), date=dt.date(2026, 1, 10), current=True)
    visits = by_date([later, now])
    assert [item.session for item in visits] == ["1", "2"]
    rows = compare_visits(visits)
    assert (rows[1].change, rows[1].place) == (35.0, 1)
    (notice,) = history_notices(visits, CarrySettings())
    assert (notice.code, notice.severity) == ("earlier_visit_is_later", "check")
    assert "visit 2 (2026-02-10)" in notice.message
    ordered = by_date([replace(now, current=False), replace(later, current=True)])
    assert history_notices(ordered, CarrySettings()) == ()


def test_a_visit_without_a_date_keeps_its_place_and_is_told() -> None:
    first = replace(visit("a", 60.0), date=dt.date(2026, 3, 1))
    second = replace(visit("b", 60.0), date=dt.date(2026, 1, 1), current=True)
    visits = by_date([first, visit("old", 60.0), second])
    assert [item.session for item in visits] == ["b", "old", "a"]
    codes = [item.code for item in history_notices(visits, CarrySettings())]
    assert codes == ["visit_not_dated", "earlier_visit_is_later"]


def free(session: str, *swings: float) -> Visit:
    bouts = [
        {
            "hold": "free",
            "sternum_yaw_range_deg": swing,
            "sternum_yaw_range_ci_low_deg": swing - 0.5,
            "sternum_yaw_range_ci_high_deg": swing + 0.5,
        }
        for swing in swings
    ]
    return Visit(session, tuple(bouts), date=dt.date(2026, 1, int(session)), current=session == "2")


def test_free_walks_that_differ_between_visits_make_shares_no_comparison() -> None:
    (notice,) = history_notices([free("1", 9.5, 9.8, 10.1), free("2", 5.7, 5.9, 6.0)],
                                CarrySettings())  # fmt: skip
    assert notice.severity == "check"
    assert "turned 40 % less at visit 2 (2026-01-02) than at visit 1" in notice.message
    assert "5.9 against 9.8 deg" in notice.message
    assert history_notices([free("1", 9.8), free("2", 9.0)], CarrySettings()) == ()
    visits = [visit("0", 60.0), free("1", 9.8), free("2", 5.8), free("3", 9.0)]
    assert moved_free_walks(visits, CarrySettings()) == (2,)


def test_the_date_of_an_earlier_visit_is_read(tmp_path: Path) -> None:
    (tmp_path / "bout_summary.csv").write_text("participant,session\nP1,3\n")
    assert read_visit(tmp_path, "P1").date is None
    (tmp_path / "run.json").write_text('{"date": "2026-01-10"}')
    assert read_visit(tmp_path, "P1").date == dt.date(2026, 1, 10)


def test_a_recording_that_stands_for_two_visits_is_told(tmp_path: Path) -> None:
    (tmp_path / "bout_summary.csv").write_text("participant,session\nP1,1\n")
    run = {"sensors": [
        {"understood": [{"file": "chest.csv", "sha256": "aa"}]},
        {"understood": [{"file": "left.csv", "sha256": "bb"}]},
    ]}  # fmt: skip
    (tmp_path / "run.json").write_text(json.dumps(run))
    first = read_visit(tmp_path, "P1")
    assert first.recordings == (("aa", "chest.csv"), ("bb", "left.csv"))
    second = replace(visit("2", 60.0), recordings=(("aa", "trunk.csv"), ("cc", "left.csv")))
    dated = [replace(first, date=dt.date(2026, 1, 1)), replace(second, date=dt.date(2026, 1, 8))]
    (notice,) = history_notices(dated, CarrySettings())
    assert (notice.code, notice.severity) == ("same_recording", "check")
    assert notice.message == (
        "visit 1 (2026-01-01) and visit 2 (2026-01-08) hold the same recording (chest.csv): "
        "one of them has the wrong files, unless one recording was cut in parts"
    )
    other = replace(dated[1], recordings=(("cc", "chest.csv"),))
    assert history_notices([dated[0], other], CarrySettings()) == ()


def test_a_folder_that_was_never_scored_is_refused_in_plain_words(tmp_path: Path) -> None:
    for folder, said in ((tmp_path, "holds no results"), (tmp_path / "gone", "is not there")):
        with pytest.raises(SessionError, match=said) as refused:
            read_visit(folder, "P1")
        assert "Errno" not in str(refused.value)
        assert "name the folder that --out named" in str(refused.value)


def test_the_share_of_a_free_walk_in_the_others_is_not_followed() -> None:
    walks = [replace(item, bouts=tuple({**row, "yaw_kept_pct": 100.0} for row in item.bouts))
             for item in (free("1", 9.8), free("2", 9.0))]  # fmt: skip
    assert {row.measure for row in compare_visits(walks)} == {"sternum_yaw_range"}


def test_an_implement_is_followed_however_it_is_spelt() -> None:
    old = Visit("1", ({"bout": "1", "implement": "Kettle bell"},), ladder=({"implement": ""},))
    new = Visit("2", ({"bout": "1", "implement": "kettlebell"}, {"bout": "2"}))
    first, second = alike_implements([old, new])
    assert (first.bouts, first.ladder) == (old.bouts, old.ladder)
    assert [row["implement"] for row in second.bouts] == ["Kettle bell", ""]


def arm_visit(session: str, share: float, like: Mapping[str, str | float] | None, *,
              slow_deg: float = 24.0, checks: tuple[tuple[str, str], ...] = ()
              ) -> Visit:  # fmt: skip
    """Two free walks, and a carry whose left arm kept `share` of their mean."""
    walk = {**BOUT, "hold": "free", "loaded_side": "none", "left_arm_role": "free"}
    bouts = (
        {**walk, "bout": "1", "left_arm_swing_deg": 38.0},
        {**walk, "bout": "2", "left_arm_swing_deg": slow_deg},
        {**BOUT, "bout": "3", "baseline_bouts": "1;2", "left_arm_role": "free",
         "left_arm_swing_deg": 30.0, "left_arm_swing_kept_pct": share,
         "left_arm_swing_kept_ci_low_pct": share - 5.0,
         "left_arm_swing_kept_ci_high_pct": share + 5.0},
    )  # fmt: skip
    arms = ({"bout": "3", "side": "left", **like},) if like else ()
    return Visit(session, bouts, matched_arms=arms, checks=checks)


LIKE = {"value": 97.0, "ci_low": 80.0, "ci_high": 117.0, "missing_because": ""}
UNLIKE = {"value": "", "missing_because": "no_like_walk"}


def arms_kept(*visits: Visit) -> list[HistoryRow]:
    rows = compare_visits(visits)
    return [row for row in rows if row.measure == "arm_swing_kept" and row.hold != "free"]


def test_free_arms_are_compared_by_the_walks_of_like_pace_where_their_rows_are() -> None:
    first, last = arms_kept(arm_visit("1", 55.0, {**LIKE, "value": 49.0}),
                            arm_visit("2", 107.0, LIKE))  # fmt: skip
    assert (first.value, last.value, last.span_low, last.span_high) == (49.0, 97.0, 80.0, 117.0)
    even = arms_kept(arm_visit("1", 55.0, LIKE, slow_deg=36.0), arm_visit("2", 107.0, LIKE))
    assert [row.value for row in even] == [55.0, 97.0]
    assert not any(row.in_doubt for row in (first, last, *even))


@pytest.mark.parametrize("slow_deg", [24.0, 36.0])
def test_a_free_arm_without_a_walk_of_like_pace_is_in_doubt(slow_deg: float) -> None:
    rows = arms_kept(arm_visit("1", 27.0, UNLIKE, slow_deg=slow_deg), arm_visit("2", 69.0, LIKE))
    assert [row.in_doubt for row in rows] == [True, False]
    assert rows[1].finding == "in_doubt"
    unknown = arms_kept(arm_visit("1", 27.0, None, slow_deg=slow_deg), arm_visit("2", 69.0, LIKE))
    assert unknown[0].in_doubt == (slow_deg == 24.0)


@pytest.mark.parametrize(
    "check",
    [
        ("arm_unlike_strides", "3"),
        ("loaded_arm_swings_more", "3"),
        ("loaded_arm_swings_more", "left_wrist, right_wrist"),
    ],
)
def test_arms_that_moved_otherwise_or_may_be_the_loaded_ones_are_not_compared(
    check: tuple[str, str],
) -> None:
    assert arms_kept(arm_visit("1", 55.0, LIKE), arm_visit("2", 107.0, LIKE, checks=(check,))) == []
    other = arm_visit("2", 107.0, LIKE, checks=(("arm_unlike_strides", "9"),))
    assert len(arms_kept(arm_visit("1", 55.0, LIKE), other)) == 2


def test_what_arms_are_compared_by_is_read_from_the_folder_of_an_earlier_visit(
    tmp_path: Path,
) -> None:
    (tmp_path / "bout_summary.csv").write_text("participant,session,bout\nP1,1,3\n")
    (tmp_path / "scores.csv").write_text(
        "participant,session,bout,measure,side,value,ci_low,ci_high,missing_because\n"
        "P1,1,3,arm_swing_kept_matched,left,97.0,80.0,117.0,\n"
        "P1,1,3,arm_swing_kept,left,107.0,90.0,127.0,\n"
    )
    (tmp_path / "run.json").write_text(
        '{"date": "2026-02-01", "notices": ['
        '{"code": "arm_unlike_strides", "where": "3", "severity": "check"},'
        '{"code": "arm_unlike_strides", "where": "1", "severity": "note"}]}'
    )
    found = read_visit(tmp_path, "P1")
    assert found.date == dt.date(2026, 2, 1)
    assert [row["value"] for row in found.matched_arms] == ["97.0"]
    assert found.checks == (("arm_unlike_strides", "3"),)


def in_degrees(session: str, low: float, value: float, high: float) -> Visit:
    cells = {"sternum_yaw_range_deg": value, "sternum_yaw_range_ci_low_deg": low,
             "sternum_yaw_range_ci_high_deg": high}  # fmt: skip
    return Visit(session, ({**BOUT, "session": session, **cells},))


def test_intervals_in_degrees_hold_how_much_walks_of_one_day_differ() -> None:
    visits = [in_degrees("1", 9.5, 10.0, 10.5), in_degrees("2", 11.0, 11.5, 12.0)]
    first, last = compare_visits(visits, between_walk_cv_pct=7.0)
    assert (first.ci_low, first.ci_high) == (9.5, 10.5)
    half = math.hypot(0.5, 1.959964 * 0.7)
    assert (first.span_low, first.span_high) == pytest.approx((10.0 - half, 10.0 + half))
    assert first.span_high > last.span_low
    alike = compare_visits(visits, between_walk_cv_pct=0.0)
    assert alike[0].span_high < alike[1].span_low


def test_the_error_of_another_implement_or_of_elastic_is_not_taken() -> None:
    for other in ({"implement": "kettlebell"}, {"perturbed": "elastic"}):
        rows = compare_visits([visit("1", 60.0), visit("2", 95.0)], [{**ERROR, **other}])
        assert rows[1].finding == "not_decidable"


def test_a_study_that_gives_no_error_says_why() -> None:
    visits = [visit("1", 60.0), visit("2", 95.0)]
    few = {**ERROR, "mdc95": "", "n_participants": "5"}
    for study, source in (
        ([few], "5 participants in the study given, 10 needed"),
        ([{**ERROR, "load_kg": "12.00"}], "not in the study given"),
        ([], ""),
    ):
        rows = compare_visits(visits, study)
        assert {(row.error_source, row.finding) for row in rows} == {
            (source, "first"), (source, "not_decidable"),
        }  # fmt: skip
        assert not any(math.isfinite(row.error) for row in rows)
    assert compare_visits(visits, [few, ERROR])[1].error == 15.0


def test_what_a_whole_study_changed_by_is_no_persons_change() -> None:
    moved = {**ERROR, "order_effect": "-12.0", "systematic": "true"}
    rows = compare_visits([visit("1", 60.0), visit("2", 80.0)], [moved])
    assert (rows[1].error, rows[1].finding) == (27.0, "within_error")
    assert "who changed from visit to visit" in rows[1].error_source


def test_reliability_is_read_from_a_studys_table(tmp_path: Path) -> None:
    table = tmp_path / "reliability.csv"
    table.write_text(",".join(ERROR) + "\n" + ",".join(ERROR.values()) + "\n", encoding="utf-8")
    rows = compare_visits([visit("1", 60.0), visit("2", 80.0)], read_reliability(table))
    assert rows[1].finding == "increased_more_than_error"
    table.write_text("participant,measure\nP1,yaw_kept\n", encoding="utf-8")
    with pytest.raises(SessionError, match="has no column mdc95"):
        read_reliability(table)
