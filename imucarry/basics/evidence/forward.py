"""Thresholds of telling which way the chest sensor faces, in the room `walk`."""

from __future__ import annotations

from imucarry.basics.evidence.row import ENGINEERING_CHOICE, Evidence

# --- speed out of standing ---------------------------------------------------------

SPEED_RATE_HZ = Evidence(
    key="forward.speed_rate_hz",
    value=50.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Speed is summed over means of about 20 ms: steps and turns are far slower.",
)
SPEED_REST_S = Evidence(
    key="forward.speed_rest_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Gravity is taken from this much of the standing next to the walk: a person who stands "
    "sways slowly.",
)
SPEED_REST_END_S = Evidence(
    key="forward.speed_rest_end_s",
    value=0.25,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="The end of a rest may hold the first lean into the walk.",
)
SPEED_AFTER_S = Evidence(
    key="forward.speed_after_s",
    value=(1.5, 3.0),
    unit="s",
    source=ENGINEERING_CHOICE,
    why="By then a person walks, and the mean holds two steps and more; a tilt that is 0.3 deg "
    "off adds 0.1 m/s.",
)
SPEED_TILT_MOST_DEG = Evidence(
    key="forward.speed_tilt_most_deg",
    value=35.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A trunk that tilts more bends to a load and does not only walk off.",
)
SPEED_SD_MPS = Evidence(
    key="forward.speed_sd_mps",
    value=0.3,
    unit="m/s",
    source=ENGINEERING_CHOICE,
    why="Least scatter of one speed: across the walk, where it should be 0, it scattered by 0.2 "
    "over 86 starts and stops of the open lower-back recordings of Voisard et al. 2023.",
)
SPEED_CLEAR = Evidence(
    key="forward.speed_clear",
    value=2.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Standard errors from which the mean speed tells forward from backward: right wherever it "
    "was reached on the open recordings of Voisard et al. 2023, in 48 of 51.",
)
SPEED_ALONE = Evidence(
    key="forward.speed_alone",
    value=4.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The same where the steps, with the trunk's pitch taken out too, say the opposite.",
)
SPEED_ACROSS_SD_MPS = Evidence(
    key="forward.speed_across_sd_mps",
    value=0.2,
    unit="m/s",
    source=ENGINEERING_CHOICE,
    why="Least scatter of one speed across the walk: that over 86 starts and stops of the open "
    "lower-back recordings of Voisard et al. 2023. A few speeds may agree by chance.",
)
SPEED_ERROR_MOST_DEG = Evidence(
    key="forward.speed_error_most_deg",
    value=15.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Standard error above which the speed's direction says nothing about the line of walking.",
)
STEPS_ERROR_DEG = Evidence(
    key="forward.steps_error_deg",
    value=5.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Usual error of the line of walking by the steps: 5.2 (root mean square) over the 51 open "
    "lower-back recordings of Voisard et al. 2023. What pitch and roll turn it by is added.",
)
LINES_APART_ERRORS = Evidence(
    key="forward.lines_apart_errors",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Speeds so many standard errors off the steps' line show, beyond chance, that the trunk's "
    "turning at the step rate has turned it. A single speed only makes it unsure.",
)
STEADIED_APART_DEG = Evidence(
    key="forward.steadied_apart_deg",
    value=20.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Without a clear speed, the steps' line is unsure where taking out pitch and "
    "roll turns it by more: by 17 at the most on the open lower-back recordings of Voisard et "
    "al. 2023, and three times the error of two lines of 5 deg each.",
)

# --- steps and turns -------------------------------------------------------------------

LEVER_M = Evidence(
    key="forward.lever_m",
    value=0.3,
    unit="m",
    source=ENGINEERING_CHOICE,
    why="A sternum lies this far above the hips, about which the trunk pitches and rolls.",
)
STEADIED_CLEAR = Evidence(
    key="forward.steadied_clear",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="As passes.forward_lock_least, with the trunk's pitch and roll taken out.",
)
TURN_BAND_HZ = Evidence(
    key="forward.turn_band_hz",
    value=0.5,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="A turn takes two seconds and more; the stride is faster.",
)
TURN_LEAST_RADPS = Evidence(
    key="forward.turn_least_radps",
    value=0.2,
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="Root mean square over the bouts: a half turn in 12 s gives 0.3.",
)
TURN_LEAST_MPS = Evidence(
    key="forward.turn_least_mps",
    value=0.1,
    unit="m/s",
    source=ENGINEERING_CHOICE,
    why="Speed that the pull to the inside of turns shows: never below -0.02 on the open "
    "recordings of Voisard et al. 2023, above 0.1 on four in five.",
)

# --- contacts where the trunk pitches or rolls ----------------------------------------

LEAD_BAND_HZ = Evidence(
    key="forward.lead_band_hz",
    value=(0.8, 4.5),
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Step rates of stride rates from 0.5 to 2 Hz.",
)
LEAD_CLEAR = Evidence(
    key="forward.lead_clear",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Forward leads the vertical clearly from here on: by 0.58 and more on the open "
    "lower-back recordings of Voisard et al. 2023.",
)
LEAD_LEAST = Evidence(
    key="forward.lead_least",
    value=0.1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A bout below it may lose its contacts, and is read otherwise than the rest of its "
    "session; one a little below the others is better read as they are.",
)
ALIKE_STEPS_RATIO = Evidence(
    key="forward.alike_steps_ratio",
    value=1.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Steps of the same foot differ by less than this in a walk, a limp too; false ones "
    "differ by more.",
)
MORE_STEPS_RATIO = Evidence(
    key="forward.more_steps_ratio",
    value=1.25,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="So many times the alike steps speak against the likelier reading of a bout: where "
    "it fails most are lost, and else the readings differ by a few.",
)
