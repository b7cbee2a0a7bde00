"""Test-retest reliability of invented cohorts whose errors are known."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from imucarry.basics.evidence.cohort import MDC_LEAST_PARTICIPANTS
from imucarry.basics.reliability import minimal_detectable_change
from imucarry.carry.angle_measures import as_plain_numbers
from imucarry.carry.cohort_reliability import OF_FREE_WALK, ReliabilityRow, reliability_rows
from imucarry.carry.places import places_of
from imucarry.carry.visit_order import StudyVisit, order_visits

Rows = list[dict[str, str | float]]


def cohort(
    n: int, *, sd_person: float = 3.0, sd_visit: float = 1.0, sd_bout: float = 0.5,
    order: float = 0.0, hold: str = "suitcase", load_kg: float = 8.0, seed: int = 1,
) -> tuple[Rows, Rows]:  # fmt: skip
    """Two visits of two bouts each; every value is person + visit + bout."""
    rng = np.random.default_rng(seed)
    scores: Rows = []
    bouts: Rows = []
    for person in range(n):
        base = 10.0 + rng.normal(0, sd_person)
        for session in ("2", "10"):
            level = base + rng.normal(0, sd_visit)
            for k in range(2):
                name = f"b{2 - k}"  # named against the order in time
                who = {"participant": f"P{person}", "session": session, "bout": name}
                value = level + k * order + rng.normal(0, sd_bout)
                scores.append({**who, "measure": "yaw", "side": "none", "unit": "deg",
                               "value": str(value)})  # fmt: skip
                bouts.append({**who, "hold": hold, "loaded_side": "right", "load_kg": load_kg,
                              "start_s": 60.0 * k})  # fmt: skip
    return scores, bouts


def repeated(scores: Rows, bouts: Rows) -> tuple[ReliabilityRow, ...]:
    who = {(str(row["participant"]), str(row["session"])) for row in bouts}
    order, _ = order_visits([StudyVisit(*pair) for pair in sorted(who)])
    return reliability_rows(scores, places_of(bouts, order))


def by_design(rows: tuple[ReliabilityRow, ...]) -> dict[str, ReliabilityRow]:
    return {row.design: row for row in rows}


def test_same_visit_and_between_visits_stand_apart_with_their_own_error() -> None:
    found = by_design(repeated(*cohort(300)))
    assert found["same_visit"].n_participants == 300
    # SEM: bout noise alone in one visit, with the visit's own between visits (300: 4 %).
    assert found["same_visit"].sem == pytest.approx(0.5, rel=0.13)
    assert found["between_visit"].sem == pytest.approx(np.hypot(1.0, 0.5), rel=0.13)
    assert found["same_visit"].mdc95 == pytest.approx(2.7718 * found["same_visit"].sem, rel=1e-4)
    # ICC: shared variance over all, 9 + 1 over 10.25, and 9 over 10.25.
    assert found["same_visit"].icc_2_1 == pytest.approx(10 / 10.25, abs=0.02)
    assert found["between_visit"].icc_2_1 == pytest.approx(9 / 10.25, abs=0.04)
    assert found["same_visit"].warning == ""
    assert found["same_visit"].load_kg == 8.0


def test_a_systematic_order_effect_is_reported_and_not_part_of_the_error() -> None:
    row = by_design(repeated(*cohort(60, order=-2.0)))["same_visit"]
    assert row.systematic
    assert row.order_effect_low < -2.0 < row.order_effect_high
    assert row.sem == pytest.approx(0.5, rel=0.25)
    assert not by_design(repeated(*cohort(60)))["same_visit"].systematic


def test_an_implement_is_one_however_it_is_spelt() -> None:
    scores, bouts = cohort(12)
    spelt = [{**row, "implement": "Kettlebell" if k % 2 else "kettle bell"}
             for k, row in enumerate(bouts)]  # fmt: skip
    rows = repeated(scores, spelt)
    assert {row.implement for row in rows} == {"kettle bell"}
    assert {row.n_participants for row in rows} == {12}


def test_conditions_are_never_pooled() -> None:
    one, two = cohort(12), cohort(12, load_kg=16.0, seed=2)
    renamed = [{**row, "bout": f"heavy{row['bout']}"} for row in two[0]]
    heavy = [{**row, "bout": f"heavy{row['bout']}"} for row in two[1]]
    rows = repeated([*one[0], *renamed], [*one[1], *heavy])
    assert [(row.load_kg, row.design) for row in rows] == [
        (8.0, "same_visit"), (8.0, "between_visit"),
        (16.0, "same_visit"), (16.0, "between_visit"),
    ]  # fmt: skip
    alone = repeated(*one)
    assert rows[:2] == alone


@pytest.mark.parametrize(
    ("n", "has_icc", "warned"),
    [(2, None, None), (9, False, True), (10, True, True), (30, True, False)],
)
def test_few_participants(n: int, has_icc: bool | None, warned: bool | None) -> None:
    rows = repeated(*cohort(n))
    if has_icc is None:
        assert rows == ()
        return
    assert np.isfinite(rows[0].icc_2_1) == has_icc
    assert rows[0].missing_because == ("" if has_icc else "fewer_than_10_participants")
    assert (rows[0].warning == "fewer_than_30_participants") == warned
    assert np.isfinite(rows[0].sem)


@pytest.mark.parametrize(("n", "given"), [(3, False), (9, False), (10, True), (30, True)])
def test_no_detectable_change_from_few_participants(n: int, given: bool) -> None:
    row = repeated(*cohort(n))[0]
    assert np.isfinite([row.mdc95, row.mdc90]).tolist() == [given, given]
    assert row.sem > 0.0


def test_persons_without_a_change_lie_within_the_detectable_change() -> None:
    """The least number of participants whose MDC95 nine of ten unchanged persons lie within."""
    least = MDC_LEAST_PARTICIPANTS.value
    for n, within in ((3, 0.81), (5, 0.88), (least, 0.918), (30, 0.94)):
        share = 2.0 * stats.t.cdf(minimal_detectable_change(1.0) / math.sqrt(2.0), n - 1) - 1.0
        assert share == pytest.approx(within, abs=0.005)


def test_missing_values_and_participants_with_one_bout_are_left_out() -> None:
    scores, bouts = cohort(12)
    scores = [row for row in scores if row["participant"] != "P3" or row["session"] == "2"]
    scores = [{**row, "value": ""} if row["participant"] == "P5" else row for row in scores]
    found = by_design(repeated(scores, bouts))
    assert found["same_visit"].n_participants == 11
    assert found["between_visit"].n_participants == 10


def test_second_less_first_follows_the_order_of_visits() -> None:
    scores, bouts = cohort(12, sd_bout=0.01, sd_visit=0.01)
    later = [
        {**row, "value": float(row["value"]) + (5.0 if row["session"] == "10" else 0.0)}
        for row in scores
    ]
    by_number = {
        (f"P{k}", name): place for k in range(12) for place, name in enumerate(["2", "10"])
    }
    back = {who: 1 - place for who, place in by_number.items()}
    for order, sign in ((by_number, 1.0), (back, -1.0)):
        rows = by_design(reliability_rows(later, places_of(bouts, order)))
        assert rows["between_visit"].order_effect == pytest.approx(sign * 5.0, abs=0.1)


def test_angles_of_the_stride_are_compared_around_the_circle() -> None:
    first, second = as_plain_numbers(np.array([359.0, 5.0, 340.0]), np.array([1.0, 350.0, 20.0]))
    np.testing.assert_allclose(second - first, [2.0, -15.0, 40.0])
    assert np.ptp([first, second]) < 60.0


@pytest.mark.parametrize("later_deg", [0.0, 90.0, 175.0, -178.0])
def test_a_phase_that_moves_by_near_half_a_stride_moves_by_that(later_deg: float) -> None:
    scores, bouts = phases("sternum_yaw_phase", 20.0, 4.0)
    moved = [
        {**row, "value": (float(row["value"]) + later_deg * (row["session"] == "10")) % 360.0}
        for row in scores
    ]
    still = by_design(repeated(scores, bouts))["between_visit"]
    found = by_design(repeated(moved, bouts))["between_visit"]
    assert found.order_effect == pytest.approx(still.order_effect + later_deg)
    assert found.order_effect_high == pytest.approx(still.order_effect_high + later_deg)
    assert found.sem == pytest.approx(still.sem)
    assert found.mdc95 == pytest.approx(still.mdc95)


def phases(measure: str, centre_deg: float, spread_deg: float) -> tuple[Rows, Rows]:
    """Two visits of twelve persons whose phase lies about a place in the stride."""
    scores, bouts = cohort(12, sd_person=spread_deg, sd_visit=3.0)
    turned = [
        {**row, "measure": measure, "value": (float(row["value"]) - 10.0 + centre_deg) % 360.0}
        for row in scores
    ]
    return turned, bouts


@pytest.mark.parametrize(
    ("measure", "centre_deg", "mean_deg"),
    [
        ("sternum_yaw_phase", 340.0, 340.0),
        ("arm_step_phase", 2.0, 2.0),
        ("arm_sternum_phase", 340.0, -20.0),
        ("arm_sternum_phase", 100.0, 100.0),
    ],
)
def test_the_mean_of_angles_lies_in_the_range_of_scores(
    measure: str, centre_deg: float, mean_deg: float
) -> None:
    for row in repeated(*phases(measure, centre_deg, 1.0)):
        assert row.mean == pytest.approx(mean_deg, abs=2.0)


def test_angles_have_an_error_but_no_icc() -> None:
    rows = by_design(repeated(*phases("sternum_yaw_phase", 350.0, 80.0)))
    for row in rows.values():
        assert np.isnan([row.icc_2_1, row.icc_2_1_low, row.icc_3_1, row.icc_3_1_high]).all()
        assert row.missing_because == "angles_on_a_circle"
        assert np.isfinite([row.mdc95, row.order_effect]).all()
    assert rows["same_visit"].sem == pytest.approx(0.5, rel=0.5)
    assert rows["between_visit"].sem == pytest.approx(3.0, rel=0.5)


def free_walks(paces: tuple[float, ...], measure: str = "yaw") -> tuple[Rows, Rows]:
    """Twelve persons' free walks at some cadences; the n-th walk's value is person + n."""
    scores: Rows = []
    bouts: Rows = []
    for person in range(12):
        for k, pace in enumerate(paces):
            who = {"participant": f"P{person}", "session": "1", "bout": str(k)}
            scores.append(
                {**who, "measure": measure, "side": "none", "unit": "deg", "value": str(person + k)}
            )
            bouts.append({**who, "hold": "free", "loaded_side": "none", "load_kg": 0,
                          "start_s": 60.0 * k, "cadence_spm": pace})  # fmt: skip
    return scores, bouts


@pytest.mark.parametrize(
    ("paces", "apart"),
    [
        ((110.0, 112.0), 1.0),
        ((110.0, 92.0, 108.0), 2.0),
        ((92.0, 110.0, 112.0), 1.0),
        ((110.0, 92.0), None),
        ((float("nan"), float("nan")), 1.0),
    ],
)
def test_only_free_walks_of_like_pace_repeat_each_other(
    paces: tuple[float, ...], apart: float | None
) -> None:
    found = by_design(repeated(*free_walks(paces)))
    if apart is None:
        assert "same_visit" not in found
    else:
        assert found["same_visit"].order_effect == pytest.approx(apart)


def test_free_walks_of_two_visits_are_compared_at_like_cadence() -> None:
    """One visit begins at 110 steps/min, the other at 90: the first walks are no repeats."""
    rng = np.random.default_rng(3)
    scores, bouts = [], []
    for person in range(12):
        yaw = rng.normal(9.0, 1.0)
        for session, paces in (("1", (110.0, 90.0)), ("2", (90.0, 108.0))):
            for k, pace in enumerate(paces):
                who = {"participant": f"P{person}", "session": session, "bout": str(k)}
                value = yaw * (1.0 if pace > 100 else 0.84) + rng.normal(0, 0.1)
                scores.append({**who, "measure": "yaw", "side": "none", "unit": "deg",
                               "value": value})  # fmt: skip
                bouts.append({**who, "hold": "free", "loaded_side": "none", "load_kg": 0,
                              "start_s": 60.0 * k, "cadence_spm": pace})  # fmt: skip
    (row,) = repeated(scores, bouts)
    assert (row.design, row.n_participants) == ("between_visit", 12)
    assert row.icc_2_1 > 0.95
    assert row.sem == pytest.approx(0.1, rel=0.5)
    assert not row.systematic
    far = [{**bout, "cadence_spm": 130.0} if bout["session"] == "2" else bout for bout in bouts]
    assert [row.design for row in repeated(scores, far)] == ["same_visit"]


def test_a_free_walk_is_no_share_of_free_walks() -> None:
    assert repeated(*free_walks((110.0, 110.0), "yaw_kept")) == ()


def shares(measure: str, walks: tuple[str, str]) -> tuple[Rows, Rows]:
    """Carries of persons who do not differ, as shares of free walks whose error is the visit's."""
    scores, bouts = cohort(60, sd_person=0.0, sd_visit=5.0, sd_bout=5.0)
    named = {"b2": walks[0], "b1": walks[1]}
    return (
        [{**row, "measure": measure, "unit": "%"} for row in scores],
        [{**row, "baseline_bouts": named[str(row["bout"])]} for row in bouts],
    )


