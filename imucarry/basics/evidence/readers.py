"""Thresholds and defaults of the room `readers`."""

from __future__ import annotations

from imucarry.basics.evidence.row import ENGINEERING_CHOICE, Evidence

HEAD_BYTES = Evidence(
    key="readers.head_bytes",
    value=65536,
    unit="By",
    source=ENGINEERING_CHOICE,
    why="The first part of a file, in which its layout is found; holds hundreds of rows.",
)
MAX_UNPACKED_BYTES = Evidence(
    key="readers.max_unpacked_bytes",
    value=8 * 1024**3,
    unit="By",
    source=ENGINEERING_CHOICE,
    why="A packed file that unpacks to more is no recording of a day; guards the memory.",
)
UTF16_NUL_FRAC = Evidence(
    key="readers.utf16_nul_frac",
    value=0.7,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Share of every second byte that is NUL in UTF-16 text of digits and Latin letters.",
)
SNIFF_ROWS = Evidence(
    key="readers.sniff_rows",
    value=40,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Rows looked at, at the start and again spread over the first part, to find the layout.",
)
LEAST_BLOCK_ROWS = Evidence(
    key="readers.least_block_rows",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Rows of equal, mostly numeric cells that make a table and no line of metadata.",
)
LEAST_NUMERIC_CELLS = Evidence(
    key="readers.least_numeric_cells",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="One sensor has three axes: a table of samples has at least three numbers a row.",
)
UNREADABLE_FRAC = Evidence(
    key="readers.unreadable_frac",
    value=0.05,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Fewer broken cells or rows are taken as missing samples; more mean a wrong layout.",
)
MOST_WORDS = Evidence(
    key="readers.most_words",
    value=64,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A column of sensors or types repeats few words; more are free text.",
)
EPOCH_YEARS_S = Evidence(
    key="readers.epoch_years_s",
    value=(946684800.0, 4102444800.0),
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Seconds since 1970 of the years 2000 to 2100: a time of that size is an epoch.",
)
STEP_RANGE_S = Evidence(
    key="readers.step_range_s",
    value=(0.0005, 0.2),
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A step from sample to sample of 5 to 2000 Hz: tells s, ms, us and ns apart by size.",
)
LEAST_STEP_S = Evidence(
    key="readers.least_step_s",
    value=0.0001,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="10 kHz, beyond any worn sensor: stamps that come faster are damaged or in another unit.",
)
WRAP_BITS = Evidence(
    key="readers.wrap_bits",
    value=(8, 16, 32),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Widths of the counters that sensors use; a counter restarts at 0 after its largest value.",
)
LEAST_RATE_HZ = Evidence(
    key="readers.least_rate_hz",
    value=15.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Arm swing and trunk rotation reach step rate, about 2 Hz, with harmonics up to 6 Hz;"
    " slower sampling loses them.",
)
LOW_RATE_HZ = Evidence(
    key="readers.low_rate_hz",
    value=40.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Below it foot contacts are timed to worse than 25 ms: used, with a warning.",
)
LEAST_DURATION_S = Evidence(
    key="readers.least_duration_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Two seconds hold less than two strides: nothing can be measured.",
)
BRIDGED_GAP_S = Evidence(
    key="readers.bridged_gap_s",
    value=0.1,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A tenth of a step at a usual cadence changes little between samples; longer gaps hide"
    " a contact.",
)
LONGEST_GAP_S = Evidence(
    key="readers.longest_gap_s",
    value=6 * 3600.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A longer hole is two recordings in one file or a broken clock; filling it only costs"
    " memory.",
)
EVEN_STAMPS_FRAC = Evidence(
    key="readers.even_stamps_frac",
    value=0.1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Stamps within a tenth of a sample of an even grid are rounding: samples stay as they are.",
)
SHARED_STAMPS_FRAC = Evidence(
    key="readers.shared_stamps_frac",
    value=0.3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="When so many stamps repeat, samples came in packets that share one time.",
)
ALL_DOUBLED_FRAC = Evidence(
    key="readers.all_doubled_frac",
    value=0.9,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where so many packets hold every row twice, the file was written twice, but for its ends.",
)
DOUBLED_PACKET = Evidence(
    key="readers.doubled_packet",
    value=1.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A packet of equal halves and of so many times the usual size was written twice; one of the"
    " usual size holds equal samples, as a sensor at rest does.",
)
LEAST_PACKETS = Evidence(
    key="readers.least_packets",
    value=10,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="So many packets tell how many samples one usually holds.",
)
PACKET_UNEVEN_FRAC = Evidence(
    key="readers.packet_uneven_frac",
    value=0.1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The number of samples in a whole second varies by one, by two at a few hundred hertz.",
)
UNEVEN_PACKETS_FRAC = Evidence(
    key="readers.uneven_packets_frac",
    value=0.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where more packets are of another size, sizes vary by themselves and tell of no loss.",
)
GROWTH_LAGS = Evidence(
    key="readers.growth_lags",
    value=(8, 64),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Numbers of samples over which the scatter of stamps is compared: past the neighbours that"
    " one late stamp touches, and eight times as far.",
)
EVEN_GROWTH = Evidence(
    key="readers.even_growth",
    value=1.7,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Late stamps of even samples scatter as much over the far lag as over the near one; truly"
    " uneven samples scatter 2.8 times as much (a random walk). The geometric middle decides.",
)
SMOOTHING_S = Evidence(
    key="readers.smoothing_s",
    value=5.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Late stamps are averaged over this span; long against a packet, short against drift.",
)
SET_BACK_S = Evidence(
    key="readers.set_back_s",
    value=1.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Times that step back by more are a clock that was set, not rows out of order.",
)
SET_BACK_STEPS = Evidence(
    key="readers.set_back_steps",
    value=1.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A step back by as much as a sample and a half may be a clock that was set.",
)
SET_BACK_FULL_FRAC = Evidence(
    key="readers.set_back_full_frac",
    value=0.8,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A clock that was set back goes through the same span of time twice, each time with all "
    "its samples; rows out of order leave a hole in the first.",
)
SET_BACK_MOST_S = Evidence(
    key="readers.set_back_most_s",
    value=10.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A clock that is set right during a visit goes back by seconds at most; times that go back "
    "by more are those of another recording.",
)
SHUFFLED_FRAC = Evidence(
    key="readers.shuffled_frac",
    value=0.1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where so many times step back by more than a second, no clock was set: rows that were"
    " shuffled step back in half of all places.",
)
SHUFFLED_EVEN_FRAC = Evidence(
    key="readers.shuffled_even_frac",
    value=0.9,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Shuffled rows are put in order where, once they are, so many times step evenly: then the"
    " times are those of the samples.",
)
BEGINS_ANEW_STEPS = Evidence(
    key="readers.begins_anew_steps",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Within three samples of the first time: a second recording starts where the first did.",
)
WRAPS_S = Evidence(
    key="readers.wraps_s",
    value=(3600.0, 65.536, 4294.967296),
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A clock of minutes and seconds and the end of daylight saving go back by whole hours; "
    "counts of ms in 16 bit and of us in 32 bit wrap after the other two.",
)
MINUTE_WRAP_S = Evidence(
    key="readers.minute_wrap_s",
    value=60.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A clock of seconds goes back by a minute; where that leads to the first time it may as "
    "well be a second recording after one of a minute.",
)
MOST_LOST_AT_WRAP = Evidence(
    key="readers.most_lost_at_wrap",
    value=64,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A counter's step back is a wrap when at most so many samples were lost with it; a quarter"
    " of an 8-bit counter.",
)
COUNTER_EVEN_FRAC = Evidence(
    key="readers.counter_even_frac",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A column of whole numbers counts samples when most of its steps are the same.",
)
ACC_LEVELS_MPS2 = Evidence(
    key="readers.acc_levels_mps2",
    value=(7.0, 13.0),
    unit="m/s2",
    source=ENGINEERING_CHOICE,
    why="Mean specific force over a second of a worn sensor is near standard gravity (9.81);"
    " the units g, m/s^2 and mg lie a factor of 10 or more apart.",
)
ACC_CONTRADICTION = Evidence(
    key="readers.acc_contradiction",
    value=2.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A stated unit that puts gravity off by more than this factor is wrong.",
)
GRAVITY_SHARE = Evidence(
    key="readers.gravity_share",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Mean vector over a second as a part of the rms: above 0.85 in walking with gravity,"
    " below 0.3 when it was removed.",
)
GRAVITY_LENGTH_FRAC = Evidence(
    key="readers.gravity_length_frac",
    value=0.05,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Gravity that a file gives apart has one length; what a filter leaves differs by more.",
)
GRAVITY_STILL_FRAC = Evidence(
    key="readers.gravity_still_frac",
    value=0.01,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="In a worn sensor gravity turns by several degrees; one that stays within half a degree is "
    "written in the axes of the world.",
)
ADDED_ACC_MPS2 = Evidence(
    key="readers.added_acc_mps2",
    value=(0.5, 30.0),
    unit="m/s2",
    source=ENGINEERING_CHOICE,
    why="What walking adds to gravity at a trunk or a wrist in its liveliest twentieth: 2 to 10 "
    "m/s2; taken for g in place of m/s2, or the reverse, it lies outside.",
)
REVERSED_SKEWNESS = Evidence(
    key="readers.reversed_skewness",
    value=-0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Skewness of the acceleration along gravity while walking: -0.3 to 1.5 in 58 open "
    "recordings of a wrist, 0.8 and more in those of a trunk; of one reversed it is the negative.",
)
LEAST_EVENT_ROWS = Evidence(
    key="readers.least_event_rows",
    value=100,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="So many rows tell whether each is new for one sensor alone.",
)
LEAST_EVENTS_FRAC = Evidence(
    key="readers.least_events_frac",
    value=0.1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Of two sensors that are written in turn each has a good part of the rows, whatever their "
    "rates; a gyroscope that stands at 0 or still has none.",
)
SIDE_BY_SIDE_FRAC = Evidence(
    key="readers.side_by_side_frac",
    value=0.9,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Sensors that were stopped together end within some rows of each other.",
)
LIVELY_BLOCKS = Evidence(
    key="readers.lively_blocks",
    value=20,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Unknown units are judged on the 20 liveliest blocks, so that rest does not dilute them.",
)
GYR_RADPS_RANGE = Evidence(
    key="readers.gyr_radps_range",
    value=(0.2, 35.0),
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="In walking a trunk turns at 0.3 rad/s and more; sensors end at 2000 deg/s, 35 rad/s.",
)
GYR_TURN_RANGE = Evidence(
    key="readers.gyr_turn_range",
    value=(0.2, 5.0),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Angular rate must turn gravity in the sensor by about itself; rad/s and deg/s are 57 times"
    " apart.",
)
GYR_TURN_R = Evidence(
    key="readers.gyr_turn_r",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Correlation from which the turning of gravity tells the unit of the angular rate.",
)
GYR_DOUBT_RADPS = Evidence(
    key="readers.gyr_doubt_radps",
    value=8.0,
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="A wrist in a carry stays below 6 rad/s; a stated unit in which it is more is looked at.",
)
GYR_LIVELY_FRAC = Evidence(
    key="readers.gyr_lively_frac",
    value=0.25,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Moments with a quarter of the largest rate and more: rest is noise and says nothing.",
)
GYR_TURN_MOST = Evidence(
    key="readers.gyr_turn_most",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The rate turned gravity 0.07 to 1.5 times as much as the acceleration turned in 440 "
    "recordings, real and invented; rad/s and deg/s are 57 times apart.",
)
CLIP_RUN = Evidence(
    key="readers.clip_run",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="So many equal extreme values in a row are the end of the range, not a smooth peak.",
)
CLIP_STEP_DIGITS = Evidence(
    key="readers.clip_step_digits",
    value=20.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A lone smooth peak that looks flat falls by up to four digits of the sensor beside its "
    "top (a parabola), by some ten with noise; what the range cuts off falls by more.",
)
CLIP_LEAST_ACC_MPS2 = Evidence(
    key="readers.clip_least_acc_mps2",
    value=18.0,
    unit="m/s2",
    source=ENGINEERING_CHOICE,
    why="The narrowest common range is 2 g (19.6 m/s^2); lower plateaus are rest.",
)
CLIP_LEAST_GYR_RADPS = Evidence(
    key="readers.clip_least_gyr_radps",
    value=2.0,
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="The narrowest common range is 125 deg/s (2.2 rad/s); lower plateaus are rest.",
)
ASLEEP_S = Evidence(
    key="readers.asleep_s",
    value=1.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="All six values the same for so long, amid motion, are held by a sleeping sensor.",
)
ASLEEP_GYR_RADPS = Evidence(
    key="readers.asleep_gyr_radps",
    value=0.1,
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="Held values above this rate cannot be rest.",
)
REST_GYR_RADPS = Evidence(
    key="readers.rest_gyr_radps",
    value=0.15,
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="Scatter of the angular rate in quiet standing stays below it, bias aside.",
)
REST_ACC_MPS2 = Evidence(
    key="readers.rest_acc_mps2",
    value=0.4,
    unit="m/s2",
    source=ENGINEERING_CHOICE,
    why="Scatter of the acceleration in quiet standing stays below it.",
)
NO_OVERLAP_S = Evidence(
    key="readers.no_overlap_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Sensors that share less than the least duration cannot be put together.",
)
BOUTS_OVERLAP_S = Evidence(
    key="readers.bouts_overlap_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Times written by hand may overlap by a second or two: cut in the middle.",
)
BOUT_PAST_S = Evidence(
    key="readers.bout_past_s",
    value=2.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Times written by hand may reach past the recording by a second or two: clipped.",
)
LOAD_SUM_KG = Evidence(
    key="readers.load_sum_kg",
    value=0.15,
    unit="kg",
    source=ENGINEERING_CHOICE,
    why="Two loads and their total, each rounded to one decimal: 0.05 kg each.",
)
USUAL_STEP_ROWS = Evidence(
    key="readers.usual_step_rows",
    value=5000,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="So many rows, a minute of a recording, tell its usual step; more only cost time.",
)
UNNAMED_GRAVITY_SHARE = Evidence(
    key="readers.unnamed_gravity_share",
    value=0.8,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Without names a triad is taken for acceleration only where gravity stands out clearly.",
)
SKETCH_BARS = Evidence(
    key="readers.sketch_bars",
    value=36,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Bars of a sketch that fits beside its label on a line of 80 letters.",
)
USUAL_STEP_FRAC = Evidence(
    key="readers.usual_step_frac",
    value=0.25,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Steps within a quarter of the usual one differ by rounding; a lost sample doubles one.",
)
UNSTAMPED_LEAST_FRAC = Evidence(
    key="readers.unstamped_least_frac",
    value=0.4,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where so many rows lack a time, only the first row of each packet was stamped; fewer are "
    "damaged cells.",
)
LATE_START_S = Evidence(
    key="readers.late_start_s",
    value=0.5,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Times of bouts count from the first sample: half a second is a step.",
)
HALVES_ALIKE_STEPS = Evidence(
    key="readers.halves_alike_steps",
    value=1.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Accelerometer and gyroscope that were started and stopped together differ in length by a "
    "sample of the slower one, and rounding.",
)
RATE_CONTRADICTED_FRAC = Evidence(
    key="readers.rate_contradicted_frac",
    value=0.05,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Sensors are off their nominal rate by a few percent at most.",
)
FILE_RATE_DENIED_FRAC = Evidence(
    key="readers.file_rate_denied_frac",
    value=0.02,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A logger that writes its rate above its own times means those times: 2 % is more than its "
    "clock is off, and turns every angle by as much.",
)
ACC_MOST_MPS2 = Evidence(
    key="readers.acc_most_mps2",
    value=980.0,
    unit="m/s^2",
    source=ENGINEERING_CHOICE,
    why="100 g: nothing that is carried does that to a chest or a wrist, and most sensors end at "
    "16 g. Beyond lie damaged cells and numbers such as -9999 that stand for a missing sample.",
)
GYR_MOST_RADPS = Evidence(
    key="readers.gyr_most_radps",
    value=70.0,
    unit="rad/s",
    source=ENGINEERING_CHOICE,
    why="4000 deg/s, twice the range of most small gyroscopes and far beyond any carry.",
)
FILL_LEAST = Evidence(
    key="readers.fill_least",
    value=999.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Numbers that stand for a missing sample are 0 or such as -999, 9999, -32768.",
)
FILL_ROWS_MOST_FRAC = Evidence(
    key="readers.fill_rows_most_frac",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where most rows read so the sensor was off or gravity was removed, which is refused.",
)
LARGEST_NUMBER = Evidence(
    key="readers.largest_number",
    value=1e10,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Three axes of 32-bit counts sum to less; a larger number is a damaged cell: missing.",
)
LARGEST_TIME = Evidence(
    key="readers.largest_time",
    value=1e19,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Nanoseconds since 1970 stay below 5e18 in this century; a larger number is damage.",
)
HOUR_GAP_S = Evidence(
    key="readers.hour_gap_s",
    value=(3599.0, 3601.0),
    unit="s",
    source=ENGINEERING_CHOICE,
    why="A gap of an hour in local times is the beginning of daylight saving, not a pause.",
)
LEAST_DIFFERENT_CELLS = Evidence(
    key="readers.least_different_cells",
    value=5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="So many different whole numbers below 1000 beside groups of three tell thousands marks"
    " from decimals; fewer may be a code for missing samples.",
)
WALK_SHAKES_MPS2 = Evidence(
    key="readers.walk_shakes_mps2",
    value=0.5,
    unit="m/s2",
    source=ENGINEERING_CHOICE,
    why="Spread of the length of the acceleration over a second: 1.2 to 2.7 in walking, below 0.1 "
    "in standing, in open recordings of trunk and wrist and in invented ones.",
)
WALK_SHAKES_S = Evidence(
    key="readers.walk_shakes_s",
    value=10.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Shaking for so long is walking, not putting a sensor on.",
)
MOST_CADENCE_SPM = Evidence(
    key="readers.most_cadence_spm",
    value=150.0,
    unit="{steps}/min",
    source="engineering choice; adults begin to run at 135 to 140 steps/min (Hum Mov Sci 2023, "
    "90:103117)",
    why="A free walk that is quicker, in a file whose rate or unit of time was stated, tells of a "
    "wrong statement.",
)
NEAR_COLUMN_LIKENESS = Evidence(
    key="readers.near_column_likeness",
    value=0.8,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Likeness of two names, from 0 to 1, from which one is asked about as a slip of the other: "
    "'stop_reson', 'distnce_m'.",
)
NEAR_WORD_LIKENESS = Evidence(
    key="readers.near_word_likeness",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Likeness of each word of two such names: 'distance_ft' is no slip of 'distance_m'.",
)
HAND_MOST_BODY_MASS = Evidence(
    key="readers.hand_most_body_mass",
    value=1.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A load in one hand of more than this part of body mass is asked about: 240 for 24 kg.",
)
HAND_MOST_KG = Evidence(
    key="readers.hand_most_kg",
    value=150.0,
    unit="kg",
    source=ENGINEERING_CHOICE,
    why="The same where body mass is not known.",
)
NEAR_NEEDED_COLUMN_LIKENESS = Evidence(
    key="readers.near_needed_column_likeness",
    value=0.6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Likeness of a name in the header to that of a needed column that is missing, from which "
    "the message asks whether it is meant: 'start' for start_s.",
)
BODY_MASS_LEAST_KG = Evidence(
    key="readers.body_mass_least_kg",
    value=20.0,
    unit="kg",
    source=ENGINEERING_CHOICE,
    why="Who carries loads weighs more, also a child of school age; less is a point set wrong.",
)
