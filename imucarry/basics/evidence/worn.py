"""Thresholds of the checks of sensors: worn wrong, moved, contradicting each other."""

from __future__ import annotations

from imucarry.basics.evidence.row import ENGINEERING_CHOICE, Evidence

# --- worn wrong or switched off ----------------------------------------------------------

SIDE_CLEAR = Evidence(
    key="worn.side_clear",
    value=1.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Side margin of the contacts from which left and right are taken as told apart.",
)
UNCOVERED_MOST_S = Evidence(
    key="worn.uncovered_most_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A bout's window may reach so far past a recording; it holds standing at both ends.",
)
SWAPPED_MATCH = Evidence(
    key="worn.swapped_match",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A free arm within 60 deg of the phase of the other arm is taken for the other arm.",
)
SWINGS_LEAST_DEG = Evidence(
    key="worn.swings_least_deg",
    value=4.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Mean amplitude from which an arm's phase to the steps says which arm it is.",
)
LOADED_SWINGS_MORE = Evidence(
    key="worn.loaded_swings_more",
    value=2.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A hand that carries swings less than the empty one; twice as much is worth a look.",
)
LOADED_SWINGS_DEG = Evidence(
    key="worn.loaded_swings_deg",
    value=10.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A loaded hand may swing by a few degrees beside a free arm that is held as still.",
)
UPSIDE_DOWN_DEG = Evidence(
    key="worn.upside_down_deg",
    value=90.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A forearm that hangs farther than this from its stated axis hangs the other way up.",
)
CHEST_TILT_MOST_DEG = Evidence(
    key="worn.chest_tilt_most_deg",
    value=6.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Usual tilt of a sensor about its mean within two seconds: at most 3.1 deg at the lower "
    "back of the open recordings of Voisard et al. 2023, 8.6 and more at swinging forearms.",
)
CHEST_TILT_WINDOW_S = Evidence(
    key="worn.chest_tilt_window_s",
    value=2.2,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="About two strides: slower bending of the trunk is no swing.",
)
WRIST_TILT_FRAC = Evidence(
    key="worn.wrist_tilt_frac",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A wrist that tilts by less than half of the chest is taken for the chest; a trunk that "
    "sways strongly has arms that swing as well.",
)

# --- moved ------------------------------------------------------------

MOVED_REST_LEAST_S = Evidence(
    key="worn.moved_rest_least_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Two periods of quiet sway and more: a shorter stillness may be a moment of a movement.",
)
MOVED_STANDING_DEG = Evidence(
    key="worn.moved_standing_deg",
    value=6.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="As much as a lean that matters, and more than standings before and after a walk differ "
    "by: up to 5.4 deg in 52 open lower-back recordings of Voisard et al. 2023.",
)
MOVED_SCATTER = Evidence(
    key="worn.moved_scatter",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A step between two groups of standings, in times the scatter within them: less may be "
    "standings that all differ.",
)
MOVED_SHARE = Evidence(
    key="worn.moved_share",
    value=0.33,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Standings with no walk on their side of the step, such as a look at the watch at the "
    "end, tilt the session's level only where they are this part of all.",
)
MOVED_WALK_DEG = Evidence(
    key="worn.moved_walk_deg",
    value=5.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="More than the trunk's mean tilt usually differs by between the same person's free walks.",
)
MOVED_ARM_DEG = Evidence(
    key="worn.moved_arm_deg",
    value=12.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="The elbow bends more in quicker walks; a sensor tilted by less than this moves the "
    "swing by little.",
)

# --- contradicting each other or the sheet -----------------------------------------