@pytest.mark.parametrize("measure", OF_FREE_WALK)
def test_shares_of_the_same_free_walks_have_no_icc(measure: str) -> None:
    found = by_design(repeated(*shares(measure, ("w1;w2", "w2"))))
    one, two = found["same_visit"], found["between_visit"]
    assert np.isnan([one.icc_2_1, one.icc_2_1_low, one.icc_3_1, one.icc_3_1_high]).all()
    assert one.missing_because == "both_share_the_free_walks"
    assert one.warning == "sem_and_mdc_without_the_error_of_the_free_walks"
    assert one.sem == pytest.approx(5.0, rel=0.25)
    assert np.isfinite([one.mdc95, one.order_effect_low]).all()
    assert two.icc_3_1_low < 0.0 < two.icc_3_1_high
    assert two.sem == pytest.approx(np.hypot(5.0, 5.0), rel=0.25)
    assert (two.missing_because, two.warning) == ("", "")


@pytest.mark.parametrize(
    ("measure", "walks"), [("yaw_kept", ("w1", "w2")), ("sternum_yaw_range", ("w1", "w1"))]
)
def test_shares_of_other_free_walks_and_plain_values_have_an_icc(
    measure: str, walks: tuple[str, str]
) -> None:
    row = by_design(repeated(*shares(measure, walks)))["same_visit"]
    assert np.isfinite(row.icc_3_1)
    assert (row.missing_because, row.warning) == ("", "")


