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
    why="Below the slowest stride rate looked for (0.5 Hz), fast enough to follow a turn.",
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
    why="A walk of two or three seconds has no cycle to spare for its start and stop.",
)
CYCLE_LENGTH_FRAC = Evidence(
    key="walk.cycle_length_frac",
    value=(0.6, 1.5),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A cycle this much shorter or longer than the walk's median has a mark missed or too many.",
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

# --- sensors worn wrong ----------------------------------------------------------

SIDE_CLEAR = Evidence(
    key="walk.side_clear",
    value=1.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Side margin of the contacts from which left and right are taken as told apart.",
)
UNCOVERED_MOST_S = Evidence(
    key="walk.uncovered_most_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A bout's window may reach so far past a recording; it holds standing at both ends.",
)
SWAPPED_MATCH = Evidence(
    key="walk.swapped_match",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A free arm within 60 deg of the phase of the other arm is taken for the other arm.",
)
SWINGS_LEAST_DEG = Evidence(
    key="walk.swings_least_deg",
    value=4.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Mean amplitude from which an arm's phase to the steps says which arm it is.",
)
LOADED_SWINGS_MORE = Evidence(
    key="walk.loaded_swings_more",
    value=2.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A hand that carries swings less than the empty one; twice as much is worth a look.",
)
LOADED_SWINGS_DEG = Evidence(
    key="walk.loaded_swings_deg",
    value=10.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A loaded hand may swing by a few degrees beside a free arm that is held as still.",
)
UPSIDE_DOWN_DEG = Evidence(
    key="walk.upside_down_deg",
    value=90.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A forearm that hangs farther than this from its stated axis hangs the other way up.",
)
CHEST_TILT_MOST_DEG = Evidence(
    key="walk.chest_tilt_most_deg",
    value=6.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Usual tilt of a sensor about its mean within two seconds: at most 3.1 deg at the lower "
    "back of the open recordings of Voisard et al. 2023, 8.6 and more at swinging forearms.",
)
CHEST_TILT_WINDOW_S = Evidence(
    key="walk.chest_tilt_window_s",
    value=2.2,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="About two strides: slower bending of the trunk is no swing.",
)
WRIST_TILT_FRAC = Evidence(
    key="walk.wrist_tilt_frac",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A wrist that tilts by less than half of the chest is taken for the chest; a trunk that "
    "sways strongly has arms that swing as well.",
)
BACKWARDS_LEAD = Evidence(
    key="walk.backwards_lead",
    value=0.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Below it the walk does not say clearly enough which way the sensor faces.",
)
STEP_BAND_HZ = Evidence(
    key="walk.step_band_hz",
    value=(0.8, 4.5),
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Step rates of stride rates from 0.5 to 2 Hz.",
)

# --- sensors that moved ------------------------------------------------------------

MOVED_REST_LEAST_S = Evidence(
    key="walk.moved_rest_least_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Two periods of quiet sway and more: a shorter stillness may be a moment of a movement.",
)
MOVED_STANDING_DEG = Evidence(
    key="walk.moved_standing_deg",
    value=6.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="As much as a lean that matters, and more than standings before and after a walk differ "
    "by: up to 5.4 deg in 52 open lower-back recordings of Voisard et al. 2023.",
)
MOVED_SCATTER = Evidence(
    key="walk.moved_scatter",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A step between two groups of standings, in times the scatter within them: less may be "
    "standings that all differ.",
)
MOVED_SHARE = Evidence(
    key="walk.moved_share",
    value=0.33,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Standings with no walk on their side of the step, such as a look at the watch at the "
    "end, tilt the session's level only where they are this part of all.",
)
MOVED_WALK_DEG = Evidence(
    key="walk.moved_walk_deg",
    value=5.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="More than the trunk's mean tilt usually differs by between the same person's free walks.",
)
MOVED_ARM_DEG = Evidence(
    key="walk.moved_arm_deg",
    value=12.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="The elbow bends more in quicker walks; a sensor tilted by less than this moves the "
    "swing by little.",
)
TURNED_CUTOFF_HZ = Evidence(
    key="walk.turned_cutoff_hz",
    value=0.2,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="A turn takes 2 to 4 s; an arm that turns with each stride, as slow as one in 2 s, is "
    "all but gone.",
)
TURNED_GRID_HZ = Evidence(
    key="walk.turned_grid_hz",
    value=10.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Ten means a second hold all of what is slower than 0.2 Hz.",
)
TURNED_RADPS = Evidence(
    key="walk.turned_radps",
    value=0.1,
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="Root mean square over the bouts: half a turn a minute gives 0.12, straight walks 0.02.",
)
TURNED_TOGETHER = Evidence(
    key="walk.turned_together",
    value=0.8,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Correlation of chest and wrists that turn together: 0.95 and more on invented walks.",
)
TURNED_TIMES = Evidence(
    key="walk.turned_times",
    value=1.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Chest and wrists that were worn right turned within 6 % as far on invented walks; an arm "
    "that moves in each turn may add some.",
)
TURNED_UNTIMED_TIMES = Evidence(
    key="walk.turned_untimed_times",
    value=1.7,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="So far apart no clock and no gesture brings two sensors through the same turns.",
)
TURNED_LEAST_TURNS = Evidence(
    key="walk.turned_least_turns",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Two turns may both be odd.",
)
TURNED_LANE_DEG = Evidence(
    key="walk.turned_lane_deg",
    value=30.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="The median of half turns came within 20 deg of 180 on invented walks, slow ones too.",
)
TIMES_MOST_S = Evidence(
    key="walk.times_most_s",
    value=20.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A stopwatch is off by seconds; bouts lie farther apart than twice this only with rests.",
)
TIMES_LEAST_S = Evidence(
    key="walk.times_least_s",
    value=30.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="In less there is no walk with standing on both sides.",
)
TIMES_SHIFT_S = Evidence(
    key="walk.times_shift_s",
    value=3.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Up to two seconds are lost by noting times by hand, and cost a stride or two.",
)
TIMES_GAIN_FRAC = Evidence(
    key="walk.times_gain_frac",
    value=0.08,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A bout of 40 s that begins 4 s late holds a tenth less walking; pauses and turns inside "
    "move with it.",
)
TIMES_ALIKE_FRAC = Evidence(
    key="walk.times_alike_frac",
    value=0.02,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Movement varies by this much from one second of walking to the next bout's.",
)
