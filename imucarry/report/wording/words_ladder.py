"""Words of the load ladder."""

from __future__ import annotations

from typing import Final

LADDER: Final = {
    "kept_up_to": "{hold}: at least {threshold} % of the free walk's trunk rotation was kept up to "
    "{heaviest} kg{pain}.",
    "kept_up_to_apart": "{hold}: at {loads} at least {threshold} % of the free walk's trunk "
    "rotation was kept.",
    "not_yet_reached": "{hold}: up to {heaviest} kg, the heaviest load tested{pain}, at least "
    "{threshold} % of the free walk's trunk rotation was kept.{open}",
    "not_yet_reached_apart": "{hold}: at {loads}, the heaviest load tested, at least {threshold} % "
    "of the free walk's trunk rotation was kept.{open}",
    "no_tested_load": "{hold}: no load {tested} certainly kept {threshold} % of the free walk's "
    "trunk rotation.",
    "every_load_less": "{hold}: every load {tested} kept less than {threshold} % of the free "
    "walk's trunk rotation, so the limit lies below {lightest} kg, the lightest load {tested}.",
    "load_unknown": "{hold}: no answer, because no load was noted.",
    "one_load_only": "{hold}: {load} kg{pain}, the only load tested, kept {kept} % of the free "
    "walk's trunk rotation ({low} to {high}{together}), {finding}.",
    "one_load_counts": "{hold}: only {load} kg{pain} counts. It kept {kept} % of "
    "the free walk's trunk rotation ({low} to {high}{together}), {finding}.",
    "one_load_not_measured": "{hold}: no answer, because only one load was tested and it was not "
    "measured.",
    "kept_more": "{hold}: no heaviest load can be named, because {heavier} kg kept more than "
    "{lighter} kg, by more than chance.{each} Load alone is not the cause: repeat the loads in "
    "another order.",
    "pain_or_early_stop": "{hold}: no answer.",
    "no_baseline": "{hold}: no answer without a free walk.",
    "not_measured": "{hold}: no answer, because trunk rotation was not measured.",
    "too_few_strides": "{hold}: no answer.",
    "baseline_small": "{hold}: no answer, because the free walk itself turned too "
    "little, or repeated too little with the stride, to compare with.",
}
ANSWER: Final = {
    "kept_up_to": "up to {heaviest} kg",
    "kept_up_to_apart": "at {loads}",
    "not_yet_reached": "up to {heaviest} kg",
    "not_yet_reached_apart": "at {loads}",
    "no_tested_load": "no load {tested} certainly kept {threshold} %",
    "every_load_less": "below {lightest} kg",
    "one_load_only": "{finding}",
    "one_load_counts": "{finding}",
    "kept_more": "no heaviest load can be named",
}
"""The words of the sentences above that answer, which stand out on the page; else "no answer"."""

NO_ANSWER: Final = "no answer"
ONE_LOAD: Final = {
    "above": "clearly above {threshold} %",
    "above_together": "above {threshold} %{alone}",
    "below": "clearly less than {threshold} %",
    "across": "not clearly above or below {threshold} %",
}
EACH_LOAD: Final = {
    "above": " At {loads} kg at least {threshold} % of the free walk's trunk rotation was kept.",
    "below": " At {loads} kg less was kept.",
    "across": " At {loads} kg this is not clear.",
}
"""Where the loads' intervals lie against the threshold."""

