"""Thresholds and defaults of the room `measures`, and of the statistics it rests on."""

from __future__ import annotations

from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE, Evidence

# --- intervals ---------------------------------------------------------------

INTERVAL_LEVEL = Evidence(
    key="measures.interval_level",
    value=0.95,
    unit="1",
    source=COMMON_PRACTICE,
    why="Every interval of the package covers the long-run value in 95 of 100 bouts.",
)
MOST_CORRELATION = Evidence(
    key="measures.most_correlation",
    value=0.9,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A higher correlation of neighbouring strides cannot be told from a trend in one bout.",
)
LEAST_VARIANCE_KEPT_FRAC = Evidence(
    key="measures.least_variance_kept_frac",
    value=0.2,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Bounds by how much the variance of few, very alike strides is raised.",
)

LEAST_FREEDOM = Evidence(
    key="measures.least_freedom",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Fewer degrees of freedom than this are not believed: simulated, it halves the widest "
    "intervals of 10 strides and costs no coverage.",
)
CLOSE_TOGETHER = Evidence(
    key="measures.close_together",
    value=0.65,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="From this resultant length on the chi-square interval of it covers 95 to 98 %, "
    "below it the linear one covers 90 to 96 % (simulated, 16 and 40 strides).",
)
PASSES_DIFFER = Evidence(
    key="measures.passes_differ",
    value=0.4,
    unit="1",
    source=ENGINEERING_CHOICE
    + "; informed by the open walks of carry.between_walk_cv_pct (low back, not sternum)",
    why="By how much lanes of one bout are taken to differ of themselves, as a share of the "
    "spread of strides, before a trend over them is believed: walks of one visit differ by a CV of "
    "5.8 to 7 %, strides by some 15 %. Simulated lanes that differ by 0.4 to 0.5 of it then show a "
    "false trend in 3 to 8 of 100 bouts, without it in 10 to 40.",
)

# --- how many strides --------------------------------------------------------

LEAST_STRIDES_MEAN = Evidence(
    key="measures.least_strides_mean",
    value=10,
    unit="{strides}",
    source="Konig et al. 2014, Gait Posture 39:615-617",
    why="10 cycles gave means with ICC 0.88 to 0.98; fewer leave the interval to luck.",
)
RELIABLE_STRIDES_VARIABILITY = Evidence(
    key="measures.reliable_strides_variability",
    value=50,
    unit="{strides}",
    source="Konig et al. 2014, Gait Posture 39:615-617",
    why="Below 50 cycles a measure of variability repeats poorly, so it comes with a note.",
)
LEAST_STRIDES_PCI = Evidence(
    key="measures.least_strides_pci",
    value=23,
    unit="{strides}",
    source="Kribus-Shmiel et al. 2018, PLoS One 13:e0192049",
    why="About 23 strides were needed for a stable phase coordination index.",
)
LEAST_STRIDES_TREND = Evidence(
    key="measures.least_strides_trend",
    value=20,
    unit="{strides}",
    source=ENGINEERING_CHOICE,
    why="A slope over fewer strides is dominated by its ends.",
)
LEAST_COUNT = Evidence(
    key="measures.least_count",
    value=1,
    unit="{strides}",
    source=ENGINEERING_CHOICE,
    why="A total counts what there is.",
)

# --- times -------------------------------------------------------------------

CONTACT_NOISE_S = Evidence(
    key="measures.contact_noise_s",
    value=0.010,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Scatter of a contact time told from the trunk, near the 12 ms that is asked of it; "
    "it adds to every spread and asymmetry of times.",
)
LEAST_TIMING_RATE_HZ = Evidence(
    key="measures.least_timing_rate_hz",
    value=50.0,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Below it a sample is longer than the spread of stride times that is to be measured.",
)

# --- phases ------------------------------------------------------------------

