"""Words of the findings: holds, rotation, arms, certainty, aim, shoulder tests."""

from __future__ import annotations

from typing import Final

LANGUAGE: Final = "en"

Words = dict[str, str]

HOLDS: Final[Words] = {
    "free": "free walk",
    "suitcase": "weight at the side",
    "farmer": "weights at both sides",
    "rack": "rack",
    "bottoms_up": "bottoms-up",
    "overhead": "overhead",
    "mixed": "two different holds",
    "unknown": "hold not given",
}
HOLDS_SHORT: Final[Words] = {
    "free": "free walk",
    "suitcase": "side",
    "farmer": "sides",
    "rack": "rack",
    "bottoms_up": "bottoms-up",
    "overhead": "overhead",
    "mixed": "two holds",
    "unknown": "hold not given",
}
LOADED_SIDES_SHORT: Final[Words] = {"none": "", "left": "left", "right": "right", "both": "both"}
PERTURBED: Final[Words] = {"none": "", "elastic": "on elastic"}
PERTURBED_SHORT: Final[Words] = {"none": "", "elastic": "elastic"}
SIDE_LETTERS: Final[Words] = {"left": "L", "right": "R"}
BOUT_NUMBERED: Final = "bout {bout}"
BOUT_LABEL: Final = "{bout}: {hold}"
LOADED_SIDES: Final[Words] = {"none": "", "left": "left", "right": "right", "both": "both sides"}
AIMS: Final[Words] = {
    "mobility": "mobility",
    "endurance": "endurance",
    "strength": "strength",
    "control": "control",
    "": "no aim given",
}
SIDES: Final[Words] = {"left": "left", "right": "right", "none": ""}
PLACEMENTS: Final[Words] = {
    "chest": "chest",
    "left_wrist": "left wrist",
    "right_wrist": "right wrist",
}

# --- rotation ----------------------------------------------------------------

FINDING_MARK: Final[Words] = {
    "rotates": "kept turning",
    "reduced": "turned less",
    "minimal": "nearly still",
    "unclear": "not clear",
    "no_baseline": "nothing to compare",
    "not_measured": "not measured",
    "too_few_strides": "too few strides",
}
FINDING_SHORT: Final[Words] = {
    **FINDING_MARK,
    "rotates": "kept",
    "reduced": "less",
    "minimal": "still",
    "no_baseline": "no free walk",
    "too_few_strides": "few strides",
}
"""The same in a narrow column."""

FINDING_GLYPH: Final[Words] = {
    "rotates": "full",
    "reduced": "half",
    "minimal": "open",
    "unclear": "dotted",
    "no_baseline": "dash",
    "not_measured": "dash",
    "too_few_strides": "dash",
}
ROTATION: Final[Words] = {
    "rotates": "The trunk swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): it kept turning.",
    "reduced": "The trunk swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): it turned less.",
    "minimal": "The trunk swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): it was nearly still.",
    "free_walk": "The trunk swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}).",
    "unclear": "The trunk swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): not clear{because}.",
    "unclear_line": "The trunk swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): not clear, the true value may lie on either side of "
    "{line} %.",
    "unclear_small": "The trunk swung through {value} deg side to side in each stride; {base_of} "
    "{base} deg is too little, or repeats too little with the stride, to compare it with.",
    "unclear_no_kept": "The trunk swung through {value} deg side to side in each stride. How "
    "much of {base_of} trunk rotation that is, is not clear{because}.",
    "no_baseline": "The trunk swung through {value} deg side to side in each stride. There is "
    "{no_other} to compare it with.",
    "not_measured": "Trunk rotation was not measured: there was no chest sensor.",
    "no_walking": "No walking was found between {start} and {end} s.",
    "no_value": "Trunk rotation could not be measured{because}.",
}
BASE_OF: Final[Words] = {
    "free": "the other free walk's",
    "free_many": "the other free walks'",
    "carry": "the free walk's",
    "carry_many": "the free walks'",
}
NO_OTHER: Final[Words] = {"free": "no other free walk", "carry": "no free walk"}
BECAUSE: Final = ", because {reason}"
ARM: Final[Words] = {
    "carry": "{role} {side} arm swung {value} deg, {kept} % of {of} ({low} to {high})",
    "kept": "{role} {side} arm kept swinging: {value} deg, {kept} % of {of} ({low} to {high})",
    "across": "{role} {side} arm, swing not clear: {value} deg, {kept} % of {of} ({low} to {high})",
    "reduced": "{role} {side} arm swung less: {value} deg, {kept} % of {of} ({low} to {high})",
    "minimal": "{role} {side} arm hardly swung: {value} deg, {kept} % of {of} ({low} to {high})",
    "doubt": "{role} {side} arm in doubt: {value} deg, {kept} % of {of} ({low} to {high})",
    "less_by_any": "{role} {side} arm swung less, whichever free walk it is compared with: {value} "
    "deg, {kept} % of {of} ({low} to {high})",
    "kept_by_any": "{role} {side} arm kept swinging, whichever free walk it is compared with: "
    "{value} deg, {kept} % of {of} ({low} to {high})",
    "unsure_by_any": "{role} {side} arm, swing not clear: {value} deg, {kept} % of {of} ({low} to "
    "{high}, depending on the free walk)",
    "unlike": "{role} {side} arm moved, but not with the strides: {value} deg, {kept} % of {of} "
    "({low} to {high})",
    "free": "{role} {side} arm swung {value} deg, {kept} % ({low} to {high})",
    "of": "{said}, of the swing in {base}",
    "base": "the other free walk",
    "base_many": "the other free walks",
    "free_swing": "its free swing",
    "like_swing": "its swing in the free walks of like pace",
    "other_pace_swing": "its swing in free walks of another pace",
    "pooled_swing": "its mean swing in free walks that differ widely",
    "value": "{role} {side} arm swung {value} deg",
    "missing": "{role} {side} arm: not known, because {reason}",
    "no_sensor": "{role} {side} arm: no sensor",
}
ARM_ROLE: Final[Words] = {"free": "free", "held": "held", "none": "the"}
CERTAINTY: Final[Words] = {
    "counted": "{kept} of {all} strides count",
    "interval": "{low} to {high} %",
    "arm_interval": "{low} to {high} % ({side} arm)",
    "arm_interval_least": "{low} to {high} % ({side} arm, the lower)",
    "no_interval": "no interval",
    "not_compared": "no comparison",
    "above": "all above {reduced} %",
    "below": "all below {reduced} %",
    "below_minimal": "all below {minimal} %",
    "across": "across the {reduced} % line",
}

