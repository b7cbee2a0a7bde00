"""The frozen records that flow through the package, in the order in which they arise.

A record checks shape and finiteness once, when it is made; code that receives
one trusts it. Arrays are made read-only. Radians and SI units throughout; index
ranges are half-open.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
IndexRanges = tuple[tuple[int, int], ...]

Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")
PLACEMENTS = ("chest", "left_wrist", "right_wrist")
HOLDS = (
    "free",
    "suitcase",
    "farmer",
    "rack",
    "bottoms_up",
    "overhead",
    "mixed",
    "unknown",
)
LOADED_SIDES = ("none", "left", "right", "both")
AIMS = ("mobility", "endurance", "strength", "control")
PERTURBED = ("none", "elastic")
SHOULDER_ROTATION_AIMS = ("internal_rotation", "external_rotation", "none")
DROP_REASONS = (
    "start",
    "stop",
    "turn",
    "beside_turn",
    "gap",
    "clipped",
    "contact_missed",
    "no_sensor",
)


def freeze(array: NDArray[np.generic], shape: tuple[int, ...], name: str) -> None:
    """Check the shape of an array (-1: any length) and make it read-only.

    Raises
    ------
    ValueError
        If the shape differs or a floating value is not finite.
    """
    fits = array.ndim == len(shape) and all(
        want in (-1, got) for want, got in zip(shape, array.shape, strict=True)
    )
    if not fits:
        raise ValueError(f"{name} has shape {array.shape}, expected {shape}")
    array.setflags(write=False)


def require_finite(array: FloatArray, name: str) -> None:
    """Raise ``ValueError`` where an array holds NaN or infinity."""
    if not np.isfinite(array).all():
        raise ValueError(f"{name} holds values that are not finite")


# --- what a reader gives -----------------------------------------------------


@dataclass(frozen=True, slots=True)
class Notice:
    """Something odd that a stage saw and went on from.

    ``severity`` is "check" when a person should look at it before believing the
    result, else "note".
    """

    code: str
    message: str
    file: str = ""
    where: str = ""
    severity: Literal["note", "check"] = "note"


@dataclass(frozen=True, slots=True)
class ColumnReading:
    """What one column of a file was taken for, and by which rule."""

    name: str
    role: str  # "time", "acc_x" ... "gyr_z", "counter", "sensor", "type", "ignored"
    unit: str
    rule: str


@dataclass(frozen=True, slots=True)
class FileReading:
    """What one file was understood to be (shown by ``preview``, kept in ``run.json``)."""

    file: str
    sha256: str
    layout: str  # one plain sentence: encoding, separator, decimal mark, header row
    columns: tuple[ColumnReading, ...]
    time_rule: str
    rate_hz: float
    jitter_ms: float
    n_rows: int
    duration_s: float
    n_gaps_bridged: int
    n_gaps: int
    longest_gap_s: float
    clipped_frac: float
    rest_acc_mps2: tuple[float, float, float] | None  # mean acceleration at rest
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True)
class Recording:
    """One worn sensor: accelerometer and gyroscope on one uniform grid, without NaN.

    Attributes
    ----------
    placement : str
        One of ``PLACEMENTS``.
    rate_hz : float
    time_s : ndarray, shape (N,) [s]
        Uniform, on the session clock as the sensor's own file stamps it (plus
        ``clock_offset_s`` when the session gives one).
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Specific force in sensor axes (+g upward at rest).
    gyr_radps : ndarray, shape (N, 3) [rad/s]
    gaps : index ranges
        Samples that were filled across a gap too long to bridge silently.
    clipped : index ranges
        Samples at the end of a sensor's range.
    up, out : str
        Sensor axis that points up / away from the body ("+x", "-z"), "" if unknown.
    clock_is_given : bool
        The session states this sensor's clock offset; it is not estimated.
    clock_is_event : bool
        The clock was set by an event that the sensors share; it is not estimated.
    readings : tuple of FileReading
    notices : tuple of Notice
    """

    placement: str
    rate_hz: float
    time_s: FloatArray
    acc_mps2: FloatArray
    gyr_radps: FloatArray
    gaps: IndexRanges = ()
    clipped: IndexRanges = ()
    up: str = ""
    out: str = ""
    clock_is_given: bool = False
    clock_is_event: bool = False
    readings: tuple[FileReading, ...] = ()
    notices: tuple[Notice, ...] = ()

    def __post_init__(self) -> None:
        freeze(self.time_s, (-1,), "time_s")
        n_samples = self.time_s.size
        freeze(self.acc_mps2, (n_samples, 3), "acc_mps2")
        freeze(self.gyr_radps, (n_samples, 3), "gyr_radps")
        for name in ("time_s", "acc_mps2", "gyr_radps"):
            require_finite(getattr(self, name), name)


@dataclass(frozen=True, slots=True)
class BoutRow:
    """One row of ``bouts.csv`` (or one bout that was found, with hold "unknown")."""

    bout: str
    start_s: float  # NaN: to be matched to the walking bouts found
    end_s: float
    hold: str = "unknown"
    loaded_side: str = "none"
    load_kg: float = float("nan")
    aim: str = ""
    left_load_kg: float = float("nan")
    right_load_kg: float = float("nan")
    left_hold: str = ""
    right_hold: str = ""
    perturbed: str = "none"
    shoulder_rotation_aim: str = ""
    implement: str = ""
    baseline: tuple[str, ...] = ()
    order: float = float("nan")
    rest_before_s: float = float("nan")
    rpe_0_10: float = float("nan")
    pain_0_10: float = float("nan")
    stop_reason: str = ""
    distance_m: float = float("nan")
    note: str = ""
    extra: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RomReading:
    """One row of ``rom.csv``: one reading of a shoulder range-of-motion test."""

    test: str
    side: str
    when: Literal["before", "after"]
    value_deg: float
    bout: str = ""
    method: str = ""
    active_passive: str = ""
    position: str = ""
    population: str = ""
    rater: str = ""


@dataclass(frozen=True, slots=True)
class Session:
    """One person's visit, read and checked."""

    participant: str
    session: str
    recordings: tuple[Recording, ...]
    date: date | None = None
    body_mass_kg: float = float("nan")
    height_m: float = float("nan")
    lane_m: float = float("nan")
    bout_rows: tuple[BoutRow, ...] | None = None  # None: no sheet, walking is found
    rom: tuple[RomReading, ...] = ()
    input_sha256: tuple[tuple[str, str], ...] = ()  # (file as named, hash), sorted
    notices: tuple[Notice, ...] = ()
    bouts_file: str = ""  # the sheet as named, for messages


