"""What is read for an aim: which lighter loads there are, and why nothing can be told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from accuracy_findings import stride_bout

from imucarry.basics.records import (
    AimReading,
    BoutData,
    BoutRow,
    Comparison,
    Estimate,
    Notice,
    Score,
)
from imucarry.basics.settings import CarrySettings
from imucarry.carry.aim import AIM_CODES, read_aims
from imucarry.carry.ladder import climb
from imucarry.report.wording import texts

SETTINGS = CarrySettings()
Step = tuple[BoutData, Comparison]


def step(load_kg: float, kept_pct: float, finding: str = "rotates", **row: object) -> Step:
    fields = {"hold": "suitcase", "loaded_side": "right", "aim": "mobility", **row}
    built = BoutRow(f"b{load_kg:g}", 0.0, 1.0, load_kg=load_kg, **fields)  # type: ignore[arg-type]
    data, _ = stride_bout(built, 0, np.full(12, 5.0))
    score = Score(data.row.bout, "yaw_kept", "none", "none", "%", Estimate(kept_pct))
    return data, Comparison(("f",), (score,), finding, "", (), 0.03, 0.03, 30.0)


def readings(*steps: Step) -> tuple[AimReading, ...]:
    bouts, comparisons = zip(*steps, strict=True)
    return read_aims(bouts, comparisons, climb(bouts, comparisons, SETTINGS), SETTINGS)


def said(reading: AimReading) -> str:
    assert reading.code in AIM_CODES
    return texts.AIM_READINGS[reading.code]


def test_of_the_lightest_load_it_is_said_that_none_lighter_was_carried() -> None:
    lightest, heavier = readings(step(8, 50, "reduced"), step(16, 40, "reduced"))
    assert lightest.code == "mobility_reduced_lightest"
    assert said(lightest).endswith(
        "no lighter load was carried with the same hold, side and implement."
    )
    assert heavier.code == "mobility_reduced"
    assert said(heavier).endswith("no lighter load carried the same way certainly kept it.")


@pytest.mark.parametrize(
    "other", [{"loaded_side": "left"}, {"hold": "rack"}, {"implement": "dumbbell"}]
)
def test_a_lighter_load_carried_otherwise_does_not_count(other: dict[str, str]) -> None:
    found = readings(step(8, 98, **other), step(16, 40, "reduced"))
    assert found[1].code == "mobility_reduced_lightest"


def test_lighter_loads_left_out_for_pain_are_told() -> None:
    found = readings(step(8, 98, pain_0_10=4.0), step(12, 60, "reduced"), step(16, 40, "reduced"))
    assert found[1].code == "mobility_reduced_lighter_stopped"
    assert said(found[2]).endswith(
        "(bouts with pain, an early stop or an alarm symptom do not count)."
    )


@pytest.mark.parametrize(
    ("because", "notice", "code"),
    [
        ("baseline_small", "baseline_small", "unclear_baseline_small"),
        ("interval_holds_threshold", "baseline_moved", "unclear_baseline_moved"),
        ("interval_holds_threshold", "baseline_moved_with_pace", "unclear_baseline_moved"),
        ("interval_holds_threshold", "one_free_walk", "unclear"),
        ("too_few_strides", "baseline_moved", "unclear"),
    ],
)
def test_what_is_not_clear_names_the_free_walks_where_they_are_the_reason(
    because: str, notice: str, code: str
) -> None:
    data, comparison = step(8, 74, "unclear")
    comparison = replace(comparison, finding_because=because, notices=(Notice(notice, ""),))
    (reading,) = readings((data, comparison))
    assert reading.code == code
    begins = {
        "unclear_baseline_small": "",  # the bout's own sentence says so
        "unclear_baseline_moved": "The free walks differ",
        "unclear": "More strides",
    }[code]
    assert said(reading).startswith(begins)
    assert bool(said(reading)) is bool(begins)
