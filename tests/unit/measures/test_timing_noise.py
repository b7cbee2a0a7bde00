"""What contact scatter adds to times is known, published, and said where it matters."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest
from invented_bout import make_bout, without_chest

from imucarry.basics.records import BoutData, Estimate
from imucarry.basics.settings import MeasureSettings
from imucarry.measures.asymmetry import contact_phase_deg, pci_interval, phase_coordination
from imucarry.measures.notices import score_notices
from imucarry.measures.reasons import MISSING, NOTES
from imucarry.measures.table import compute_scores
from imucarry.measures.timing_noise import (
    asymmetry_noise_pct,
    interval_noise_s,
    pci_noise_pct,
    phase_noise_deg,
)
from imucarry.walk.strides import no_strides

SETTINGS = MeasureSettings()


def found(data: BoutData, measure: str, side: str = "none") -> Estimate:
    scores = compute_scores(data, SETTINGS)
    return next(s.estimate for s in scores if s.measure == measure and s.side == side)


def noisy_contacts(n: int, sd_s: float, rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    """Left and right contacts of n equal strides of 1.1 s, with scatter."""
    left = 1.1 * np.arange(n + 1) + sd_s * rng.standard_normal(n + 1)
    right = 1.1 * (np.arange(n) + 0.5) + sd_s * rng.standard_normal(n)
    return left, right


def test_floors_are_what_scatter_of_10_ms_gives() -> None:
    rng = np.random.default_rng(7)
    asymmetry, spread, pci, phase_sd = [], [], [], []
    for _ in range(2000):
        left, right = noisy_contacts(20, 0.010, rng)
        right_step, left_step = right - left[:-1], left[1:] - right
        mean = 0.5 * (right_step.mean() + left_step.mean())
        asymmetry.append(100.0 * (right_step.mean() - left_step.mean()) / mean)
        spread.append(np.diff(left).var(ddof=1))
        phase = contact_phase_deg(left[:-1], right, left[1:])
        phase_sd.append(phase.var(ddof=1))
        pci.append(sum(phase_coordination(phase)))
    # 2,000 bouts: a standard deviation is known to 1.6 %, a mean better.
    assert asymmetry_noise_pct(20, 0.55, SETTINGS) == pytest.approx(1.15, abs=0.01)
    assert np.std(asymmetry) == pytest.approx(asymmetry_noise_pct(20, 0.55, SETTINGS), rel=0.05)
    assert np.sqrt(np.mean(spread)) == pytest.approx(interval_noise_s(SETTINGS), rel=0.05)
    assert np.sqrt(np.mean(phase_sd)) == pytest.approx(phase_noise_deg(1.1, SETTINGS), rel=0.05)
    assert np.mean(pci) == pytest.approx(pci_noise_pct(1.1, SETTINGS), rel=0.05)


@pytest.mark.parametrize(("right_frac", "noted"), [(0.502, True), (0.52, False)])
def test_small_asymmetry_is_noted(right_frac: float, noted: bool) -> None:
    estimate = found(make_bout(30, right_frac=right_frac), "step_time_asymmetry")
    assert estimate.value == pytest.approx(400.0 * (right_frac - 0.5))
    assert ("below_timing_noise" in estimate.notes) is noted


@pytest.mark.parametrize(("spread", "noted"), [(0.01, True), (0.08, False)])
def test_small_spread_of_times_is_noted(spread: float, noted: bool) -> None:
    data = make_bout(60, noise=spread)
    for measure in ("stride_time_sd", "stride_time_cv", "stride_time_robust_sd"):
        assert ("below_timing_noise" in found(data, measure).notes) is noted


TIMES = (
    "stride_time_sd",
    "stride_time_cv",
    "stride_time_robust_sd",
    "step_time_asymmetry",
    "step_time_symmetry_angle",
    "step_time_log_ratio",
    "phase_coordination_index",
    "step_time_asymmetry_floor",
)


@pytest.mark.parametrize(("rate_hz", "told"), [(40.0, False), (49.9, True), (50.0, True)])
def test_slow_sensors_time_no_spread(rate_hz: float, told: bool) -> None:
    data = make_bout(30)
    assert data.trunk is not None
    data = replace(data, trunk=replace(data.trunk, rate_hz=rate_hz))
    for measure in TIMES:
        assert found(data, measure).missing_because == ("" if told else "rate_too_low")
    assert found(data, "stride_time").missing_because == ""
    assert found(data, "sternum_yaw_sd").missing_because == ""


@pytest.mark.parametrize(("n", "noted"), [(49, True), (50, False)])
def test_few_strides_for_a_spread_are_noted(n: int, noted: bool) -> None:
    data = make_bout(n, noise=0.05)
    for measure, side in (("stride_time_cv", "none"), ("arm_swing_sd", "left")):
        assert ("few_strides_for_variability" in found(data, measure, side).notes) is noted
    assert "few_strides_for_variability" not in found(data, "stride_time").notes


@pytest.mark.parametrize(("n", "because"), [(22, "too_few_strides"), (23, "")])
def test_phase_coordination_needs_23_strides(n: int, because: str) -> None:
    assert found(make_bout(n, noise=0.02), "phase_coordination_index").missing_because == because


def test_phase_coordination_interval_covers() -> None:
    rng = np.random.default_rng(3)
    phase = 182.0 + 4.0 * rng.standard_normal((1500, 24))
    many = 182.0 + 4.0 * rng.standard_normal(400_000)
    truth = 100.0 * 4.0 / 182.0 + 100.0 * np.abs(many - 180.0).mean() / 180.0
    intervals = [pci_interval(row) for row in phase]
    share = np.mean([item.low <= truth <= item.high for item in intervals])
    assert 0.92 <= share <= 0.975


def test_strides_that_miss_a_contact_are_left_out_of_pairs() -> None:
    data = make_bout(30)
    right = data.strides.right_step_time_s.copy()
    right[:3] = np.nan
    data = replace(data, strides=replace(data.strides, right_step_time_s=right))
    assert found(data, "step_time_asymmetry").n_used == 27


def test_notices_point_at_pitch_few_strides_and_double_swings() -> None:
    data = make_bout(30)
    columns = {**data.columns, "torso_pitch_deg": np.full(30, -14.0)}
    arm = data.swing["left"]
    swing = {
        **data.swing,
        "left": replace(
            arm, amplitude_rad=arm.step_amplitude_rad, step_amplitude_rad=arm.amplitude_rad
        ),
    }
    data = replace(data, columns=columns, swing=swing)
    notices = score_notices(data, compute_scores(data, SETTINGS), SETTINGS)
    codes = {notice.code: notice for notice in notices}
    assert set(codes) == {"pitch_departs", "few_strides_for_variability", "two_to_one"}
    assert "14 deg backward" in codes["pitch_departs"].message
    assert "left arm" in codes["two_to_one"].message
    upright = make_bout(60)
    assert score_notices(upright, compute_scores(upright, SETTINGS), SETTINGS) == ()


def with_kept(data: BoutData, n_kept: int) -> BoutData:
    kept = np.arange(data.strides.start_s.size) < n_kept
    return replace(data, strides=replace(data.strides, kept_yaw=kept))


def checked(data: BoutData) -> dict[str, str]:
    notices = score_notices(data, compute_scores(data, SETTINGS), SETTINGS)
    return {notice.code: notice.message for notice in notices if notice.severity == "check"}


def test_few_strides_are_a_check_that_counts_them() -> None:
    data = make_bout(60)
    assert checked(with_kept(data, 9)) == {
        "few_strides": "only 9 of 60 strides count: a mean needs at least 10"
    }
    assert checked(with_kept(data, 10)) == {}


def test_few_swings_are_a_check_without_a_chest_sensor() -> None:
    assert checked(without_chest(make_bout(9))) == {
        "few_strides": "only 9 arm swings count: a mean needs at least 10"
    }
    assert checked(without_chest(make_bout(10))) == {}


@pytest.mark.parametrize("chest", [True, False])
def test_a_bout_without_any_walking_says_so_and_when(chest: bool) -> None:
    data = without_strides(make_bout(30))
    data = data if chest else without_chest(data)
    data = replace(data, row=replace(data.row, start_s=58.2, end_s=69.4))
    assert checked(data) == {"no_walking": "no walking was found between 58 and 69 s"}


def test_a_bout_without_walking_tells_what_is_missing_of_it() -> None:
    data = without_strides(make_bout(30))
    assert data.trunk is not None
    usable = np.arange(data.trunk.time_s.size) >= data.trunk.time_s.size / 4
    data = replace(data, trunk=replace(data.trunk, usable=usable))
    assert "; 25 % of its samples are missing" in checked(data)["no_walking"]


def without_strides(data: BoutData) -> BoutData:
    """The same bout where no stride and no swing was found."""
    none = {
        side: replace(
            swing,
            **{
                field.name: getattr(swing, field.name)[:0]
                for field in fields(swing)
                if isinstance(getattr(swing, field.name), np.ndarray)
            },
        )
        for side, swing in data.swing.items()
    }
    columns = {name: values[:0] for name, values in data.columns.items()}
    return replace(data, strides=no_strides(), yaw=None, swing=none, columns=columns)


def test_codes_have_one_sentence_each() -> None:
    assert not set(MISSING) & set(NOTES)
    for code, sentence in (*MISSING.items(), *NOTES.items()):
        assert code == code.lower()
        assert sentence.endswith(".")
        assert sentence[0].isupper()


def test_what_a_stride_adds_to_the_phase_coordination() -> None:
    # Far from half a stride and spread out, where no part of it is small: the jackknife's error.
    phase = 120.0 + 30.0 * np.random.default_rng(8).standard_normal(400)
    rest = [sum(phase_coordination(np.delete(phase, k))) for k in range(phase.size)]
    jackknife = np.sqrt((phase.size - 1) * np.var(rest))
    assert pci_interval(phase).standard_error == pytest.approx(jackknife, rel=0.02)


@pytest.mark.parametrize(("sd_s", "noted"), [(0.0, False), (0.02, False), (float("nan"), True)])
def test_an_arm_whose_clock_could_not_be_set_is_noted(sd_s: float, noted: bool) -> None:
    data = replace(make_bout(30), clock_sd_s={"left": sd_s})
    for measure in ("arm_swing", "arm_peak_rate", "arm_swing_sd"):
        assert ("clock_not_set" in found(data, measure, "left").notes) is noted
        assert "clock_not_set" not in found(data, measure, "right").notes
    alone = replace(without_chest(data), clock_sd_s={"left": sd_s})
    assert "clock_not_set" not in found(alone, "arm_swing", "left").notes
