"""Titles, captions, legends and one-sentence findings of the pictures."""

from __future__ import annotations

from typing import Final

Words = dict[str, str]

# --- pictures ------------------------------------------------------------------

FIGURES: Final[dict[str, Words]] = {
    "rotation": {
        "title": "Trunk rotation, stride by stride",
        "caption": "Each dot is one stride that counts. The diamond is the bout's mean, the bar "
        "where it very likely lies (95 %). The shaded stripe holds nine of ten strides of the free "
        "walks, the dash-dotted line is their mean.",
        "x": "trunk rotation in a stride (deg)",
    },
    "swing": {
        "title": "Arm swing, stride by stride",
        "title_one": "Swing of the {side} arm, stride by stride",
        "caption": "Squares are the left forearm, triangles the right one; hollow means that the "
        "arm held the load. The large mark is the bout's mean, the bar where it very likely lies "
        "(95 %), the shaded stripe nine of ten strides of the same arm's free walks, the "
        "dash-dotted line their mean.",
        "all_walks": " Stripe and line are of all free walks; the findings of {bouts} are against "
        "those of like pace alone.",
        "x": "forearm swing in a stride (deg)",
    },
    "ladder": {
        "title": "Load ladder: {hold}",
        "caption": "Each diamond is one tested load, the bar where its share very likely lies "
        "(95 %){fit}. The dashed line is the {threshold} % that counts as kept. Nothing is said "
        "about loads that were not carried.",
        "line": "; the line is the trend over the loads and cannot rise with load",
        "band": "; the line is the trend over the loads and cannot rise with load, the shaded area "
        "is where the trend very likely lies (95 %)",
        "hollow": " A hollow diamond does not count: {loads}.",
        "x": "load carried (kg)",
        "y": "kept of the free walk's trunk rotation (%)",
    },
    "curves": {
        "title": "The mean stride of {bout}",
        "caption": "From one left contact (0 %) to the next (100 %). Lines are means of the "
        "strides that count, shaded areas the spread of the strides (one SD to each side); "
        "dash-dotted is the free walk. The dotted upright line is the right contact. The mean "
        "stride goes through fewer degrees than the strides do on average, because they do not all "
        "peak at the same moment.",
        "x": "stride (%)",
        "yaw": "trunk rotation (deg, up is left)",
        "left": "left forearm (deg, up is forward)",
        "right": "right forearm (deg, up is forward)",
    },
    "strip": {
        "title": "The strides of {bout}, one after another",
        "caption": "Dots are strides that count. A cross is a stride that was left out; the rows "
        "below tell why, and one without a value stands there alone. Dotted upright lines part one "
        "pass from the next. No stride is left out for its value.",
        "gap": " A shaded bar stands where samples are missing.",
        "x": "stride number",
        "y": "trunk rotation (deg)",
        "why": "left out because",
    },
    "trace": {
        "title": "The signals of {bout}",
        "caption": "Top: the chest sensor's turn rates as recorded, about its own three axes. "
        "Middle: the heading of the sternum, the path still in it. Bottom: the path taken out; "
        "squares are left contacts, triangles right contacts. Lines are thinned for the page.",
        "x": "time on the session clock (s)",
        "caption_wrists": "The wrist sensors' turn rates as recorded, about their own three "
        "axes. Lines are thinned for the page.",
        "raw": "{place}: turn rates as recorded (deg/s)",
        "heading": "heading with the path (deg)",
        "clean": "heading without the path (deg, up is left)",
    },
    "retest": {
        "picture": "Change of each test against its error",
        "caption": "The diamond is the change from before to after. The band about 0 is the error "
        "of the test: a diamond outside it changed by more than the error. A hollow diamond has no "
        "band: its error is not known.",
        "caption_positioning": " The thin, longer band is a published error of a new positioning: "
        "a diamond within it is not counted as a change.",
        "x": "change (deg)",
        "row": "{name}: {before} to {after}",
    },
    "sketch": {
        "title": "Seen from above",
        "caption": "The person walks up the page. The filled fan is the trunk rotation in this "
        "bout; the dash-dotted one is that of the free walk, drawn longer so that both are "
        "seen. The crossing lines are the shoulders at both ends of it. A black box is a "
        "load at the side, or in front of the shoulder (rack, bottoms-up); a hollow box is a load "
        "overhead. Angles are drawn {times} times as wide as they were, and evenly to both sides: "
        "which way the trunk faced on average is not known.",
    },
}
LEGEND: Final[Words] = {
    "stride": "one stride",
    "mean": "mean and where it very likely lies (95 %)",
    "free_band": "free walks, 9 of 10 strides",
    "free_mean": "free walks, mean",
    "like_mean": "forearm, free walks of like pace, mean",
    "threshold": "{threshold} % counts as kept",
    "fit": "trend over the loads",
    "fit_band": "where the trend very likely lies",
    "not_counted": "does not count: pain, symptom or early stop",
    "arm_stride": "{side} arm, one stride",
    "arm_mean": "{side} arm, mean and where it very likely lies (95 %)",
    "held_stride": "{side} arm, holding the load",
    "free_arm": "free arm",
    "held_arm": "held arm",
    "carry": "this bout, mean",
    "carry_of": "{what}, this bout, mean",
    "carry_sd": "spread of the strides",
    "right_contact": "right contact",
    "left_contact": "left contact",
    "left_out": "left out",
    "pass": "next pass",
    "axis": "sensor axis {axis}",
    "heading": "sternum",
    "change": "change",
    "change_open": "change, error not known",
    "no_change": "no change",
    "error": "within the error of the test",
    "positioning": "published error of a new positioning",
    "path": "path",
}
FIGURE_FINDINGS: Final[Words] = {
    "rotation": "Trunk rotation was widest in {most} ({most_deg} deg), smallest in {least} "
    "({least_deg} deg).",
    "rotation_one": "Trunk rotation was {most_deg} deg in {most}.",
    "rotation_none": "No stride could be scored for trunk rotation.",
    "swing": "The {side} arm swung farthest in {most} ({most_deg} deg) and least in {least} "
    "({least_deg} deg).",
    "swing_held": "Where it was free, the {side} arm swung farthest in {most} ({most_deg} deg) and "
    "least in {least} ({least_deg} deg).",
    "swing_one": "The free {side} arm swung {most_deg} deg in {most}.",
    "swing_none": "No swing of a free {side} arm was measured.",
    "curves": "Over the mean stride the trunk went through {value} deg; in the free walk "
    "through {base} deg.",
    "curves_alone": "Over the mean stride the trunk went through {value} deg.",
    "curves_arms": "Over the mean stride the {side} forearm went through {value} deg.",
    "curves_like": " The arms are drawn over the free walks of like pace.",
    "curves_none": "No stride counts, so there is no mean stride.",
    "strip": "{kept} of {all} strides count for trunk rotation; {out} were left out.",
    "strip_why": "{kept} of {all} strides count for trunk rotation; {out} were left out: {why}.",
    "retest": "{beyond} of {all} tests changed by more than the error.",
    "retest_judged": "{beyond} of {judged} tests that can be judged changed by more than the "
    "error; {unknown} cannot be judged.",
    "retest_one": "The only test that can be judged changed by more than the error; {unknown} "
    "cannot be judged.",
    "retest_one_none": "The only test that can be judged did not change by more than the error; "
    "{unknown} cannot be judged.",
    "retest_unknown": "None of {all} tests can be judged.",
    "trace": "From {start} s to {end} s of the session.",
    "sketch_bout": "{bout}, {held}",
    "sketch": "{bout}: {value} deg.",
    "sketch_base": "{bout}: {value} deg; free walk {base} deg.",
    "sketch_none": "{bout}: trunk rotation is not known.",
}
