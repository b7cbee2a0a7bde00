"""Every measure of the table on a bout whose answer is known."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import pytest
from invented_bout import make_bout, without_chest

from imucarry.basics.records import SIDES, BoutData, Score, Side
from imucarry.basics.settings import MeasureSettings
from imucarry.basics.statistics import neighbours, slope_interval
from imucarry.measures.measure import Measure
from imucarry.measures.reasons import MISSING, NOTES
from imucarry.measures.table import MEASURES, compute_scores

SETTINGS = MeasureSettings()
CONTRACT = (
    "cadence",
    "stride_time",
    "step_time",
    "sternum_yaw_range",
    "sternum_yaw_locked",
    "sternum_yaw_phase",
    "sternum_peak_yaw_rate",
    "yaw_kept",
    "arm_swing",
    "arm_swing_kept",
    "arm_peak_rate",
    "torso_lean",
    "torso_pitch",
    "stride_time_cv",
    "sternum_yaw_sd",
    "arm_swing_sd",
    "step_time_asymmetry",
    "arm_swing_asymmetry",
    "phase_coordination_index",
    "stride_regularity",
    "step_regularity",
    "arm_sternum_phase",
)
IN_CARRY = {
    "yaw_kept",
    "yaw_kept_matched",
    "arm_swing_kept",
    "arm_swing_kept_matched",
    "yaw_path_spread_ratio",
    "arm_path_spread_ratio",
}


def free() -> BoutData:
    """60 free strides of 1.1 s in passes of 20; yaw 8 deg, arms 40 and 30 deg."""
    return make_bout(60, lengths=(20, 20, 20))


def limping() -> BoutData:
    """The right foot lands at 54 % of the left stride."""
    return make_bout(60, lengths=(20, 20, 20), right_frac=0.54)


def alternating() -> BoutData:
    """Times, yaw and swing switch between two values: 5 % below and above the mean."""
    data = make_bout(60, lengths=(20, 20, 20))
    sign = np.where(np.arange(60) % 2, 1.0, -1.0)
    strides = data.strides
    end = strides.start_s + 1.1 * (1.0 + 0.05 * sign)
    half = 0.5 * (end - strides.start_s)
    strides = replace(
        strides,
        end_s=end,
        left_step_time_s=half,
        right_step_time_s=half,
        right_contact_s=strides.start_s + half,
    )
    yaw = data.columns["sternum_yaw_range_deg"] * (1.0 + 0.05 * sign)
    lean = data.columns["torso_lean_deg"] * (1.0 + 0.05 * sign)
    swing = {
        side: replace(arm, range_rad=arm.range_rad * (1.0 + 0.05 * sign))
        for side, arm in data.swing.items()
    }
    columns = {**data.columns, "sternum_yaw_range_deg": yaw, "torso_lean_deg": lean}
    return replace(data, strides=strides, swing=swing, columns=columns)


def fading() -> BoutData:
    """Yaw falls by 2 deg a minute."""
    data = free()
    minutes = data.strides.start_s / 60.0
    return replace(data, columns={**data.columns, "sternum_yaw_range_deg": 10.0 - 2.0 * minutes})


def suitcase() -> BoutData:
    """16 kg in the left hand over 60 m by a client of 80 kg; the forearm turns 3 deg."""
    data = make_bout(60, hold="suitcase", loaded="left", load_kg=16.0, right_frac=0.52)
    row = replace(data.row, distance_m=60.0)
    columns = {**data.columns, "left_sternum_on_arm_deg": np.full(60, 5.5)}
    return replace(data, row=row, body_mass_kg=80.0, columns=columns)


# SD of values that switch between -d and d, n = 60: d sqrt(60 / 59).
SWITCH = math.sqrt(60.0 / 59.0)
CV_FACTOR = 1.0 + 1.0 / 240.0
STEPS = 200.0 * (0.54 - 0.46)  # per unit mean step of 0.5 stride each: 100 (R - L) / mean


@dataclass(frozen=True)
class Known:
    """A bout, the value that a measure must have in it, and how near."""

    bout: Callable[[], BoutData]
    value: float
    side: str = "none"
    within: float = 1e-9


HARMONIC = 6e-3  # linear interpolation between samples weakens the second harmonic by 0.2 %
LAG = 2e-3  # a lag is a whole number of samples, the peak is found by a parabola

KNOWN: dict[str, Known] = {
    "sternum_yaw_range": Known(free, 8.0),
    "sternum_yaw_locked": Known(free, 7.2),
    "sternum_yaw_phase": Known(free, 20.0),
    "sternum_peak_yaw_rate": Known(free, 8.0 * math.pi),
    "sternum_yaw_floor": Known(free, 1.0),
    "sternum_yaw_trend": Known(fading, -2.0),
    "torso_lean": Known(free, 2.0),
    "torso_lean_range": Known(free, 5.0),
    "torso_pitch": Known(free, 4.0),
    "held_arm_rotation": Known(suitcase, 5.5, "left"),
    "arm_swing": Known(free, 30.0, "right"),
    "arm_peak_rate": Known(free, math.pi * 40.0 / 1.1, "left"),
    "arm_peak_rate_forward": Known(free, math.pi * 40.0 / 1.1, "left"),
    "arm_peak_rate_backward": Known(free, 0.8 * math.pi * 30.0 / 1.1, "right"),
    "arm_mean_angle": Known(free, 7.0, "left"),
    "arm_regularity": Known(free, 1.0, "right"),
    "cadence": Known(free, 120.0 / 1.1),
    "stride_time": Known(free, 1.1),
    "step_time": Known(limping, 0.46 * 1.1, "left"),
    "distance": Known(suitcase, 60.0),
    "speed": Known(suitcase, 60.0 / (60 * 1.1)),
    "stride_length": Known(suitcase, 1.0),
    "stride_time_sd": Known(alternating, 0.055 * SWITCH),
    "stride_time_cv": Known(alternating, 5.0 * SWITCH * CV_FACTOR),
    "stride_time_cv_floor": Known(free, 100.0 * math.sqrt(2.0) * 0.010 / 1.1),
    "stride_time_robust_sd": Known(alternating, 1.4826 * 0.055),
    "step_time_sd": Known(alternating, 0.0275 * SWITCH, "left"),
    "step_time_cv": Known(alternating, 5.0 * SWITCH * CV_FACTOR, "right"),
    "step_time_robust_sd": Known(alternating, 1.4826 * 0.0275, "right"),
    "sternum_yaw_sd": Known(alternating, 0.4 * SWITCH),
    "torso_lean_sd": Known(alternating, 0.1 * SWITCH),
    "arm_swing_sd": Known(alternating, 2.0 * SWITCH, "left"),
    "stride_regularity": Known(free, 1.0, within=LAG),
    "step_regularity": Known(free, (1.0 - 0.36) / 1.36, within=LAG),
    "harmonic_ratio_forward": Known(free, 1.0 / 0.6, within=HARMONIC),
    "harmonic_ratio_sideways": Known(free, 0.6, within=HARMONIC),
    "harmonic_ratio_vertical": Known(free, 1.0 / 0.6, within=HARMONIC),
    "improved_harmonic_ratio_forward": Known(free, 100.0 / 1.36, within=0.2),
    "improved_harmonic_ratio_sideways": Known(free, 36.0 / 1.36, within=0.2),
    "improved_harmonic_ratio_vertical": Known(free, 100.0 / 1.36, within=0.2),
    "step_time_asymmetry": Known(limping, STEPS),
    "step_time_symmetry_angle": Known(
        limping, 100.0 * (45.0 - math.degrees(math.atan(0.46 / 0.54))) / 90.0
    ),
    "step_time_log_ratio": Known(limping, 100.0 * math.log(0.54 / 0.46)),
    "step_time_asymmetry_floor": Known(free, 100.0 * math.sqrt(8.0 / 60.0) * 0.010 / 0.55),
    "step_time_loaded_difference": Known(suitcase, 200.0 * (0.48 - 0.52)),
    "arm_swing_asymmetry": Known(free, 100.0 * (30.0 - 40.0) / 35.0),
    "arm_swing_symmetry_angle": Known(free, -9.0334, within=5e-5),
    "arm_swing_log_ratio": Known(free, -28.7682, within=5e-5),
    "arm_swing_loaded_difference": Known(suitcase, 10.0),
    "phase_coordination_index": Known(limping, 100.0 * 0.04 * 360.0 / 180.0),
    "phase_coordination_floor": Known(
        free, 2.0 * math.sqrt(1.5) * 0.010 / 1.1 * 100.0 * (1.0 + math.sqrt(2.0 / math.pi))
    ),
    "arm_sternum_phase": Known(free, 170.0, "left"),
    "arm_sternum_consistency": Known(free, 1.0, "left"),
    "arm_step_phase": Known(free, 190.0, "left"),
    "arm_step_consistency": Known(free, 1.0, "right"),
    "sternum_step_consistency": Known(free, 1.0),
    "arm_opposite_leg_share": Known(free, 100.0, "left"),
    "arm_step_frequency_ratio": Known(free, 1.0, "right"),
    "loaded_time": Known(suitcase, 59 * 1.1 + 0.52 * 1.1),
    "loaded_strides": Known(suitcase, 60.0),
    "loaded_distance": Known(suitcase, 60.0),
    "load_time": Known(suitcase, 16.0 * (59 * 1.1 + 0.52 * 1.1)),
    "load_body_mass": Known(suitcase, 20.0),
}


def score_of(scores: tuple[Score, ...], measure: str, side: str = "none") -> Score:
    return next(s for s in scores if s.measure == measure and s.side == side)


@pytest.mark.parametrize("measure", MEASURES, ids=lambda measure: measure.id)
def test_every_measure_gives_the_known_answer(measure: Measure) -> None:
    if measure.id in IN_CARRY:
        assert measure.whole is None
        assert measure.by_side is None
        return
    assert measure.id in KNOWN, "give it a known answer in KNOWN"
    known = KNOWN[measure.id]
    found = score_of(compute_scores(known.bout(), SETTINGS), measure.id, known.side)
    assert found.estimate.value == pytest.approx(known.value, abs=known.within)
    assert found.estimate.missing_because == ""
    assert found.unit == measure.unit


@pytest.mark.parametrize("measure", MEASURES, ids=lambda measure: measure.id)
def test_every_row_can_be_read(measure: Measure) -> None:
    assert measure.label
    assert measure.source
    assert measure.definition.endswith(".")
    assert not measure.definition[0].islower()
    assert measure.least_strides.key.startswith("measures.")
    assert (measure.by_side is None) or measure.sides != "none"


def test_ids_are_unique_and_hold_the_contract() -> None:
    ids = [measure.id for measure in MEASURES]
    assert len(set(ids)) == len(ids)
    assert set(CONTRACT) <= set(ids)


def keys(scores: tuple[Score, ...]) -> list[tuple[str, str]]:
    return [(score.measure, score.side) for score in scores]


def expected_keys() -> list[tuple[str, str]]:
    return [
        (measure.id, side)
        for measure in MEASURES
        if measure.id not in IN_CARRY
        for side in (("none",) if measure.sides == "none" else SIDES)
    ]


BOUTS: dict[str, Callable[[], BoutData]] = {
    "free": free,
    "suitcase": suitcase,
    "noisy": lambda: make_bout(30, noise=0.05),
    "no chest": lambda: without_chest(make_bout(30, noise=0.05)),
    "no wrists": lambda: replace(free(), swing={}),
    "few": lambda: make_bout(4, noise=0.05),
    "nothing": lambda: replace(without_chest(free()), swing={}),
}


@pytest.mark.parametrize("name", BOUTS)
def test_every_measure_has_its_rows_and_says_why_it_is_missing(name: str) -> None:
    scores = compute_scores(BOUTS[name](), SETTINGS)
    assert keys(scores) == expected_keys()
    for score in scores:
        found = score.estimate
        assert math.isfinite(found.value) == (found.missing_because == ""), score
        assert not found.missing_because or found.missing_because in MISSING, score
        assert set(found.notes) <= set(NOTES), score
        bounded = math.isfinite(found.ci_low) and math.isfinite(found.ci_high)
        assert bounded == (
            found.missing_because == ""
            and not {"no_interval", "interval_undefined"} & set(found.notes)
        ), score
        if bounded:
            # Correlations of strides that never differ lie within rounding of their limits.
            assert found.ci_low - 1e-9 <= found.value <= found.ci_high + 1e-9, score


def test_few_strides_are_a_reason_and_the_least_is_a_setting() -> None:
    few = make_bout(8, noise=0.05)
    assert score_of(compute_scores(few, SETTINGS), "stride_time").estimate.missing_because == (
        "too_few_strides"
    )
    found = score_of(compute_scores(few, MeasureSettings(least_strides_mean=5)), "stride_time")
    assert found.estimate.n_used == 8
    assert math.isfinite(found.estimate.value)


def test_strides_that_are_left_out_do_not_count() -> None:
    data = make_bout(40)
    kept = np.arange(40) >= 10
    column = np.where(kept, 8.0, 500.0)
    strides = replace(data.strides, kept_yaw=kept, kept_left_arm=kept)
    swing = {**data.swing, "left": replace(data.swing["left"], range_rad=np.radians(column))}
    columns = {**data.columns, "sternum_yaw_range_deg": column}
    scores = compute_scores(replace(data, strides=strides, swing=swing, columns=columns), SETTINGS)
    yaw, arm = score_of(scores, "sternum_yaw_range"), score_of(scores, "arm_swing", "left")
    assert (yaw.estimate.value, yaw.estimate.n_used) == (pytest.approx(8.0), 30)
    assert (arm.estimate.value, arm.estimate.n_used) == (pytest.approx(8.0), 30)
    assert score_of(scores, "stride_time").estimate.n_used == 40


def test_scores_do_not_depend_on_the_bout_s_place_in_the_list() -> None:
    data = make_bout(30, noise=0.05)
    moved = compute_scores(replace(data, ordinal=7), SETTINGS)
    assert repr(compute_scores(data, SETTINGS)) == repr(moved)


def test_arms_carry_their_role() -> None:
    scores = compute_scores(suitcase(), SETTINGS)
    assert score_of(scores, "arm_swing", "left").role == "held"
    assert score_of(scores, "arm_swing", "right").role == "free"
    assert score_of(scores, "step_time", "left").role == "none"
    assert score_of(scores, "cadence").role == "none"


def test_a_held_arm_is_not_called_asymmetric_or_out_of_phase() -> None:
    scores = compute_scores(suitcase(), SETTINGS)
    for measure, side in (
        ("arm_swing_asymmetry", "none"),
        ("arm_swing_symmetry_angle", "none"),
        ("arm_sternum_phase", "left"),
        ("arm_step_phase", "left"),
    ):
        assert score_of(scores, measure, side).estimate.missing_because == "held_arm"
    assert score_of(scores, "held_arm_rotation", "right").estimate.missing_because == "not_held"


def test_without_a_chest_the_arms_are_measured_by_their_own_cycles() -> None:
    scores = compute_scores(without_chest(free()), SETTINGS)
    swing = score_of(scores, "arm_swing", "left").estimate
    assert (swing.value, swing.n_used, swing.notes) == (pytest.approx(40.0), 60, ("own_cycles",))
    asymmetry = score_of(scores, "arm_swing_asymmetry").estimate
    assert (asymmetry.value, asymmetry.notes) == (pytest.approx(-1000.0 / 35.0), ("own_cycles",))
    for measure in ("sternum_yaw_range", "cadence", "stride_time_cv", "step_regularity"):
        assert score_of(scores, measure).estimate.missing_because == "no_chest_sensor"
    assert score_of(scores, "arm_sternum_phase", "left").estimate.missing_because == (
        "no_chest_sensor"
    )


def test_rotation_below_the_walking_floor_is_not_claimed() -> None:
    data = make_bout(30, yaw_deg=0.9)
    notes = score_of(compute_scores(data, SETTINGS), "sternum_yaw_range").estimate.notes
    assert "below_walking_floor" in notes
    plain = score_of(compute_scores(free(), SETTINGS), "sternum_yaw_range").estimate.notes
    assert "below_walking_floor" not in plain


def lanes_of_yaw(levels_deg: tuple[float, float, float]) -> BoutData:
    """60 free strides in lanes of 20 about these levels of yaw range, their SD 1.2 deg."""
    data = free()
    strides = np.random.default_rng(5).normal(0.0, 1.2, 60)
    swing = 8.0 + np.repeat(levels_deg, 20) + strides
    return replace(data, columns={**data.columns, "sternum_yaw_range_deg": swing})


@pytest.mark.parametrize(
    ("levels_deg", "faded"), [((0.6, 0.0, -0.6), False), ((2.0, 0.0, -2.0), True)]
)
def test_lanes_that_differ_a_little_are_no_trend(
    levels_deg: tuple[float, float, float], faded: bool
) -> None:
    data = lanes_of_yaw(levels_deg)
    found = score_of(compute_scores(data, SETTINGS), "sternum_yaw_trend").estimate
    assert (found.ci_high < 0.0) == faded
    minutes = data.strides.start_s / 60.0
    of_strides_alone = slope_interval(
        minutes,
        data.columns["sternum_yaw_range_deg"],
        neighbours(data.strides.pass_number, data.strides.stride_in_pass),
    )
    assert of_strides_alone.high < 0.0


def test_posture_needs_quiet_standing() -> None:
    data = free()
    assert data.trunk is not None
    data = replace(data, trunk=replace(data.trunk, levelled_in="bout_mean"))
    scores = compute_scores(data, SETTINGS)
    for measure in ("torso_lean", "torso_pitch", "torso_lean_sd"):
        assert score_of(scores, measure).estimate.missing_because == "not_quiet_standing"
    assert "levelled_at_bout_mean" in score_of(scores, "sternum_yaw_range").estimate.notes


def test_forward_and_backward_need_a_direction() -> None:
    data = free()
    swing = {side: replace(arm, direction_source="unknown") for side, arm in data.swing.items()}
    scores = compute_scores(replace(data, swing=swing), SETTINGS)
    for measure in ("arm_peak_rate_forward", "arm_mean_angle", "arm_step_phase"):
        assert score_of(scores, measure, "left").estimate.missing_because == "direction_unknown"
    assert math.isfinite(score_of(scores, "arm_peak_rate", "left").estimate.value)


AGAINST_EACH_OTHER = ("arm_swing_asymmetry", "arm_swing_symmetry_angle", "arm_swing_log_ratio")


def undirected(data: BoutData, *sides: Side) -> BoutData:
    """The same bout where it could not be told which way forward is for these arms."""
    unknown = {side: replace(data.swing[side], direction_source="unknown") for side in sides}
    return replace(data, swing={**data.swing, **unknown})


@pytest.mark.parametrize("sides", [("left",), ("right",), SIDES])
@pytest.mark.parametrize("wrists_alone", [False, True])
def test_arms_are_not_compared_where_forward_is_not_known(
    sides: tuple[Side, ...], wrists_alone: bool
) -> None:
    data = undirected(free(), *sides)
    data = without_chest(data) if wrists_alone else data
    scores = compute_scores(data, SETTINGS)
    for measure in AGAINST_EACH_OTHER:
        found = score_of(scores, measure).estimate
        assert (found.missing_because, math.isnan(found.value)) == ("direction_unknown", True)
    for side, swing_deg in (("left", 40.0), ("right", 30.0)):
        assert score_of(scores, "arm_swing", side).estimate.value == pytest.approx(swing_deg)
        assert math.isfinite(score_of(scores, "arm_peak_rate", side).estimate.value)


def test_a_loaded_arm_is_not_set_against_the_other_where_forward_is_not_known() -> None:
    scores = compute_scores(undirected(suitcase(), "right"), SETTINGS)
    found = score_of(scores, "arm_swing_loaded_difference").estimate
    assert found.missing_because == "direction_unknown"
    assert score_of(scores, "arm_swing_asymmetry").estimate.missing_because == "held_arm"
    assert math.isfinite(score_of(scores, "arm_swing", "left").estimate.value)


@pytest.mark.parametrize(("turned_deg", "walked_m"), [(0.0, 20.0), (60.0, 20.0), (180.0, 60.0)])
def test_a_stop_on_the_way_begins_no_other_lane(turned_deg: float, walked_m: float) -> None:
    data = replace(free(), lane_m=20.0)  # stands for 4 s between the passes
    assert data.trunk is not None
    trunk = replace(data.trunk, yaw_rad=data.trunk.yaw_rad * turned_deg / 180.0)
    scores = compute_scores(replace(data, trunk=trunk), SETTINGS)
    assert score_of(scores, "distance").estimate.value == pytest.approx(walked_m)
    assert score_of(scores, "speed").estimate.value == pytest.approx(walked_m / 66.0)


def test_distance_comes_from_the_lane_where_it_is_not_given() -> None:
    lanes = replace(free(), lane_m=20.0)
    scores = compute_scores(lanes, SETTINGS)
    assert score_of(scores, "distance").estimate.value == pytest.approx(60.0)
    assert score_of(scores, "speed").estimate.value == pytest.approx(60.0 / 66.0)
    without = compute_scores(free(), SETTINGS)
    assert score_of(without, "speed").estimate.missing_because == "no_distance"


def test_speed_is_missing_where_the_chest_sensor_was_off_between_two_passes() -> None:
    whole = replace(free(), lane_m=20.0)
    assert whole.trunk is not None
    first, second = whole.passes[:2]
    usable = whole.trunk.usable.copy()
    middle_s = 0.5 * (first.start_s + first.end_s)
    usable[(whole.trunk.time_s > middle_s) & (whole.trunk.time_s < second.start_s)] = False
    seen = replace(first, end_s=middle_s)  # the pass ends where the sensor went off
    passes = (seen, *whole.passes[1:])
    data = replace(whole, trunk=replace(whole.trunk, usable=usable), passes=passes)
    for row in (data.row, replace(data.row, distance_m=60.0)):
        scores = compute_scores(replace(data, row=row), SETTINGS)
        assert score_of(scores, "speed").estimate.missing_because == "walk_not_seen"
        assert score_of(scores, "stride_length").estimate.missing_because == "walk_not_seen"
    assert score_of(scores, "distance").estimate.value == 60.0


def test_dose_says_what_it_lacks() -> None:
    loaded = make_bout(30, hold="rack", loaded="both")
    scores = compute_scores(loaded, SETTINGS)
    assert score_of(scores, "load_time").estimate.missing_because == "load_unknown"
    assert math.isfinite(score_of(scores, "loaded_time").estimate.value)
    heavy = replace(loaded, row=replace(loaded.row, load_kg=24.0))
    scores = compute_scores(heavy, SETTINGS)
    assert score_of(scores, "load_body_mass").estimate.missing_because == "no_body_mass"
    assert score_of(scores, "loaded_distance").estimate.missing_because == "no_distance"
    assert score_of(compute_scores(free(), SETTINGS), "loaded_time").estimate.missing_because == (
        "not_loaded"
    )