# --- motion ------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Orientation:
    """Orientation of one sensor over its whole recording.

    Attributes
    ----------
    quat : ndarray, shape (N, 4)
        Unit quaternions, scalar first, sensor frame to world frame; world z is
        up, its heading is arbitrary and constant but for the gyroscope's drift.
    bias_radps : ndarray, shape (3,) [rad/s]
        Gyroscope bias that was taken out, in sensor axes.
    bias_sd_radps : float [rad/s]
        Its standard error.
    rest : index ranges
        Where the sensor was still.
    rate_scale : ndarray, shape (3, 3) [1]
        Gyroscope errors of scale and alignment that were taken out: what each axis
        reads too much, as a share of each true rate.
    """

    quat: FloatArray
    bias_radps: FloatArray
    bias_sd_radps: float
    rest: IndexRanges
    rate_scale: FloatArray = field(default_factory=lambda: np.zeros((3, 3)))
    notices: tuple[Notice, ...] = ()

    def __post_init__(self) -> None:
        freeze(self.quat, (-1, 4), "quat")
        freeze(self.bias_radps, (3,), "bias_radps")
        freeze(self.rate_scale, (3, 3), "rate_scale")


@dataclass(frozen=True, slots=True)
class ClockFit:
    """How one sensor's clock stands to the session clock: t_session = offset + (1 + drift) t."""

    placement: str
    offset_s: float
    drift_ppm: float
    sd_s: float
    source: str  # "reference", "given", "event", "shared_motion", "assumed"
    notices: tuple[Notice, ...] = ()


