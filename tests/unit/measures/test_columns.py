"""The measured columns of strides.csv, and the roles of the arms."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from invented_bout import make_bout, without_chest

from imucarry.basics.records import BoutRow
from imucarry.measures.columns import stride_columns
from imucarry.measures.roles import arm_role, loaded_side
from imucarry.tables.schema import STRIDES

CONTRACT = (
    "stride_time_s",
    "left_step_time_s",
    "right_step_time_s",
    "sternum_yaw_range_deg",
    "sternum_yaw_locked_deg",
    "sternum_yaw_phase_deg",
    "left_arm_swing_deg",
    "right_arm_swing_deg",
    "left_arm_peak_rate_degps",
    "right_arm_peak_rate_degps",
    "torso_lean_deg",
    "torso_pitch_deg",
)


def test_columns_of_the_contract_in_degrees() -> None:
    data = make_bout(12, yaw_deg=8.0, swing_deg=(40.0, 30.0))
    columns = data.columns
    assert set(CONTRACT) <= set(columns)
    assert set(columns) <= {column.name for column in STRIDES.columns}
    assert all(column.shape == (12,) for column in columns.values())
    assert columns["sternum_yaw_range_deg"] == pytest.approx(8.0)
    assert columns["sternum_yaw_phase_deg"] == pytest.approx(20.0)
    assert columns["right_arm_swing_deg"] == pytest.approx(30.0)
    assert columns["left_arm_peak_rate_degps"] == pytest.approx(np.pi * 40.0 / 1.1)
    assert columns["stride_time_s"] == pytest.approx(1.1)


def test_a_missing_wrist_is_empty_and_keeps_its_columns() -> None:
    data = make_bout(12)
    columns = stride_columns(data.trunk, data.strides, data.yaw, {"right": data.swing["right"]})
    assert set(columns) == set(data.columns)
    assert np.isnan(columns["left_arm_swing_deg"]).all()
    assert np.isfinite(columns["right_arm_swing_deg"]).all()


def test_without_a_chest_every_column_is_empty() -> None:
    columns = without_chest(make_bout(12)).columns
    assert {column.shape for column in columns.values()} == {(0,)}


def test_forward_is_empty_where_it_is_not_known() -> None:
    data = make_bout(12)
    arm = replace(data.swing["left"], direction_source="unknown")
    columns = stride_columns(data.trunk, data.strides, data.yaw, {"left": arm})
    for name in ("arm_peak_rate_backward_degps", "arm_mean_angle_deg", "arm_phase_deg"):
        assert np.isnan(columns[f"left_{name}"]).all()
    assert np.isfinite(columns["left_arm_peak_rate_degps"]).all()


def test_sternum_on_a_forearm_that_turns_along_or_against() -> None:
    data = make_bout(12, yaw_deg=8.0)
    assert data.yaw is not None
    along = replace(data.swing["left"], vertical_curve_rad=data.yaw.curve_rad)
    against = replace(data.swing["right"], vertical_curve_rad=-data.yaw.curve_rad)
    columns = stride_columns(data.trunk, data.strides, data.yaw, {"left": along, "right": against})
    assert columns["left_sternum_on_arm_deg"] == pytest.approx(0.0, abs=1e-12)
    # A curve of 101 samples that peaks between two of them: the range is 0.05 % short.
    assert columns["right_sternum_on_arm_deg"] == pytest.approx(16.0, rel=1e-3)


ROLES = [
    ({"hold": "free"}, "free", "free"),
    ({"hold": "suitcase", "loaded_side": "left"}, "held", "free"),
    ({"hold": "suitcase", "loaded_side": "right"}, "free", "held"),
    ({"hold": "farmer", "loaded_side": "both"}, "held", "held"),
    ({"hold": "overhead", "loaded_side": "right"}, "free", "held"),
    (
        {"hold": "mixed", "loaded_side": "both", "left_hold": "rack", "right_hold": "suitcase"},
        "held",
        "held",
    ),
    (
        {"hold": "mixed", "loaded_side": "left", "left_hold": "rack", "right_hold": "free"},
        "held",
        "free",
    ),
    ({"hold": "rack", "left_load_kg": 8.0, "right_load_kg": 0.0}, "held", "free"),
    ({"hold": "unknown"}, "none", "none"),
    ({"hold": "unknown", "loaded_side": "left"}, "held", "free"),
]


@pytest.mark.parametrize(("fields", "left", "right"), ROLES)
def test_roles(fields: dict[str, str | float], left: str, right: str) -> None:
    row = replace(BoutRow("b", 0.0, 1.0), **fields)  # type: ignore[arg-type]
    assert (arm_role(row, "left"), arm_role(row, "right")) == (left, right)


@pytest.mark.parametrize(
    ("word", "side"), [("left", "left"), ("right", "right"), ("both", None), ("none", None)]
)
def test_loaded_side(word: str, side: str | None) -> None:
    assert loaded_side(BoutRow("b", 0.0, 1.0, loaded_side=word)) == side
