"""The settings: one class a room."""

from __future__ import annotations

from dataclasses import dataclass, field

from imucarry.basics.errors import SettingsError
from imucarry.basics.evidence import carry, measures, motion, passes, readers, walk
from imucarry.basics.settings.fields import Ranged, one_of, within, yes_or_no

# Fewer values have no spread.
MINIMUM_STRIDES = 3
MOST_STRIDES = 1000
# Longer than any recording: none is taken for rest.
NEVER_S = 1e6


@dataclass(frozen=True, slots=True)
class ReaderSettings(Ranged):
    """How files are read.

    Attributes
    ----------
    bridged_gap_s : float [s]
        Gaps up to it are filled in silence; longer ones cost the strides that they touch.
    least_rate_hz : float [Hz]
        A slower recording is refused.
    low_rate_hz : float [Hz]
        A slower recording comes with a warning.
    least_duration_s : float [s]
        A shorter recording is refused.
    """

    bridged_gap_s: float = within(readers.BRIDGED_GAP_S, 0.001, 10.0)
    least_rate_hz: float = within(readers.LEAST_RATE_HZ, 10.0, 1000.0)
    low_rate_hz: float = within(readers.LOW_RATE_HZ, 10.0, 1000.0)
    least_duration_s: float = within(readers.LEAST_DURATION_S, 0.5, 3600.0)


@dataclass(frozen=True, slots=True)
class MotionSettings(Ranged):
    """Orientation, rest, bias and clocks.

    Attributes
    ----------
    filter : str
        "levelled" (the whole recording at once), or "madgwick" or "mahony" of ``ahrs``.
    gyro_sample : str
        "mean_since_last": a sample is the mean rate since the one before; "instant": at its time.
    tilt_time_constant_s : float [s]
        Over which gravity is smoothed to level the orientation.
    bias_prior_degps : float [deg/s]
        Standard deviation of a gyroscope's bias before anything is known of it.
    large_bias_degps : float [deg/s]
        A larger bias is told.
    split_gap_s : float [s]
        Across a longer gap the recording is levelled in parts.
    rest_shortest_s : float [s]
        Least length of a rest.
    rest_gyr_degps, rest_acc_mps2 : float [deg/s], [m/s^2]
        Most that rate and acceleration vary at rest.
    align_clocks : bool
        Put the wrists on the chest's clock by the movement that they share.
    clock_largest_offset_s : float [s]
        Farthest that a clock is looked for.
    clock_largest_sd_s : float [s]
        A lag that is known less well is not used.
    """

    filter: str = one_of(motion.FILTER, motion.FILTERS)
    gyro_sample: str = one_of(motion.GYRO_SAMPLE, motion.GYRO_SAMPLES)
    tilt_time_constant_s: float = within(motion.TILT_TIME_CONSTANT_S, 0.1, 100.0)
    bias_prior_degps: float = within(motion.BIAS_PRIOR_DEGPS, 0.0001, 100.0)
    large_bias_degps: float = within(motion.LARGE_BIAS_DEGPS, 0.0, 100.0)
    split_gap_s: float = within(motion.SPLIT_GAP_S, 0.1, 3600.0)
    rest_shortest_s: float = within(motion.REST_SHORTEST_S, 0.1, NEVER_S)
    rest_gyr_degps: float = within(motion.REST_GYR_DEGPS, 0.01, 100.0)
    rest_acc_mps2: float = within(motion.REST_ACC_MPS2, 0.001, 10.0)
    align_clocks: bool = yes_or_no(motion.ALIGN_CLOCKS)
    clock_largest_offset_s: float = within(motion.CLOCK_LARGEST_OFFSET_S, 0.1, 3600.0)
    clock_largest_sd_s: float = within(motion.CLOCK_LARGEST_SD_S, 0.001, 1.0)


@dataclass(frozen=True, slots=True)
class WalkSettings(Ranged):
    """Bouts, passes, contacts, strides, yaw and arm swing.

    Attributes
    ----------
    trim_strides : int
        Strides left out at each end of a pass.
    turn_deg_per_stride : float [deg]
        A path that turns by more in a stride is a turn.
    bout_gap_s : float [s]
        Without times in a sheet: walking that pauses for longer is two bouts.
    angle_cutoff_hz : float [Hz]
        Angles are low-passed here: soft tissue rings above it.
    """

    trim_strides: int = within(passes.TRIM_STRIDES, 0, 20)
    turn_deg_per_stride: float = within(passes.TURN_DEG_PER_STRIDE, 5.0, 180.0)
    bout_gap_s: float = within(passes.BOUT_GAP_S, 0.0, 600.0)
    angle_cutoff_hz: float = within(walk.ANGLE_CUTOFF_HZ, 2.0, 100.0)