@pytest.mark.parametrize("measure", ["yaw_path_spread_ratio", "arm_path_spread_ratio"])
def test_a_ratio_of_spreads_over_all_repeats_does_not_repeat_itself(measure: str) -> None:
    """Both bouts of a visit hold the one value of the visit."""
    scores, bouts = cohort(12)
    value = {(row["participant"], row["session"]): row["value"] for row in scores}
    pooled = [
        {**row, "measure": measure, "value": value[row["participant"], row["session"]]}
        for row in scores
    ]
    (row,) = repeated(pooled, bouts)
    assert row.design == "between_visit"
    assert row.sem > 0.0


def test_bouts_repeat_in_the_order_of_time_not_of_rows() -> None:
    scores, bouts = free_walks((110.0, 110.0, 110.0))
    found = by_design(repeated(scores[::-1], bouts[::-1]))
    assert found["same_visit"].order_effect == pytest.approx(1.0)  # first to second walk
    assert found["same_visit"].mean == pytest.approx(np.mean(range(12)) + 0.5)


def test_a_bout_without_a_value_does_not_count() -> None:
    scores, bouts = cohort(12, sd_bout=0.01, sd_visit=0.01, order=5.0)
    for score in scores:
        if score["session"] == "10" and score["bout"] == "b2":  # the first in time
            score["value"] = ""
    found = by_design(repeated(scores, bouts))
    assert found["between_visit"].n_participants == 12
    assert found["between_visit"].order_effect == pytest.approx(5.0, abs=0.1)  # its second bout
    assert found["same_visit"].n_participants == 12  # of the other visit


