"""Phases of arms and sternum, and when they are not told."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from invented_bout import make_bout

from imucarry.basics.records import BoutData, Estimate
from imucarry.basics.settings import MeasureSettings
from imucarry.measures.table import compute_scores

SETTINGS = MeasureSettings()


def found(data: BoutData, measure: str, side: str = "none") -> Estimate:
    scores = compute_scores(data, SETTINGS)
    return next(s.estimate for s in scores if s.measure == measure and s.side == side)


def with_arm(data: BoutData, side: str, **fields: np.ndarray) -> BoutData:
    arm = replace(data.swing[side], **fields)  # type: ignore[index, arg-type]
    return replace(data, swing={**data.swing, side: arm})


@pytest.mark.parametrize("imposed_deg", [0.0, 30.0, 45.0, 90.0, 150.0, 179.0, -60.0])
def test_an_imposed_relative_phase_comes_back(imposed_deg: float) -> None:
    data = make_bout(30)
    phase = np.radians(np.full(30, 20.0 + imposed_deg))
    estimate = found(with_arm(data, "left", phase_rad=phase), "arm_sternum_phase", "left")
    assert estimate.value == pytest.approx(imposed_deg, abs=1e-9)


def test_phases_are_averaged_round_the_circle() -> None:
    data = make_bout(30)
    phase = np.radians(np.where(np.arange(30) % 2, 350.0, 20.0))
    estimate = found(with_arm(data, "left", phase_rad=phase), "arm_step_phase", "left")
    assert estimate.value == pytest.approx(5.0)
    assert estimate.ci_low < 5.0 < estimate.ci_high
    assert estimate.ci_high - estimate.ci_low < 30.0


def test_consistency_is_the_resultant_length() -> None:
    data = make_bout(30)
    phase = np.radians(np.where(np.arange(30) % 2, 150.0, 210.0))
    estimate = found(with_arm(data, "left", phase_rad=phase), "arm_step_consistency", "left")
    assert estimate.value == pytest.approx(math.cos(math.radians(30.0)))


def with_phases(data: BoutData, phase_deg: np.ndarray) -> BoutData:
    """The same phases, to the steps, of the left arm and of the sternum."""
    columns = {**data.columns, "sternum_yaw_phase_deg": phase_deg}
    data = with_arm(data, "left", phase_rad=np.radians(phase_deg))
    return replace(data, columns=columns)


PHASES = [("arm_step_phase", "left"), ("arm_sternum_phase", "left"), ("sternum_yaw_phase", "none")]


@pytest.mark.parametrize(("measure", "side"), PHASES)
def test_phases_all_round_have_no_mean(measure: str, side: str) -> None:
    phase_deg = np.arange(30) * 12.0 + np.where(np.arange(30) % 7, 0.0, 1.0)
    estimate = found(with_phases(make_bout(30), phase_deg), measure, side)
    assert estimate.missing_because == "phase_not_stable"
    assert math.isnan(estimate.value)


@pytest.mark.parametrize(("measure", "side"), PHASES)
def test_alike_phases_whose_limits_are_undefined_keep_their_mean(measure: str, side: str) -> None:
    # Drifting timing within one pass of 12 strides: so alike that few strides are left of it.
    phase_deg = np.array([173, 171, 171, 182, 186, 200, 204, 214, 207, 183, 180, 189.0])
    data = with_phases(make_bout(12), phase_deg)
    one_pass = replace(
        data.strides,
        pass_number=np.zeros(12, dtype=np.int64),
        stride_in_pass=np.arange(12, dtype=np.int64),
    )
    estimate = found(replace(data, strides=one_pass), measure, side)
    assert estimate.missing_because == ""
    assert estimate.notes == ("interval_undefined",)
    sternum_deg = 0.0 if measure != "arm_sternum_phase" else 20.0
    assert (estimate.value + sternum_deg) % 360.0 == pytest.approx(188.3, abs=0.5)
    assert math.isnan(estimate.ci_low)
    assert math.isnan(estimate.ci_high)


def test_two_swings_a_stride_have_no_place_in_it() -> None:
    data = make_bout(30)
    arm = data.swing["left"]
    data = with_arm(
        data,
        "left",
        amplitude_rad=arm.step_amplitude_rad,
        step_amplitude_rad=arm.amplitude_rad,
    )
    for measure in ("arm_step_phase", "arm_sternum_phase", "arm_opposite_leg_share"):
        assert found(data, measure, "left").missing_because == "two_to_one"
    assert found(data, "arm_step_frequency_ratio", "left").value == pytest.approx(2.0)
    assert math.isfinite(found(data, "arm_step_phase", "right").value)
    assert math.isfinite(found(data, "arm_swing", "left").value)


def test_a_mixture_of_one_and_two_swings_lies_between() -> None:
    data = make_bout(40)
    arm = data.swing["left"]
    often = np.arange(40) % 4 == 0
    step = np.where(often, 2.0 * arm.amplitude_rad, arm.step_amplitude_rad)
    estimate = found(
        with_arm(data, "left", step_amplitude_rad=step), "arm_step_frequency_ratio", "left"
    )
    assert estimate.value == pytest.approx(1.25)
    assert 1.05 < estimate.ci_low < 1.25 < estimate.ci_high < 1.5


@pytest.mark.parametrize(("swing_deg", "told"), [(2.5, False), (3.5, True)])
def test_an_arm_that_hardly_moves_has_no_phase(swing_deg: float, told: bool) -> None:
    data = make_bout(30, swing_deg=(swing_deg, 30.0))
    because = found(data, "arm_step_phase", "left").missing_because
    assert because == ("" if told else "amplitude_under_floor")


@pytest.mark.parametrize(("yaw_deg", "told"), [(0.8, False), (1.3, True)])
def test_a_sternum_that_hardly_turns_has_no_phase(yaw_deg: float, told: bool) -> None:
    data = make_bout(30, yaw_deg=yaw_deg)
    because = "" if told else "amplitude_under_floor"
    assert found(data, "sternum_yaw_phase").missing_because == because
    assert found(data, "sternum_step_consistency").missing_because == because
    assert found(data, "arm_sternum_phase", "left").missing_because == because
    assert math.isfinite(found(data, "sternum_yaw_range").value)


def test_what_the_clock_may_be_off_is_in_the_interval() -> None:
    data = replace(make_bout(30, stride_s=1.0 / 0.9), clock_sd_s={"left": 0.020})
    estimate = found(data, "arm_step_phase", "left")
    # 20 ms are 6.5 deg at 0.9 strides a second; 1.96 of them either way.
    reach = 1.959964 * 0.020 * 0.9 * 360.0
    assert estimate.ci_high - estimate.value == pytest.approx(reach, rel=1e-6)
    assert estimate.value - estimate.ci_low == pytest.approx(reach, rel=1e-6)
    sternum = found(data, "sternum_yaw_phase")
    assert sternum.ci_high - sternum.ci_low == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("sd_s", [0.5, math.inf, math.nan])
def test_a_clock_that_is_not_known_tells_no_phase(sd_s: float) -> None:
    data = replace(make_bout(30), clock_sd_s={"left": sd_s})
    assert found(data, "arm_sternum_phase", "left").missing_because == "clock_unknown"
    assert found(data, "arm_sternum_phase", "right").missing_because == ""


@pytest.mark.parametrize(("side", "opposite_deg"), [("left", 187.2), ("right", 0.0)])
def test_share_of_strides_with_the_opposite_leg(side: str, opposite_deg: float) -> None:
    data = make_bout(40, right_frac=0.52)
    away = np.where(np.arange(40) % 4 == 0, 100.0, -80.0)
    phase = np.radians((opposite_deg + away) % 360.0)
    estimate = found(with_arm(data, side, phase_rad=phase), "arm_opposite_leg_share", side)
    assert estimate.value == pytest.approx(75.0)
    assert estimate.n_used == 40
