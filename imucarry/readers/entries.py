"""What a session file says about one sensor."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class SensorEntry:
    """One ``[[sensor]]`` table; what is empty or NaN is worked out from the file.

    ``columns`` maps "time", "counter", "acc" and "gyr" to column names (three
    for "acc" and "gyr"). ``sensor`` picks one sensor of a file that holds
    several. ``acc_scale`` and ``gyr_scale`` are the size of one raw count in
    ``acc_unit`` and ``gyr_unit``. ``clock_offset_s`` NaN means not given, as does
    ``event_s``: when, after this sensor's first sample, it felt what all sensors felt.
    """

    placement: str
    files: tuple[str, ...] = ()
    columns: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    sensor: str = ""
    acc_unit: str = ""
    gyr_unit: str = ""
    time_unit: str = ""
    rate_hz: float = float("nan")
    acc_scale: float = float("nan")
    gyr_scale: float = float("nan")
    up: str = ""
    out: str = ""
    clock_offset_s: float = float("nan")
    event_s: float = float("nan")
