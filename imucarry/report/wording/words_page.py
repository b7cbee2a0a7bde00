"""Headings and labels of the page and of its tables."""

from __future__ import annotations

from typing import Final

Words = dict[str, str]

# --- headings and labels of the page -------------------------------------------

PAGE: Final[Words] = {
    "title": "Trunk rotation and arm swing under load",
    "visit": "visit {visit}",
    "sheet_of": " of ",
    "mass": "Body mass",
    "sensors": "Sensors worn",
    "made_with": "imucarry {version}",
    "per_bout": "What was found, bout by bout",
    "strip_head": "rotation, % of the free walk",
    "strip_how": "Bar and brackets: where the true value very likely lies "
    "(95 %). Not clear: it crosses {reduced} %.",
    "aim_label": "aim: {aim}",
    "ladder": "How much load keeps the trunk turning",
    "alarms": "Pain, early stops and symptoms",
    "check": "Check before you rely on this",
    "check_none": "Nothing stood out that would put these findings in doubt.",
    "contents": "On this page",
    "pictures": "Pictures",
    "bouts": "Each bout",
    "tables": "Tables",
    "retest": "Shoulder tests before and after",
    "followed": "Shoulder tests and earlier visits",
    "followed_tests": "Shoulder tests",
    "no_earlier": "No earlier visit was given.",
    "earlier": "Earlier visits",
    "dose": "What was noted of each bout",
    "quality": "How good the recordings are",
    "understood": "How the files were read",
    "settings": "Settings and version",
    "cautions": "Cautions",
    "definitions": "What the measures mean",
    "notes": "Notes on the processing",
    "numbers": "The numbers of this picture",
    "trace": "From the raw signal to the clean one",
    "print": "Print",
    "print_all": "Print all",
    "brief": "This is the short print. Single bouts, tables, notes on the processing and "
    "definitions are in report.html (button 'Print all') and in the CSV files.",
    "stop_at_once": "Stop at once for {signs}.",
    "zoom": "Look closer",
    "zoom_close": "Back to the still picture",
    "findings": "Findings",
    "skip": "Skip to the findings",
    "back": "Back to the top",
    "no_script": "Every number and picture is here without scripts; only closer looks need them.",
    "anonymous": "The person is shown by a code.",
    "row_certainty": "Where the true value very likely lies (95 %)",
    "limits": "Trunk rotation is how far the sternum turns from side to side in a stride. The "
    "program sees the sternum and the forearms. It does not see the pelvis, the shoulder "
    "blade or the shoulder joint.",
    "protocol": "How to record a visit: see data/protocol.md of imucarry.",
    "choice": "The lines at {reduced} % and {minimal} % are choices of this program: no published "
    "cut-off exists. They can be set.",
    "table_scroll": "table, scrolls sideways",
    "not_given": "not given",
    "more_checks": "{n} more among the notes",
    "none_found": "No bout was found in this visit.",
}
MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
SCRIPT: Final[Words] = {
    "print": PAGE["print"],
    "print_all": PAGE["print_all"],
    "zoom": PAGE["zoom"],
    "zoom_close": PAGE["zoom_close"],
}
GROUPS: Final[Words] = {
    "rotation": "Trunk rotation",
    "arm swing": "Arm swing",
    "timing": "Timing",
    "variability": "Variability: how much strides differ from one another",
    "symmetry": "Symmetry: left against right",
    "coordination": "Coordination: arms, trunk and steps together",
    "perturbed": "With the load on elastic, against the same load without",
    "dose": "Time, distance and load carried",
    "other": "Further measures",
}

# --- tables ----------------------------------------------------------------------

