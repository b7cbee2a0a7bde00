"""The cohort page's tables: conditions, findings."""

from __future__ import annotations

import numpy as np
from cohort_builder import cohort

from imucarry.basics.settings import CarrySettings, Settings
from imucarry.report.cohort.charts import kept_view, measure_views
from imucarry.report.cohort.conditions import CONDITION, ConditionNames
from imucarry.report.cohort.tables import findings_table
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
    assert table.heads[-2:] == ("no answer", "pain or stop")
    assert shown(table) == {"suitcase, right, 16 kg": ["5", "2", "0", "0", "0", "1", "2"]}


def test_pain_within_the_limit_that_was_set_counts() -> None:
    settings = Settings(carry=CarrySettings(pain_limit_0_10=2.0))
    table = findings_table(cohort([({"pain_0_10": 2.0}, {})], settings))
    assert shown(table) == {"suitcase, right, 16 kg": ["1", "1", "0", "0", "0", "0", "0"]}


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
        "suitcase, right, 16 kg, dumbbell",
        "suitcase, right, 16 kg, kettlebell",
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
        "suitcase, right, 16 kg",
        "suitcase, right, 16 kg, on elastic",
        "mixed, left hand suitcase, right hand rack, 16 kg",
        "mixed, left hand rack, right hand bottoms-up, 16 kg",
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
        "suitcase, right, 16 kg, dumbbell": "9.0",
        "suitcase, right, 16 kg, kettlebell": "5.0",
    }
    kept = kept_view(data)
    assert kept is not None
    assert [row.cells[0].value for row in kept.table.rows] == ["3", "3"]


def test_a_load_that_is_not_known_has_no_kilograms() -> None:
    names = ConditionNames(cohort([({}, {})]).bouts)
    key = dict.fromkeys(CONDITION, "") | {"hold": "farmer", "loaded_side": "both"}
    assert names(list((key | {"load_kg": np.nan}).values())) == "farmer"