# --- aim, ladder, shoulder tests ----------------------------------------------

AIM_READINGS: Final[Words] = {
    "": "",
    "free_walk": "",
    "not_measured": "The trunk cannot be judged without a chest sensor.",
    "no_baseline": "What was kept cannot be judged without a free walk.",
    "unclear": "More strides or another free walk would be needed to tell.",
    "mobility_kept": "For mobility: the trunk kept turning at this load.",
    "unclear_baseline_small": "",
    "unclear_chest_in_doubt": "",
    "unclear_baseline_moved": "The free walks differ too much from one another to tell.",
    "mobility_reduced": "For mobility: trunk rotation fell, and no lighter load carried the same "
    "way certainly kept it.",
    "mobility_reduced_lightest": "For mobility: trunk rotation fell; no lighter load was carried "
    "with the same hold, side and implement.",
    "mobility_reduced_load_unknown": "For mobility: trunk rotation fell. No load was noted, so no "
    "lighter one can be named.",
    "mobility_reduced_lighter_stopped": "For mobility: trunk rotation fell, and no lighter load "
    "carried the same way certainly kept it (bouts with pain, an early stop or an alarm symptom do "
    "not count).",
    "mobility_reduced_lighter_kept": "For mobility: trunk rotation fell; {lighter} kg{pain} in "
    "this hold kept it.",
    "strength_still": "For strength: a stiller trunk is expected. This load may not train "
    "mobility.",
    "strength_turning": "For strength: the trunk kept turning; often it is held stiller under a "
    "load that is heavy for the person.",
    "endurance_kept": "For endurance: the trunk kept turning.",
    "endurance_reduced": "For endurance: less trunk rotation than in the free walk.",
    "control_spread": "For control: more or less spread from stride to stride is called neither "
    "good nor bad.",
    "no_aim_kept": "No aim was given. For mobility: the trunk kept turning. For strength: it was "
    "not held still.",
    "no_aim_reduced": "No aim was given. For mobility: trunk rotation fell. For strength: a "
    "stiller trunk is expected.",
    "no_aim_reduced_lighter": "No aim was given. For mobility: trunk rotation fell; {lighter} "
    "kg{pain} in this hold kept it. For strength: a stiller trunk is expected.",
}
AIM_ARM: Final[Words] = {
    "mobility_kept": "For mobility: the free arm swung less, though the trunk kept turning.",
    "no_aim_kept": "No aim was given. For mobility: the free arm swung less, though the trunk kept "
    "turning. For strength: the trunk was not held still.",
}
AIM_LIGHTER: Final = " {lighter} kg{pain} in this hold kept it."
RETEST: Final[Words] = {
    "increased_more_than_error": "{name}: rose by {change} deg, more than the error of "
    "{error} deg.",
    "decreased_more_than_error": "{name}: fell by {change} deg, more than the error of "
    "{error} deg.",
    "within_error": "{name}: {signed} deg, within the error of {error} deg: it may be "
    "measurement noise.",
    "not_decidable": "{name}: {before} to {after} deg, {signed} deg.",
}
RETEST_WORDS: Final[Words] = {
    "increased_more_than_error": "rose beyond the error",
    "decreased_more_than_error": "fell beyond the error",
    "within_error": "within the error",
    "not_decidable": "cannot be told",
}


# --- terminal --------------------------------------------------------------------

TERMINAL_HEAD: Final[Words] = {
    "bout": "bout",
    "hold": "hold and kg",
    "sternum": "rotation",
    "deg": "deg",
    "kept": "% of free",
    "arms": "arms %",
    "left": "left arm",
    "right": "right arm",
    "noted": "noted",
}
TERMINAL: Final[Words] = {
    "who": "{participant}, visit {session}{date}",
    "kept": "{kept} ({low}-{high})",
    "kept_at_a_line": "{kept} ({low} to {high})",
    "left": "L {kept}",
    "right": "R {kept}",
    "deg": "{value} deg",
    "missing": "-",
    "star": "*",
    "arm_less": "arm less",
    "cut": "~",
    "no_chest": "No chest sensor: whether the trunk turned was not measured.",
    "pooled": "* of all free walks, since none was of like pace",
    "pointer": 'See "Stop at once for" among the cautions on the page.',
    "check": "check: {message}",
    "check_first": "check first: {message}",
    "none": "no bout was found",
}
