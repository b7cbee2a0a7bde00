"""Thresholds and defaults of the room `walk`."""

from __future__ import annotations

from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE, Evidence

# --- trunk, sternum yaw and arm swing ------------------------------------------

FILTER_MARGIN_S = Evidence(
    key="walk.filter_margin_s",
    value=5.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Longer than the memory of the slowest filter over a bout.",
)
ANGLE_CUTOFF_HZ = Evidence(
    key="walk.angle_cutoff_hz",
    value=6.0,
    unit="Hz",
    source=COMMON_PRACTICE,
    why="Keeps six harmonics of a stride rate of 1 Hz; soft tissue and strap ring at 8 to 15 Hz.",
)
ANGLE_FILTER_ORDER = Evidence(
    key="walk.angle_filter_order",
    value=4,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Steep enough to keep the third stride harmonic whole and to stop ringing above 8 Hz.",
)
HEADING_CUTOFF_HZ = Evidence(
    key="walk.heading_cutoff_hz",
    value=0.3,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Below the slowest stride rate looked for (0.4 Hz), fast enough to follow a turn.",
)
YAW_FITS = Evidence(
    key="walk.yaw_fits",
    value=(
        (4, 4, 1, 0.6),
        (4, 4, 2, 0.7),
        (4, 4, 3, 0.85),
        (4, 4, 4, 1.0),
        (4, 4, 5, 1.3),
        (2, 4, 3, 2.0),
        (4, 2, 3, 2.0),
        (1, 4, 3, 2.6),
        (4, 1, 3, 2.6),
        (2, 2, 2, 2.6),
        (0, 4, 2, 4.0),
        (4, 0, 2, 4.0),
    ),
    unit="1",
    source=ENGINEERING_CHOICE + "; found on invented walks: straight, curved, beside turns",
    why="Each row: quarter strides used before and after, degree of the path's polynomial, error "
    "of the yaw range that a residual of 1 stands for; the row that promises least is taken.",
)
YAW_HARMONICS = Evidence(
    key="walk.yaw_harmonics",
    value=6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Stride harmonics that the path's polynomial is kept apart from: as many as pass the "
    "low-pass at a stride rate of 1 Hz.",
)
FLOOR_LEAST_STRIDES = Evidence(
    key="walk.floor_least_strides",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="From fewer strides the bout's mean curve is mostly the stride itself.",
)
CARRIED_FRAC = Evidence(
    key="walk.carried_frac",
    value=(0.2, 1.0),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Share of the trunk's yaw that turns a hanging forearm, and one held overhead: the girdle "
    "carries the shoulder of a hanging arm round a little, a raised arm turns whole.",
)
HELD_HEADING_SD_DEG = Evidence(
    key="walk.held_heading_sd_deg",
    value=10.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A forearm's heading wanders by about this much against the trunk's over a walk.",
)
WORLDS_DRIFT_LEAST_FRAC = Evidence(
    key="walk.worlds_drift_least_frac",
    value=0.1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where the gyroscopes' biases are known so well that less than a tenth of what the arms "
    "show would be believed, as after any rest, nothing is looked for.",
)
WORLDS_TURNED_DEG = Evidence(
    key="walk.worlds_turned_deg",
    value=60.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="The walk's heading, seen from a wrist, differed by up to 43 deg between invented walks of "
    "one world (half of them by less than 1 deg): more is a turn of the world.",
)
WORLDS_DRIFT_DEGREE_S = Evidence(
    key="walk.worlds_drift_degree_s",
    value=60.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A gyroscope's bias moves with its warmth over minutes; posture changes sooner.",
)
WORLDS_DRIFT_MOST_DEGREE = Evidence(
    key="walk.worlds_drift_most_degree",
    value=8,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Enough for a warm-up and its end; a polynomial of more would follow every posture.",
)
STANDING_NEAR_S = Evidence(
    key="walk.standing_near_s",
    value=120.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Rests this close to a walk are taken to tell how the arm hangs.",
)
STANDING_MOST_S = Evidence(
    key="walk.standing_most_s",
    value=10.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A longer rest counts no more: one long pause with folded arms must not decide.",
)
HANGS_OUTWARD_DEG = Evidence(
    key="walk.hangs_outward_deg",
    value=5.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="How far outward a forearm hangs, which gravity cannot tell: a hand that clears the thigh "
    "is some 5 cm farther out than the shoulder, over an arm's length of 0.55 m to the wrist.",
)
STANDING_LEAST_S = Evidence(
    key="walk.standing_least_s",
    value=0.5,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Half a second of standing tells how the arm hangs.",
)
STANDING_APART_DEG = Evidence(
    key="walk.standing_apart_deg",
    value=40.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A walking forearm hangs within 40 deg of its standing: farther, and it did not hang then.",
)
SMALL_SWING_DEGPS = Evidence(
    key="walk.small_swing_degps",
    value=10.0,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="Root mean square rate of a swing of 5 deg at 0.9 Hz: below it an arm hardly swings and "
    "takes the plane of its free walk.",
)
SHARED_LEAST = Evidence(
    key="walk.shared_least",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Least likeness of the chest's and the wrist's horizontal acceleration for the direction "
    "of walking to be read from it.",
)
SHARED_HARMONICS = Evidence(
    key="walk.shared_harmonics",
    value=(4, 6),
    unit="1",
    source=ENGINEERING_CHOICE + "; found on invented walks",
    why="Stride harmonics in which chest and wrist speed up and slow down together; in lower ones "
    "the arm's own swing leads astray.",
)
SHARED_BAND_HZ = Evidence(
    key="walk.shared_band_hz",
    value=(0.05, 0.4),
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Starts, stops and turns, below the slowest stride rate.",
)
SHARED_RATE_HZ = Evidence(
    key="walk.shared_rate_hz",
    value=10.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Ten means a second hold all of what is slower than 0.4 Hz.",
)
LEVEL_LEAST = Evidence(
    key="walk.level_least",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The free walk's plane is used only where its normal is still less than 60 deg from level.",
)
ARM_BAND_HZ = Evidence(
    key="walk.arm_band_hz",
    value=(0.4, 4.5),
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Stride rates from 0.5 to 2 Hz and their step rates.",
)
ARM_LASTS_HZ = Evidence(
    key="walk.arm_lasts_hz",
    value=0.4,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Bridges the turning points of a swing, not a pause between two walks.",
)
ARM_MOVES_DEGPS = Evidence(
    key="walk.arm_moves_degps",
    value=8.0,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="Below it a forearm is as still as in standing, and no cycle can be told.",
)
ARM_FULL_FRAC = Evidence(
    key="walk.arm_full_frac",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Squared rate against its median from which the arm swings fully: about half the rate.",
)
CYCLES_LEAST = Evidence(
    key="walk.cycles_least",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A walk of two or three seconds has no cycle to spare for its start and stop; an arm that "
    "holds a load is moved for as long by a lift or a turn.",
)
CYCLE_LENGTH_FRAC = Evidence(
    key="walk.cycle_length_frac",
    value=(0.6, 1.5),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A cycle this much shorter or longer than the walk's median has a mark missed or too many.",
)
LANE_TURN_DEG = Evidence(
    key="walk.lane_turn_deg",
    value=90.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Who faces less than this from where they went before a stop goes on along the same lane.",
)
STRIDE_SHORTEST_S = Evidence(
    key="walk.stride_shortest_s",
    value=0.5,
    unit="s",
    source="Winwood 2014; Keogh 2014 (heavy two-hand carries: stride rates up to 2.0 Hz)",
    why="The fastest stride looked for.",
)
STRIDE_LONGEST_S = Evidence(
    key="walk.stride_longest_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="The slowest stride looked for.",
)
STEP_LONGEST_S = Evidence(
    key="walk.step_longest_s",
    value=0.65,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A period up to this long is a step as a rule, which is more than 185 steps a minute as a "
    "stride; a longer one is a stride.",
)
REPEAT_LEAST = Evidence(
    key="walk.repeat_least",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Correlation of an arm's motion with itself a stride later from which it has cycles.",
)
REPEAT_FRAC = Evidence(
    key="walk.repeat_frac",
    value=0.9,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The shortest lag that repeats nearly as well as the best is taken: every multiple of a "
    "period repeats too.",
)
TWICE_FRAC = Evidence(
    key="walk.twice_frac",
    value=0.95,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A step is told from a stride by its double repeating as well.",
)
CYCLE_BAND_FRAC = Evidence(
    key="walk.cycle_band_frac",
    value=(0.6, 1.5),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Passes the stride rate as it changes within a walk, not the step rate.",
)
CYCLE_LEAST_FRAC = Evidence(
    key="walk.cycle_least_frac",
    value=0.25,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Below it the arm swings at the step rate and its stride-rate part marks no cycle.",
)
