"""Words of the shoulder tests and of earlier visits, beside those of the other ``words_``."""

from __future__ import annotations

from typing import Final

Words = dict[str, str]

RETEST_NOT_COMPARED: Final = "{name}: not compared."
RETEST_NO_CHANGE: Final = "{name}: no change ({before} deg before and after)."
RETEST_BETWEEN: Final[Words] = {
    "between": "Bouts between the tests of {what}: {bouts}.",
    "none": "No bout between the tests of {what} loaded that side.",
    "side": "the {side} side",
    "aimed": "{bouts} (aimed at {aim})",
    "bouts": "{bouts}",
}
RETEST_MDC: Final = (
    "Where no published error fits, the smallest detectable change of the test can be given "
    "with --mdc."
)
RETEST_SHORT: Final[Words] = {
    "some": "{n} of {all} shoulder tests{judged} changed within the visit by more than the error: "
    "{changes}",
    "none": "None of {all} shoulder tests{judged} changed within the visit by more than the error",
    "one": "{name}: {signed} deg from before to after, beyond its error of {error}",
    "one_within": "{name}: {signed} deg from before to after, within its error of {error}",
    "one_same": "{name}: no change ({before} deg before and after)",
    "alone": "{name}: {before} deg before, {after} after ({signed}); this cannot be judged ({why})",
    "alone_same": "{name}: {before} deg before and after; this cannot be judged ({why})",
    "alone_half": "{name} cannot be judged ({why})",
    "take_three": "Three readings of each side, before and after, would give the error",
    "judged": " that can be judged",
    "rose": "{name} rose by {change} deg (error {error})",
    "fell": "{name} fell by {change} deg (error {error})",
    "within": "Within the error: {names}",
    "within_change": "{name} {signed} deg (error {error})",
    "more": "{n} more",
    "all_unknown": "None of {all} shoulder tests can be judged: {names}",
    "unknown": "{n} cannot be judged: {names}",
    "unknown_change": "{name} {signed} deg ({why})",
    "unknown_name": "{name} ({why})",
    "why_error": "error not known",
}
RETEST_CHART: Final[Words] = {
    "one": "The test changed by more than the error.",
    "one_none": "The test did not change by more than the error.",
    "unknown": "The test cannot be judged: no error is known that fits it.",
}
RETEST_POSITIONING: Final[Words] = {
    "less": "{name} {signed} deg: more than its repeats scatter ({error}), less than the published "
    "error of a new positioning ({positioning})",
    "as_large": "{name} {signed} deg: more than its repeats scatter ({error}), no more than the "
    "published error of a new positioning ({positioning})",
    "word": "within the error of a new positioning",
    "cell": "new positioning {positioning}",
}
HISTORY_COLUMN: Final[Words] = {
    "visit": "visit {session}",
    "dated": "visit {session}, {date}",
    "again": "{label} ({n})",
}
HISTORY_WHY: Final = (
    "How much a measure differs between visits by chance is not known (it takes the repeated "
    "visits of a study), so whether a change is more than that cannot be told. The interval under "
    "a value holds for its own day: two that lie apart say that the days differed, not whether "
    "training, another placement of the sensor or another pace is behind it."
)
HISTORY_SINCE_LAST: Final = "change since the visit before"
HISTORY_TEST_CORNER: Final = "when"
HISTORY_APART: Final = "intervals lie apart"
HISTORY_OF_ROWS: Final = (
    "Each share is of the free walks that the bout's own row is compared with. Not compared: none "
    "of them was of like pace. Carries in which the arm moved, but not with the strides, are "
    "left out."
)
HISTORY_NONE: Final = (
    "No carry of this visit was repeated at the same hold and load as at another visit."
)
HISTORY_LADDER: Final[Words] = {
    "caption": "Heaviest tested load that kept the free walk's trunk rotation",
    "corner": "hold",
    "kept": "{heaviest} kg",
    "next": "next tested {next}",
    "most": "the heaviest tested",
    "pain": "pain {pain} of 10",
    "stopped": "stopped, {reasons}",
    "stopped_for_pain": "stopped for pain",
    "other_bout": "in another bout {noted}",
    "load_noted": "{load}: {noted}",
    "but": "but {loads}",
    "threshold": "at least {threshold} %",
    "no_tested_load": "none for certain",
    "pain_or_early_stop": "none without pain or an early stop",
    "none_without_pain": "none without pain",
    "none_that_counts": "none that counts",
    "none": "no answer",
}
SINCE: Final[Words] = {
    "head": "Compared with {visits}{between}:",
    "and": " and ",
    "between": " ({n} between: see the tables)",
    "at": "{value} at {visit}",
    "now": "{value} now",
    "more": "{n} more under Earlier visits",
    "more_pain": "Pain with other loads too: {n} more under Earlier visits.",
    "more_holds": "Heaviest load kept in other holds: {n} more under Earlier visits.",
    "more_tests": "Other shoulder tests: {n} more under Earlier visits.",
    "ladder": "Heaviest load kept, {hold}: {values}{change}.",
    "ladder_same": "Heaviest load kept, the same each time: {holds}.",
    "moved": "The free walk itself changed, so the heaviest loads kept are not compared.",
    "kept": "Trunk rotation kept at the same load: {carries}.",
    "deg": "Trunk rotation at the same load: {carries}.",
    "arms_kept": "Free arm's swing kept at the same load: {carries}.",
    "arms_deg": "Free arm's swing at the same load: {carries}.",
    "arm": "{side} arm",
    "carry": "{carry}, {values}{change}",
    "value": "{value} {unit}",
    "none": "none clearly different",
    "one": "not clearly different",
    "other": "1 other not clearly different",
    "others": "{n} others not clearly different",
    "doubt": "{carries} not compared between visits (no free walk of like pace)",
    "unknown": " How much visits differ by chance is not known.",
    "test": "{name} {value} deg now: {changes}.",
    "rose": "rose {changes}",
    "fell": "fell {changes}",
    "unchanged": "the same {changes}",
    "by": "by {change} deg {span}",
    "since": "since {visit}",
    "till": "until {visit}",
    "tests_within": "Shoulder tests from visit to visit, no change beyond the error: {tests}.",
    "tests_alike": " Tests before the carries are compared; the published errors hold if they were "
    "done the same way each time.",
}
SINCE_CHANGE: Final[Words] = {
    "more": " (more)",
    "less": " (less)",
    "unclear": " (not clearly different)",
    "same": "",
}
SINCE_EACH: Final[Words] = {
    "all": " ({changes})",
    "more": "more than at {visit}",
    "less": "less than at {visit}",
    "unclear": "not clearly different from {visit}",
    "same": "the same as at {visit}",
}
SINCE_LATER: Final[Words] = {
    "more": "more at {visit}",
    "less": "less at {visit}",
}
SINCE_FINDING: Final[Words] = {
    "increased_more_than_error": ", beyond the error of {error}",
    "decreased_more_than_error": ", beyond the error of {error}",
    "within_error": ", within the error of {error}",
    "not_decidable": ", error between visits not known",
}
PAIN: Final[Words] = {
    "line": "Pain, {carry}: {values}{change}.",
    "of_10": "{pain} of 10",
    "not_noted": "not noted",
    "stopped": " (stopped for pain)",
    "caption": "Pain (0 to 10), the most at each load",
    "cell_stopped": "stopped for pain",
}
