"""Every output table's columns: name, type, unit, meaning, digits written.

Those of strides and contacts stand in `schema_strides`.
"""

from __future__ import annotations

from typing import Final

from imucarry.basics.records import (
    AIMS,
    HOLDS,
    LOADED_SIDES,
    PERTURBED,
    SHOULDER_ROTATION_AIMS,
)
from imucarry.tables import codes
from imucarry.tables.columns import (
    Column,
    Table,
    coded,
    codes_joined,
    count,
    given,
    number,
    text,
)
from imucarry.tables.schema_strides import BOUT, CONTACTS, STRIDES, WHO

__all__ = [
    "BOUT_SUMMARY",
    "CONTACTS",
    "LADDER",
    "RETEST",
    "SCORES",
    "STRIDES",
    "TABLE",
    "TABLES",
    "VISITS",
    "WHO",
]

SCORES = Table(
    "scores",
    "One measure of one bout and side",
    (
        *WHO,
        BOUT,
        text("measure", "Id of the measure; the README's table defines it.", required=True),
        text("side", "Side of the body.", ("left", "right", "none"), required=True),
        text("role", "What the arm does in the bout.", ("free", "held", "none"), required=True),
        number("value", "", "The value, in `unit`; empty when it is missing.", 5),
        text("unit", "Unit as a UCUM code.", required=True),
        number("ci_low", "", "Lower limit of the 95 % interval, in `unit`.", 5),
        number("ci_high", "", "Upper limit of the 95 % interval, in `unit`.", 5),
        count("n_used", "Strides (or pairs of steps) that the value rests on."),
        coded("missing_because", "Reason code of a missing value.", codes.MISSING_BECAUSE),
        codes_joined("notes", "Codes that qualify the value", codes.QUALIFIERS),
    ),
    ("participant", "session", "bout", "measure", "side"),
)


_OF_ALL_WALKS: Final = (
    " Of all free walks in baseline_bouts; the page gives arm_swing_kept_matched of scores.csv, "
    "where it is known and those walks' arms differ."
)


def _kept_columns(what: str, of: str, more: str = "") -> tuple[Column, ...]:
    return (
        number(f"{what}_kept_pct", "%", f"{of} as a share of the free walk's.{more}", 2),
        number(f"{what}_kept_ci_low_pct", "%", f"Lower 95 % limit of {what}_kept_pct.", 2),
        number(f"{what}_kept_ci_high_pct", "%", f"Upper 95 % limit of {what}_kept_pct.", 2),
    )


BOUT_SUMMARY = Table(
    "bout_summary",
    "One bout, wide, for people",
    (
        *WHO,
        BOUT,
        text("hold", "How the load is held.", HOLDS, required=True),
        text("loaded_side", "Side that carries the load.", LOADED_SIDES, required=True),
        given("load_kg", "kg", "Total load carried, implement included.", 2),
        number("load_pct_bodymass", "%", "Load as a share of body mass.", 2),
        text("aim", "What the bout is meant to train.", AIMS),
        number("start_s", "s", "Start of the bout on the session clock.", 3),
        number("end_s", "s", "End of the bout on the session clock.", 3),
        count("n_strides", "Strides found, left-out ones too; empty without a chest sensor."),
        count(
            "n_kept_yaw", "Strides that count for sternum rotation; empty without a chest sensor."
        ),
        number("cadence_spm", "{steps}/min", "Steps per minute over the kept strides.", 2),
        number("speed_mps", "m/s", "Mean speed; only where a distance is given.", 3),
        number("sternum_yaw_range_deg", "deg", "Mean sternum yaw range of the kept strides.", 3),
        number("sternum_yaw_range_ci_low_deg", "deg", "Its lower 95 % limit.", 3),
        number("sternum_yaw_range_ci_high_deg", "deg", "Its upper 95 % limit.", 3),
        text("baseline_bouts", "Free walks that it was compared with, joined by ';'."),
        *_kept_columns("yaw", "Mean sternum yaw range"),
        number("left_arm_swing_deg", "deg", "Mean forearm swing, left.", 3),
        number("right_arm_swing_deg", "deg", "Mean forearm swing, right.", 3),
        text("left_arm_role", "What the left arm does.", ("free", "held", "none")),
        text("right_arm_role", "What the right arm does.", ("free", "held", "none")),
        *_kept_columns("left_arm_swing", "Mean left forearm swing", _OF_ALL_WALKS),
        *_kept_columns("right_arm_swing", "Mean right forearm swing", _OF_ALL_WALKS),
        number("stride_time_cv_pct", "%", "Coefficient of variation of stride time.", 3),
        number("step_time_asymmetry_pct", "%", "100 (right - left) / mean; 0 is equal.", 3),
        coded(
            "rotation_finding",
            "Finding on rotation: the interval of yaw_kept_pct against the thresholds of reduced "
            "and minimal (75 and 40 % unless set).",
            codes.ROTATION,
            required=True,
        ),
        coded(
            "finding_because", "Reason code when the finding is not clear.", codes.UNCLEAR_BECAUSE
        ),
        coded("aim_reading", "Reading of the finding for the bout's aim.", codes.AIMS),
        text("left_hold", "Hold of the left hand in a mixed carry."),
        text("right_hold", "Hold of the right hand in a mixed carry."),
        given("left_load_kg", "kg", "Load in the left hand.", 2),
        given("right_load_kg", "kg", "Load in the right hand.", 2),
        text("perturbed", "Whether the load hangs on elastic.", PERTURBED),
        text("shoulder_rotation_aim", "Rotation the carry leans to.", SHOULDER_ROTATION_AIMS),
        text("implement", "What is carried."),
        text("baseline", "Free walks that the sheet names for comparison."),
        given("order", "1", "Place of the bout in the visit.", 0),
        given("rest_before_s", "s", "Rest before the bout.", 1),
        given("rpe_0_10", "1", "Perceived exertion, 0 to 10.", 1),
        given("pain_0_10", "1", "Pain, 0 to 10.", 1),
        text("stop_reason", "Why the bout ended early."),
        given("distance_m", "m", "Distance walked, as given.", 2),
        text("note", "Note from the sheet."),
    ),
    ("participant", "session", "bout"),
)

