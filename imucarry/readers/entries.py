"""What a session consists of, as its file or its file names say: not yet read."""

from __future__ import annotations

import contextlib
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from imucarry.basics.records import Notice


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


@dataclass(frozen=True, slots=True)
class SessionPlan:
    """The parts of a session, checked but not yet read."""

    folder: Path
    toml: str  # "" when there is none
    participant: str
    session: str
    sensors: tuple[SensorEntry, ...]
    bouts: str = ""
    rom: str = ""
    date: date | None = None
    body_mass_kg: float = float("nan")
    height_m: float = float("nan")
    lane_m: float = float("nan")
    notices: tuple[Notice, ...] = ()

    def path(self, name: str) -> Path:
        """Return where a file of the session lies.

        Some systems store an accented letter as one sign, some as two: where the name as
        written is not there, the other spelling is looked for.
        """
        spellings = (name, *(unicodedata.normalize(form, name) for form in ("NFC", "NFD")))
        paths = [self.folder / spelling for spelling in spellings]
        return next((path for path in paths if _is_there(path)), paths[0])


def _is_there(path: Path) -> bool:
    with contextlib.suppress(OSError, ValueError):  # a name that no file can have
        return path.exists()
    return False