# --- walking -----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Window:
    """A span of the session clock [s]."""

    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class BodyFrame:
    """How a sensor sits on its segment.

    Attributes
    ----------
    sensor_to_body : ndarray, shape (3, 3)
        Rotation matrix whose rows are the body axes forward, left, up in sensor
        coordinates, levelled in quiet standing.
    levelled_in : str
        "quiet_standing" or "bout_mean".
    forward_source : str
        "given", "walking", or "assumed".
    sensor_slope_rad : float [rad]
        Angle of the sensor's outward axis out of the horizontal in standing.
    """

    sensor_to_body: FloatArray
    levelled_in: str
    forward_source: str
    sensor_slope_rad: float
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True)
class TrunkMotion:
    """The thorax over one bout's window, on the chest sensor's own grid.

    Attributes
    ----------
    time_s : ndarray, shape (N,) [s]
    rate_hz : float
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Acceleration without gravity along forward, left, up; levelled, and
        turning with the slow heading of the walk.
    gyr_radps : ndarray, shape (N, 3) [rad/s]
        Angular rate about the same three axes, bias removed.
    heading_rad : ndarray, shape (N,) [rad]
        The slow heading of the walk in the sensor's world frame, unwrapped.
    yaw_rad : ndarray, shape (N,) [rad]
        Heading of the thorax's forward axis in the same frame, left positive,
        unwrapped; the path's heading is still in it.
    lean_rad, pitch_rad : ndarray, shape (N,) [rad]
        Side lean (right positive) and pitch (forward positive) against standing.
    usable : ndarray of bool, shape (N,)
        False where a long gap was filled.
    clipped : ndarray of bool, shape (N,)
    levelled_in : str
        As in `BodyFrame`.
    heading_drift_sd_radps : float [rad/s]
        How fast its world may turn about the vertical: standard error of the bias.
    """

    time_s: FloatArray
    rate_hz: float
    acc_mps2: FloatArray
    gyr_radps: FloatArray
    heading_rad: FloatArray
    yaw_rad: FloatArray
    lean_rad: FloatArray
    pitch_rad: FloatArray
    usable: BoolArray
    clipped: BoolArray
    levelled_in: str
    heading_drift_sd_radps: float = 0.0

    def __post_init__(self) -> None:
        n_samples = self.time_s.size
        freeze(self.acc_mps2, (n_samples, 3), "acc_mps2")
        freeze(self.gyr_radps, (n_samples, 3), "gyr_radps")
        for name in (
            "time_s",
            "heading_rad",
            "yaw_rad",
            "lean_rad",
            "pitch_rad",
            "usable",
            "clipped",
        ):
            freeze(getattr(self, name), (n_samples,), name)


@dataclass(frozen=True, slots=True)
class ArmMotion:
    """One forearm over one bout's window, on the wrist sensor's own grid.

    Attributes
    ----------
    side : str
    time_s : ndarray, shape (N,) [s]
    rate_hz : float
    quat : ndarray, shape (N, 4)
        Sensor to world, scalar first.
    gyr_world_radps : ndarray, shape (N, 3) [rad/s]
        Angular rate in world axes (z up), bias removed.
    acc_world_mps2 : ndarray, shape (N, 3) [m/s^2]
        Acceleration without gravity in world axes.
    usable, clipped : ndarray of bool, shape (N,)
    down_sensor : tuple of float or None
        Sensor axis that points down the hanging forearm, where the session states it.
    rest_down_sensor : ndarray, shape (R, 3)
        Where down was, in sensor axes, in each rest in and around the window.
    rest_s : ndarray, shape (R,) [s]
        How long each of them lasted.
    heading_drift_sd_radps : float [rad/s]
        As in `TrunkMotion`.
    """

    side: Side
    time_s: FloatArray
    rate_hz: float
    quat: FloatArray
    gyr_world_radps: FloatArray
    acc_world_mps2: FloatArray
    usable: BoolArray
    clipped: BoolArray
    down_sensor: tuple[float, float, float] | None = None
    rest_down_sensor: FloatArray = field(default_factory=lambda: np.empty((0, 3)))
    rest_s: FloatArray = field(default_factory=lambda: np.empty(0))
    heading_drift_sd_radps: float = 0.0

    def __post_init__(self) -> None:
        n_samples = self.time_s.size
        freeze(self.quat, (n_samples, 4), "quat")
        freeze(self.gyr_world_radps, (n_samples, 3), "gyr_world_radps")
        freeze(self.acc_world_mps2, (n_samples, 3), "acc_world_mps2")
        freeze(self.rest_down_sensor, (self.rest_s.size, 3), "rest_down_sensor")
        for name in ("time_s", "usable", "clipped"):
            freeze(getattr(self, name), (n_samples,), name)