LADDER = Table(
    "ladder",
    "One hold, side and implement: how much load keeps the rotation",
    (
        *WHO,
        text("hold", "How the load is held.", HOLDS, required=True),
        text("loaded_side", "Side that carries the load.", LOADED_SIDES, required=True),
        text("implement", "What is carried."),
        number("threshold_pct", "%", "Share of the free walk's rotation that counts as kept.", 1),
        given(
            "heaviest_kept_kg",
            "kg",
            "Heaviest tested load whose lower limit keeps it. One load by itself is wrongly called "
            "kept in at most 2.5 % of visits, any of several loads in more. Bouts with pain above "
            "the limit, an early stop or an alarm symptom noted never count.",
            2,
        ),
        given("next_kg", "kg", "Next heavier tested load; empty when there is none.", 2),
        coded("answer", "What the ladder answers.", codes.ANSWERS, required=True),
        given(
            "likely_kept_kg",
            "kg",
            "Heaviest tested load that the fit keeps: likely, but not certain.",
            2,
        ),
        text("left_hold", "Hold of the left hand in a mixed carry."),
        text("right_hold", "Hold of the right hand in a mixed carry."),
    ),
    ("participant", "session", "hold", "loaded_side", "implement", "left_hold", "right_hold"),
)

RETEST = Table(
    "retest",
    "One shoulder test and side, before and after",
    (
        *WHO,
        text("test", "Name of the test.", required=True),
        text("side", "Side of the body.", required=True),
        number("before_deg", "deg", "Mean of the readings before.", 2),
        number("after_deg", "deg", "Mean of the readings after.", 2),
        number("change_deg", "deg", "After minus before.", 2),
        number("error_deg", "deg", "Change that the test's own error can produce (95 %).", 2),
        text("error_source", "Where the error comes from."),
        coded("finding", "The change against the test's error.", codes.TESTS, required=True),
        text("explanation", "What the finding rests on, in words."),
    ),
    ("participant", "session", "test", "side"),
)

VISITS = Table(
    "visits",
    "One measure or shoulder test in one condition at one visit, where two visits have it",
    (
        text("participant", "Participant code as the session names it.", required=True),
        count("visit", "Place of the visit among those compared, from 1, oldest first."),
        text("session", "Code of that visit.", required=True),
        text("date", "Date of that visit, where it is known."),
        text("measure", "Measure, or the name of a shoulder test.", required=True),
        text("side", "Side of the body, or none.", required=True),
        text("hold", "How the weight was held; empty for a shoulder test."),
        text("loaded_side", "Side that carried."),
        given("load_kg", "kg", "Weight carried.", 2),
        text("implement", "Thing that was carried."),
        number("value", "", "The value, in the unit of the row.", 2),
        text("unit", "UCUM code."),
        number("ci_low", "", "Lower 95 % limit; empty where several bouts were averaged.", 2),
        number("ci_high", "", "Upper 95 % limit; empty where several bouts were averaged.", 2),
        count("n_bouts", "Bouts averaged; 0 for a shoulder test."),
        number("change", "", "Against the first visit that has the condition.", 2),
        number(
            "error", "", "Least change between visits that is not error (95 %), where known.", 2
        ),
        text("error_source", "Where the error comes from, or why a study gives none."),
        coded(
            "finding", "The change against the error between visits.", codes.CHANGES, required=True
        ),
    ),
    ("measure", "side", "hold", "loaded_side", "load_kg", "implement", "visit"),
)
"""Written only beside earlier visits, so none of a session's own tables."""

TABLES = (STRIDES, CONTACTS, SCORES, BOUT_SUMMARY, LADDER, RETEST)
TABLE = {table.name: table for table in (*TABLES, VISITS)}
"""The same, and the one over visits, by name."""
