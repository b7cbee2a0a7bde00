"""All words of the page and of the terminal summary, in English.

Another language is another module with the same names. Templates are filled with
``str.format``; their fields are named in the functions of `say`.
"""

from __future__ import annotations

from typing import Final

Words = dict[str, str]

LANGUAGE: Final = "en"

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
LOADED_SIDES: Final[Words] = {"none": "", "left": "left", "right": "right", "both": "both sides"}
AIMS: Final[Words] = {
    "mobility": "mobility",
    "endurance": "endurance",
    "strength": "strength",
    "control": "control",
    "": "no aim given",
}
SIDES: Final[Words] = {"left": "left", "right": "right", "none": ""}
ROLES: Final[Words] = {"free": "free", "held": "held", "none": ""}
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
}
FINDING_GLYPH: Final[Words] = {
    "rotates": "full",
    "reduced": "half",
    "minimal": "open",
    "unclear": "dotted",
    "no_baseline": "dash",
    "not_measured": "dash",
}
ROTATION: Final[Words] = {
    "rotates": "The sternum swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): it kept turning.",
    "reduced": "The sternum swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): reduced.",
    "minimal": "The sternum swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): nearly still.",
    "unclear": "The sternum swung through {value} deg side to side in each stride, {kept} % of "
    "{base_of} {base} ({low} to {high}): not clear{because}.",
    "unclear_no_kept": "The sternum swung through {value} deg side to side in each stride. How "
    "much of the free walk's swing that is, is not clear{because}.",
    "no_baseline": "The sternum swung through {value} deg side to side in each stride. There is "
    "{no_other} to compare it with.",
    "not_measured": "The turn of the sternum was not measured: there was no chest sensor.",
    "no_value": "The turn of the sternum could not be told{because}.",
}
BASE_OF: Final[Words] = {"free": "the other free walk's", "carry": "the free walk's"}
NO_OTHER: Final[Words] = {"free": "no other free walk", "carry": "no free walk"}
BECAUSE: Final = ", because {reason}"
ARM: Final[Words] = {
    "kept": "{role} {side} arm swung through {value} deg, {kept} % of its free walk ({low} to {high})",
    "value": "{role} {side} arm swung through {value} deg",
    "missing": "{role} {side} arm: not known ({reason})",
}
ARM_ROLE: Final[Words] = {"free": "the free", "held": "the held", "none": "the"}
CERTAINTY: Final[Words] = {
    "counted": "{kept} of {all} strides count",
    "interval": "95 % interval {low} to {high} %",
    "no_interval": "no interval",
    "above": "all of it above the {reduced} % line",
    "below": "all of it below the {reduced} % line",
    "below_minimal": "all of it below the {minimal} % line",
    "across": "it lies across the {reduced} % line",
}

# --- why something is missing ------------------------------------------------

REASONS: Final[Words] = {
    "not_computed": "it was not worked out for this bout",
    "few_strides": "there are too few strides",
    "no_free_walk": "there is no free walk to compare with",
    "free_walk_not_measured": "it was not measured in the free walk",
    "no_chest_sensor": "there was no chest sensor",
    "no_interval": "there is no interval for it",
    "interval_holds_threshold": "the interval lies across a line",
    "no_unperturbed_bout": "there is no such carry without elastic",
    "held_arm": "the arm holds the load",
    "no_sensor": "no sensor was worn there",
    "no_baseline": "there is no free walk to compare with",
    "baseline_small": "the free walk itself hardly turned",
}
DROP_REASONS: Final[Words] = {
    "start": "first stride of a pass",
    "stop": "last stride of a pass",
    "turn": "turning round",
    "beside_turn": "beside a turn",
    "gap": "samples missing",
    "clipped": "sensor at the end of its range",
    "contact_missed": "a foot contact was missed",
    "no_sensor": "no sensor",
}

# --- aim, ladder, shoulder tests ----------------------------------------------