TABLE: Final[Words] = {
    "bout": "bout",
    "mean": "mean (deg)",
    "low": "from",
    "high": "to",
    "strides": "strides",
    "missing": "missing because",
    "load": "load",
    "kept": "kept (%)",
    "fit": "fit (%)",
    "curve": "line",
    "stride": "stride",
    "pass": "pass",
    "start_s": "start (s)",
    "stride_time_s": "time (s)",
    "sternum_yaw_range_deg": "trunk rotation (deg)",
    "left_arm_swing_deg": "left arm (deg)",
    "right_arm_swing_deg": "right arm (deg)",
    "counts": "counts",
    "why": "left out because",
    "yes": "yes",
    "no": "no",
    "signal": "signal",
    "least": "least",
    "greatest": "greatest",
    "measure": "measure",
    "interval": "{low} to {high}",
    "setting": "setting",
    "value": "value",
    "sensor": "sensor",
    "column": "column",
    "role": "taken for",
    "unit": "unit",
    "rule": "because",
    "test": "test and side",
    "of_bouts": "{caption}, {first} to {last}",
}
AIM_NUMBERS: Final[Words] = {
    "faded": "Over the bout trunk rotation changed by {value} deg ({low} to {high}): it faded.",
    "grew": "Over the bout trunk rotation changed by {value} deg ({low} to {high}): it grew.",
    "even": "Over the bout trunk rotation changed by {value} deg ({low} to {high}): no fading "
    "seen.",
    "unclear": "Over the bout trunk rotation changed by {value} deg ({low} to {high}): whether it "
    "faded is not clear.",
    "spread": "From stride to stride trunk rotation differed by {value} deg (standard deviation).",
    "spread_base": "From stride to stride trunk rotation differed by {value} deg (standard "
    "deviation; in the free walk {base}).",
}
ARM_LADDER: Final[Words] = {
    "head": "How much load keeps the arm swinging",
    "strip_head": "arm swing, % of the free walk",
    "no_chest": "No chest sensor was worn, so trunk rotation was not measured. What follows is "
    "the swing of the arms.",
    "no_free_arm": "The swing of no free arm is known, so there is no answer.",
    "kept": "{hold}: of its swing in the free walk the free {side} arm kept {loads}.",
    "load": "{kept} % at {load} kg",
    "and": " and ",
    "not_counted": " Not counted: {loads}.",
    "free_walks_apart": "; not clear: the free walks differ widely",
    "no_like_walk": "; not clear: no free walk of like pace",
    "unlike": "; not clear: an arm moved, but not with the strides",
    "unlike_load": "{load} kg (the arm moved, but not with the strides)",
    "none_counts": "{hold}: whether the free {side} arm kept swinging is not known.",
    "less": " (less than {threshold} %, whichever free walk it is compared with)",
    "at_least": " (at least {threshold} %, whichever free walk it is compared with)",
    "whichever": ", whichever free walk it is compared with",
    "unfair": " The arms of the free walks differ so much that these shares may be too high or too "
    "low.",
    "walks_differ": "the free walks' arm swing differs widely ({swings} deg): shares may be too "
    "high or too low. Name the free walks of like pace in the column `baseline` of the bouts sheet",
    "of_side": "{side} {least} to {most}",
}
ARM_MARK: Final[Words] = {
    "rotates": "arm kept swinging",
    "reduced": "arm swung less",
    "minimal": "arm nearly still",
    "unclear": "not clear",
}
LADDER_TABLE: Final[Words] = {
    "caption": "Heaviest load that kept at least {threshold} % of the free walk's trunk rotation",
    "corner": "hold and side",
    "kept": "kept up to",
    "next": "next load tested",
    "not_counted": "not counted",
    "kept_up_to": "{heaviest} kg",
    "not_yet_reached": "{heaviest} kg, the heaviest tested",
    "no_tested_load": "none for certain",
    "every_load_less": "none: even {lightest} kg, the lightest {tested}, kept less",
    "kept_more": "no heaviest load: {heavier} kg kept more than {lighter} kg",
    "one_load_kept": "{load} kg{pain}, the only one tested: {kept} % ({low} to {high})",
    "one_load_across": "not clear: {load} kg{pain}, the only one tested, kept {kept} % ({low} to "
    "{high})",
    "one_load_less": "none: {load} kg{pain}, the only one tested, kept {kept} % ({low} to {high})",
    "one_load_counts_kept": "{load} kg{pain}, the only load that counts: {kept} % ({low} to "
    "{high})",
    "one_load_counts_across": "not clear: {load} kg{pain}, the only load that counts, kept {kept} "
    "% ({low} to {high})",
    "one_load_counts_less": "none: {load} kg{pain}, the only load that counts, kept {kept} % "
    "({low} to {high})",
    "one_load_only": "no answer: one load, not measured",
    "pain_or_early_stop": "no answer: no load counts",
    "load_unknown": "no answer: no load noted",
    "no_baseline": "no answer: no free walk",
    "not_measured": "no answer: not measured",
    "too_few_strides": "no answer",
    "baseline_small": "no answer: the free walk itself turned or repeated too little",
    "next_less": "{next} kg: kept less",
    "between": " (between: not tested)",
    "next_probably_less": "{next} kg: probably less, not certain ({kept} %)",
    "next_perhaps": "{next} kg: perhaps kept, not certain ({kept} %)",
    "next_unsure": "{next} kg: not certain ({kept} %)",
    "next_stopped": "{next} kg: not counted",
    "next_missing": "{next} kg: not measured",
    "next_too_few": "{next} kg: too few strides",
    "next_not_compared": "{next} kg: no answer",
    "missing": "{load} kg (not measured)",
    "not_compared": "{load} kg (the free walk turned or repeated too little)",
    "too_few": "{load} kg (too few strides)",
    "doubt": "{holds}: {message}.",
}
AT_A_LINE: Final[Words] = {"<": "just under {line}", ">": "just over {line}"}
"""A share in a sentence that would round to a line and is not at it."""

