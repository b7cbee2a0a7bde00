"""The cohort page's tables: conditions, findings."""

from __future__ import annotations

import numpy as np
import pytest
from cohort_builder import cohort

from imucarry.basics.settings import CarrySettings, Settings
from imucarry.report.cohort import SessionLink
from imucarry.report.cohort.charts import kept_view, measure_views
from imucarry.report.cohort.conditions import CONDITION, ConditionNames
from imucarry.report.cohort.data import with_condition
from imucarry.report.cohort.outliers import outliers
from imucarry.report.cohort.tables import findings_table
from imucarry.report.cohort.told import covered, meanings
from imucarry.report.views import Table


def shown(table: Table | None) -> dict[str, list[str]]:
    assert table is not None
    return {row.head: [cell.value for cell in row.cells] for row in table.rows}


# --- findings -----------------------------------------------------------------


def test_pain_and_early_stops_count_as_no_finding() -> None:
    data = cohort(
        [
            ({}, {}),
            ({"bout": "2", "pain_0_10": 2.0}, {}),
            ({"bout": "3", "pain_0_10": np.nan, "stop_reason": "sharp pain, dropped it"}, {}),
            ({"bout": "4", "stop_reason": "end of lane"}, {}),
            ({"bout": "5", "rotation_finding": "not_measured"}, {}),
        ]
    )
    table = findings_table(data)
    assert table is not None
    assert table.heads == (
        *("bouts", "pain or stop", "kept turning", "turned less", "nearly still", "not clear"),
        "no answer",
    )
    assert shown(table) == {"weight at the side, right, 16 kg": ["5", "2", "2", "0", "0", "0", "1"]}


def test_pain_within_the_limit_that_was_set_counts() -> None:
    settings = Settings(carry=CarrySettings(pain_limit_0_10=2.0))
    table = findings_table(cohort([({"pain_0_10": 2.0}, {})], settings))
    assert shown(table) == {"weight at the side, right, 16 kg": ["1", "0", "1", "0", "0", "0", "0"]}


# --- conditions ---------------------------------------------------------------


def test_implements_are_told_apart_where_a_hold_and_side_had_several() -> None:
    data = cohort(
        [
            ({"implement": "kettlebell"}, {}),
            ({"bout": "2", "implement": "dumbbell"}, {}),
            ({"bout": "3", "hold": "rack", "implement": "kettlebell"}, {}),
        ]
    )
    assert list(shown(findings_table(data))) == [
        "rack, right, 16 kg",
        "weight at the side, right, 16 kg, dumbbell",
        "weight at the side, right, 16 kg, kettlebell",
    ]


def test_elastic_and_the_hands_of_a_mixed_carry_are_conditions_too() -> None:
    mixed = {"hold": "mixed", "loaded_side": "both"}
    data = cohort(
        [
            ({}, {}),
            ({"bout": "2", "perturbed": "elastic"}, {}),
            ({**mixed, "bout": "3", "left_hold": "suitcase", "right_hold": "rack"}, {}),
            ({**mixed, "bout": "4", "left_hold": "rack", "right_hold": "bottoms_up"}, {}),
        ]
    )
    assert set(shown(findings_table(data))) == {
        "weight at the side, right, 16 kg",
        "weight at the side, right, 16 kg, on elastic",
        "side left, rack right, 16 kg",
        "rack left, bottoms-up right, 16 kg",
    }


def test_pictures_and_their_tables_part_the_same_conditions() -> None:
    bouts = [
        ({"bout": f"{k}{name}", "implement": name}, {("sternum_yaw_range", "none"): value})
        for k in range(3)
        for name, value in (("kettlebell", 5.0), ("dumbbell", 9.0))
    ]
    data = cohort(bouts)
    (view,) = measure_views(data)
    medians = {row.head: row.cells[1].value for row in view.table.rows}
    assert medians == {
        "weight at the side, right, 16 kg, dumbbell": "9.0",
        "weight at the side, right, 16 kg, kettlebell": "5.0",
    }
    kept = kept_view(data)
    assert kept is not None
    assert [row.cells[0].value for row in kept.table.rows] == ["3", "3"]


