"""How well the measures repeat, on the cohort page."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

import pandas as pd
import pytest
from cohort_builder import BOUT, UNITS, cohort

from imucarry.carry.cohort_reliability import ReliabilityRow
from imucarry.report.cohort.reliability import error, reliability_tables
from imucarry.report.views import Table

FEW = "fewer_than_30_participants"
TEXTS = ("implement", "perturbed", "left_hold", "right_hold", "missing_because", "warning")


def row(measure: str, **own: Any) -> dict[str, Any]:
    """Return a row of ``reliability.csv``; numbers that are not given are NaN."""
    made: dict[str, Any] = {field.name: math.nan for field in dataclasses.fields(ReliabilityRow)}
    made |= dict.fromkeys(TEXTS, "")
    made |= {name: BOUT[name] for name in ("hold", "loaded_side", "load_kg")}
    named = {"side": "none", "design": "same_visit", "n_participants": 12, "systematic": False}
    return {**made, **named, "measure": measure, "unit": UNITS[measure], **own}


def tables(*rows: dict[str, Any]) -> tuple[Table | None, Table | None]:
    return reliability_tables(cohort([({}, {})], reliability=pd.DataFrame(list(rows))))


def heads(table: Table | None) -> list[str]:
    assert table is not None
    return [item.head for item in table.rows]


def test_main_results_stand_apart_and_all_follow_the_registry_with_its_labels() -> None:
    main, others = tables(
        row("arm_mean_angle", side="left"),
        row("arm_swing", side="left"),
        row("cadence"),
        row("sternum_yaw_range"),
        row("torso_lean"),
        row("yaw_kept"),
    )
    assert heads(main) == [
        *("Trunk rotation (swung through)", "Trunk rotation kept", "Arm swing, left", "Cadence")
    ]
    assert heads(others) == ["Side lean", "Mean arm angle, left"]


def test_what_was_set_is_no_measure_that_repeats() -> None:
    given = [row(name) for name in ("distance", "loaded_distance", "load_body_mass")]
    assert tables(*given) == (None, None)


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        (0.0042, "1", "0.0042"),
        (0.0004, "s", "0.00040"),
        (0.013, "1", "0.013"),
        (1.234, "deg", "1.2"),
        (0.18, "deg", "0.18"),
        (0.0, "s", "0.000"),
        (31.7, "{steps}/min", "31.7"),
    ],
)
def test_an_error_is_never_shown_as_0_unless_it_is(value: float, unit: str, said: str) -> None:
    assert error(value, unit) == said


def test_the_shared_warning_stands_once_and_systematic_changes_are_told() -> None:
    effect = {"sem": 0.24, "order_effect": 0.31, "order_effect_low": 0.1, "order_effect_high": 0.52}
    main, _ = tables(
        row("cadence", warning=FEW),
        row("sternum_yaw_range", warning=FEW, systematic=True, **effect),
        row("arm_swing", side="left", warning=FEW, missing_because="values_do_not_vary"),
    )
    assert main is not None
    minds = {item.head: item.cells[-1].value for item in main.rows}
    assert minds == {
        "Trunk rotation (swung through)": "second differs from first",
        "Arm swing, left": "values do not vary",
        "Cadence": "",
    }
    (_, few) = main.notes
    assert "30 participants" in few
    assert "fewer than 10 have no ICC and no MDC95" in few
    (change,) = {item.cells[-2] for item in main.rows if item.cells[-2].below}
    assert (change.value, change.below) == ("0.31", "0.10 to 0.52")


def test_several_warnings_of_a_row_are_told_and_the_shared_one_stands_below() -> None:
    later = "not_the_first_two_visits_in_6_of_12_participants"
    main, _ = tables(row("cadence", warning=f"{FEW};{later}"))
    assert main is not None
    assert main.rows[0].cells[-1].value == "not the first two visits in 6 of 12 participants"
    (few,) = main.notes
    assert "30 participants" in few


def test_pooled_groups_are_told_once_below() -> None:
    main, _ = tables(*(row(name, warning="groups_pooled") for name in ("cadence", "yaw_kept")))
    assert main is not None
    assert {item.cells[-1].value for item in main.rows} == {""}
    (note,) = main.notes
    assert note.startswith("Groups of the manifest are pooled")


def test_why_shares_of_the_same_free_walks_have_no_icc_stands_below() -> None:
    shared = "sem_and_mdc_without_the_error_of_the_free_walks"
    main, others = tables(
        row("yaw_kept", warning=shared, missing_because="both_share_the_free_walks"),
        row("torso_lean"),
    )
    assert main is not None
    assert main.rows[0].cells[-1].value == "both share the free walks"
    (note,) = main.notes
    assert note.startswith("Both share the free walks: ")
    assert others is not None
    assert others.notes == ()


def test_the_number_of_comparisons_stands_beside_the_changes_that_are_told() -> None:
    effect = {"order_effect": 0.31, "order_effect_low": 0.1, "order_effect_high": 0.52}
    main, others = tables(
        row("cadence", **effect, systematic=True),
        row("sternum_yaw_range", **effect | {"order_effect_low": -0.1}),
        row("yaw_kept"),  # two values alike: no interval, so nothing was compared
        row("torso_lean", **effect | {"order_effect_low": -0.1}),
    )
    assert main is not None
    assert others is not None
    assert main.notes == ("Second differs from first: 1 of 2 rows; one in twenty does by chance.",)
    assert others.notes == ()


def test_rows_of_several_implements_have_names_of_their_own() -> None:
    bouts = [({"implement": name}, {}) for name in ("kettlebell", "dumbbell")]
    rows = [row("yaw_kept", implement=name) for name in ("kettlebell", "dumbbell")]
    main, _ = reliability_tables(cohort(bouts, reliability=pd.DataFrame(rows)))
    assert main is not None
    assert [item.unit for item in main.rows] == [
        f"% | weight at the side, right, 16 kg, {name} | in one visit"
        for name in ("kettlebell", "dumbbell")
    ]
