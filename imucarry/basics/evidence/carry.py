"""Thresholds and defaults of the room `carry`."""

from __future__ import annotations

from imucarry.basics.evidence.carry_denials import (
    BESIDE_ALARM_NAMES,
    DENIAL_WORDS,
    FAINT_THINGS,
    NO_ANSWERS,
    NOT_OF_THE_BOUT,
    NOT_SLIPS,
    OTHER_MEANINGS,
    OTHER_SCORES,
    UNITS_AFTER_NUMBERS,
)
from imucarry.basics.evidence.carry_words import (
    ALARM_WORDS,
    BODY_PARTS,
    BODY_SIGNS,
    DIASTOLIC_ALARM_MMHG,
    EFFORT_WORDS,
    FAILURE_WORDS,
    JOINT_SIGNS,
    JOINT_WORDS,
    LEAST_ALARM_RATING,
    LIMB_WORDS,
    NERVE_WORDS,
    NOTE_PAIN_WORDS,
    NOTE_WORDS,
    PAIN_WORDS,
    PLANNED_STARTS,
    PLANNED_STOPS,
    SYSTOLIC_ALARM_MMHG,
)
from imucarry.basics.evidence.row import ENGINEERING_CHOICE, Evidence
from imucarry.basics.evidence.shoulder_rom import SHOULDER_ROM_ERRORS

# --- findings against the free walk -------------------------------------------

REDUCED_PCT = Evidence(
    key="carry.reduced_pct",
    value=75.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="No published cut-off for reduced thorax rotation was found; a quarter less than the "
    "own free walk is beyond what walks of one visit differ by chance.",
)
MINIMAL_PCT = Evidence(
    key="carry.minimal_pct",
    value=40.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="No published cut-off was found; less than four tenths of the own free walk is a trunk "
    "that people describe as still.",
)
MORE_THAN_FREE_PCT = Evidence(
    key="carry.more_than_free_pct",
    value=110.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="A load is not expected to turn the trunk more than walking without it: where the whole "
    "interval lies above this, another pace or the fit of the strap is doubted. One carry in forty "
    "lies above 100 by chance, hardly any above 110.",
)
BETWEEN_WALK_CV_PCT = Evidence(
    key="carry.between_walk_cv_pct",
    value=7.0,
    unit="%",
    source=ENGINEERING_CHOICE
    + "; informed by our analysis of open walks: Voisard et al. 2023, Image Processing On Line, "
    "doi 10.5201/ipol.2023.497 (low back, not sternum)",
    why="How far walks of one visit differ beyond their stride noise: two consecutive walks of "
    "8 to 15 strides differed with a net CV of 5.8 % (95 %: 1 to 8.6 %; 25 pairs, 9 adults); "
    "taken on the wide side because the sensor sat on the low back. Used for arm swing too, for "
    "want of data.",
)
BETWEEN_WALK_DF = Evidence(
    key="carry.between_walk_df",
    value=20.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Weight of that CV, as if it came from 20 degrees of freedom: persons are then expected "
    "to lie between 5.4 and 10.1 %; this visit's own free walks move it by their own number.",
)
BASELINE_LEAST_DEG = Evidence(
    key="carry.baseline_least_deg",
    value=3.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A free walk that turns less has nothing that a carry could lose within the error.",
)
BASELINE_FLOOR_RATIO = Evidence(
    key="carry.baseline_floor_ratio",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A free walk's swing must stand clear of what its unlocked part alone would give.",
)
BASELINE_FLOOR_MOST = Evidence(
    key="carry.baseline_floor_most",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Up to half of the free walk's swing, its unlocked part makes that at most 15 % too large "
    "(root of squares): a finding that allows for it is told.",
)
ARM_BASELINE_LEAST_DEG = Evidence(
    key="carry.arm_baseline_least_deg",
    value=5.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="An arm that hardly swings in the free walk has nothing that a carry could lose; adults "
    "swing some 30 to 50 deg (from memory, not confirmed).",
)
ARM_BASELINE_APART_PCT = Evidence(
    key="carry.arm_baseline_apart_pct",
    value=30.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="By chance (CV 7 %) the largest of three to five walks lies less than 23 to 27 % above the "
    "smallest in 19 of 20 visits (studentized range 3.31 and 3.86); free walks further apart "
    "were walked otherwise, and their mean is no yardstick for a carry like one of them.",
)
ARM_BESIDE_RATIO = Evidence(
    key="carry.arm_beside_ratio",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="An arm that swings less than a third of the other in a free walk is in a pocket, holds "
    "something, or is kept still for a reason that a person should name; a forearm bent so still "
    "reads the turning of the trunk as a swing.",
)
NEAR_FLOOR_RATIO = Evidence(
    key="carry.near_floor_ratio",
    value=2.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A range is a largest minus a smallest value, so unlocked motion only ever adds to it; "
    "near its floor the kept share is at most what is shown.",
)
SPEED_MATCH_PCT = Evidence(
    key="carry.speed_match_pct",
    value=10.0,
    unit="%",
    source=ENGINEERING_CHOICE
    + "; that stride length drives rotation: Huang et al. 2010 Gait Posture 31:444-449",
    why="Walks within a tenth in speed and in stride length are taken as walked alike.",
)
CADENCE_MATCH_PCT = Evidence(
    key="carry.cadence_match_pct",
    value=10.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="As for speed, where no distance is known: a tenth more steps a minute is a tenth more "
    "speed with the same steps, or steps a tenth shorter at the same speed. It is only told: a "
    "load raises cadence by itself, so nothing is matched on it.",
)
PHASE_FAR_DEG = Evidence(
    key="carry.phase_far_deg",
    value=60.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A sixth of the stride; a thorax that turns with the pelvis turns up to half a stride "
    "away from its usual time.",
)
PHASE_LEAST_R = Evidence(
    key="carry.phase_least_resultant",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A mean phase of strides that scatter over more than this says nothing.",
)

