"""What the readers give: a session as it was recorded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from imucarry.basics.records.arrays import FloatArray, IndexRanges, freeze, require_finite


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


@dataclass(frozen=True, slots=True, eq=False)
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
    acc_clipped, gyr_clipped : index ranges
        Samples at the end of the accelerometer's or the gyroscope's range.
    up, out : str
        Sensor axis that points up / away from the body ("+x", "-z"), "" if unknown.
    clock_is_given : bool
        The session states this sensor's clock offset; it is not estimated.
    clock_is_event : bool
        The clock was set by an event that the sensors share; it is not estimated.
    times_are_stated : bool
        The times rest on a stated rate or unit of time, not on the file's own times alone.
    readings : tuple of FileReading
    notices : tuple of Notice
    """

    placement: str
    rate_hz: float
    time_s: FloatArray
    acc_mps2: FloatArray
    gyr_radps: FloatArray
    gaps: IndexRanges = ()
    acc_clipped: IndexRanges = ()
    gyr_clipped: IndexRanges = ()
    up: str = ""
    out: str = ""
    clock_is_given: bool = False
    clock_is_event: bool = False
    times_are_stated: bool = False
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
    line: int = 0  # of the sheet, for messages; 0 where there is none


@dataclass(frozen=True, slots=True, eq=False)
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
    bouts_file: str = ""  # the sheets as named, for messages
    rom_file: str = ""
