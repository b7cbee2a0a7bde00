"""Words of the shoulder tests and of earlier visits, beside those of the other ``words_``."""

from __future__ import annotations

from typing import Final

Words = dict[str, str]

RETEST_NOT_COMPARED: Final = "{name}: not compared."
RETEST_NO_CHANGE: Final = "{name}: {before} deg before and after."
RETEST_ERROR: Final[Words] = {
    "from": "error {error} deg, from {source}.",
    "positioning": "The published error of a new positioning is {positioning} deg.",
}
RETEST_TABLE: Final[Words] = {
    "caption": "Before and after the carries of this visit, in degrees",
    "caption_on_top": "Before and after the carries, in degrees",
    "test": "test",
    "before": "before",
    "after": "after",
    "change": "change",
    "error": "error",
    "finding": "finding",
    "star": "* Of a new positioning, as published. Repeats in one sitting scatter less.",
}
RETEST_BETWEEN: Final[Words] = {
    "between": "Bouts between the tests of {what}: {bouts}.",
    "none": "Between the tests of {what} that side carried no load.",
    "none_side": "The {side} side carried no load between its tests.",
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
    "unknown": "The test cannot be judged.",
}
RETEST_POSITIONING: Final[Words] = {
    "less": "{name} {signed} deg: more than its repeats scatter ({error}), less than the published "
    "error of a new positioning ({positioning})",
    "as_large": "{name} {signed} deg: more than its repeats scatter ({error}), no more than the "
    "published error of a new positioning ({positioning})",
    "word": "within the error of a new positioning",
}
HISTORY_COLUMN: Final[Words] = {
    "visit": "visit {session}",
    "dated": "visit {session}, {date}",
    "again": "{label} ({n})",
}
HISTORY_WHY: Final = (
    "How much a measure differs between visits by chance is not known (it takes the repeated "
    "visits of a study), so whether a change is more than that cannot be told. The interval under "
    "a value holds for its own day: a change beyond it says that the days differed, not whether "
    "training, another placement of the sensor or another pace is behind it."
)
HISTORY_BOTH_UNITS: Final = (
    "Degrees and shares can tell different things: a share is of the free walk of its own day. "
    "Where the person turned more on that day without a load too, the degrees rise and the share "
    "does not."
)
HISTORY_SINCE_LAST: Final = "change since the visit before"
HISTORY_TEST_CORNER: Final = "when"
HISTORY_APART: Final = "differs beyond its day's own scatter"
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
    "alarms": "{alarms} noted",
    "other_bout": "in another bout {noted}",
    "load_noted": "{load}: {noted}",
    "but": "but {loads}",
    "threshold": "at least {threshold} %",
    "no_tested_load": "none for certain",
    "pain_or_early_stop": "none that counts",
    "none_without_pain": "none without pain",
    "none_that_counts": "none that counts",
    "one_load": "only {load} kg counts",
    "none": "no answer",
}
OVER_WEEKS: Final[Words] = {
    "head": "Compared with {visits}{between}:",
    "and": " and ",
    "between": " ({n} between: see the tables)",
    "caption": "Over weeks",
    "corner": "carry or test",
    "change": "change",
    "now": "now",
    "later": "{change} at {visit}",
    "than": "{change} than at {visit}",
    "at": "{value} at {visit}",
    "heaviest": "{carry}: heaviest kept",
    "heaviest_at": "{carry}: kept {threshold} % up to",
    "pain": "{carry}: pain, 0 to 10",
    "kept": "{carry}: rotation kept",
    "deg": "{carry}: rotation",
    "arms_kept": "{carry}: free arm's swing kept",
    "arms_deg": "{carry}: free arm's swing",
    "arm": "{side} arm",
    "test": "{name} ({unit})",
    "value": "{value}\u00a0{unit}",
    "unclear": "Not clearly different at the same load: {what}.",
    "one_carry": "1 more carry",
    "carries": "{n} more carries",
    "unclear_kept": "trunk rotation in {carries}",
    "unclear_deg": "trunk rotation in {carries}",
    "unclear_arms_kept": "free arm's swing in {n}",
    "unclear_arms_deg": "free arm's swing in {n}",
    "star": "* By more than the days' own scatter; how much visits differ by chance is not known.",
    "before": "Shoulder tests: read before the carries.",
    "alike": "Shoulder tests: read before the carries; the published errors hold if they were done "
    "the same way each time.",
    "one_row": "1 more row under Earlier visits.",
    "more_rows": "{n} more rows under Earlier visits.",
    "moved": "The free walk itself changed, so the heaviest loads kept are not compared.",
    "doubt": "Free arm's swing not compared between visits (no fair free walk): {carries}.",
    "study": "{carries}: {why}, so how much visits differ by chance is not known.",
    "study_none": "The study given has none of these carries, so how much visits differ by chance "
    "is not known.",
    "beyond": "{change}, beyond the error of {error}",
    "within": "{change}, within the error of {error}",
    "unjudged": "{change} *",
    "no_error": "{change}, error not known",
    "each": "each time: {below}",
    "since": "{change} since {visit}",
    "until": "{change} until {visit}",
}
OVER_WEEKS_CHANGE: Final[Words] = {
    "more": "more",
    "less": "less",
    "maybe_more": "not certainly more",
    "maybe_less": "not certainly less",
    "within": "within the error",
    "same": "same",
    "now_stopped": "stopped for it",
    "not_stopped": "no longer stopped",
    "not_compared": "not compared",
    "unknown": "",
}
PAIN: Final[Words] = {
    "not_noted": "not noted",
    "caption": "Pain (0 to 10), the most at each load",
    "cell_stopped": "stopped for pain",
}
