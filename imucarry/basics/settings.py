"""The frozen tree of settings: one class a room, defaults from ``evidence``.

A settings file is TOML with one table a class::

    [walk]
    trim_strides = 1

What a setting means, its unit and source stand at its default (`set_as`) in ``imucarry sources``.
An unknown table or key, a value of the wrong type or out of its range is a
`SettingsError`. Angles are in degrees here, as people write them.

The ranges are engineering choices: wide enough for all that a setting can mean,
narrow enough that every stage can work with what lies in them.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass, field, fields, is_dataclass, replace
from difflib import get_close_matches
from numbers import Integral, Real
from pathlib import Path
from typing import Any, TypeVar

from imucarry.basics.errors import SettingsError
from imucarry.basics.evidence import Evidence, carry, measures, motion, passes, readers, walk
from imucarry.basics.files import NO_FILE, NOT_THERE, is_special

Number = TypeVar("Number", int, float)

# Fewer values have no spread.
MINIMUM_STRIDES = 3
MOST_STRIDES = 1000
# Longer than any recording: none is taken for rest.
NEVER_S = 1e6
# A whole number may be written with more digits than a float can hold.
LARGEST = 1e300
KINDS = {float: "a number", int: "a whole number", str: "text", bool: "true or false"}


def within(default: Evidence[Number], least: Number, most: Number) -> Number:
    """Return a field with a default, and the range of its values, ends included."""
    made: Number = field(
        default=default.value, metadata={"range": (least, most), "key": default.key}
    )
    return made


def one_of(default: Evidence[str], choices: Evidence[Any]) -> str:
    """Return a field with a default, and the words that it may be."""
    made: str = field(
        default=default.value, metadata={"choices": choices.value, "key": default.key}
    )
    return made


def yes_or_no(default: Evidence[bool]) -> bool:
    """Return a field that is true or false."""
    made: bool = field(default=default.value, metadata={"key": default.key})
    return made


@dataclass(frozen=True, slots=True)
class Ranged:
    """Settings whose types and ranges are checked, also when made in Python.

    Raises
    ------
    SettingsError
        If a value is of a wrong type or out of its range; the message names the setting.
    """

    def __post_init__(self) -> None:
        for item in fields(self):
            given = getattr(self, item.name)
            value = _as_kind(given, type(item.default))
            if value is None:
                kind = KINDS[type(item.default)]
                raise SettingsError(f"{item.name} must be {kind}, got {given!r}")
            least, most = item.metadata.get("range", (None, None))
            # Written so that NaN is refused too.
            if least is not None and not least <= value <= most:
                raise SettingsError(f"{item.name} must be {least:g} to {most:g}, got {value}")
            choices = item.metadata.get("choices")
            if choices and value not in choices:
                words = ", ".join(choices)
                raise SettingsError(f"{item.name} must be one of {words}, got {value!r}")
            object.__setattr__(self, item.name, value)


def _as_kind(value: Any, kind: type) -> Any:
    """Return a value as a plain one of its kind, None where it is of another.

    A whole number is a number too; true and false are neither. NumPy's scalars count as
    Python's.
    """
    if type(value).__name__ in ("bool", "bool_"):
        return bool(value) if kind is bool else None
    if kind is int and isinstance(value, Integral):
        return int(value)
    if kind is float and isinstance(value, Real):
        if isinstance(value, Integral) and abs(int(value)) >= LARGEST:
            return math.inf if int(value) > 0 else -math.inf
        return float(value)
    return value if type(value) is kind else None


@dataclass(frozen=True, slots=True)
class ReaderSettings(Ranged):
    """How files are read."""

    bridged_gap_s: float = within(readers.BRIDGED_GAP_S, 0.001, 10.0)
    least_rate_hz: float = within(readers.LEAST_RATE_HZ, 10.0, 1000.0)
    low_rate_hz: float = within(readers.LOW_RATE_HZ, 10.0, 1000.0)
    least_duration_s: float = within(readers.LEAST_DURATION_S, 0.5, 3600.0)


@dataclass(frozen=True, slots=True)
class MotionSettings(Ranged):
    """Orientation, rest, bias and clocks."""

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
    """Bouts, passes, contacts, strides, yaw and arm swing."""

    trim_strides: int = within(passes.TRIM_STRIDES, 0, 20)
    turn_deg_per_stride: float = within(passes.TURN_DEG_PER_STRIDE, 5.0, 180.0)
    bout_gap_s: float = within(passes.BOUT_GAP_S, 0.0, 600.0)
    angle_cutoff_hz: float = within(walk.ANGLE_CUTOFF_HZ, 2.0, 100.0)


@dataclass(frozen=True, slots=True)
class MeasureSettings(Ranged):
    """Measures and their intervals."""

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
    """Findings against the free walk, the load ladder, shoulder tests."""

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
    """All settings of a run."""

    readers: ReaderSettings = field(default_factory=ReaderSettings)
    motion: MotionSettings = field(default_factory=MotionSettings)
    walk: WalkSettings = field(default_factory=WalkSettings)
    measures: MeasureSettings = field(default_factory=MeasureSettings)
    carry: CarrySettings = field(default_factory=CarrySettings)

    def __post_init__(self) -> None:
        for room, kind in ROOMS.items():
            if not isinstance(getattr(self, room), kind):
                raise SettingsError(f"{room} must be {kind.__name__}")


def settings_from(given: Settings | str | Path | None) -> Settings:
    """Return settings as they are, or read from the file that is named, or the defaults.

    Raises
    ------
    SettingsError
        If it is none of these, or the file cannot be used.
    """
    if not isinstance(given, Settings | str | Path | None):
        raise SettingsError(
            f"settings must be Settings or the path of a TOML file, got {type(given).__name__}"
        )
    return given if isinstance(given, Settings) else read_settings(given)


def read_settings(path: str | Path | None = None) -> Settings:
    """Read a TOML settings file; without one, return the defaults.

    Parameters
    ----------
    path : str or Path, optional

    Raises
    ------
    SettingsError
        If the file cannot be read, or holds an unknown table or key, or a value of a
        wrong type or out of its range.
    """
    if path is None:
        return Settings()
    path = Path(path)
    try:
        if is_special(path):
            raise SettingsError(NO_FILE, file=path.name)
        tree = tomllib.loads(path.read_text(encoding="utf-8-sig"))
        repr(tree)  # a number that cannot be shown is refused here
    except FileNotFoundError as error:
        raise SettingsError(NOT_THERE, file=path.name) from error
    except (OSError, ValueError, RecursionError) as error:
        raise SettingsError(f"cannot be read as TOML: {error}", file=path.name) from error
    settings = Settings()
    for table, values in tree.items():
        kind = "table" if isinstance(values, dict) else "table or setting"
        _require_known(table, [room.name for room in fields(Settings)], path.name, kind, values)
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
    except SettingsError as error:
        raise SettingsError(error.message, file=file, where=f"[{table}]") from error


def _require_known(
    name: str, known: list[str], file: str, kind: str, values: object = None
) -> None:
    """Raise if a table or setting is not known; name the table that has such a setting."""
    if name in known:
        return
    close = get_close_matches(name, known, n=1)
    sought = (name, *(values if isinstance(values, dict) else ()))
    homes = [home for setting in sought for home in _tables_with(setting)]
    hint = f"known: {', '.join(known)}"
    if homes:
        hint = f"did you mean {homes[0]}?"
    elif close:
        hint = f"did you mean {close[0]!r}?"
    raise SettingsError(f"unknown {kind} {name!r}; {hint}", file=file, where=name)


def _tables_with(setting: str) -> list[str]:
    """Return the places of a setting, each with its table in brackets."""
    tree = as_tree(Settings())
    return [f"[{table}] {setting}" for table, values in tree.items() if setting in values]


def _matching(value: Any, default: Any, file: str, where: str) -> Any:
    """Return `value` as the type of `default`, or raise."""
    matching = _as_kind(value, type(default))
    if matching is None:
        kind = KINDS[type(default)]
        raise SettingsError(f"must be {kind}, got {value!r}", file=file, where=where)
    return matching


def set_as() -> dict[str, str]:
    """Return how each default that can be set is named in a file, by its key in ``evidence``."""
    return {
        item.metadata["key"]: f"[{room}] {item.name}"
        for room, kind in ROOMS.items()
        for item in fields(kind)
    }


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
