"""Thresholds and defaults of the room `cohort`."""

from __future__ import annotations

from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE, Evidence

ICC_LEAST_PARTICIPANTS = Evidence(
    key="cohort.icc_least_participants",
    value=10,
    unit="{participants}",
    source=ENGINEERING_CHOICE,
    why="With fewer the interval of an intraclass correlation spans most of its range.",
)
RELIABILITY_ADVISED_PARTICIPANTS = Evidence(
    key="cohort.reliability_advised_participants",
    value=30,
    unit="{participants}",
    source=COMMON_PRACTICE,
    why="Reliability studies are usually asked for at least 30 participants.",
)
SEM_LEAST_PARTICIPANTS = Evidence(
    key="cohort.sem_least_participants",
    value=3,
    unit="{participants}",
    source=ENGINEERING_CHOICE,
    why="An error mean square of one degree of freedom says nothing.",
)
MDC_LEAST_PARTICIPANTS = Evidence(
    key="cohort.mdc_least_participants",
    value=10,
    unit="{participants}",
    source=ENGINEERING_CHOICE + "; the shares from Student's t",
    why="1.96 times the root of 2 times SEM is meant for an SEM that is known: of persons who did "
    "not change, 19 % lie beyond it with an SEM from 3 participants, 12 % from 5, 8 % from 10, 6 % "
    "from 30.",
)
AGREE_TOLERANCE_S = Evidence(
    key="cohort.agree_tolerance_s",
    value=0.25,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Under half a step time: two systems' starts of the same stride lie closer, those of "
    "neighbouring strides do not.",
)
AGREE_STARTS_S = Evidence(
    key="cohort.agree_starts_s",
    value=0.05,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Two systems tell the same contact within about three samples of 60 Hz; farther apart on "
    "the whole, their clocks differ.",
)
SHIFT_SPREAD_RATIO = Evidence(
    key="cohort.shift_spread_ratio",
    value=0.7,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Errors of contacts are smaller than the spread of stride times: where starts spread this "
    "much less against a neighbour, the neighbour is the same stride. In simulated walks of 40 "
    "strides whose times hardly vary, 3 in 100 pairs of true partners look so, otherwise none.",
)
SHIFT_LEAST_PAIRS = Evidence(
    key="cohort.shift_least_pairs",
    value=30,
    unit="{pairs}",
    source=ENGINEERING_CHOICE,
    why="With fewer, a spread is too loose to be told from another.",
)
SHIFT_MOST_STRIDES = Evidence(
    key="cohort.shift_most_strides",
    value=5,
    unit="{strides}",
    source=ENGINEERING_CHOICE,
    why="Clocks farther apart than the strides of a short pass leave many strides without a "
    "partner, which is told already.",
)
REPEAT_CADENCE_PCT = Evidence(
    key="cohort.repeat_cadence_pct",
    value=10.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="Free walks are walked at several paces on purpose: only those of like cadence repeat each "
    "other.",
)
LIMITS_Z = Evidence(
    key="cohort.limits_z",
    value=1.959964,
    unit="1",
    source="Bland & Altman 1999, Stat Methods Med Res 8:135-160",
    why="Limits that hold 95 % of normal differences; the paper of 1986 rounds to 2.",
)
OUTLIER_SDS = Evidence(
    key="cohort.outlier_sds",
    value=3.5,
    unit="1",
    source="Iglewicz & Hoaglin 1993, How to Detect and Handle Outliers; from memory, not confirmed",
    why="A usual limit for distances in robust standard deviations; it names bouts to look at.",
)
OUTLIER_LEAST_BOUTS = Evidence(
    key="cohort.outlier_least_bouts",
    value=8,
    unit="{bouts}",
    source=ENGINEERING_CHOICE,
    why="With fewer bouts in a condition its median and spread are too loose to single one out.",
)
OUTLIERS_SHOWN = Evidence(
    key="cohort.outliers_shown",
    value=50,
    unit="{bouts}",
    source=ENGINEERING_CHOICE,
    why="As many bouts as a person looks at in one go; the farthest come first.",
)
OUTLIER_MEASURES_NAMED = Evidence(
    key="cohort.outlier_measures_named",
    value=3,
    unit="{measures}",
    source=ENGINEERING_CHOICE,
    why="Measures of one bout go together: when one stands apart, many do.",
)
CHECKED_SESSIONS_SHOWN = Evidence(
    key="cohort.checked_sessions_shown",
    value=10,
    unit="{sessions}",
    source=ENGINEERING_CHOICE,
    why="As many sessions as a person looks at before the results; those with a fault of the "
    "recording are all named, and cohort_checks.csv has the rest.",
)
SHEET_BODY_MASS_APART_KG = Evidence(
    key="cohort.sheet_body_mass_apart_kg",
    value=1.0,
    unit="kg",
    source=ENGINEERING_CHOICE,
    why="A manifest may round the body mass that the session states; it does not change it more.",
)
BODY_MASS_RATIO = Evidence(
    key="cohort.body_mass_ratio",
    value=1.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Few people gain or lose a fifth of their body mass between the visits of a study; a wrong "
    "digit or pounds for kilograms change it more. It is only told.",
)
DATES_APART_YEARS = Evidence(
    key="cohort.dates_apart_years",
    value=10,
    unit="a",
    source=ENGINEERING_CHOICE,
    why="Visits of one study lie closer together; a wrong digit of a year is often farther. It is "
    "only told.",
)
COMMON_CHECK_FRAC = Evidence(
    key="cohort.common_check_frac",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A pace that differs in most sessions is the study's, and singles none of them out.",
)
COMMON_CHECK_LEAST_SESSIONS = Evidence(
    key="cohort.common_check_least_sessions",
    value=6,
    unit="{sessions}",
    source=ENGINEERING_CHOICE,
    why="A list of fewer sessions is read as it is.",
)
