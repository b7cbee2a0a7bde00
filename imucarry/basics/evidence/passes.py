"""Thresholds and defaults of walking bouts, placement, passes and strides, in the room `walk`."""

from __future__ import annotations

from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE, Evidence

# --- placement ---------------------------------------------------------------------

STANDING_NEAR_S = Evidence(
    key="passes.standing_near_s",
    value=15.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Rest this close to walking is standing; farther off it may be sitting, or a sensor "
    "that is not worn.",
)
STANDING_TILT_DEG = Evidence(
    key="passes.standing_tilt_deg",
    value=25.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Rest whose vertical differs more from that of walking is sitting or bending.",
)
STANDING_LEAST_S = Evidence(
    key="passes.standing_least_s",
    value=0.5,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Shorter stillness is a moment of a movement.",
)
STANDING_MOST_S = Evidence(
    key="passes.standing_most_s",
    value=10.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Longer rest weighs no more, so that one long rest does not outvote the others.",
)
FORWARD_BAND_LOW_HZ = Evidence(
    key="passes.forward_band_low_hz",
    value=1.2,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="With the upper edge: step rates, without the sway at stride rate.",
)
FORWARD_BAND_HIGH_HZ = Evidence(
    key="passes.forward_band_high_hz",
    value=4.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="With the lower edge: step rates, without impacts.",
)
FORWARD_LOCK_LEAST = Evidence(
    key="passes.forward_lock_least",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Coherence with the vertical, times the sine of the lead, below which the forward "
    "axis is said to be unsure; it was 0.55 and more on the open lower-back recordings of "
    "Voisard et al. 2023.",
)
UP_CONTRADICTED_DEG = Evidence(
    key="passes.up_contradicted_deg",
    value=60.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A stated upward axis farther than this from gravity's is a mistake, not a slope.",
)
OUT_CONTRADICTED_DEG = Evidence(
    key="passes.out_contradicted_deg",
    value=50.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Forward as the walking tells it is off by 25 deg at the most in simulated walks; a chest "
    "sensor that is stated to face farther to the side than this was turned, or its axis misread.",
)
OUT_STEEP_DEG = Evidence(
    key="passes.out_steep_deg",
    value=60.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A stated outward axis steeper than this says nothing about forward.",
)

# --- passes and strides ---------------------------------------------------------------

TURN_DEG_PER_STRIDE = Evidence(
    key="passes.turn_deg_per_stride",
    value=35.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Between a gentle curve (up to 20 deg a stride) and turning round in four strides "
    "(45 deg a stride).",
)
TURN_EDGE_DEG_PER_STRIDE = Evidence(
    key="passes.turn_edge_deg_per_stride",
    value=22.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Just above a gentle curve: a turn reaches as far as the heading changes faster.",
)
TURN_EDGE_STRIDES = Evidence(
    key="passes.turn_edge_strides",
    value=0.25,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The heading has begun to change before it changes by the edge's amount: at 90 deg a "
    "stride, a quarter of a stride before.",
)
BESIDE_TURN_STRIDES = Evidence(
    key="passes.beside_turn_strides",
    value=0.25,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Beside a turn the path is fitted without the neighbour, so only strides that end "
    "within this part of a stride from its edge may hold some of it.",
)
STOP_STEPS = Evidence(
    key="passes.stop_steps",
    value=2.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Steps' worth of time without a contact that is a stop; one missed contact makes two.",
)
STOP_UNSEEN_S = Evidence(
    key="passes.stop_unseen_s",
    value=5.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Without contacts because of a gap in the data, walking is taken to go on for this long.",
)
PASS_LEAST_CONTACTS = Evidence(
    key="passes.pass_least_contacts",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A stride has three contacts.",
)
TRIM_STRIDES = Evidence(
    key="passes.trim_strides",
    value=1,
    unit="1",
    source=COMMON_PRACTICE,
    why="The first and the last stride of a pass speed up and slow down.",
)
MISSED_STEPS = Evidence(
    key="passes.missed_steps",
    value=1.7,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A step this many times the usual one hides a contact that was missed; twice would be "
    "one missed contact in even walking.",
)

# --- walking bouts ------------------------------------------------------------------

WALKS = (
    "measured on the open wrist recordings of Matey-Sanz et al. 2023, Data in Brief, "
    "doi 10.1016/j.dib.2023.109809 (walking), and the 140 recordings of shoulder exercises in "
    "seglearn 1.2.5 (none)"
)