def test_a_load_that_is_not_known_has_no_kilograms() -> None:
    names = ConditionNames(cohort([({}, {})]).bouts)
    key = dict.fromkeys(CONDITION, "") | {"hold": "farmer", "loaded_side": "both"}
    assert names(list((key | {"load_kg": np.nan}).values())) == "weights at both sides"
    rack = key | {"hold": "rack", "load_kg": 12.0}
    assert names(list(rack.values())) == "rack, both sides, 12 kg"


# --- angles of the stride ---------------------------------------------------------

ARM = ("arm_step_phase", "right")


def phases(angles_deg: list[float], **own: object) -> list[tuple[dict[str, object], dict]]:
    return [({"participant": f"P{k}", **own}, {ARM: deg}) for k, deg in enumerate(angles_deg)]


def test_angles_on_both_sides_of_0_are_one_cluster() -> None:
    (view,) = measure_views(cohort(phases([358.0, 1.0, 359.5, 4.0, 355.0])))
    (row,) = view.table.rows
    assert [cell.value for cell in row.cells] == ["5", "-0.5", "-2.0", "1.0", "-5.0", "4.0"]
    assert "-10 is the same as 350" in view.caption


def test_a_condition_opposite_to_the_others_is_one_cluster_too() -> None:
    most = phases([350.0, 10.0] * 5)
    opposite = phases([170.0, 190.0], bout="2", load_kg=24.0)
    (view,) = measure_views(cohort([*most, *opposite]))
    spreads = {row.head: row.cells[-1].value for row in view.table.rows}
    least = {row.head: row.cells[-2].value for row in view.table.rows}
    for name in spreads:
        assert float(spreads[name]) - float(least[name]) == pytest.approx(20.0)


def test_no_bout_stands_apart_for_lying_on_the_other_side_of_0() -> None:
    around = [358.0, 359.0, 357.0, 0.5, 1.0, 2.0, 359.5, 358.5, 3.0]
    assert outliers(cohort(phases(around)))[0] == ()
    found, _ = outliers(cohort(phases([*around, 60.0])))
    assert [(item.who, item.measures) for item in found] == [
        ("P9, 1", ("When the arm is farthest forward, right 60.0 deg (median there 0.0)",))
    ]


def test_other_measures_stay_as_they_are() -> None:
    data = cohort([({"participant": f"P{k}"}, {("cadence", "none"): 350.0 * k}) for k in range(3)])
    assert with_condition(data.scores, data.bouts)["value"].tolist() == [0.0, 350.0, 700.0]


# --- what the page says ---------------------------------------------------------


def test_the_findings_are_explained_with_the_thresholds_of_the_run() -> None:
    usual = meanings(Settings())
    assert "Kept turning: its 95 % interval lies above 75 %; turned less: below 75 %" in usual
    assert "nearly still: below 40 % too; not clear: none of these" in usual
    assert usual.endswith("All settings are at their defaults.")
    own = meanings(Settings(carry=CarrySettings(reduced_pct=80.0, pain_limit_0_10=2.0)))
    assert "above 80 %; turned less: below 80 %" in own
    assert "pain above 2 of 10" in own
    assert own.endswith(
        "Settings changed: carry.reduced_pct = 80.0 (default 75.0); "
        "carry.pain_limit_0_10 = 2.0 (default 0.0)."
    )


@pytest.mark.parametrize(
    ("dates", "said"),
    [
        (("", ""), "study.csv: 2 sessions of 1 participant scored, 0 failed."),
        (("2026-03-02", "2026-03-01"), "0 failed. Visits of 2026-03-01 to 2026-03-02."),
        (("2026-03-01", ""), "0 failed. Visits of 2026-03-01 (1 without a date)."),
    ],
)
def test_the_head_tells_manifest_and_dates(dates: tuple[str, str], said: str) -> None:
    links = tuple(SessionLink("P1", str(k), "", (), date=date) for k, date in enumerate(dates))
    head = covered(cohort([({}, {})], sessions=links, manifest="study.csv"))
    assert head.endswith(said)


def test_one_is_told_in_the_singular() -> None:
    data = cohort([({}, {("cadence", "none"): 100.0})])
    (view,) = measure_views(data)
    kept = kept_view(data)
    assert kept is not None
    assert (view.finding, kept.finding) == (
        "1 bout in 1 condition.",
        "1 loaded bout of 1 participant.",
    )