LEAST_PHASE_YAW_DEG = Evidence(
    key="measures.least_phase_yaw_deg",
    value=1.0,
    unit="deg",
    source="engineering choice; thorax amplitudes down to 2.8 deg were published "
    "(BMC Musculoskelet Disord 2013 14:345)",
    why="The phase of a smaller stride-rate swing of the sternum is mostly noise.",
)
LEAST_PHASE_ARM_DEG = Evidence(
    key="measures.least_phase_arm_deg",
    value=3.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="The phase of a smaller stride-rate swing of the forearm is mostly noise.",
)
PHASE_STABLE_LEAST = Evidence(
    key="measures.phase_stable_least",
    value=0.6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Below this resultant length times spread by a sixth of a stride (SD) and more; times all "
    "round the stride reach it in 3 of 100 bouts of 10 strides. A mean without limits is then "
    "not given.",
)
STEP_RATE_SHARE = Evidence(
    key="measures.step_rate_share",
    value=0.5,
    unit="1",
    source="engineering choice; arms swing twice a stride below about 0.8 m/s "
    "(Wagenaar & van Emmerik 2000, quoted)",
    why="When more strides than this have an arm that swings mainly at step rate, "
    "its stride-rate phase is not told.",
)
OPPOSITE_LEG_WITHIN_DEG = Evidence(
    key="measures.opposite_leg_within_deg",
    value=90.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="An arm that is farthest forward within a quarter stride of the opposite foot's "
    "contact swings with that leg.",
)

MOST_CLOCK_REACH_DEG = Evidence(
    key="measures.most_clock_reach_deg",
    value=90.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A clock that may move an arm by a quarter stride says nothing about its phase.",
)

# --- regularity and harmonics ------------------------------------------------

ARM_REGULAR_LEAST = Evidence(
    key="measures.arm_regular_least",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Below it an arm's motion is not that of its strides: invented free arms that swing have "
    "0.95 to 1.00, one that gestures or scratches -0.45 to 0.5. Short real walks of 2 to 8 cycles, "
    "starts and turns in them, have -0.2 to 0.9 and are never judged: too few strides follow "
    "each other.",
)
ARM_MOVED_LEAST_DEG = Evidence(
    key="measures.arm_moved_least_deg",
    value=10.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="An arm that moves less hardly swings, whatever it does: a hand that holds a phone moves "
    "by 1 to 3 deg, one that gestures by 28 deg and more (invented walks).",
)

LAG_SEARCH_FRAC = Evidence(
    key="measures.lag_search_frac",
    value=0.1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The peak of the autocorrelation is sought this far about the mean stride time.",
)
N_HARMONICS = Evidence(
    key="measures.n_harmonics",
    value=20,
    unit="1",
    source="Bellanca et al. 2013, J Biomech 46:828-831; Menz et al. 2003, Gait Posture 18:35-46 "
    "(the number from memory, not confirmed)",
    why="The harmonic ratio is commonly taken over the first 20 harmonics of the stride.",
)

# --- posture -----------------------------------------------------------------

PITCH_DEPARTS_DEG = Evidence(
    key="measures.pitch_departs_deg",
    value=10.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A trunk this far from its own standing pitch turns about another axis than upright.",
)

# --- an arm without a chest sensor -------------------------------------------

CYCLES_TOUCH_FRAC = Evidence(
    key="measures.cycles_touch_frac",
    value=0.25,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="An arm's own cycle follows another when it starts this near to its end, in cycles.",
)
CYCLES_COVER_LEAST_FRAC = Evidence(
    key="measures.cycles_cover_least_frac",
    value=0.6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="An arm's cycles that fill less than this of a bout's time may show a part of the walk "
    "alone, as a hand does that holds a load: 153 invented carries were then found to last 0.06 to "
    "1.3 times their true time, with the bout's time in their stead 0.5 to 1.3 times.",
)
RATE_TOLERANCE_FRAC = Evidence(
    key="measures.rate_tolerance_frac",
    value=0.02,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A sensor set to a rate keeps it to about this much.",
)
