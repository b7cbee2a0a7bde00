"""Thresholds and defaults of finding foot contacts, in the room `walk`."""

from __future__ import annotations

from imucarry.basics.evidence.row import ENGINEERING_CHOICE, Evidence

TRUNK_STEPS = (
    "measured on the open lower-back recordings of Voisard et al. 2023, "
    "Image Processing On Line, doi 10.5201/ipol.2023.497"
)

GRID_RATE_HZ = Evidence(
    key="contacts.grid_rate_hz",
    value=100.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Contacts are sought on a grid of at least this rate, so that every sensor rate is "
    "treated alike; times between the samples are found by interpolation.",
)
STRIDE_RATE_MIN_HZ = Evidence(
    key="contacts.stride_rate_min_hz",
    value=0.4,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="48 steps a minute, slow walking of patients; below it single steps no longer make a "
    "rhythm.",
)
STRIDE_RATE_MAX_HZ = Evidence(
    key="contacts.stride_rate_max_hz",
    value=2.0,
    unit="Hz",
    source="Winwood et al. 2014, Keogh et al. 2014: heavy two-hand carries at 1.4 to 2.0 Hz",
    why="Loaded carries are walked with short quick steps.",
)
RHYTHM_BAND_LOW_HZ = Evidence(
    key="contacts.rhythm_band_low_hz",
    value=0.4,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="At the slowest stride rate: keeps the rhythm, drops drift and turns.",
)
RHYTHM_BAND_HIGH_HZ = Evidence(
    key="contacts.rhythm_band_high_hz",
    value=5.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Above the fastest step rate of 4 Hz: keeps the rhythm, drops impacts.",
)
RHYTHM_WINDOW_S = Evidence(
    key="contacts.rhythm_window_s",
    value=2.5,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Holds a step and its mirror image at the slowest rate, and follows a changing one.",
)
RHYTHM_HOP_S = Evidence(
    key="contacts.rhythm_hop_s",
    value=0.25,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="About half a step: the step period is followed from step to step.",
)
RHYTHM_MULTIPLE_FRAC = Evidence(
    key="contacts.rhythm_multiple_frac",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Two or three quick steps look like one slow step; half of what the part of a lag has is "
    "enough to prefer the part, and parts of a true step have little.",
)
RHYTHM_ANY_STRENGTH = Evidence(
    key="contacts.rhythm_any_strength",
    value=0.05,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Below it nobody walks.",
)
RHYTHM_MIRROR_CLEAR = Evidence(
    key="contacts.rhythm_mirror_clear",
    value=0.25,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Likeness of a step to its mirror image (median of a bout) below which a walk is lopsided.",
)
RHYTHM_STRIDE_WEIGHT = Evidence(
    key="contacts.rhythm_stride_weight",
    value=1.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="In a limp one step is no mirror image of the other, but each stride repeats the last: "
    "both count alike.",
)
RHYTHM_EVEN_FLOOR_M2PS4 = Evidence(
    key="contacts.rhythm_even_floor_m2ps4",
    value=0.05,
    unit="m2/s4",
    source=ENGINEERING_CHOICE,
    why="Power of forward and vertical acceleration below which standing sway has no rhythm.",
)
RHYTHM_ODD_FLOOR_M2PS4 = Evidence(
    key="contacts.rhythm_odd_floor_m2ps4",
    value=0.02,
    unit="m2/s4",
    source=ENGINEERING_CHOICE,
    why="The same for lateral acceleration.",
)
RHYTHM_CHANGE_COST = Evidence(
    key="contacts.rhythm_change_cost",
    value=4.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A tenth of change in step period from one hop to the next must gain 0.4 of correlation.",
)
RHYTHM_JUMP_LIMIT = Evidence(
    key="contacts.rhythm_jump_limit",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Log ratio beyond which a new rhythm costs no more: the walk may start afresh.",
)
SALIENCE_CUTOFF_HZ = Evidence(
    key="contacts.salience_cutoff_hz",
    value=8.0,
    unit="Hz",
    source=TRUNK_STEPS,
    why="At contact the trunk is braked and lifted within about 60 ms; faster is soft tissue.",
)
SALIENCE_FLOOR_MPS3 = Evidence(
    key="contacts.salience_floor_mps3",
    value=8.0,
    unit="m/s3",
    source=TRUNK_STEPS,
    why="Jerk at contact is above 30 m/s3 in walking and below 3 m/s3 in standing.",
)
SALIENCE_BOUT_FRAC = Evidence(
    key="contacts.salience_bout_frac",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A spell much weaker than the rest of the bout is scaled by the bout, "
    "so that standing still does not grow steps.",
)
SALIENCE_RMS_TO_PEAK = Evidence(
    key="contacts.salience_rms_to_peak",
    value=3.0,
    unit="1",
    source=TRUNK_STEPS,
    why="A contact's jerk is about three times the root mean square of the jerk around it.",
)
SALIENCE_WINDOW_S = Evidence(
    key="contacts.salience_window_s",
    value=3.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Two to six steps: strength follows the walk.",
)
SALIENCE_CAP = Evidence(
    key="contacts.salience_cap",
    value=1.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A stamp is no better a contact than a step.",
)
SALIENCE_LEAST = Evidence(
    key="contacts.salience_least",
    value=0.08,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Weaker peaks are no candidates; it only saves time.",
)
SALIENCE_PRICE = Evidence(
    key="contacts.salience_price",
    value=0.45,
    unit="1",
    source=TRUNK_STEPS,
    why="What a contact must be worth; sensitivity and precision are the same from 0.3 to 0.6.",
)
CLOSING_STRENGTH = Evidence(
    key="contacts.closing_strength",
    value=0.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A closing step sets the foot down beside the other and may be this weak.",
)
CLOSING_PHASE_FRAC = Evidence(
    key="contacts.closing_phase_frac",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Beyond the last step there is standing, which hardly tells a contact's place.",
)
CLOSING_STEPS = Evidence(
    key="contacts.closing_steps",
    value=2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A walk slows down over its last step and sets the other foot beside it.",
)
STEP_PHASE_FRAC = Evidence(
    key="contacts.step_phase_frac",
    value=0.05,
    unit="1",
    source=TRUNK_STEPS,
    why="The step-rate part of the jerk peaks this part of a step before the contact "
    "(-0.02 to 0.13 over 9 adults).",
)
STEP_PHASE_SD_FRAC = Evidence(
    key="contacts.step_phase_sd_frac",
    value=0.1,
    unit="1",
    source=TRUNK_STEPS,
    why="Twice the spread of that part between people: tells a contact from the second hump "
    "of the vertical, which comes 0.3 of a step later.",
)
STEP_PHASE_COST = Evidence(
    key="contacts.step_phase_cost",
    value=0.12,
    unit="1",
    source=TRUNK_STEPS,
    why="Sensitivity and precision are the same from 0.06 to 0.25.",
)
STEP_PHASE_LIMIT = Evidence(
    key="contacts.step_phase_limit",
    value=12.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Squared distance beyond which a candidate is as bad as it can be.",
)
LATERAL_CUTOFF_HZ = Evidence(
    key="contacts.lateral_cutoff_hz",
    value=3.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Above the fastest stride rate: the sway from foot to foot without the impacts.",
)
LATERAL_FLOOR_MPS2 = Evidence(
    key="contacts.lateral_floor_mps2",
    value=0.03,
    unit="m/s2",
    source=ENGINEERING_CHOICE,
    why="Lateral acceleration below it says nothing about the side.",
)
SIDE_WEIGHT = Evidence(
    key="contacts.side_weight",
    value=0.25,
    unit="1",
    source=TRUNK_STEPS,
    why="Sides alternate; lateral acceleration alone named 100 % of the contacts.",
)
SIDE_CLEAR = Evidence(
    key="contacts.side_clear",
    value=0.3,
    unit="1",
    source=TRUNK_STEPS,
    why="Mean evidence for the sides from which they are clear; it was 0.6 and more in walking.",
)
INTERVAL_SD = Evidence(
    key="contacts.interval_sd",
    value=0.15,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Log ratio of a step to the local step period: asymmetry and unrest of patients.",
)
INTERVAL_COST = Evidence(
    key="contacts.interval_cost",
    value=0.12,
    unit="1",
    source=TRUNK_STEPS,
    why="Sensitivity and precision are the same from 0.06 to 0.25.",
)
INTERVAL_LIMIT = Evidence(
    key="contacts.interval_limit",
    value=16.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Squared distance beyond which an interval is as odd as it can be.",
)
INTERVAL_MIN_S = Evidence(
    key="contacts.interval_min_s",
    value=0.2,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="No two contacts follow faster: 2.0 Hz strides with a step of 40 % of the stride.",
)
INTERVAL_MAX_S = Evidence(
    key="contacts.interval_max_s",
    value=1.4,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A longer interval is a stop: a step at the slowest stride rate lasts 1.25 s.",
)
RUN_PRICE = Evidence(
    key="contacts.run_price",
    value=2.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A run of steps must be worth about three good contacts: a shuffle is no walk.",
)
LIKENESS_LEAST_CONTACTS = Evidence(
    key="contacts.likeness_least_contacts",
    value=12,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="With fewer, a wrong first choice would confirm itself.",
)
LIKENESS_SHIFT_S = Evidence(
    key="contacts.likeness_shift_s",
    value=0.03,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Peaks of the jerk scatter by about this much about the contact's shape.",
)
LIKENESS_WEIGHT = Evidence(
    key="contacts.likeness_weight",
    value=1.0,
    unit="1",
    source=ENGINEERING_CHOICE + "; from 0.5 to 2.5 alike on real and on invented walks",
    why="A perfect likeness is worth half as much as a good peak.",
)
LIKENESS_USUAL = Evidence(
    key="contacts.likeness_usual",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Contacts of one person correlate better with their mean, other moments worse.",
)
GAP_SEEN_THROUGH_S = Evidence(
    key="contacts.gap_seen_through_s",
    value=0.25,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Half a step: the trunk's answer to a contact reaches out of a gap this short.",
)
SHAPE_CUTOFF_HZ = Evidence(
    key="contacts.shape_cutoff_hz",
    value=10.0,
    unit="Hz",
    source=TRUNK_STEPS,
    why="The trunk's answer to contact without soft-tissue wobble.",
)
SHAPE_LOW_HZ = Evidence(
    key="contacts.shape_low_hz",
    value=0.5,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Drift and lean must not weigh in the comparison of shapes.",
)
SHAPE_HALF_S = Evidence(
    key="contacts.shape_half_s",
    value=0.25,
    unit="s",
    source=TRUNK_STEPS,
    why="Contact scatter was the same from 0.15 to 0.4 s.",
)
SHAPE_SHIFT_S = Evidence(
    key="contacts.shape_shift_s",
    value=0.09,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A contact moves no further than this when its shape is laid on the mean shape.",
)
SHAPE_ROUNDS = Evidence(
    key="contacts.shape_rounds",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Mean shape and times agree to under 1 ms after three rounds.",
)
SHAPE_SHIFT_COST = Evidence(
    key="contacts.shape_shift_cost",
    value=40.0,
    unit="s-2",
    source=TRUNK_STEPS,
    why="Times squared shift, in parts of the mean shape's power: a shift of 50 ms must explain "
    "a tenth of it.",
)
SHAPE_LEAST_CONTACTS = Evidence(
    key="contacts.shape_least_contacts",
    value=4,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Of each foot: with fewer, the mean shape is as noisy as each contact.",
)
FEET_HALF_S = Evidence(
    key="contacts.feet_half_s",
    value=0.08,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Left and right are compared in the moment of contact alone: farther from it the trunk "
    "of a lopsided walker differs between the feet.",
)
FEET_LOW_HZ = Evidence(
    key="contacts.feet_low_hz",
    value=2.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Above the stride rate, in which lopsided walkers differ between the feet. A higher edge "
    "rings from one contact to the next, whose distance is what differs in them.",
)
BRAKING_CUTOFF_HZ = Evidence(
    key="contacts.braking_cutoff_hz",
    value=12.0,
    unit="Hz",
    source=TRUNK_STEPS,
    why="Keeps the edge of the sawtooth that forward acceleration makes at contact.",
)
BRAKING_SEARCH_S = Evidence(
    key="contacts.braking_search_s",
    value=0.08,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="The peak of forward acceleration lies this close to the steepest answer.",
)
BRAKING_DELAY_S = Evidence(
    key="contacts.braking_delay_s",
    value=0.005,
    unit="s",
    source=ENGINEERING_CHOICE + "; " + TRUNK_STEPS,
    why="At the lower back forward acceleration peaks 10 ms before the foot sensors' contact "
    "(mean of 50 trials, SD 15 ms); the sternum answers a little later.",
)
CONTACT_DELAY_S = Evidence(
    key="contacts.contact_delay_s",
    value=0.018,
    unit="s",
    source=TRUNK_STEPS,
    why="From contact to the steepest answer of the trunk, for bouts with too few contacts for a "
    "mean shape.",
)
MOMENT_APART_S = Evidence(
    key="contacts.moment_apart_s",
    value=0.025,
    unit="s",
    source=TRUNK_STEPS,
    why="From bout to bout the moment varies by 8 ms (SD over 51 trials of nine persons): three "
    "times as far it is another event of the step.",
)
LOST_LEVEL_FRAC = Evidence(
    key="contacts.lost_level_frac",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Without contacts a trunk that moves half as much as between them is taken to walk on.",
)
LOST_LEAST_S = Evidence(
    key="contacts.lost_least_s",
    value=8.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Taking a load up or setting it down moves the trunk for less.",
)
LOST_LEAST_FRAC = Evidence(
    key="contacts.lost_least_frac",
    value=0.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A fifth of a bout without steps: its strides no longer stand for the bout.",
)
STRIDES_ALIKE_LEAST = Evidence(
    key="contacts.strides_alike_least",
    value=0.5,
    unit="1",
    source=TRUNK_STEPS,
    why="One stride is like the next by 0.67 and more, also where the recordings are slowed to 50 "
    "steps a minute; contacts at a false cadence made strides alike by 0.4 and less.",
)
ODD_STRIDE_RATIO = Evidence(
    key="contacts.odd_stride_ratio",
    value=1.4,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A contact missed or found too often changes a stride by half. A pause does so too: "
    "strides with a turn or a stop in them are left out.",
)
ODD_STRIDES_MOST_FRAC = Evidence(
    key="contacts.odd_strides_most_frac",
    value=0.1,
    unit="1",
    source=TRUNK_STEPS,
    why="In walks out and back with one turn at most 0.07 of all strides are that odd, the turn's "
    "among them.",
)