@dataclass(frozen=True, slots=True)
class MeasureSettings(Ranged):
    """Measures and their intervals.

    Attributes
    ----------
    least_strides_mean, least_strides_pci, least_strides_trend : int
        Kept strides below which a mean, a phase coordination index, a trend is missing.
    reliable_strides_variability : int
        Kept strides below which a variability comes with a warning.
    contact_noise_s : float [s]
        Standard deviation of a contact's time.
    least_timing_rate_hz : float [Hz]
        Below it variability and asymmetry of times are missing.
    least_phase_yaw_deg, least_phase_arm_deg : float [deg]
        Rotation and swing below which they have no phase.
    pitch_departs_deg : float [deg]
        A trunk pitched farther than this from its own standing is told.
    """

    least_strides_mean: int = within(measures.LEAST_STRIDES_MEAN, MINIMUM_STRIDES, MOST_STRIDES)
    least_strides_pci: int = within(measures.LEAST_STRIDES_PCI, MINIMUM_STRIDES, MOST_STRIDES)
    least_strides_trend: int = within(measures.LEAST_STRIDES_TREND, MINIMUM_STRIDES, MOST_STRIDES)
    reliable_strides_variability: int = within(
        measures.RELIABLE_STRIDES_VARIABILITY, MINIMUM_STRIDES, MOST_STRIDES
    )
    contact_noise_s: float = within(measures.CONTACT_NOISE_S, 0.0, 0.1)
    least_timing_rate_hz: float = within(measures.LEAST_TIMING_RATE_HZ, 0.0, 1000.0)
    least_phase_yaw_deg: float = within(measures.LEAST_PHASE_YAW_DEG, 0.0, 90.0)
    least_phase_arm_deg: float = within(measures.LEAST_PHASE_ARM_DEG, 0.0, 90.0)
    pitch_departs_deg: float = within(measures.PITCH_DEPARTS_DEG, 0.0, 90.0)


@dataclass(frozen=True, slots=True)
class CarrySettings(Ranged):
    """Findings against the free walk, the load ladder, shoulder tests.

    Attributes
    ----------
    reduced_pct, minimal_pct : float [%]
        Shares of the free walk's rotation below which a carry is reduced, and minimal.
    between_walk_cv_pct, between_walk_df : float [%], [1]
        How much walks of one visit differ before its own are seen, and the weight of that.
    baseline_least_deg, baseline_floor_ratio : float [deg], [1]
        Least rotation of the free walks, by itself and against their walking floor.
    arm_baseline_least_deg : float [deg]
        Least swing of the free walks.
    speed_match_pct : float [%]
        Free walks within it are of like pace.
    phase_far_deg : float [deg]
        A sternum that turns farther than this from its usual time in the stride is told.
    pain_limit_0_10 : float
        A carry with more pain is not counted as kept.
    own_readings_df : int
        Degrees of freedom from which a shoulder test is judged by its own repeats.
    reading_step_deg : float [deg]
        Least division in which a shoulder test is read.

    Raises
    ------
    SettingsError
        If ``minimal_pct`` is not below ``reduced_pct``.
    """

    reduced_pct: float = within(carry.REDUCED_PCT, 2.0, 100.0)
    minimal_pct: float = within(carry.MINIMAL_PCT, 1.0, 99.0)
    between_walk_cv_pct: float = within(carry.BETWEEN_WALK_CV_PCT, 0.0, 100.0)
    between_walk_df: float = within(carry.BETWEEN_WALK_DF, 1.0, 1000.0)
    baseline_least_deg: float = within(carry.BASELINE_LEAST_DEG, 0.1, 90.0)
    baseline_floor_ratio: float = within(carry.BASELINE_FLOOR_RATIO, 0.0, 100.0)
    arm_baseline_least_deg: float = within(carry.ARM_BASELINE_LEAST_DEG, 0.1, 180.0)
    speed_match_pct: float = within(carry.SPEED_MATCH_PCT, 0.0, 100.0)
    phase_far_deg: float = within(carry.PHASE_FAR_DEG, 0.0, 180.0)
    pain_limit_0_10: float = within(carry.PAIN_LIMIT, 0.0, 10.0)
    own_readings_df: int = within(carry.OWN_READINGS_DF, 1, 1000)
    reading_step_deg: float = within(carry.READING_STEP_DEG, 0.0, 45.0)

    def __post_init__(self) -> None:
        Ranged.__post_init__(self)
        if not self.minimal_pct < self.reduced_pct:
            raise SettingsError(
                f"minimal_pct must be below reduced_pct, got {self.minimal_pct:g} and"
                f" {self.reduced_pct:g}"
            )


ROOMS = {
    "readers": ReaderSettings,
    "motion": MotionSettings,
    "walk": WalkSettings,
    "measures": MeasureSettings,
    "carry": CarrySettings,
}


@dataclass(frozen=True, slots=True)
class Settings:
    """All settings of a run.

    Attributes
    ----------
    readers : ReaderSettings
    motion : MotionSettings
    walk : WalkSettings
    measures : MeasureSettings
    carry : CarrySettings

    Examples
    --------
    >>> from imucarry import CarrySettings, Settings
    >>> Settings(carry=CarrySettings(reduced_pct=80.0)).carry.reduced_pct
    80.0
    """

    readers: ReaderSettings = field(default_factory=ReaderSettings)
    motion: MotionSettings = field(default_factory=MotionSettings)
    walk: WalkSettings = field(default_factory=WalkSettings)
    measures: MeasureSettings = field(default_factory=MeasureSettings)
    carry: CarrySettings = field(default_factory=CarrySettings)

    def __post_init__(self) -> None:
        for room, kind in ROOMS.items():
            if not isinstance(getattr(self, room), kind):
                raise SettingsError(f"{room} must be {kind.__name__}")