@dataclass(frozen=True, slots=True)
class Pass:
    """A straight run between turns; ``number`` counts from 1 in the bout."""

    number: int
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Contacts:
    """Foot contacts of one bout in time order.

    Attributes
    ----------
    time_s : ndarray, shape (K,) [s]
    is_left : ndarray of bool, shape (K,)
    pass_number : ndarray of int, shape (K,)
        0 where a contact lies in a turn.
    side_margin : float
        How clearly the sides were told apart; 0 is a toss-up, from 1 on clear.
    """

    time_s: FloatArray
    is_left: BoolArray
    pass_number: IntArray
    side_margin: float = 0.0
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True)
class Strides:
    """The strides of one bout: a left contact to the next left contact.

    All arrays have shape (S,). ``drop`` holds one boolean array for every
    reason of ``DROP_REASONS`` that does not depend on an arm; arms have theirs
    in ``kept_left_arm`` and ``kept_right_arm``.
    """

    start_s: FloatArray
    right_contact_s: FloatArray  # NaN when it was missed
    end_s: FloatArray
    left_step_time_s: FloatArray  # right contact to left contact
    right_step_time_s: FloatArray  # left contact to right contact
    pass_number: IntArray  # 0 in a turn
    stride_in_pass: IntArray
    turning: BoolArray
    drop: Mapping[str, BoolArray]
    kept_timing: BoolArray
    kept_yaw: BoolArray
    kept_left_arm: BoolArray
    kept_right_arm: BoolArray


@dataclass(frozen=True, slots=True)
class StrideYaw:
    """Sternum yaw of each stride with the path's heading removed; NaN where undefined.

    All arrays have shape (S,) but ``curve_rad``, shape (S, 101): yaw at 0, 1 ...
    100 % of the stride, zero mean.
    """

    range_rad: FloatArray
    locked_rad: FloatArray  # peak to peak of the stride- and step-rate harmonics
    phase_rad: FloatArray  # of the stride rate: when it faces farthest left, 0..2 pi
    amplitude_rad: FloatArray  # half the peak to peak of the stride-rate harmonic
    peak_rate_radps: FloatArray
    floor_rad: FloatArray  # peak to peak that the part not locked to the stride would give
    lean_rad: FloatArray  # means over the stride
    lean_range_rad: FloatArray
    pitch_rad: FloatArray
    curve_rad: FloatArray


@dataclass(frozen=True, slots=True)
class StrideSwing:
    """Forearm swing of each stride; NaN where undefined.

    All arrays have shape (S,) but the curves, shape (S, 101). Without a chest
    sensor the "strides" are the arm's own cycles and ``start_s`` tells their times.
    """

    start_s: FloatArray
    end_s: FloatArray
    range_rad: FloatArray
    peak_forward_radps: FloatArray
    peak_backward_radps: FloatArray
    mean_angle_rad: FloatArray  # of the forearm against its own standing, forward positive
    phase_rad: FloatArray  # of the stride rate: when it is farthest forward, 0..2 pi
    amplitude_rad: FloatArray  # half the peak to peak of the stride-rate harmonic
    step_amplitude_rad: FloatArray  # the same of the step-rate harmonic
    plane_source: str  # "own motion", "free walk", "assumed"
    direction_source: str  # how forward was told: "chest", "start of walking", "unknown"
    angle_curve_rad: FloatArray  # angle in the swing plane, forward positive, zero mean
    vertical_curve_rad: FloatArray  # rotation about the vertical, left positive, zero mean


