"""The load ladder on comparisons whose kept rotation is set by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from accuracy_findings import Client, ladder_answers, simulate_visit, stride_bout
from scipy.optimize import isotonic_regression

from imucarry.basics.records import (
    BoutData,
    BoutRow,
    Comparison,
    Estimate,
    LadderRung,
    Notice,
    Score,
)
from imucarry.basics.settings import CarrySettings
from imucarry.carry.aim import AIM_CODES, read_aims
from imucarry.carry.baseline_notices import SO
from imucarry.carry.ladder import LADDER_ANSWERS, climb
from imucarry.carry.ladder_doubts import kept_more, rises_with_order
from imucarry.carry.monotone import falling_fit

SETTINGS = CarrySettings()


def step(
    load_kg: float, kept_pct: float, se: float = 0.03, finding: str = "rotates", because: str = "",
    **row: object,
) -> tuple[BoutData, Comparison]:  # fmt: skip
    """One bout with its kept rotation; both parts of the log error are `se`."""
    fields = {"hold": "suitcase", "loaded_side": "right", "aim": "mobility", **row}
    data, _ = stride_bout(
        BoutRow(f"b{load_kg:g}", 0.0, 1.0, load_kg=load_kg, **fields),  # type: ignore[arg-type]
        0,
        np.full(12, 5.0),
    )
    score = Score(data.row.bout, "yaw_kept", "none", "none", "%", Estimate(kept_pct))
    return data, Comparison(("f",), (score,), finding, because, (), se, se, 30.0)


def ladder(*steps: tuple[BoutData, Comparison]) -> tuple[LadderRung, ...]:
    bouts, comparisons = zip(*steps, strict=True)
    return climb(bouts, comparisons, SETTINGS)


def test_heaviest_kept_is_the_heaviest_whose_lower_limit_keeps_the_threshold() -> None:
    (rung,) = ladder(step(8, 98), step(12, 92), step(16, 78), step(20, 50))
    assert (rung.heaviest_kept_kg, rung.next_kg, rung.answer) == (12.0, 16.0, "kept_up_to")
    assert rung.likely_kept_kg == 16.0
    assert rung.threshold_pct == 75.0
    assert rung.loads_kg == (8.0, 12.0, 16.0, 20.0)
    assert rung.fit_low_pct[1] > 75.0 > rung.fit_low_pct[2]


def test_a_ladder_that_never_falls_is_not_extrapolated() -> None:
    (rung,) = ladder(step(8, 100), step(12, 98))
    assert (rung.heaviest_kept_kg, rung.answer) == (12.0, "not_yet_reached")
    assert np.isnan(rung.next_kg)


def test_no_tested_load_may_keep_it() -> None:
    (rung,) = ladder(step(8, 60), step(12, 40))
    assert rung.answer == "no_tested_load"
    assert np.isnan(rung.heaviest_kept_kg)
    assert rung.next_kg == 8.0


def test_holds_sides_and_implements_are_climbed_apart() -> None:
    rungs = ladder(
        step(8, 98), step(12, 98), step(8, 98, loaded_side="left"), step(6, 98, hold="rack"),
        step(8, 98, implement="sandbag"),
    )  # fmt: skip
    assert [(r.hold, r.loaded_side, r.implement, r.answer) for r in rungs] == [
        ("rack", "right", "", "one_load_only"),
        ("suitcase", "left", "", "one_load_only"),
        ("suitcase", "right", "", "not_yet_reached"),
        ("suitcase", "right", "sandbag", "one_load_only"),
    ]


@pytest.mark.parametrize("trouble", [{"pain_0_10": 3.0}, {"stop_reason": "grip"}])
def test_a_bout_with_pain_or_an_early_stop_never_counts(trouble: dict[str, object]) -> None:
    (rung,) = ladder(step(8, 98), step(12, 98), step(16, 98, **trouble))
    assert rung.heaviest_kept_kg == 12.0
    assert rung.next_kg == 16.0
    assert np.isnan(rung.fit_pct[2])
    assert "ladder_bout_left_out" in {notice.code for notice in rung.notices}


@pytest.mark.parametrize(
    ("noted", "alarms"),
    [
        ({"note": "a bit dizzy afterwards"}, ("dizzy",)),
        ({"note": "arm went dead, dizzy", "pain_0_10": 0.0}, ("dizzy", "arm went dead")),
        ({"extra": {"numbness": "left hand"}}, ("numbness: left hand",)),
        ({"extra": {"remarks": "chest tightness"}}, ("chest tightness",)),
    ],
)
def test_a_bout_with_an_alarm_symptom_noted_never_counts(
    noted: dict[str, object], alarms: tuple[str, ...]
) -> None:
    (rung,) = ladder(step(8, 98), step(12, 98), step(16, 98, **noted))
    assert (rung.heaviest_kept_kg, rung.next_kg, rung.answer) == (12.0, 16.0, "kept_up_to")
    assert np.isnan(rung.kept_pct[2])
    assert [(item.load_kg, item.alarms) for item in rung.stopped] == [(16.0, alarms)]
    assert "ladder_bout_left_out" in {notice.code for notice in rung.notices}


def test_every_bout_with_an_alarm_symptom_gives_no_answer() -> None:
    (rung,) = ladder(step(8, 98, note="numb hand"), step(12, 98, note="dizzy"))
    assert (rung.answer, np.isnan(rung.heaviest_kept_kg)) == ("pain_or_early_stop", True)


def test_an_alarm_symptom_of_another_bout_stays_with_the_load_that_another_kept() -> None:
    steps = (
        step(8, 98), step(8, 98, note="dizzy"), step(12, 97), step(16, 40, finding="reduced"),
        step(12, 97, note="sharp pain", pain_0_10=0.0),
    )  # fmt: skip
    bouts, comparisons = zip(*steps, strict=True)
    (rung,) = climb(bouts, comparisons, SETTINGS)
    assert (rung.heaviest_kept_kg, rung.stopped, rung.n_counted) == (12.0, (), (1, 2, 1))
    assert rung.alarms == (("dizzy",), (), ())
    assert rung.noted[0] == rung.noted[2] == ()
    assert rung.noted[1] != ()
    lighter = [
        (step(8, 98)), step(8, 98, note="dizzy"), step(16, 40, finding="reduced"),
    ]  # fmt: skip
    bouts, comparisons = zip(*lighter, strict=True)
    reading = read_aims(bouts, comparisons, climb(bouts, comparisons, SETTINGS), SETTINGS)[-1]
    assert (reading.lighter_kg, reading.lighter_alarms) == (8.0, ("dizzy",))


@pytest.mark.parametrize("note", ["no numbness, not dizzy", "felt fine", "sensor strap slipped"])
def test_a_note_without_an_alarm_symptom_changes_nothing(note: str) -> None:
    (rung,) = ladder(step(8, 98), step(12, 98, note=note))
    assert (rung.heaviest_kept_kg, rung.stopped) == (12.0, ())


@pytest.mark.parametrize("fine", [{"pain_0_10": 0.0}, {"stop_reason": "Completed"}])
def test_a_bout_that_ended_as_planned_counts(fine: dict[str, object]) -> None:
    (rung,) = ladder(step(8, 98), step(12, 98, **fine))
    assert rung.heaviest_kept_kg == 12.0


def test_a_carry_of_nothing_is_no_step() -> None:
    (rung,) = ladder(step(0, 60), step(8, 98), step(12, 98))
    assert rung.loads_kg == (8.0, 12.0)
    assert rung.heaviest_kept_kg == 12.0
    assert rung.notices == ladder(step(8, 98), step(12, 98))[0].notices
    alone = [step(0, 60, finding="reduced")]
    assert ladder(*alone) == ()
    bouts, comparisons = zip(*alone, strict=True)
    (reading,) = read_aims(bouts, comparisons, (), SETTINGS)
    assert reading.code in AIM_CODES


def test_free_unknown_and_perturbed_bouts_are_no_steps() -> None:
    assert ladder(step(0, 98, hold="free"), step(5, 98, hold="unknown")) == ()
    assert ladder(step(8, 98, perturbed="elastic")) == ()


def test_bouts_without_a_noted_load_are_told() -> None:
    nan = float("nan")
    (rung,) = ladder(step(8, 98), step(12, 97), step(nan, 50), step(16, 50))
    assert (rung.heaviest_kept_kg, rung.loads_kg) == (12.0, (8.0, 12.0, 16.0))
    (said,) = [n for n in rung.notices if n.code == "load_not_noted"]
    assert said.message == "no load was noted for bout bnan, so the ladder leaves it out"
    assert said.severity == "check"
    (none,) = ladder(step(nan, 98), step(nan, 50))
    assert (none.answer, none.loads_kg, none.notices) == ("load_unknown", (), ())
    data, comparison = step(nan, 50, finding="reduced")
    (reading,) = read_aims([data], [comparison], (rung,), SETTINGS)
    assert reading.code == "mobility_reduced_load_unknown"


def test_reasons_are_told_apart() -> None:
    nan = float("nan")
    assert (
        ladder(step(8, nan, nan, "not_measured"), step(12, nan, nan, "not_measured"))[0].answer
        == "not_measured"
    )
    assert (
        ladder(step(8, nan, nan, "no_baseline"), step(12, nan, nan, "no_baseline"))[0].answer
        == "no_baseline"
    )
    small = [step(load, 98, 0.03, "unclear", "baseline_small") for load in (8, 12)]
    assert ladder(*small)[0].answer == "baseline_small"
    assert ladder(step(8, 98, pain_0_10=5.0), step(12, 98, pain_0_10=5.0))[
        0
    ].answer == "pain_or_early_stop"  # fmt: skip


def test_bouts_of_too_few_strides_are_no_missing_sensor() -> None:
    nan = float("nan")
    (rung,) = ladder(step(8, nan, nan, "unclear"), step(12, nan, nan, "unclear"))
    assert rung.answer == "too_few_strides"


def test_loads_with_too_few_strides_are_told_apart_from_those_that_were_stopped() -> None:
    nan = float("nan")
    data, comparison = step(8, nan, nan, "unclear")
    few = Score("b8", "yaw_kept", "none", "none", "%", Estimate(missing_because="too_few_strides"))
    steps = [(data, replace(comparison, scores=(few,))), step(12, 43, stop_reason="slipped")]
    (rung,) = ladder(*steps)
    assert (rung.answer, rung.too_few_kg) == ("too_few_strides", (8.0,))
    assert [item.load_kg for item in rung.stopped] == [12.0]
    assert ladder(step(8, 98), step(12, nan, nan, "unclear"))[0].too_few_kg == ()


def test_loads_that_the_free_walk_is_too_small_for_are_told_apart_from_those_not_measured() -> None:
    nan = float("nan")
    (rung,) = ladder(step(6, nan, nan, "unclear"), step(8, 98, 0.03, "unclear", "baseline_small"),
                     step(12, 40), step(16, 95, 0.03, "unclear", "baseline_small"), step(16, 30),
                     step(24, 90, 0.03, "unclear", "baseline_small", pain_0_10=5.0))  # fmt: skip
    assert rung.not_compared_kg == (8.0,)
    assert np.isfinite(rung.kept_pct).tolist() == [False, False, True, True, False]


def test_every_reason_for_which_a_load_was_stopped_is_named_worst_first() -> None:
    numb, chest = (step(8, 98, stop_reason=why) for why in ("numb hand", "chest tightness"))
    hurt = step(12, 98, stop_reason="pain", pain_0_10=6.0)
    (rung,) = ladder(numb, chest, step(12, 98), hurt, step(12, 98, stop_reason="grip"))
    (stopped,) = rung.stopped
    assert stopped.stop_reason == "chest tightness; numb hand"
    assert rung.stops == ("chest tightness; numb hand", "grip")


def test_bouts_that_are_judged_together_are_counted_with_those_unclear_alone() -> None:
    (rung,) = ladder(step(8, 98), step(8, 80, finding="unclear"), step(8, 98, stop_reason="grip"),
                     step(12, 90))  # fmt: skip
    assert (rung.n_counted, rung.unclear_alone) == ((2, 1), (("b8",), ()))


def test_loads_whose_pace_may_overstate_them_are_marked() -> None:
    said = {
        effect: Notice("speed_differs", f"walked{SO[effect]}", severity="check") for effect in SO
    }
    steps = []
    for load, effect in ((8.0, "less"), (12.0, "more"), (16.0, "either")):
        data, comparison = step(load, 90)
        steps.append((data, replace(comparison, notices=(said[effect],))))
    assert ladder(*steps)[0].overstated_kg == (12.0, 16.0)


def test_a_lighter_load_named_for_an_aim_carries_the_stops_of_its_other_bouts() -> None:
    steps = (
        step(8, 98),
        step(8, 98, stop_reason="chest tightness"),
        step(16, 40, finding="reduced"),
    )
    bouts, comparisons = zip(*steps, strict=True)
    reading = read_aims(bouts, comparisons, climb(bouts, comparisons, SETTINGS), SETTINGS)[-1]
    assert (reading.lighter_kg, reading.lighter_stop) == (8.0, "chest tightness")


def test_loads_that_do_not_count_are_named_with_the_reason() -> None:
    (rung,) = ladder(step(8, 98, pain_0_10=4.0), step(8, 98), step(12, 98, stop_reason="grip"))
    (stopped,) = rung.stopped
    assert (stopped.load_kg, stopped.stop_reason) == (12.0, "grip")
    assert np.isnan(stopped.pain_0_10)


def test_a_repeat_that_differs_by_more_than_chance_is_told() -> None:
    (rung,) = ladder(step(8, 105), step(16, 70), step(8, 65, order=9.0))
    ((load, first, last),) = rung.repeats
    assert (load, first, last) == (8.0, pytest.approx(105.0), pytest.approx(65.0))
    assert "repeats_differ" in {notice.code for notice in rung.notices}
    (alike,) = ladder(step(8, 105), step(16, 70), step(8, 98, order=9.0))
    assert alike.repeats == ()


def test_no_bout_that_counts_is_told_before_one_load_alone() -> None:
    (rung,) = ladder(step(8, 98, pain_0_10=6.0))
    assert rung.answer == "pain_or_early_stop"
    nan = float("nan")
    (rung,) = ladder(step(8, nan, nan, "not_measured"))
    assert rung.answer == "not_measured"


def test_a_heavier_load_that_kept_more_is_told_and_widens_the_band() -> None:
    (rung,) = ladder(step(6, 30), step(10, 100), step(14, 28))
    assert kept_more(rung) == (10.0, 6.0)
    assert "heavier_load_kept_more" in {notice.code for notice in rung.notices}
    assert rung.answer == "no_tested_load"
    assert rung.fit_low_pct[1] == pytest.approx(rung.ci_low_pct[0])
    assert rung.fit_high_pct[0] == pytest.approx(rung.ci_high_pct[1])
    (falling,) = ladder(step(6, 100), step(10, 97), step(14, 28))
    assert kept_more(falling) is None


def test_every_answer_is_explained() -> None:
    assert {"kept_up_to", "not_yet_reached", "no_tested_load"} <= set(LADDER_ANSWERS)


def test_fit_never_rises_and_matches_a_reference() -> None:
    """Reference: scipy.optimize.isotonic_regression (rising; both signs turned)."""
    rng = np.random.default_rng(3)
    for _ in range(50):
        values = rng.standard_normal(7)
        weights = rng.uniform(0.2, 3.0, 7)
        fit, blocks = falling_fit(values, weights)
        expected = isotonic_regression(values, weights=weights, increasing=False).x
        np.testing.assert_allclose(fit, expected, atol=1e-12)
        assert all(np.ptp(fit[block]) == 0.0 for block in blocks)


def test_repeats_of_a_load_narrow_its_own_error_but_not_the_baselines() -> None:
    one = ladder(step(8, 98), step(12, 60))[0]
    four = ladder(*[step(8, 98)] * 4, step(12, 60))[0]
    half = [np.log(r.ci_high_pct[0] / r.kept_pct[0]) for r in (one, four)]
    assert half[1] / half[0] == pytest.approx(np.sqrt((0.25 + 1) / 2))


def test_an_order_noted_for_some_bouts_is_not_compared_with_seconds() -> None:
    def started(pair: tuple[BoutData, Comparison], at_s: float) -> tuple[BoutData, Comparison]:
        row = replace(pair[0].row, start_s=at_s, end_s=at_s + 1.0)
        return replace(pair[0], row=row), pair[1]

    (rung,) = ladder(
        started(step(8, 105), 60.0), started(step(16, 70), 120.0),
        started(step(8, 98, order=3.0), 180.0),
    )  # fmt: skip
    assert "load_and_order_rise_together" not in {notice.code for notice in rung.notices}
    (first, last) = started(step(8, 105), 60.0), started(step(8, 65, order=2.0), 180.0)
    (differing,) = ladder(first, started(step(16, 70), 120.0), last)
    said = next(n.message for n in differing.notices if n.code == "repeats_differ")
    assert said.index("105") < said.index("65")


def test_load_and_order_rising_together_is_said() -> None:
    assert rises_with_order([(8, 1), (12, 2), (16, 3)])
    assert not rises_with_order([(8, 1), (12, 2), (16, 3), (8, 4)])
    assert not rises_with_order([(16, 1), (8, 2)])
    assert not rises_with_order([(8, 1)])
    (rung,) = ladder(step(8, 98, order=1.0), step(12, 98, order=2.0))
    assert "load_and_order_rise_together" in {notice.code for notice in rung.notices}


def test_fatigue_is_not_asked_after_where_the_first_and_lightest_load_already_kept_less() -> None:
    (fell,) = ladder(step(8, 50, finding="reduced", order=1.0), step(12, 45, order=2.0))
    assert fell.answer == "no_tested_load"
    assert "load_and_order_rise_together" not in {notice.code for notice in fell.notices}
    (unsure,) = ladder(step(8, 70, finding="unclear", order=1.0), step(12, 45, order=2.0))
    assert "load_and_order_rise_together" in {notice.code for notice in unsure.notices}


@pytest.mark.parametrize(
    ("aim", "finding", "code"),
    [
        ("mobility", "rotates", "mobility_kept"),
        ("strength", "rotates", "strength_turning"),
        ("strength", "minimal", "strength_still"),
        ("endurance", "reduced", "endurance_reduced"),
        ("control", "unclear", "control_spread"),
        ("", "rotates", "no_aim_kept"),
        ("", "reduced", "no_aim_reduced"),
        ("mobility", "unclear", "unclear"),
        ("mobility", "no_baseline", "no_baseline"),
        ("control", "not_measured", "not_measured"),
        ("mobility", "reduced", "mobility_reduced_lightest"),
    ],
)
def test_aims_are_read(aim: str, finding: str, code: str) -> None:
    data, comparison = step(20, 50, finding=finding, aim=aim)
    (reading,) = read_aims([data], [comparison], (), SETTINGS)
    assert reading.code == code
    assert reading.code in AIM_CODES


def test_mobility_names_the_next_lighter_tested_load_that_kept_it() -> None:
    steps = [step(8, 98), step(12, 97), step(16, 78), step(20, 50, finding="reduced")]
    bouts, comparisons = zip(*steps, strict=True)
    readings = read_aims(bouts, comparisons, climb(bouts, comparisons, SETTINGS), SETTINGS)
    assert readings[-1].code == "mobility_reduced_lighter_kept"
    assert readings[-1].lighter_kg == 12.0


def test_a_free_walk_has_no_aim() -> None:
    data, comparison = step(0, 98, hold="free", aim="")
    assert read_aims([data], [comparison], (), SETTINGS)[0].code == "free_walk"


def test_ladder_finds_the_step_as_often_as_asked() -> None:
    truth, sure, likely = ladder_answers(800, seed=5, margin=0.15)
    assert np.mean(likely == truth) >= 0.95
    assert np.mean(sure > truth) <= 0.025


def test_implements_are_compared_without_case_and_spaces_and_named_as_first_written() -> None:
    (rung,) = ladder(
        step(8, 98, implement="Kettle bell"), step(12, 97, implement="kettlebell"),
        step(16, 50, implement="KETTLEBELL "),
    )  # fmt: skip
    assert (rung.implement, rung.loads_kg) == ("Kettle bell", (8.0, 12.0, 16.0))
    data, comparison = step(16, 50, finding="reduced", implement="KettleBell")
    assert read_aims([data], [comparison], (rung,), SETTINGS)[0].lighter_kg == 12.0


@pytest.mark.parametrize(
    ("implements", "told"),
    [
        (("KB", "bell", "kb"), False),
        (("KB", "bell"), True),
        (("", "bell", "bell"), True),
        (("KB", "bell", "kb", "bell"), False),
        (("bell", "bell"), False),
        (("kettlebell", "KB", "kettlebell"), True),
        (("dumbbell", "kettlebell", "kettlebell"), False),
    ],
)
def test_loads_split_by_implement_are_told(implements: tuple[str, ...], told: bool) -> None:
    rungs = ladder(
        *(step(8 + 4 * k, 98, implement=word) for k, word in enumerate(implements)),
        step(6, 98, hold="rack"),
    )
    said = [n for rung in rungs for n in rung.notices if n.code == "implements_apart"]
    assert len(said) == told
    assert all(notice.severity == "check" for notice in said)
    assert all(rung.notices == () or rung.hold == "suitcase" for rung in rungs)


def severities(rung: LadderRung) -> dict[str, str]:
    return {notice.code: notice.severity for notice in rung.notices}


def test_what_speaks_against_load_alone_is_to_be_checked() -> None:
    (rung,) = ladder(step(6, 30), step(10, 100), step(14, 28))
    assert severities(rung)["heavier_load_kept_more"] == "check"
    (rung,) = ladder(step(8, 105), step(16, 70), step(8, 65, order=9.0))
    assert severities(rung)["repeats_differ"] == "check"
    (rung,) = ladder(step(8, 98, order=1.0), step(12, 50, order=2.0))
    assert severities(rung)["load_and_order_rise_together"] == "check"
    (kept,) = ladder(step(8, 98, order=1.0), step(12, 98, order=2.0))
    assert severities(kept)["load_and_order_rise_together"] == "note"


@pytest.mark.parametrize(("last", "cause"), [(65.0, "fatigue may"), (160.0, "practice may")])
def test_a_repeat_names_the_cause_that_fits(last: float, cause: str) -> None:
    (rung,) = ladder(step(8, 105), step(16, 70), step(8, last, order=9.0))
    (said,) = [n.message for n in rung.notices if n.code == "repeats_differ"]
    assert "the first time, " in said
    assert cause in said


def test_the_pain_of_every_load_is_kept_with_the_limit() -> None:
    limit = CarrySettings(pain_limit_0_10=3.0)
    steps = [
        step(8, 98, pain_0_10=2.0), step(8, 98, pain_0_10=3.0), step(12, 98, pain_0_10=5.0),
        step(12, 97), step(16, 60, finding="reduced"),
    ]  # fmt: skip
    bouts, comparisons = zip(*steps, strict=True)
    (rung,) = climb(bouts, comparisons, limit)
    assert rung.pains_0_10[:2] == (3.0, 5.0)
    assert np.isnan(rung.pains_0_10[2])
    assert (rung.pain_limit_0_10, rung.heaviest_kept_kg) == (3.0, 12.0)
    reading = read_aims(bouts, comparisons, (rung,), limit)[-1]
    assert (reading.lighter_kg, reading.lighter_pain_0_10) == (12.0, 5.0)


def any_called_kept_pct(n_loads: int, n_clients: int) -> float:
    """In how many simulated visits any load is called kept; all truly keep 74 % of the walk."""
    rng, client, found = np.random.default_rng(6), Client((0.74,) * n_loads), 0
    for _ in range(n_clients):
        (rung,) = climb(*simulate_visit(client, rng), SETTINGS)
        found += any(low > SETTINGS.reduced_pct for low in rung.fit_low_pct)
    return 100.0 * found / n_clients


def test_a_ladder_calls_a_load_kept_by_chance_as_often_as_the_limits_tell() -> None:
    # About as often as a single load, 2 to 4 %: two standard errors of 300 visits are 2 points.
    assert 0.5 < any_called_kept_pct(4, 300) <= 6.0
