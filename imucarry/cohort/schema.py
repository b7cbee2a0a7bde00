"""The cohort's own tables: their columns, as of every other table."""

from __future__ import annotations

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import HOLDS, LOADED_SIDES, PERTURBED
from imucarry.tables.columns import Column, Table, count, flag, given, number, text
from imucarry.tables.schema import BOUT_SUMMARY, LADDER, RETEST, SCORES, STRIDES, WHO

JOINED: tuple[tuple[str, Table], ...] = (
    ("cohort_strides", STRIDES),
    ("cohort_scores", SCORES),
    ("cohort_bouts", BOUT_SUMMARY),
    ("cohort_ladder", LADDER),
    ("cohort_retest", RETEST),
)
"""Name of each joined table, and the sessions' table that it joins."""

FAILURES = Table(
    "failures",
    "One session that could not be scored",
    (
        text("folder", "The session's folder, as the manifest names it.", required=True),
        text("error", "Kind of error.", required=True),
        text("message", "What is wrong, where, and what to do.", required=True),
        text("participant", "Participant code; empty where session.toml does not tell it."),
        text("session", "Session (visit) code; empty where session.toml does not tell it."),
    ),
    ("folder",),
)

SESSIONS = Table(
    "cohort_sessions",
    "One session that was scored, and where it comes from",
    (
        *WHO,
        text("folder", "The session's folder, as the manifest names it.", required=True),
        text("results", "Folder of its own results.", required=True),
        text("date", "Date of the visit, as the session states it."),
        given("body_mass_kg", "kg", "Body mass, as the session states it.", 1),
        count("n_checks", "Notices to check before its results are believed."),
    ),
    ("participant", "session"),
)

CHECKS = Table(
    "cohort_checks",
    "One thing to check or to know of one session or of the study",
    (
        text("participant", "Participant code; empty for what is of the whole study."),
        text("session", "Session (visit) code; empty for what is of the whole study."),
        text("where", "Bout, sensor or file that it is about; empty for the whole session."),
        text("code", "Code of the notice.", required=True),
        text(
            "severity",
            "check: look at it before you believe the results; note: good to know.",
            ("check", "note"),
            required=True,
        ),
        text("message", "What was seen, and what to do.", required=True),
        text("bout", "Bout that it is about, as in cohort_bouts.csv; several with ; between."),
        text("file", "File that it is about."),
    ),
    ("participant", "session", "where", "code", "severity", "message", "file"),
)


def _with_limits(name: str, what: str) -> tuple[Column, ...]:
    return (
        number(name, "", what, 5),
        number(f"{name}_low", "", f"Lower 95 % limit of {name}.", 5),
        number(f"{name}_high", "", f"Upper 95 % limit of {name}.", 5),
    )


DETECTABLE = (
    "Change beyond error at {level} %, in `unit`: {z} times the root of 2 times SEM; empty with "
    f"fewer than {evidence.MDC_LEAST_PARTICIPANTS.value} participants."
)

RELIABILITY = Table(
    "reliability",
    "How well one measure repeats within one condition",
    (
        text("measure", "Id of the measure.", required=True),
        text("side", "Side of the body.", ("left", "right", "none"), required=True),
        text("unit", "Unit of mean, SEM, MDC and order effect, as a UCUM code.", required=True),
        text("hold", "How the load is held.", HOLDS, required=True),
        text("loaded_side", "Side that carries the load.", LOADED_SIDES, required=True),
        given("load_kg", "kg", "Total load carried, implement included.", 2),
        text("implement", "What is carried."),
        text("perturbed", "Whether the load hangs on elastic.", PERTURBED),
        text("left_hold", "Hold of the left hand in a mixed carry."),
        text("right_hold", "Hold of the right hand in a mixed carry."),
        text(
            "design",
            "same_visit: the first two bouts of one visit; between_visit: the first bout of each "
            "of the participant's first two visits that have one. A bout without a value does not "
            "count. Where these are not the first two visits of all, sessions that failed "
            "included, `warning` says so. Of free walks the first two of like cadence. Ratios of "
            "spreads are one value over all repeats of a visit and have no same_visit. Bouts with "
            "pain above the limit or an early stop count like the others, and `warning` says so. "
            "Visits are ordered "
            "by the date in session.toml, else in the manifest; where dates are missing or equal, "
            "by a number in the manifest's column visit or session, else by the session's name.",
            ("same_visit", "between_visit"),
            required=True,
        ),
        count("n_participants", "Participants of all groups, each with n_repeats repeats."),
        count("n_repeats", "Repeats of a participant."),
        number("mean", "", "Mean of all values, in `unit`; of angles the mean direction.", 5),
        *_with_limits("icc_2_1", "ICC(2,1), absolute agreement; Shrout & Fleiss 1979."),
        *_with_limits("icc_3_1", "ICC(3,1), consistency; Shrout & Fleiss 1979."),
        number(
            "sem",
            "",
            "Root of the error mean square, in `unit`; of shares of the same free walks within a "
            "visit without the error of these walks.",
            5,
        ),
        number("mdc95", "", DETECTABLE.format(level=95, z="1.960"), 5),
        number("mdc90", "", DETECTABLE.format(level=90, z="1.645"), 5),
        *_with_limits("order_effect", "Mean of second less first, in `unit`."),
        flag("systematic", "The interval of the order effect leaves 0 out."),
        text("missing_because", "Reason code of a missing ICC."),
        text("warning", "What to mind; several with ; between."),
    ),
    (
        *("measure", "side", "hold", "loaded_side", "load_kg", "implement", "perturbed"),
        *("left_hold", "right_hold", "design"),
    ),
)