DOSE: Final[Words] = {
    "hold": "hold and load",
    "implement": "implement",
    "perturbed": "perturbed by",
    "order": "order",
    "rest": "rest before (s)",
    "rpe": "effort (0 to 10)",
    "pain": "pain (0 to 10)",
    "stop": "how it ended",
    "shoulder": "shoulder aim",
    "note": "note",
}
QUALITY: Final[Words] = {
    "file": "file",
    "rate": "rate (Hz)",
    "jitter": "uneven sampling (ms)",
    "duration": "length (s)",
    "gaps": "gaps bridged / left open",
    "longest": "longest gap (s)",
    "clipped": "at the end of range (%)",
    "clock": "clock offset (s)",
    "drift": "clock drift (ppm)",
    "clock_sd": "clock uncertainty (s)",
    "clock_source": "clock told by",
    "bias": "turn-rate bias x, y, z (deg/s)",
    "bias_sd": "its standard error (deg/s)",
    "scale": "turn-rate scale x, y, z, too much by (%)",
    "noise": "noise at rest, turn rate (deg/s)",
    "noise_acc": "noise at rest, acceleration (m/s2)",
    "rest": "time at rest (s)",
    "mounted": "mounted",
    "levelled": "levelled in",
    "forward": "forward told by",
    "slope": "slope of the sensor (deg)",
}
MOUNTED: Final = "up is {up}, away from the body is {out}"
MOUNTED_WORKED_OUT: Final = "worked out: up is about {up}, away from the body about {out}"
MOUNTED_AT_REST: Final = "worked out: up at rest is about {up}"
MOUNTED_UNKNOWN: Final = "not told"
CLOCK_SOURCES: Final[Words] = {
    "reference": "it is the session clock",
    "given": "given with the session",
    "event": "a tap that all sensors saw",
    "shared_motion": "motion that all sensors share",
    "assumed": "taken as it is",
}
FRAME_WORDS: Final[Words] = {
    "quiet_standing": "quiet standing",
    "bout_mean": "the mean of the bout",
    "given": "given with the session",
    "walking": "the walking itself",
    "assumed": "assumed",
}
HISTORY: Final[Words] = {
    "condition": "hold and load",
    "test": "test on the table, before the carries",
    "change": "change since the first",
    "error": "error between visits",
    "finding": "finding",
}
HISTORY_FINDINGS: Final[Words] = {
    "first": "the first visit",
    "increased_more_than_error": "rose beyond the error",
    "decreased_more_than_error": "fell beyond the error",
    "within_error": "within the error",
    "not_decidable": "cannot be told",
    "in_doubt": "not compared",
}