AIM_READINGS: Final[Words] = {
    "": "",
    "free_walk": "",
    "not_measured": "Without a chest sensor nothing is said about the trunk.",
    "no_baseline": "Without a free walk nothing is said about what was kept.",
    "unclear": "More strides or another free walk would be needed to tell.",
    "mobility_kept": "For mobility: the trunk kept turning at this load.",
    "mobility_reduced": "For mobility: the turn fell, and no lighter load tested in this hold kept it.",
    "mobility_reduced_lighter_kept": "For mobility: the turn fell; {lighter} kg in this hold kept it.",
    "strength_still": "For strength: a still trunk is expected. Mobility may not be trained by it.",
    "strength_turning": "For strength: the trunk kept turning; often it is held stiller under a "
    "load that is heavy for the person.",
    "endurance_kept": "For endurance: the trunk kept turning.",
    "endurance_reduced": "For endurance: the turn fell; the trend over the bout tells whether it faded.",
    "control_spread": "For control: look at the spread of the strides. More or less of it is "
    "called neither good nor bad.",
    "no_aim_kept": "No aim was given. For mobility: the trunk kept turning. For strength: it was "
    "not held still.",
    "no_aim_reduced": "No aim was given. For mobility: the turn fell. For strength: a stiller "
    "trunk is expected.",
}
AIM_LIGHTER: Final = " {lighter} kg in this hold kept it."
LADDER: Final[Words] = {
    "kept_up_to": "{hold}: the sternum kept at least {threshold} % of the free walk's swing up to "
    "{heaviest} kg. At the next tested load, {next} kg, this was no longer certain.",
    "not_yet_reached": "{hold}: every tested load, up to {heaviest} kg, kept at least {threshold} % "
    "of the free walk's swing. Where it stops has not been reached.",
    "no_tested_load": "{hold}: no tested load certainly kept {threshold} % of the free walk's swing.",
    "one_load_only": "{hold}: one load alone makes no ladder.",
    "pain_or_early_stop": "{hold}: no answer, because every bout had pain or an early stop.",
    "no_baseline": "{hold}: no answer without a free walk.",
    "not_measured": "{hold}: no answer, because the turn of the sternum was not measured.",
    "baseline_small": "{hold}: no answer, because the free walk itself hardly turned.",
}
LADDER_LIKELY: Final = " By the best estimate alone it would be {likely} kg."
LADDER_OTHER: Final = "{hold}: {answer}."
RETEST: Final[Words] = {}
RETEST_SAID: Final = "{test}, {side}: {finding}."

# --- headings and labels of the page -------------------------------------------

PAGE: Final[Words] = {
    "title": "What the torso and the arms did under load",
    "eyebrow": "Loaded carry record",
    "participant": "Person",
    "session": "Visit",
    "date": "Date",
    "mass": "Body mass",
    "sensors": "Sensors worn",
    "made_with": "imucarry {version}",
    "in_short": "In short",
    "per_bout": "What was found, bout by bout",
    "ladder": "How much load keeps the swing",
    "check": "Look at this before you believe it",
    "check_none": "Nothing stood out that would put these findings in doubt.",
    "contents": "On this page",
    "pictures": "Pictures",
    "bouts": "Each bout",
    "tables": "Tables",
    "retest": "Shoulder tests before and after",
    "earlier": "Earlier visits",
    "dose": "Dose",
    "quality": "How good the recordings are",
    "understood": "What the reader understood",
    "settings": "Settings and version",
    "cautions": "Cautions",
    "definitions": "What the measures mean",
    "notes": "Notes on the processing",
    "numbers": "The numbers of this picture",
    "strides": "Every stride in a table",
    "trace": "From the raw signal to the clean one",
    "print": "Print",
    "zoom": "Look closer",
    "zoom_close": "Back to the still picture",
    "skip": "Skip to the findings",
    "back": "Back to the top",
    "no_script": "Every number and picture is here without scripts; only closer looks need them.",
    "anonymous": "The person is shown by a code.",
    "row_bout": "Bout",
    "row_hold": "Hold and load",
    "row_finding": "Finding",
    "row_aim": "Aim",
    "row_certainty": "Certainty",
    "row_kept": "Kept of the free walk",
    "limits": "It sees the sternum and the forearms. It does not see the pelvis, the shoulder "
    "blade or the shoulder joint.",
    "choice": "The lines at {reduced} % and {minimal} % are choices of this program: no published "
    "cut-off exists. They can be set.",
    "table_scroll": "table, scrolls sideways",
    "not_given": "not given",
    "more_checks": "{n} more among the notes",
    "none_found": "No bout was found in this visit.",
}
SCRIPT: Final[Words] = {
    "print": PAGE["print"],
    "zoom": PAGE["zoom"],
    "zoom_close": PAGE["zoom_close"],
}
GROUPS: Final[Words] = {
    "rotation": "Rotation",
    "arms": "Arm swing",
    "timing": "Timing",
    "variability": "Variability: how much strides differ from one another",
    "symmetry": "Symmetry: left against right",
    "coordination": "Coordination: arms, sternum and steps together",
    "other": "Further measures",
}

# --- pictures ------------------------------------------------------------------

