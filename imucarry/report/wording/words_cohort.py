"""Words of the cohort page."""

from __future__ import annotations

from typing import Final

from imucarry.report.wording.words_findings import FINDING_MARK

COHORT: Final[dict[str, str]] = {
    "title": "Study cohort",
    "eyebrow": "Loaded carries, many sessions",
    "failed": "Sessions that could not be scored",
    "failed_none": "Every session of the manifest was scored.",
    "failed_caption": "Each with its reason, as in failures.csv",
    "counts": "{manifest}{scored} of {people} scored, {failed} failed.",
    "dates": "Visits of {span}{undated}.",
    "undated": " ({n} without a date)",
    "doubtful": "Sessions to look at first",
    "doubtful_none": "No session has anything to check.",
    "doubtful_rest": "{n} more to check",
    "doubtful_more": "{more} to check.",
    "other_pace": "In {n} of {all} sessions a carry had another cadence than the free walk, in "
    "{fell} of them one in which rotation fell: its share kept may be pace and not the carry. Give "
    "the length of the lane, or name free walks of like pace in `baseline`. No session is listed "
    "for this alone.",
    "doubtful_file": "The results below include these sessions; cohort_checks.csv lists all "
    "checks and notes.",
    "findings": "What was found, by hold and load",
    "findings_caption": "Bouts with each finding on rotation",
    "findings_words": "Rotation kept is the trunk rotation as a share of the same person's free "
    "walk. {rotates}: its 95 % interval lies above {line} %; {reduced}: below {line} %; {minimal}: "
    "below {minimal_line} % too; {unclear}: none of these; no answer: no free walk to compare "
    "with, or no chest sensor.",
    "findings_pain": "A bout with pain{limit} or an early stop counts under pain or stop alone: "
    "its load does not count as kept.",
    "unchanged": "All settings are at their defaults.",
    "changed": "Settings changed: {settings}.",
    "setting": "{name} = {value} (default {usual})",
    "pain_limit": " above {limit} of 10",
    "kept": "Rotation kept against load",
    "kept_finding": "{bouts} of {people}.",
    "kept_caption": "Each line joins one person's bouts of one visit, side and implement; 100 % "
    "is the trunk rotation of the same person's free walk.",
    "kept_hollow": " A hollow dot does not count as kept.",
    "kept_y": "{hold}: rotation kept (% of the free walk)",
    "load": "load (kg)",
    "free": "the free walk",
    "bout": "one bout",
    "ended": "one with pain or an early stop",
    "middle": "median",
    "measures": "Each measure by hold and load",
    "measure_finding": "{bouts} in {conditions}.",
    "measures_rule": "Every bout is a point, hollow where there was pain or an early stop. The "
    "number of bouts stands in brackets after hold and load; the ring is the median of all.",
    "angle_caption": "A stride is a circle of 360 deg: -10 is the same as 350.",
    "quality": "Sensors across the study",
    "quality_caption": "Sensors by placement",
    "outliers": "Bouts that stand apart",
    "outliers_none": "No bout stands apart in a main result by the rule below.",
    "outliers_others": "Bouts that stand apart in other measures alone",
    "outlier": "{measure} {value} (median there {middle})",
    "outlier_more": "and {more}",
    "outliers_more": "Less far apart: {more}.",
    "sessions": "All scored sessions",
    "outliers_rule": "Named where a value lies more than {limit:g} robust standard deviations from "
    "the median of its condition, with at least {least} bouts there. So many "
    "measures are searched that some bouts stand apart by chance. What was set (load, distance, "
    "time under load) and measures near their ceiling (consistency, regularity) are left out. "
    "Standing apart is a reason to look, not to leave out.",
    "reliability": "How well the measures repeat",
    "reliability_main": "Main results",
    "reliability_others": "Other measures",
    "systematic": "second differs from first",
    "systematic_many": "{systematic}: {k} of {n} rows; one in twenty does by chance.",
    "few_participants": "Reliability studies are usually asked for {least} participants or more; "
    "rows with fewer are a first guess, and those with fewer than {least_icc} have no ICC and no "
    "MDC95.",
    "shared_walks": "Both share the free walks: two shares of the same free walks have no ICC, "
    "because an error of these walks would count as a difference between people. Nor is it part of "
    "their SEM and MDC95: those compare two carries of one visit, not two visits.",
    "groups_pooled": "Groups of the manifest are pooled: a difference between groups raises the "
    "ICC, and a change in one group alone raises SEM and MDC95. For one group, run its part of the "
    "manifest.",
    "reliability_none": "No condition was repeated by {least} participants or more, so nothing can "
    "be said.",
    "reliability_rule": "Within one condition, never pooled over conditions; free walks at like "
    "cadence. Bouts with pain above the limit or an early stop count here like the others; a row "
    "says in how many participants. Participants of all groups are pooled. Between visits: each "
    "participant's first two visits that have a value of the measure in the condition, by date; a "
    "row says where they are not the first two of all. SEM is the root of the error mean square; "
    "MDC95 is 1.96 times the root of 2 times SEM. The file reliability.csv has every column, and "
    "the rows of what was set (load, distance, time under load), which are left out here.",
    "cautions": "Cautions",
    "skip": "Skip to the failures",
    "who": "participant, session",
}
"""Headings and sentences."""

UNFINISHED: Final = (
    "Not up to date: a later run in this folder has not come to its end. This page and the tables "
    "beside it are of the run before; pages of sessions may be newer, or gone. Run the same "
    "command again to finish it."
)
"""Stands on the page of an earlier run while a later one is not finished."""

NO_IMPLEMENT: Final = "implement not named"
FINDINGS: Final = ("rotates", "reduced", "minimal", "unclear")
"""Codes of what was found on rotation, in the order of the table."""

CONDITION_HEAD: Final = "hold and load"
SPREAD_HEADS: Final = ("bouts", "median", "lower quartile", "upper quartile", "least", "most")
FAILURE_HEADS: Final = ("what is wrong",)
FINDING_HEADS: Final = (
    "bouts",
    "pain or stop",
    *(FINDING_MARK[finding] for finding in FINDINGS),
    "no answer",
)
QUALITY_HEADS: Final = (
    "sensors",
    "rate, Hz",
    "bridged gaps",
    "longer gaps",
    "longest gap, s",
    "clipped, %",
    "largest bias, deg/s",
)
OUTLIER_HEADS: Final = ("bout", "what stands apart most")
DESIGNS: Final = {"same_visit": "in one visit", "between_visit": "over two visits"}
RELIABILITY_HEADS: Final = (
    "participants",
    "ICC(2,1)",
    "ICC(3,1)",
    "SEM",
    "MDC95",
    "second less first",
    "mind",
)