# --- load ladder -----------------------------------------------------------------

PAIN_LIMIT = Evidence(
    key="carry.pain_limit_0_10",
    value=0.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A bout with more pain than this never counts as a load that was kept.",
)
STRIDE_MATCH_PART = Evidence(
    key="carry.stride_match_part",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where speed differs, strides are called longer or shorter from this part of the "
    "tolerance on: stride length drives rotation, and strides of 1.46 against 1.36 m are longer.",
)
ORDER_TAU = Evidence(
    key="carry.order_tau",
    value=0.8,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="When load and order agree in nine of ten pairs (Kendall's tau 0.8), load and fatigue "
    "cannot be told apart.",
)

# --- perturbed carries -------------------------------------------------------------

SPREAD_BETWEEN_BOUTS_PCT = Evidence(
    key="carry.spread_between_bouts_pct",
    value=10.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="How far the spread of paths (SD) is taken to differ from bout to bout of itself: the mean "
    "of a walk differs by a CV of 7 %, and a spread goes with it and varies beside. It counts as "
    "carry.between_walk_df degrees of freedom. Where bouts differ by 15 %, the 95 % interval of "
    "the ratio holds the truth in 90 % (simulated).",
)
SPREAD_LEAST_STRIDES = Evidence(
    key="carry.spread_least_strides",
    value=10,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Fewer strides give a standard deviation that is uncertain by a quarter.",
)

# --- agreement of two tables -------------------------------------------------------

AGREE_LEAST_WITHIN_DF = Evidence(
    key="carry.agree_least_within_df",
    value=5,
    unit="{pairs}",
    source=ENGINEERING_CHOICE,
    why="Limits that allow for repeats need the variance within persons. From one repeated pair "
    "of 20 persons it is so loose that the limits' own intervals are 2.5 times as wide (simulated) "
    "as from the first pair of each.",
)

# --- shoulder tests ----------------------------------------------------------------

OWN_READINGS_DF = Evidence(
    key="carry.own_readings_df",
    value=4,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Three readings before and three after: the fewest from which the error of one side is "
    "taken from its own repeats (t is then 2.78).",
)
ROM_BOTH_SIDES_DF = Evidence(
    key="carry.rom_both_sides_df",
    value=6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A side with too few repeats takes those of the other side with its own only where both "
    "have this many degrees of freedom: sides may scatter unlike, the painful one more.",
)
ROM_SITTING_APART_DEG = Evidence(
    key="carry.rom_sitting_apart_deg",
    value=15.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Three readings that scatter with an SD of 4.5 deg lie within 15 deg in 19 of 20 sittings "
    "(studentized range 3.31); further apart one of them was likely read or written wrong.",
)
READING_STEP_DEG = Evidence(
    key="carry.reading_step_deg",
    value=1.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Readings are written to whole degrees; equal readings do not mean no error, so the "
    "SD is never below the step's own (step / sqrt 12), and the error never below one step.",
)
ROM_COARSE_STEP_DEG = Evidence(
    key="carry.rom_coarse_step_deg",
    value=5.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Goniometers are often read to the nearest 5 deg: where all readings of a test are "
    "multiples of it, it is taken as their step; one division is then no change.",
)
ROM_COARSE_READINGS = Evidence(
    key="carry.rom_coarse_readings",
    value=6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Six readings to whole degrees are all multiples of 5 by chance in 1 of 15 000 tests, more "
    "often where they repeat; with fewer the step is not judged.",
)

__all__ = [
    "ALARM_WORDS",
    "BESIDE_ALARM_NAMES",
    "BODY_PARTS",
    "BODY_SIGNS",
    "DENIAL_WORDS",
    "DIASTOLIC_ALARM_MMHG",
    "EFFORT_WORDS",
    "FAILURE_WORDS",
    "FAINT_THINGS",
    "JOINT_SIGNS",
    "JOINT_WORDS",
    "LEAST_ALARM_RATING",
    "LIMB_WORDS",
    "NERVE_WORDS",
    "NOTE_PAIN_WORDS",
    "NOTE_WORDS",
    "NOT_OF_THE_BOUT",
    "NOT_SLIPS",
    "NO_ANSWERS",
    "OTHER_MEANINGS",
    "OTHER_SCORES",
    "PAIN_WORDS",
    "PLANNED_STARTS",
    "PLANNED_STOPS",
    "SHOULDER_ROM_ERRORS",
    "SYSTOLIC_ALARM_MMHG",
    "UNITS_AFTER_NUMBERS",
]