TURNED_CUTOFF_HZ = Evidence(
    key="worn.turned_cutoff_hz",
    value=0.2,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="A turn takes 2 to 4 s; an arm that turns with each stride, as slow as one in 2 s, is "
    "all but gone.",
)
TURNED_GRID_HZ = Evidence(
    key="worn.turned_grid_hz",
    value=10.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Ten means a second hold all of what is slower than 0.2 Hz.",
)
TURNED_RADPS = Evidence(
    key="worn.turned_radps",
    value=0.1,
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="Root mean square over the bouts: half a turn a minute gives 0.12, straight walks 0.02.",
)
TURNED_TOGETHER = Evidence(
    key="worn.turned_together",
    value=0.8,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Correlation of chest and wrists that turn together: 0.95 and more on invented walks.",
)
TURNED_TIMES = Evidence(
    key="worn.turned_times",
    value=1.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Chest and wrists that were worn right turned within 6 % as far on invented walks; an arm "
    "that moves in each turn may add some.",
)
TURNED_UNTIMED_TIMES = Evidence(
    key="worn.turned_untimed_times",
    value=1.7,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="So far apart no clock and no gesture brings two sensors through the same turns.",
)
TURNED_LEAST_TURNS = Evidence(
    key="worn.turned_least_turns",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Two turns may both be odd.",
)
TURNED_LANE_DEG = Evidence(
    key="worn.turned_lane_deg",
    value=30.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="The median of half turns came within 20 deg of 180 on invented walks, slow ones too.",
)
TIMES_MOST_S = Evidence(
    key="worn.times_most_s",
    value=20.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A stopwatch is off by seconds; bouts lie farther apart than twice this only with rests.",
)
TIMES_LEAST_S = Evidence(
    key="worn.times_least_s",
    value=30.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="In less there is no walk with standing on both sides.",
)
TIMES_SHIFT_S = Evidence(
    key="worn.times_shift_s",
    value=3.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Up to two seconds are lost by noting times by hand, and cost a stride or two.",
)
TIMES_GAIN_FRAC = Evidence(
    key="worn.times_gain_frac",
    value=0.08,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A bout of 40 s that begins 4 s late holds a tenth less walking; pauses and turns inside "
    "move with it.",
)
TIMES_ALIKE_FRAC = Evidence(
    key="worn.times_alike_frac",
    value=0.02,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Movement varies by this much from one second of walking to the next bout's.",
)
FORGOTTEN_LEAST_S = Evidence(
    key="worn.forgotten_least_s",
    value=12.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Walking outside the bouts is asked about from the length of a short carry of 15 m on; a "
    "few steps to the weight are shorter.",
)
FORGOTTEN_LEAST_FRAC = Evidence(
    key="worn.forgotten_least_frac",
    value=0.6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A bout that was forgotten is about as long as the others: at least this part of their "
    "median. Times that are off by seconds, and walking on after the last lane, are less.",
)
WAYS_BACK_LEAST_FRAC = Evidence(
    key="worn.ways_back_least_frac",
    value=0.4,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where such walks are as many as this part of the bouts, the person walked back after the "
    "carries: nobody forgets every other bout. It is then only noted.",
)
SHAKE_LOW_STRIDES = Evidence(
    key="worn.shake_low_strides",
    value=3.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A trunk turns once a stride and a little at two and three times that; above this many "
    "times a stride it hardly turns by itself.",
)
SHAKE_HIGH_HZ = Evidence(
    key="worn.shake_high_hz",
    value=7.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Below the ringing of soft tissue (8 to 15 Hz), which is taken out of the angles; a loose "
    "strap is slower.",
)
SHAKE_LEAST_DEG = Evidence(
    key="worn.shake_least_deg",
    value=0.5,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A tight sensor at the lower back shakes by 0.2 to 0.4 deg (53 open recordings of walks, "
    "Voisard et al. 2023); from here on the range of a small rotation grows by a degree and more.",
)
SHAKE_LEAST_FRAC = Evidence(
    key="worn.shake_least_frac",
    value=0.15,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Of the rotation in the stride's rhythm: less does not change a finding.",
)
SHAKE_LEAST_CONTACTS = Evidence(
    key="worn.shake_least_contacts",
    value=8,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Some four strides, so that one jolt does not speak for a strap.",
)
