"""What was done in one bout: trunk and arms, contacts, strides, rotation and swing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from imucarry.basics.records.arrays import (
    BoolArray,
    FloatArray,
    IntArray,
    freeze,
    freeze_arrays,
)
from imucarry.basics.records.reading import BoutRow, Notice
from imucarry.basics.records.vocabulary import Side


@dataclass(frozen=True, slots=True)
class Window:
    """A span of the session clock [s]."""

    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True, eq=False)
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

    def __post_init__(self) -> None:
        freeze(self.sensor_to_body, (3, 3), "sensor_to_body")


@dataclass(frozen=True, slots=True, eq=False)
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
        The gyroscope stands at the end of its range.
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
        threes = dict.fromkeys(("acc_mps2", "gyr_radps"), (n_samples, 3))
        freeze_arrays(self, (n_samples,), **threes)


@dataclass(frozen=True, slots=True, eq=False)
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
        As in `TrunkMotion`.
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
        freeze_arrays(
            self,
            (n_samples,),
            quat=(n_samples, 4),
            gyr_world_radps=(n_samples, 3),
            acc_world_mps2=(n_samples, 3),
            rest_down_sensor=(self.rest_s.size, 3),
            rest_s=(self.rest_s.size,),
        )


@dataclass(frozen=True, slots=True)
class Pass:
    """A straight run between turns; ``number`` counts from 1 in the bout."""

    number: int
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True, eq=False)
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
    moment_s : float [s]
        From the trunk's steepest answer to the moment that is taken for contact.
    """

    time_s: FloatArray
    is_left: BoolArray
    pass_number: IntArray
    side_margin: float = 0.0
    moment_s: float = 0.0
    notices: tuple[Notice, ...] = ()

    def __post_init__(self) -> None:
        freeze_arrays(self, (self.time_s.size,))


@dataclass(frozen=True, slots=True, eq=False)
class Strides:
    """The strides of one bout: a left contact to the next left contact.

    All arrays have shape (S,). ``drop`` holds one boolean array for every
    reason of ``DROP_REASONS`` that does not depend on an arm; ``arm_drop`` holds
    one for every reason that left out an arm, either or both.
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
    arm_drop: Mapping[str, BoolArray] = field(default_factory=dict)

    def __post_init__(self) -> None:
        freeze_arrays(self, (self.start_s.size,))
        for name, dropped in {**self.drop, **self.arm_drop}.items():
            freeze(dropped, (self.start_s.size,), name)

    def kept_arm(self, side: Side) -> BoolArray:
        """Return which strides count for an arm, shape (S,)."""
        return self.kept_left_arm if side == "left" else self.kept_right_arm


@dataclass(frozen=True, slots=True, eq=False)
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

    def __post_init__(self) -> None:
        freeze_arrays(self, (self.range_rad.size,), curve_rad=(self.range_rad.size, -1))


@dataclass(frozen=True, slots=True, eq=False)
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

    def __post_init__(self) -> None:
        n_strides = self.start_s.size
        curves = {"angle_curve_rad": (n_strides, -1), "vertical_curve_rad": (n_strides, -1)}
        freeze_arrays(self, (n_strides,), **curves)


@dataclass(frozen=True, slots=True, eq=False)
class BoutData:
    """All that the measures may use of one bout.

    ``columns`` are the per-stride columns of ``strides.csv`` in the units of
    their names, each of shape (S,), NaN where undefined. ``arms`` has an entry
    for each worn wrist. ``lane_m`` and ``body_mass_kg`` are the session's, NaN when
    not given; ``clock_sd_s`` is how far a wrist's clock may be off the chest's (one
    standard deviation), 0 where it has no entry; ``chest_doubt`` is a reason code where
    the chest sensor's angles cannot be relied on.
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
    chest_doubt: str = ""