SEARCH_RATE_HZ = Evidence(
    key="passes.search_rate_hz",
    value=32.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Holds the rhythm of walking, and a day of it fits in memory.",
)
SEARCH_CHUNK_S = Evidence(
    key="passes.search_chunk_s",
    value=300.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A recording is searched in parts of this length.",
)
SEARCH_MARGIN_S = Evidence(
    key="passes.search_margin_s",
    value=10.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Longer than filters and windows reach.",
)
SEARCH_HOP_S = Evidence(
    key="passes.search_hop_s",
    value=0.25,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="About half a step.",
)
SEARCH_WINDOW_S = Evidence(
    key="passes.search_window_s",
    value=2.5,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="As for the step period: a step and its repetition at the slowest rate.",
)
SEARCH_BAND_LOW_HZ = Evidence(
    key="passes.search_band_low_hz",
    value=0.4,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Below the slowest stride rate.",
)
SEARCH_BAND_HIGH_HZ = Evidence(
    key="passes.search_band_high_hz",
    value=5.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Above the fastest step rate.",
)
SEARCH_STRIDE_RATE_MIN_HZ = Evidence(
    key="passes.search_stride_rate_min_hz",
    value=0.5,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="60 steps a minute: slower periods are exercise as often as walking, at chest and wrist.",
)
SWING_BAND_LOW_HZ = Evidence(
    key="passes.swing_band_low_hz",
    value=0.2,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Slow repeated exercises must stay in, to count against walking.",
)
SWING_BAND_HIGH_HZ = Evidence(
    key="passes.swing_band_high_hz",
    value=3.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="An arm swings no faster.",
)
VERTICAL_FLOOR_M2PS4 = Evidence(
    key="passes.vertical_floor_m2ps4",
    value=0.05,
    unit="m2/s4",
    source=ENGINEERING_CHOICE,
    why="Power of vertical acceleration below which there is no rhythm.",
)
SWING_FLOOR_RAD2PS2 = Evidence(
    key="passes.swing_floor_rad2ps2",
    value=0.1,
    unit="rad2/s2",
    source=ENGINEERING_CHOICE,
    why="Power of rotation below which an arm is held still.",
)
CHEST_VERTICAL_LEAST_MPS2 = Evidence(
    key="passes.chest_vertical_least_mps2",
    value=0.25,
    unit="m/s2",
    source="measured on the open lower-back recordings of Voisard et al. 2023, "
    "Image Processing On Line, doi 10.5201/ipol.2023.497",
    why="Vertical acceleration of the trunk is 0.8 m/s2 and more in walking, under 0.1 in "
    "standing; slow walking lies between.",
)
CHEST_RHYTHM_LEAST = Evidence(
    key="passes.chest_rhythm_least",
    value=0.3,
    unit="1",
    source="measured on the open lower-back recordings of Voisard et al. 2023, "
    "Image Processing On Line, doi 10.5201/ipol.2023.497",
    why="Correlation of the vertical from step to step is 0.5 and more in walking, under 0.1 in "
    "standing.",
)
WRIST_VERTICAL_LEAST_MPS2 = Evidence(
    key="passes.wrist_vertical_least_mps2",
    value=0.7,
    unit="m/s2",
    source=WALKS,
    why="It is 1.1 m/s2 and more in walking.",
)
WRIST_RHYTHM_LEAST = Evidence(
    key="passes.wrist_rhythm_least",
    value=0.2,
    unit="1",
    source=WALKS,
    why="Correlation of the vertical a step later, plus how the swing turns back in a step and "
    "comes again in two.",
)
WRIST_BOUT_RHYTHM_LEAST = Evidence(
    key="passes.wrist_bout_rhythm_least",
    value=0.2,
    unit="1",
    source=WALKS,
    why="Mean correlation of the vertical a step later over all of a spell.",
)
WRIST_HORIZONTAL_MOST = Evidence(
    key="passes.wrist_horizontal_most",
    value=8.0,
    unit="1",
    source=WALKS,
    why="Power of horizontal to that of vertical acceleration: legs lift the wrist, "
    "an exercise mostly swings it.",
)
WRIST_BOUT_HORIZONTAL_MOST = Evidence(
    key="passes.wrist_bout_horizontal_most",
    value=5.5,
    unit="1",
    source=WALKS,
    why="The same over all of a spell.",
)
WRIST_SWING_CLEAR = Evidence(
    key="passes.wrist_swing_clear",
    value=0.6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Mean of how an arm's swing turns back after a step and comes again after two: 0.7 to 1 in "
    "invented walks with swings of 20 to 60 deg.",
)
WRIST_SWING_VERTICAL_LEAST_MPS2 = Evidence(
    key="passes.wrist_swing_vertical_least_mps2",
    value=0.35,
    unit="m/s2",
    source=ENGINEERING_CHOICE,
    why="What a wide swing and the legs leave of each other, as 35 deg at 100 steps a minute and a "
    "bounce of 3 to 4 cm.",
)
WRIST_SWING_TILT_MOST_DEG = Evidence(
    key="passes.wrist_swing_tilt_most_deg",
    value=22.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="Spread of the forearm's tilt where it swings through 60 deg.",
)
WRIST_SWUNG_TOGETHER_S = Evidence(
    key="passes.wrist_swung_together_s",
    value=8.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="How long both arms swing at once in a walk that only their swing shows: a lane of 10 s, "
    "with first and last steps that are clear at one arm only.",
)
WRIST_SWUNG_RHYTHM_LEAST = Evidence(
    key="passes.wrist_swung_rhythm_least",
    value=0.55,
    unit="1",
    source=WALKS,
    why="Mean correlation of the vertical a step later where the swing tells the walk: at most "
    "0.45 in exercises that swing alike, 0.7 and more in invented walks.",
)
SLOW_VERTICAL_MOST = Evidence(
    key="passes.slow_vertical_most",
    value=0.45,
    unit="1",
    source=WALKS,
    why="Share of the vertical's power that is slower than the step.",
)
WRIST_TURNING_MOST_SPM = Evidence(
    key="passes.wrist_turning_most_spm",
    value=1.9,
    unit="s/m",
    source=WALKS,
    why="Rotation rate to vertical acceleration [rad/s per m/s2]: exercises of rotation turn "
    "the forearm without lifting it.",
)
WRIST_TILT_MOST_DEG = Evidence(
    key="passes.wrist_tilt_most_deg",
    value=35.0,
    unit="deg",
    source=WALKS,
    why="Spread of the forearm's tilt: lifting the arm tilts it by 50 deg and more.",
)
WRIST_SWING_LEAD_MOST = Evidence(
    key="passes.wrist_swing_lead_most",
    value=0.15,
    unit="1",
    source=WALKS,
    why="In short walks the legs repeat about as well as the arm: the swing's correlation from "
    "stride to stride may exceed the vertical's from step to step by this much; in drills it "
    "is more.",
)
WRIST_DRILL_MOST_S = Evidence(
    key="passes.wrist_drill_most_s",
    value=30.0,
    unit="s",
    source=WALKS,
    why="No drill kept the look of walking for longer than 25 s: from here on an arm may swing "
    "as regularly as it likes.",
)
WRIST_PERIOD_MOST_S = Evidence(
    key="passes.wrist_period_most_s",
    value=0.8,
    unit="s",
    source=WALKS,
    why="Slower step rates cannot be told from repeated exercises at the wrist.",
)
WRIST_QUICK_PERIOD_S = Evidence(
    key="passes.wrist_quick_period_s",
    value=0.65,
    unit="s",
    source=WALKS,
    why="Exercises repeat no faster; a slower rhythm must last.",
)
WRIST_SLOW_LEAST_S = Evidence(
    key="passes.wrist_slow_least_s",
    value=10.0,
    unit="s",
    source=WALKS,
    why="No exercise kept the look of walking for longer than 8 s.",
)
WRIST_LEAST_S = Evidence(
    key="passes.wrist_least_s",
    value=2.0,
    unit="s",
    source=WALKS,
    why="Walks in a room last 2 to 3 s.",
)
CHEST_SEED_S = Evidence(
    key="passes.chest_seed_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A clear rhythm for this long is walking; uneven steps around it go with it.",
)
CHEST_LEAST_S = Evidence(
    key="passes.chest_least_s",
    value=5.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A few steps to take up a load are no bout.",
)
DROPOUT_S = Evidence(
    key="passes.dropout_s",
    value=1.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A spell of walking may miss its marks for this long.",
)
MOVING_ON_FRAC = Evidence(
    key="passes.moving_on_frac",
    value=0.4,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Part of a spell's vertical acceleration down to which it is taken to go on.",
)
CHEST_MOVING_ON_S = Evidence(
    key="passes.chest_moving_on_s",
    value=15.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="It is taken to go on for no longer than this without a clear rhythm: uneven steps.",
)
WRIST_MOVING_ON_S = Evidence(
    key="passes.wrist_moving_on_s",
    value=1.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="The same at a wrist, which does much else.",
)
BOUT_GAP_S = Evidence(
    key="passes.bout_gap_s",
    value=5.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A stop shorter than this, or a turn, is within a bout; setting down a load takes longer.",
)
BOUT_MARGIN_S = Evidence(
    key="passes.bout_margin_s",
    value=1.5,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A bout's window takes in its first and last step.",
)