KEPT_PAIN: Final = {
    "within": "pain up to {pain} of 10, within the set limit of {limit}",
    "within_short": "pain up to {pain} of 10",
    "other": "in another bout {said}",
    "if_none": ", if its pain was 0",
    "if_within": ", if its pain was {limit} or less",
}
PAIN_LIMIT: Final = {
    "any": " Loads with any pain, an alarm symptom or an early stop are not counted as kept.",
    "above": " Loads with pain above {limit} of 10, an alarm symptom or an early stop are not "
    "counted as kept.",
}
AND: Final = "{first} and {last}"
TESTED: Final = {"all": "tested", "some": "that counts"}
NEXT: Final = {
    "less": " At {next} kg, the next load tested, less was kept{limit}.",
    "probably_less": " At {next} kg, the next load tested, probably less was kept{kept}, but this "
    "is not certain.",
    "unsure": " At {next} kg, the next load tested, this was no longer certain{kept}.",
    "stopped": " {next} kg, the next load tested, does not count ({why}).",
    "missing": " At {next} kg, the next load tested, this was not measured.",
    "too_few": " At {next} kg, the next load tested, too few strides count.",
    "not_compared": " At {next} kg, the next load tested, there is no answer: the free walk itself "
    "turned or repeated too little.",
}
LIMIT: Final = ": the limit lies between {heaviest} and {next} kg"
NOT_CERTAIN: Final = {
    "probably_less": " At {loads} kg ({kept} %) probably less was kept, but this is not certain.",
    "unsure": " At {loads} kg ({kept} %) this is not certain.",
}
"""Loads that lie on neither side of the threshold for certain, where none is kept."""

NOT_REACHED: Final = " Where it stops has not been reached."
LIGHTER: Final = {
    "one": " A lighter load does not count: {loads}.",
    "more": " Lighter loads do not count: {loads}.",
}
CELL: Final = {"at": "at {loads}", "not": ", not {loads} kg"}
STOPPED: Final = " Not counted: {loads}."
LOAD: Final = "{load} kg"
STOPPED_LOAD: Final = "{load} kg ({why})"
WHY_STOPPED: Final = {
    "pain": "pain {pain} of 10",
    "stop": "stopped: {reason}",
    "noted": "noted: {alarms}",
}
MISSING: Final = {
    "too_few": " Too few strides count at {loads} kg.",
    "not_compared": " No answer at {loads} kg: the free walk itself turned or repeated too little.",
    "missing": " Not measured: {loads} kg.",
}
CARRIED: Final = (
    " The bouts at {loads} kg are not clear by themselves; they are judged with the heavier load "
    "that kept it."
)
AND_TOGETHER: Final = ", {bouts} together"
TOGETHER: Final = " {bouts} at {load} kg were judged together{alone}."
BOUTS_COUNTED: Final = {"two": "both bouts", "more": "all {count} bouts"}
UNCLEAR_ALONE: Final = {
    "one": "; bout {bouts} by itself is not clear",
    "more": "; bouts {bouts} by themselves are not clear",
}
KEPT_MORE: Final = (
    " {heavier} kg kept more than {lighter} kg, by more than chance: load alone is not the cause."
)
REPEATS: Final = (
    " {load} kg was carried more than once and kept {first} % the first time, {last} % the last "
    "time, by more than chance: {cause} may be behind it."
)
CAUSE: Final = {"less": "fatigue", "more": "practice"}
WITH_ORDER: Final = " Loads went from light to heavy, so fatigue may be part of the loss."
LIKELY: Final = (
    " The best estimate for {likely} kg ({kept} %) is above {threshold} %{too}, but not certainly."
)
TOO: Final = " too"
OTHER: Final = "{hold}: {answer}."
FREE_ARM: Final = {
    "said": "Free {side} arm: {parts}.",
    "between": "; ",
    "kept": "kept swinging at {loads}",
    "less": "swung less at {loads}",
    "unsure": "not clear whether it kept swinging at {loads}",
    "doubt": "swing in doubt at {loads}: no fair free walk to compare with",
    "missing": "not measured at {loads}",
    "differ": "bouts differ at {loads}",
    "mixed_load": "at {load} kg {each}",
    "mixed_one": "{found} in one bout ({shares})",
    "mixed_other": "{found} in the other ({shares})",
    "mixed_more": "{found} in {n} bouts ({shares})",
    "every": "every load: {loads}",
    "every_counted": "every load that counts: {loads}",
    "load": "{load} kg ({shares})",
    "share": "{share} %",
    "share_found": "{share} %: {found}",
    "load_missing": "{load} kg (bout {bouts})",
    "load_missing_more": "{load} kg (bouts {bouts})",
    "head": "free arm",
}
"""What the free arm did at the loads that count, of its swing in the free walk."""

FREE_ARM_FOUND: Final = {
    "kept": "kept swinging",
    "less": "swung less",
    "unsure": "not clear",
    "doubt": "in doubt",
}
"""What it did in a bout, where the bouts with one load differ."""
