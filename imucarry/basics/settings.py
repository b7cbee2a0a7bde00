"""The frozen tree of settings: one class a room, defaults from ``evidence``.

A settings file is TOML with one table a class::

    [walk]
    trim_strides = 1

An unknown table, key or a value of the wrong type is a `SettingsError`.
Angles are in degrees here, as people write them.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field, fields, is_dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from imucarry.basics.errors import SettingsError
from imucarry.basics.evidence import carry, measures, motion, passes, readers, walk

# Fewer values have no spread.
MINIMUM_STRIDES = 3


@dataclass(frozen=True, slots=True)
class ReaderSettings:
    """How files are read."""

    bridged_gap_s: float = readers.BRIDGED_GAP_S.value
    least_rate_hz: float = readers.LEAST_RATE_HZ.value
    low_rate_hz: float = readers.LOW_RATE_HZ.value
    least_duration_s: float = readers.LEAST_DURATION_S.value

    def __post_init__(self) -> None:
        for name in ("bridged_gap_s", "least_rate_hz", "low_rate_hz", "least_duration_s"):
            if not getattr(self, name) > 0:
                raise ValueError(f"{name} must be positive")


@dataclass(frozen=True, slots=True)
class MotionSettings:
    """Orientation, rest, bias and clocks."""

    filter: str = motion.FILTER.value
    gyro_sample: str = motion.GYRO_SAMPLE.value
    tilt_time_constant_s: float = motion.TILT_TIME_CONSTANT_S.value
    bias_prior_degps: float = motion.BIAS_PRIOR_DEGPS.value
    large_bias_degps: float = motion.LARGE_BIAS_DEGPS.value
    split_gap_s: float = motion.SPLIT_GAP_S.value
    rest_shortest_s: float = motion.REST_SHORTEST_S.value
    rest_gyr_degps: float = motion.REST_GYR_DEGPS.value
    rest_acc_mps2: float = motion.REST_ACC_MPS2.value
    align_clocks: bool = motion.ALIGN_CLOCKS.value
    clock_largest_offset_s: float = motion.CLOCK_LARGEST_OFFSET_S.value
    clock_largest_sd_s: float = motion.CLOCK_LARGEST_SD_S.value

    def __post_init__(self) -> None:
        if self.filter not in motion.FILTERS.value:
            raise ValueError(f"filter must be one of {', '.join(motion.FILTERS.value)}")
        if self.gyro_sample not in motion.GYRO_SAMPLES.value:
            raise ValueError(f"gyro_sample must be one of {', '.join(motion.GYRO_SAMPLES.value)}")
        for name in (
            "tilt_time_constant_s",
            "bias_prior_degps",
            "rest_shortest_s",
            "rest_gyr_degps",
            "rest_acc_mps2",
        ):
            if not getattr(self, name) > 0:
                raise ValueError(f"{name} must be positive")


@dataclass(frozen=True, slots=True)
class WalkSettings:
    """Bouts, passes, contacts, strides, yaw and arm swing."""

    trim_strides: int = passes.TRIM_STRIDES.value
    turn_deg_per_stride: float = passes.TURN_DEG_PER_STRIDE.value
    bout_gap_s: float = passes.BOUT_GAP_S.value
    angle_cutoff_hz: float = walk.ANGLE_CUTOFF_HZ.value


@dataclass(frozen=True, slots=True)
class MeasureSettings:
    """Measures and their intervals."""

    least_strides_mean: int = measures.LEAST_STRIDES_MEAN.value
    least_strides_pci: int = measures.LEAST_STRIDES_PCI.value
    least_strides_trend: int = measures.LEAST_STRIDES_TREND.value
    reliable_strides_variability: int = measures.RELIABLE_STRIDES_VARIABILITY.value
    contact_noise_s: float = measures.CONTACT_NOISE_S.value
    least_timing_rate_hz: float = measures.LEAST_TIMING_RATE_HZ.value
    least_phase_yaw_deg: float = measures.LEAST_PHASE_YAW_DEG.value
    least_phase_arm_deg: float = measures.LEAST_PHASE_ARM_DEG.value
    pitch_departs_deg: float = measures.PITCH_DEPARTS_DEG.value

    def __post_init__(self) -> None:
        if min(self.least_strides_mean, self.least_strides_pci) < MINIMUM_STRIDES:
            raise ValueError(f"least strides must be at least {MINIMUM_STRIDES}")
        if self.least_strides_trend < MINIMUM_STRIDES:
            raise ValueError(f"least_strides_trend must be at least {MINIMUM_STRIDES}")
        if self.contact_noise_s < 0:
            raise ValueError("contact_noise_s must not be negative")


@dataclass(frozen=True, slots=True)
class CarrySettings:
    """Findings against the free walk, the load ladder, shoulder tests."""

    reduced_pct: float = carry.REDUCED_PCT.value
    minimal_pct: float = carry.MINIMAL_PCT.value
    between_walk_cv_pct: float = carry.BETWEEN_WALK_CV_PCT.value
    between_walk_df: float = carry.BETWEEN_WALK_DF.value
    baseline_least_deg: float = carry.BASELINE_LEAST_DEG.value
    baseline_floor_ratio: float = carry.BASELINE_FLOOR_RATIO.value
    arm_baseline_least_deg: float = carry.ARM_BASELINE_LEAST_DEG.value
    speed_match_pct: float = carry.SPEED_MATCH_PCT.value
    phase_far_deg: float = carry.PHASE_FAR_DEG.value
    pain_limit_0_10: float = carry.PAIN_LIMIT.value
    own_readings_df: int = carry.OWN_READINGS_DF.value
    reading_step_deg: float = carry.READING_STEP_DEG.value

    def __post_init__(self) -> None:
        if not 0 < self.minimal_pct < self.reduced_pct:
            raise ValueError("minimal_pct must be above 0 and below reduced_pct")
        if self.between_walk_cv_pct < 0 or self.between_walk_df <= 0:
            raise ValueError("between_walk_cv_pct must not be negative, between_walk_df positive")


@dataclass(frozen=True, slots=True)
class Settings:
    """All settings of a run."""

    readers: ReaderSettings = field(default_factory=ReaderSettings)
    motion: MotionSettings = field(default_factory=MotionSettings)
    walk: WalkSettings = field(default_factory=WalkSettings)
    measures: MeasureSettings = field(default_factory=MeasureSettings)
    carry: CarrySettings = field(default_factory=CarrySettings)


def read_settings(path: Path | None) -> Settings:
    """Read a TOML settings file; without one, return the defaults.

    Raises
    ------
    SettingsError
        If the file cannot be read or holds an unknown key or a wrong type.
    """
    if path is None:
        return Settings()
    try:
        tree = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise SettingsError(f"cannot be read as TOML: {error}", file=path.name) from error
    settings = Settings()
    for table, values in tree.items():
        _require_known(table, [room.name for room in fields(Settings)], path.name, "table")
        if not isinstance(values, dict):
            raise SettingsError(
                f"is a table: write [{table}] on a line of its own", file=path.name, where=table
            )
        room = _with_values(getattr(settings, table), values, path.name, table)
        settings = replace(settings, **{table: room})
    return settings


def _with_values(room: Any, values: dict[str, Any], file: str, table: str) -> Any:
    """Return a copy of one settings class with the values of its table."""
    known = {item.name: getattr(room, item.name) for item in fields(room)}
    checked = {}
    for key, value in values.items():
        _require_known(key, list(known), file, f"setting of [{table}]")
        checked[key] = _matching(value, known[key], file, f"{table}.{key}")
    try:
        return replace(room, **checked)
    except ValueError as error:
        raise SettingsError(str(error), file=file, where=f"[{table}]") from error


def _require_known(name: str, known: list[str], file: str, kind: str) -> None:
    if name in known:
        return
    close = get_close_matches(name, known, n=1)
    hint = f"did you mean {close[0]!r}?" if close else f"known: {', '.join(known) or 'none'}"
    raise SettingsError(f"unknown {kind} {name!r}; {hint}", file=file, where=name)


def _matching(value: Any, default: Any, file: str, where: str) -> Any:
    """Return `value` as the type of `default`, or raise."""
    if isinstance(default, float) and isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    if isinstance(default, tuple) and isinstance(value, list):
        return tuple(value)
    if type(value) is not type(default):
        kind = type(default).__name__
        raise SettingsError(f"must be of type {kind}, got {value!r}", file=file, where=where)
    return value


def as_tree(settings: Settings) -> dict[str, dict[str, Any]]:
    """Return the settings as plain nested dictionaries, for ``run.json``."""
    return {
        room.name: {
            item.name: getattr(getattr(settings, room.name), item.name)
            for item in fields(getattr(settings, room.name))
        }
        for room in fields(Settings)
        if is_dataclass(getattr(settings, room.name))
    }
