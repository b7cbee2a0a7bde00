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