FIGURES: Final[dict[str, Words]] = {
    "rotation": {
        "title": "How far the sternum swung, stride by stride",
        "caption": "Each dot is one stride that counts. The diamond is the bout's mean with its "
        "95 % interval. The shaded stripe holds nine of ten strides of the free walks, the "
        "dash-dotted line is their mean; the dashed lines stand at {reduced} % and {minimal} % of it.",
        "x": "sternum swing in a stride (deg)",
    },
    "swing": {
        "title": "How far the arms swung, stride by stride",
        "caption": "Squares are the left forearm, triangles the right one; hollow means that the "
        "arm held the load. The large mark is the bout's mean with its 95 % interval, the shaded "
        "stripe nine of ten strides of the same arm's free walks, the dash-dotted line their mean.",
        "x": "forearm swing in a stride (deg)",
    },
    "ladder": {
        "title": "Load ladder: {hold}",
        "caption": "Each diamond is one tested load with its 95 % interval; the line is the fit "
        "that never rises with load, the shaded area its band. The dashed line is the {threshold} % "
        "that counts as kept. Nothing is said about loads that were not carried.",
        "x": "load carried (kg)",
        "y": "kept of the free walk's swing (%)",
    },
    "curves": {
        "title": "The mean stride of {bout}",
        "caption": "From one left contact (0 %) to the next (100 %). Lines are means of the strides "
        "that count, shaded areas one standard deviation to each side; dash-dotted is the free "
        "walk. The dotted upright line is the right contact.",
        "x": "stride (%)",
        "yaw": "sternum (deg, up is left)",
        "left": "left forearm (deg, up is forward)",
        "right": "right forearm (deg, up is forward)",
    },
    "strip": {
        "title": "The strides of {bout}, one after another",
        "caption": "Dots are strides that count. A cross is a stride that was left out; the rows "
        "below tell why. Dotted upright lines part one pass from the next. No stride is left out "
        "for its value.",
        "x": "stride number",
        "y": "sternum swing (deg)",
        "why": "left out because",
    },
    "trace": {
        "title": "The signals of {bout}",
        "caption": "Top: the chest sensor's turn rates as recorded, about its own three axes. "
        "Middle: the heading of the sternum, the path still in it. Bottom: the path taken out; "
        "squares are left contacts, triangles right contacts. Lines are thinned for the page.",
        "x": "time on the session clock (s)",
        "raw": "turn rates as recorded (deg/s)",
        "heading": "heading with the path (deg)",
        "clean": "heading without the path (deg, up is left)",
    },
    "sketch": {
        "title": "Seen from above",
        "caption": "The person walks up the page. The filled fan is the sternum's swing in this "
        "bout, the dash-dotted one that of the free walk. Angles are drawn {times} times as wide "
        "as they were, and evenly to both sides: which way the sternum faced on average is not known.",
    },
}
LEGEND: Final[Words] = {
    "stride": "one stride",
    "mean": "mean, 95 % interval",
    "free_band": "free walks, 9 of 10 strides",
    "free_mean": "free walks, mean",
    "limits": "{reduced} % and {minimal} % of it",
    "threshold": "{threshold} % counts as kept",
    "fit": "falling fit",
    "fit_band": "its band",
    "free_arm": "free arm",
    "held_arm": "held arm",
    "carry": "this bout, mean",
    "carry_sd": "one SD to each side",
    "right_contact": "right contact",
    "left_contact": "left contact",
    "left_out": "left out",
    "pass": "next pass",
    "axis": "sensor axis {axis}",
    "heading": "sternum",
    "path": "path",
}
FIGURE_FINDINGS: Final[Words] = {
    "rotation": "The widest swing was in {most} ({most_deg} deg), the smallest in {least} ({least_deg} deg).",
    "rotation_none": "No stride could be scored for the sternum.",
    "swing": "The {side} arm swung farthest in {most} ({most_deg} deg) and least in {least} ({least_deg} deg).",
    "swing_none": "No arm could be scored.",
    "curves": "Over the mean stride the sternum went through {value} deg; in the free walk through {base} deg.",
    "curves_alone": "Over the mean stride the sternum went through {value} deg.",
    "curves_arms": "Over the mean stride the {side} forearm went through {value} deg.",
    "curves_none": "No stride counts, so there is no mean stride.",
    "strip": "{kept} of {all} strides count for the sternum; {out} were left out.",
    "strip_why": "{kept} of {all} strides count for the sternum; {out} were left out: {why}.",
    "trace": "From {start} s to {end} s of the session.",
    "sketch": "{bout}: {value} deg.",
    "sketch_base": "{bout}: {value} deg; free walk {base} deg.",
    "sketch_none": "{bout}: the swing is not known.",
}

# --- terminal --------------------------------------------------------------------

TERMINAL: Final[Words] = {
    "who": "{participant}, visit {session}{date}",
    "rotation": "sternum {value} deg, {kept} % kept ({low} to {high})",
    "rotation_alone": "sternum {value} deg",
    "rotation_none": "sternum not measured",
    "check": "check: {message}",
    "none": "no bout was found",
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
    "sternum_yaw_range_deg": "sternum (deg)",
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
    "setting": "setting",
    "value": "value",
    "sensor": "sensor",
    "column": "column",
    "role": "taken for",
    "unit": "unit",
    "rule": "because",
    "test": "test and side",
}
DOSE: Final[Words] = {
    "hold": "hold and load",
    "load_pct": "load (% of body mass)",
    "time": "time walked (s)",
    "strides": "strides",
    "distance": "distance (m)",
    "load_time": "load x time (kg s)",
    "rpe": "effort (0 to 10)",
    "pain": "pain (0 to 10)",
    "stop": "stopped because",
    "rest": "rest before (s)",
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
    "noise": "noise at rest, turn rate (deg/s)",
    "noise_acc": "noise at rest, acceleration (m/s2)",
    "rest": "time at rest (s)",
    "mounted": "mounted",
    "levelled": "levelled in",
    "forward": "forward told by",
    "slope": "slope of the sensor (deg)",
}
MOUNTED: Final = "up is {up}, away from the body is {out}"
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
RETEST_TABLE: Final[Words] = {
    "before": "before (deg)",
    "after": "after (deg)",
    "change": "change (deg)",
    "error": "error of the test (deg)",
    "source": "error from",
    "finding": "finding",
}