LATER = "not_the_first_two_visits_in_6_of_12_participants"


def three_visits() -> tuple[Rows, Rows, dict[tuple[str, str], int]]:
    """Twelve persons with three visits of one carry each; every value is person + visit^2."""
    scores: Rows = []
    bouts: Rows = []
    order = {}
    for person in range(12):
        for place in range(3):
            who = {"participant": f"P{person:02}", "session": str(place), "bout": "1"}
            named = {"measure": "yaw", "side": "none", "unit": "deg"}
            scores.append({**who, **named, "value": 10.0 * person + place**2})
            bouts.append({**who, "hold": "suitcase", "loaded_side": "right", "load_kg": 8.0,
                          "start_s": 0.0})  # fmt: skip
            order[who["participant"], who["session"]] = place
    return scores, bouts, order


@pytest.mark.parametrize("lacks", ["the condition", "the value", "the visit"])
@pytest.mark.parametrize(("lost", "changes"), [("0", [3.0, 1.0]), ("1", [4.0, 1.0])])
def test_a_visit_that_lacks_the_measure_gives_way_to_the_next_and_this_is_told(
    lacks: str, lost: str, changes: list[float]
) -> None:
    """Of six persons one of the first two visits lacks something, whatever it lacks."""
    scores, bouts, order = three_visits()
    hit = {(f"P{k:02}", lost, "1") for k in range(6)}

    def is_hit(row: dict[str, str | float]) -> bool:
        return (row["participant"], row["session"], row["bout"]) in hit

    if lacks == "the value":
        scores = [row | {"value": ""} if is_hit(row) else row for row in scores]
    elif lacks == "the condition":
        bouts = [row | {"hold": "rack"} if is_hit(row) else row for row in bouts]
    else:
        scores = [row for row in scores if not is_hit(row)]
        bouts = [row for row in bouts if not is_hit(row)]
    rows = reliability_rows(scores, places_of(bouts, order))
    (found,) = (row for row in rows if row.hold == "suitcase")
    assert (found.design, found.n_participants) == ("between_visit", 12)
    assert found.order_effect == pytest.approx(np.mean(changes))
    assert found.warning == f"fewer_than_30_participants;{LATER}"


