"""Thresholds and defaults of the room `motion`."""

from __future__ import annotations

from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE, Evidence

# --- orientation ---------------------------------------------------------------

FILTER = Evidence(
    key="motion.filter",
    value="levelled",
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The whole recording is at hand, so gravity can be smoothed both ways in time, "
    "without the lag of a filter that only looks back.",
)
FILTERS = Evidence(
    key="motion.filters",
    value=("levelled", "madgwick", "mahony"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The filters offered: the own one, and two well-known ones that only look back in time.",
)
GYRO_SAMPLES = Evidence(
    key="motion.gyro_samples",
    value=("instant", "mean_since_last"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="What a gyroscope's sample can mean: the rate at its own time, or the mean since the "
    "sample before.",
)
GYRO_SAMPLE = Evidence(
    key="motion.gyro_sample",
    value="mean_since_last",
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Small sensors average their rate over each sample's interval; against optics this gave "
    "the smaller tilt error.",
)
TILT_TIME_CONSTANT_S = Evidence(
    key="motion.tilt_time_constant_s",
    value=5.0,
    unit="s",
    source=ENGINEERING_CHOICE + "; 3 s in Laidig & Seel 2023, Information Fusion 91:187-204",
    why="Long against a stride, so that walking does not tilt the vertical; short against the "
    "drift of a gyroscope whose bias is removed.",
)
BLOCK_RATE_HZ = Evidence(
    key="motion.block_rate_hz",
    value=10.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Gravity and drift change over seconds: ten means a second follow them without loss.",
)
BIAS_RATE_HZ = Evidence(
    key="motion.bias_rate_hz",
    value=1.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="The bias is fitted to gravity smoothed over seconds; one point a second holds all of it.",
)
BIAS_MOVED_DEGPS = Evidence(
    key="motion.bias_moved_degps",
    value=0.1,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="A fit that moves the bias by less started from a frame that hardly drifts: a second one "
    "moved it by a third as much in 20 s of walking, by a fiftieth in 2 min.",
)
BIAS_PRIOR_DEGPS = Evidence(
    key="motion.bias_prior_degps",
    value=1.0,
    unit="deg/s",
    source=COMMON_PRACTICE,
    why="Small gyroscopes are within about 1 deg/s of zero; it decides only where neither rest "
    "nor gravity can, about the vertical of a sensor that never rests.",
)
RATE_SCALE_SD_FRAC = Evidence(
    key="motion.rate_scale_sd_1",
    value=0.001,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Tighter than small gyroscopes are (some tenths of a percent): errors of the accelerometer "
    "look like scale too, so that it is believed only where gravity speaks clearly.",
)
ACC_OFFSET_SD_FRAC = Evidence(
    key="motion.acc_offset_sd_frac",
    value=0.03,
    unit="1",
    source=COMMON_PRACTICE,
    why="Small accelerometers are within a few hundredths of gravity of zero.",
)
STILL_BIAS_DEGPS = Evidence(
    key="motion.still_bias_degps",
    value=0.01,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="The bias itself wanders by about this much in a session; no still piece counts as better.",
)
SPLIT_GAP_S = Evidence(
    key="motion.split_gap_s",
    value=1.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Across a longer gap the turning is unknown, so that the parts are levelled each alone.",
)

# --- rest ----------------------------------------------------------------------

REST_SHORTEST_S = Evidence(
    key="motion.rest_shortest_s",
    value=1.5,
    unit="s",
    source="Laidig & Seel 2023, Information Fusion 91:187-204 (rest after 1.5 s)",
    why="Longer than the still part of a stride, shorter than the pause before a walk.",
)
REST_GYR_DEGPS = Evidence(
    key="motion.rest_gyr_degps",
    value=4.0,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="SD of the rate in 0.1 s means: breathing and sway of a standing person stay below "
    "2 deg/s at the chest, walking lies above 10 deg/s.",
)
REST_ACC_MPS2 = Evidence(
    key="motion.rest_acc_mps2",
    value=0.3,
    unit="m/s2",
    source=ENGINEERING_CHOICE,
    why="SD of the acceleration in 0.1 s means: standing stays below 0.15 m/s^2, walking lies "
    "above 0.5 m/s^2.",
)
REST_PIECE_S = Evidence(
    key="motion.rest_piece_s",
    value=3.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Rest is weighted piece by piece, so that a short stir spoils its own piece alone.",
)
REST_END_S = Evidence(
    key="motion.rest_end_s",
    value=0.7,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="People lean into the first step over about half a second before it shows as motion.",
)
REST_OUTLIER_DEGPS = Evidence(
    key="motion.rest_outlier_degps",
    value=0.5,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="A piece this far from the median of all rest was a slow turn, not rest.",
)
REST_OUTLIER_Z = Evidence(
    key="motion.rest_outlier_1",
    value=3.0,
    unit="1",
    source=COMMON_PRACTICE,
    why="A piece that sways much may lie far from the median by chance; a steady one may not.",
)
LARGE_BIAS_DEGPS = Evidence(
    key="motion.large_bias_degps",
    value=3.0,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="Three times what small gyroscopes usually show; such a sensor is warm, old or faulty.",
)
MADGWICK_GAIN = Evidence(
    key="motion.madgwick_gain_radps",
    value=0.033,
    unit="rad/s",
    source="Madgwick 2010, internal report, University of Bristol (0.033 for a sensor without "
    "magnetometer); from memory, not confirmed",
    why="The author's own value.",
)
MAHONY_GAIN_HZ = Evidence(
    key="motion.mahony_gain_hz",
    value=1.0,
    unit="Hz",
    source="Mahony et al. 2008, IEEE Trans. Automatic Control 53:1203-1218; from memory, "
    "not confirmed",
    why="The authors' own value.",
)

# --- clocks --------------------------------------------------------------------

ALIGN_CLOCKS = Evidence(
    key="motion.align_clocks_1",
    value=True,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Clocks that agree stay as they are, so that looking for a difference does no harm.",
)
CLOCK_GRID_HZ = Evidence(
    key="motion.clock_grid_hz",
    value=50.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Holds the jolts of contacts; between grid points a lag is found by interpolation.",
)
CLOCK_SLOW_HZ = Evidence(
    key="motion.clock_slow_hz",
    value=0.4,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Not above the slowest stride rate: turns, starts and stops stay, and the arm's own swing "
    "goes.",
)
CLOCK_SLOW_ORDER = Evidence(
    key="motion.clock_slow_order_1",
    value=4,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Steep, as each arm swings in its own way: of a stride of 1 s less than a thousandth "
    "passes, where the second order let a fortieth through.",
)
CLOCK_LEAST_TURNS_DEGPS = Evidence(
    key="motion.clock_least_turns_degps",
    value=5.0,
    unit="deg/s",
    source="engineering choice; measured on invented walkers",
    why="Root mean square of the slow turning: 17 to 20 deg/s with half turns at the lane's ends, "
    "0.5 to 2 without any turn, which is what is left of the arm's swing.",
)
CLOCK_LEAST_MOVEMENT = Evidence(
    key="motion.clock_least_movement_1",
    value=0.2,
    unit="1",
    source="engineering choice; measured on invented walkers",
    why="Root mean square of the logarithm of how fast a sensor turns: 0.4 to 1.3 with starts and "
    "stops, 0.02 to 0.05 in one steady walk.",
)
CLOCK_JOLT_LOW_HZ = Evidence(
    key="motion.clock_jolt_low_hz",
    value=4.5,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Above the step rate and its use by the arm's own swing, which has a phase of its own.",
)
CLOCK_JOLT_HIGH_HZ = Evidence(
    key="motion.clock_jolt_high_hz",
    value=12.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="The jolt of a contact passes up the body below about 12 Hz; above, straps rattle.",
)
CLOCK_QUIET_DEGPS = Evidence(
    key="motion.clock_quiet_degps",
    value=5.0,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="Speeds of turning are compared by their logarithm; below this, all is called quiet.",
)
CLOCK_CLIP = Evidence(
    key="motion.clock_clip_1",
    value=6.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A blow on one sensor alone must not outweigh a hundred steps of both; a tap on all "
    "of them stays the largest event.",
)
CLOCK_LARGEST_OFFSET_S = Evidence(
    key="motion.clock_largest_offset_s",
    value=120.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Sensors are switched on within two minutes of each other.",
)
CLOCK_LARGEST_DRIFT_PPM = Evidence(
    key="motion.clock_largest_drift_ppm",
    value=200.0,
    unit="[ppm]",
    source=COMMON_PRACTICE,
    why="Quartz clocks of small devices keep within 100 ppm; twice that allows for two of them.",
)
CLOCK_CHUNK_S = Evidence(
    key="motion.clock_chunk_s",
    value=600.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Within ten minutes the largest usual drift (100 ppm) shifts clocks by 60 ms, less than "
    "half a period of the jolts.",
)
CLOCK_WINDOW_S = Evidence(
    key="motion.clock_window_s",
    value=10.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="About ten strides: long enough for a lag of its own, short enough that a session has "
    "many, whose scatter gives the standard error.",
)
CLOCK_COMPARE_S = Evidence(
    key="motion.clock_compare_s",
    value=1.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Windows in which rival lags are compared: as long as the slow signals remember.",
)
CLOCK_RIVAL_S = Evidence(
    key="motion.clock_rival_s",
    value=0.2,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Half the shortest step time (2.5 steps a second): a peak farther off is another step.",
)
CLOCK_CLEAR_Z = Evidence(
    key="motion.clock_clear_1",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The best lag must beat every other by three standard errors; sensors of different "
    "simulated sessions stayed below two, in 72 pairs.",
)
CLOCK_NEAR_Z = Evidence(
    key="motion.clock_near_1",
    value=2.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Clocks of sensors that were started together agree; to find them so needs less proof.",
)
CLOCK_LEAST_JOLTS = Evidence(
    key="motion.clock_least_jolts_1",
    value=0.05,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Ten minutes whose jolts are a twentieth of the recording's hold no walk to compare.",
)
CLOCK_BODY_SD_S = Evidence(
    key="motion.clock_body_sd_s",
    value=0.008,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Jolts and turns reach chest and wrist not quite together: no lag is known better.",
)
CLOCK_LARGEST_SD_S = Evidence(
    key="motion.clock_largest_sd_s",
    value=0.02,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="20 ms are 6.5 deg of phase at 0.9 strides a second; a lag known less well is not used.",
)
CLOCK_DIFFERENT_Z = Evidence(
    key="motion.clock_different_1",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Clocks that already agree within the error are left as they are.",
)
CONTRADICTION_DEGPS = Evidence(
    key="motion.contradiction_degps",
    value=0.45,
    unit="deg/s",
    source="engineering choice; measured on open recordings (Laidig et al. 2021; trunk and wrist "
    "walks) and invented ones",
    why="What is left of gravity's drift after the fit, root mean square: at most 0.17 in 107 open "
    "recordings and 0.27 in 1,100 invented ones; 0.3 to 3.5 with axes reversed or exchanged.",
)
GAP_AROUND_S = Evidence(
    key="motion.gap_around_s",
    value=4.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Some strides before and after a gap show what straight lines miss of the turning.",
)
DRIFT_SEEN_DEGPS = Evidence(
    key="motion.drift_seen_degps",
    value=0.1,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="What is left of gravity's drift in sound recordings (median of open and invented ones): "
    "what may have turned within filled gaps is weighed against it.",
)
CLIPPED_FRAC = Evidence(
    key="motion.clipped_frac",
    value=0.002,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A range that cuts off a fifth of a second in 100 s loses turns that gravity then lacks.",
)
