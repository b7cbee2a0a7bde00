"""The tables have the columns that the contract promises, in the words that it fixes."""

from __future__ import annotations

import pytest

from imucarry.basics.records import DROP_REASONS
from imucarry.carry.ladder import LADDER_ANSWERS
from imucarry.measures.table import MEASURES
from imucarry.report.wording.words_reasons import NOTES, REASONS
from imucarry.tables import codes
from imucarry.tables.columns import Table
from imucarry.tables.package import field
from imucarry.tables.schema import (
    BOUT_SUMMARY,
    CONTACTS,
    LADDER,
    RETEST,
    SCORES,
    STRIDES,
    TABLE,
    TABLES,
)

PROMISED = {
    "strides": """participant, session, bout, stride, pass, stride_in_pass, start_s, end_s,
        left_contact_s, right_contact_s, stride_time_s, left_step_time_s, right_step_time_s,
        sternum_yaw_range_deg, sternum_yaw_locked_deg, sternum_yaw_phase_deg, left_arm_swing_deg,
        right_arm_swing_deg, left_arm_peak_rate_degps, right_arm_peak_rate_degps, torso_lean_deg,
        torso_pitch_deg, turning, kept_timing, kept_yaw, kept_left_arm, kept_right_arm,
        drop_reason""",
    "contacts": "participant, session, bout, pass, contact_s, side",
    "scores": """participant, session, bout, measure, side, role, value, unit, ci_low, ci_high,
        n_used, missing_because""",
    "bout_summary": """participant, session, bout, hold, loaded_side, load_kg, load_pct_bodymass,
        aim, start_s, end_s, n_strides, n_kept_yaw, cadence_spm, speed_mps, sternum_yaw_range_deg,
        sternum_yaw_range_ci_low_deg, sternum_yaw_range_ci_high_deg, baseline_bouts, yaw_kept_pct,
        yaw_kept_ci_low_pct, yaw_kept_ci_high_pct, left_arm_swing_deg, right_arm_swing_deg,
        left_arm_role, right_arm_role, left_arm_swing_kept_pct, right_arm_swing_kept_pct,
        stride_time_cv_pct, step_time_asymmetry_pct, rotation_finding""",
    "ladder": "hold, loaded_side, implement, threshold_pct, heaviest_kept_kg, next_kg, answer",
    "retest": """test, side, before_deg, after_deg, change_deg, error_deg, error_source,
        finding""",
}

PROMISED_MEASURES = """cadence, stride_time, step_time, sternum_yaw_range, sternum_yaw_locked,
    sternum_yaw_phase, sternum_peak_yaw_rate, yaw_kept, arm_swing, arm_swing_kept, arm_peak_rate,
    torso_lean, torso_pitch, stride_time_cv, sternum_yaw_sd, arm_swing_sd, step_time_asymmetry,
    arm_swing_asymmetry, phase_coordination_index, stride_regularity, step_regularity,
    arm_sternum_phase"""

UCUM = {"deg", "s", "%", "{steps}/min", "deg/s", "deg/min", "m/s", "m", "kg", "kg.s", "1"}


def words(text: str) -> list[str]:
    return [word.strip() for word in text.split(",")]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_promised_columns_are_there(table: Table) -> None:
    assert set(words(PROMISED[table.name])) <= {column.name for column in table.columns}


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_a_key_names_columns_and_every_column_says_what_it_is(table: Table) -> None:
    names = [column.name for column in table.columns]
    assert len(names) == len(set(names))
    assert set(table.key) <= set(names)
    assert all(column.meaning for column in table.columns)
    assert all(
        column.unit for column in table.columns if column.kind == "number" and table is not SCORES
    )


def test_promised_measures_are_registered() -> None:
    assert set(words(PROMISED_MEASURES)) <= {measure.id for measure in MEASURES}


@pytest.mark.parametrize("measure", MEASURES, ids=lambda measure: measure.id)
def test_every_measure_is_defined_and_sourced(measure: object) -> None:
    for name in ("id", "label", "unit", "definition", "source"):
        assert getattr(measure, name), name


def test_findings_are_the_contracts_words() -> None:
    assert tuple(codes.ROTATION) == (
        "rotates",
        "reduced",
        "minimal",
        "unclear",
        "no_baseline",
        "not_measured",
    )


def test_tables_are_all_named_here() -> None:
    assert TABLES == (STRIDES, CONTACTS, SCORES, BOUT_SUMMARY, LADDER, RETEST)
    assert list(TABLE) == [*(table.name for table in TABLES), "visits"]


def test_every_reason_and_code_has_its_meaning_and_its_words() -> None:
    assert tuple(codes.DROPPED) == DROP_REASONS
    # Each is said on the page too.
    assert set(codes.UNCLEAR_BECAUSE) <= set(REASONS)
    assert set(codes.QUALIFIERS) == set(NOTES)


def test_a_code_stands_with_its_meaning_in_the_data_package() -> None:
    (answer,) = (column for column in LADDER.columns if column.name == "answer")
    described = field(answer)
    assert {item["value"] for item in described["categories"]} == set(LADDER_ANSWERS)
    assert described["constraints"]["enum"] == list(LADDER_ANSWERS)