@dataclass(frozen=True, slots=True)
class BoutData:
    """All that the measures may use of one bout.

    ``columns`` are the per-stride columns of ``strides.csv`` in the units of
    their names, each of shape (S,), NaN where undefined. ``arms`` has an entry
    for each worn wrist. ``lane_m`` and ``body_mass_kg`` are the session's, NaN when
    not given; ``clock_sd_s`` is how far a wrist's clock may be off the chest's (one
    standard deviation), 0 where it has no entry.
    """

    row: BoutRow
    ordinal: int
    trunk: TrunkMotion | None
    arms: Mapping[Side, ArmMotion]
    passes: tuple[Pass, ...]
    contacts: Contacts
    strides: Strides
    yaw: StrideYaw | None
    swing: Mapping[Side, StrideSwing]
    columns: Mapping[str, FloatArray]
    notices: tuple[Notice, ...] = ()
    lane_m: float = float("nan")
    body_mass_kg: float = float("nan")
    clock_sd_s: Mapping[Side, float] = field(default_factory=dict)


# --- scores ------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its 95 % interval, or the reason why there is none.

    ``missing_because`` is a reason code, empty when there is a value; ``notes`` are
    codes that qualify a value that is there (``measures.reasons`` explains both).
    """

    value: float = float("nan")
    ci_low: float = float("nan")
    ci_high: float = float("nan")
    n_used: int = 0
    missing_because: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Score:
    """One row of ``scores.csv``."""

    bout: str
    measure: str
    side: Literal["left", "right", "none"]
    role: Literal["free", "held", "none"]
    unit: str
    estimate: Estimate


@dataclass(frozen=True, slots=True)
class LadderRung:
    """One row of ``ladder.csv``."""

    hold: str
    loaded_side: str
    implement: str
    threshold_pct: float
    heaviest_kept_kg: float
    next_kg: float
    answer: str
    loads_kg: tuple[float, ...] = ()  # every tested load, rising, with its mean kept %
    kept_pct: tuple[float, ...] = ()
    ci_low_pct: tuple[float, ...] = ()
    ci_high_pct: tuple[float, ...] = ()
    fit_pct: tuple[float, ...] = ()  # monotone fit and its band at the same loads
    fit_low_pct: tuple[float, ...] = ()
    fit_high_pct: tuple[float, ...] = ()
    notices: tuple[Notice, ...] = ()
    likely_kept_kg: float = float("nan")  # heaviest load whose fit, not lower limit, keeps it
    left_hold: str = ""  # of hold "mixed"
    right_hold: str = ""


@dataclass(frozen=True, slots=True)
class RetestFinding:
    """One row of ``retest.csv``: one shoulder test and side, before and after."""

    test: str
    side: str
    before_deg: float
    after_deg: float
    change_deg: float
    error_deg: float
    error_source: str
    finding: str
    explanation: str = ""


@dataclass(frozen=True, slots=True)
class Comparison:
    """One bout against the same person's free walk.

    ``scores`` holds ``yaw_kept`` and ``arm_swing_kept`` (in %), and whatever else
    is only defined against the baseline.
    """

    baseline_bouts: tuple[str, ...]
    scores: tuple[Score, ...]
    rotation_finding: str  # rotates, reduced, minimal, unclear, no_baseline, not_measured
    finding_because: str = ""  # a reason code such as "baseline_small", or ""
    notices: tuple[Notice, ...] = ()
    # Of log(yaw_kept): standard errors of the bout's and of the baseline's part.
    yaw_log_se_bout: float = float("nan")
    yaw_log_se_baseline: float = float("nan")
    yaw_log_df: float = float("nan")


@dataclass(frozen=True, slots=True)
class AimReading:
    """What a bout's finding means for its aim; ``report.wording`` puts it into a sentence."""

    code: str
    lighter_kg: float = float("nan")  # next lighter tested load that kept the rotation


@dataclass(frozen=True, slots=True)
class BoutResult:
    """One bout with its scores and its reading against the free walk."""

    data: BoutData
    scores: tuple[Score, ...]
    comparison: Comparison
    aim_reading: AimReading
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True)
class SensorResult:
    """What was found about one sensor: for the data-quality table."""

    recording: Recording
    orientation: Orientation
    clock: ClockFit
    frame: BodyFrame | None  # chest only


@dataclass(frozen=True, slots=True)
class SessionScores:
    """Everything that one run found; tables and page are made from this alone."""

    session: Session
    sensors: tuple[SensorResult, ...]
    bouts: tuple[BoutResult, ...]
    ladder: tuple[LadderRung, ...]
    retest: tuple[RetestFinding, ...]
    notices: tuple[Notice, ...]
