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
BIAS_PRIOR_DEGPS = Evidence(
    key="motion.bias_prior_degps",
    value=1.0,
    unit="deg/s",
    source=COMMON_PRACTICE,
    why="Small gyroscopes are within about 1 deg/s of zero; it decides only where neither rest "
    "nor gravity can, about the vertical of a sensor that never rests.",
)
BIAS_SCALE_FRAC = Evidence(
    key="motion.bias_scale_1",
    value=0.003,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Errors of scale and alignment, some tenths of a percent, make motion look like a bias "
    "that more motion does not average out: the fit to gravity is never trusted further.",
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
REST_OUTLIER_DEGPS = Evidence(
    key="motion.rest_outlier_degps",
    value=0.5,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="A piece this far from the median of all rest was a slow turn, not rest.",
)
LARGE_BIAS_DEGPS = Evidence(
    key="motion.large_bias_degps",
    value=3.0,
    unit="deg/s",
    source=ENGINEERING_CHOICE,
    why="Three times what small gyroscopes usually show; such a sensor is warm, old or faulty.",
)