def test_nothing_is_told_where_all_pairs_are_of_the_first_two_visits() -> None:
    scores, bouts, order = three_visits()
    (found,) = reliability_rows(scores, places_of(bouts, order))
    assert found.warning == "fewer_than_30_participants"


@pytest.mark.parametrize(
    ("noted", "told"),
    [
        ({"pain_0_10": "4"}, True),
        ({"pain_0_10": "3"}, False),
        ({"stop_reason": "pain in the shoulder"}, True),
        ({"stop_reason": "completed"}, False),
    ],
)
def test_pain_and_early_stops_are_told_of_the_rows_that_they_are_in(
    noted: dict[str, str], told: bool
) -> None:
    scores, bouts = cohort(12)
    hurt = [
        row | noted if row["participant"] in ("P3", "P7") and row["session"] == "10" else row
        for row in bouts
    ]
    who = {(str(row["participant"]), str(row["session"])) for row in bouts}
    order, _ = order_visits([StudyVisit(*pair) for pair in sorted(who)])
    found = by_design(reliability_rows(scores, places_of(hurt, order, 3.0)))
    few, own = "fewer_than_30_participants", "pain_or_early_stop_in_2_of_12_participants"
    assert found["between_visit"].warning == (f"{few};{own}" if told else few)
    assert found["same_visit"].warning == few  # of the first visit
    assert found["between_visit"].n_participants == 12


@pytest.mark.parametrize(
    ("of_p1", "told"), [({"a"}, False), ({"b"}, True), ({"a", "b"}, True), (set(), False)]
)
def test_pooled_groups_are_told(of_p1: set[str], told: bool) -> None:
    scores, bouts, order = three_visits()
    groups = {f"P{k:02}": frozenset("a") for k in range(12)} | {"P01": frozenset(of_p1)}
    places = places_of(bouts, order)
    (row,) = reliability_rows(scores, places, groups)
    few = "fewer_than_30_participants"
    assert row.warning == (f"{few};groups_pooled" if told else few)
    (alone,) = reliability_rows([one for one in scores if one["participant"] != "P01"], places,
                                groups)  # fmt: skip
    assert alone.warning == few, "the other group has no value here"
