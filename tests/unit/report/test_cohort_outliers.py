"""Which bouts stand apart on the cohort page, and in which order."""

from __future__ import annotations

from cohort_builder import Values, cohort

from imucarry.report.cohort.outliers import outliers

SPREAD = (-0.4, 0.4, -0.3, 0.3, -0.2, 0.2, -0.1, 0.1, 0.0)


def named(values: list[Values]) -> list[tuple[str, tuple[str, ...]]]:
    """Return who stands apart, of people with one bout each, and in what."""
    found, _ = outliers(cohort([({"participant": f"P{k}"}, own) for k, own in enumerate(values)]))
    return [(item.who.removesuffix(", 1"), item.measures) for item in found]


def usual(measure: str, middle: float, scale: float = 1.0, side: str = "none") -> list[Values]:
    return [{(measure, side): middle + scale * shift} for shift in SPREAD]


def test_a_bout_apart_in_a_main_result_comes_before_one_farther_apart_in_another() -> None:
    both = [
        {**one, **two}
        for one, two in zip(usual("cadence", 100.0), usual("torso_lean", 5.0), strict=True)
    ]
    lean = {("torso_lean", "none"): 30.0}
    found = named([*both, {**lean}, {("cadence", "none"): 102.0, **lean}])
    assert [who for who, _ in found] == ["P10", "P9"]
    assert found[0][1] == (
        "Cadence 102.0 steps/min (median there 100.0)",
        "Side lean 30.0 deg (median there 5.1)",
    )


def test_what_was_set_and_measures_near_their_ceiling_are_passed_over() -> None:
    for measure, side in (
        ("loaded_time", "none"),
        ("distance", "none"),
        ("arm_step_consistency", "left"),
        ("stride_regularity", "none"),
    ):
        assert named([*usual(measure, 0.9, 0.1, side), {(measure, side): 0.1}]) == [], measure


def test_a_value_that_reads_as_its_median_is_not_named() -> None:
    assert named([*usual("step_time", 0.55, 1e-6), {("step_time", "none"): 0.55003}]) == []
    assert named([*usual("step_time", 0.55, 1e-6), {("step_time", "none"): 0.552}]) != []


def test_a_bout_apart_in_other_measures_alone_is_told_from_one_in_a_main_result() -> None:
    lean = [*usual("torso_lean", 5.0), {("torso_lean", "none"): 30.0}]
    swing = [*usual("arm_swing", 20.0, side="left"), {("arm_swing", "left"): 40.0}]
    for values, is_main in ((lean, False), (swing, True)):
        data = cohort([({"participant": f"P{k}"}, own) for k, own in enumerate(values)])
        (found,), _ = outliers(data)
        assert found.is_main is is_main
