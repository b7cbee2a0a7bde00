"""What a session consists of: from ``session.toml``, or from the names of a folder's files."""

from __future__ import annotations

import contextlib
import tomllib
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from imucarry.basics.errors import SessionError
from imucarry.basics.records import PLACEMENTS, Notice
from imucarry.basics.units import ACC_UNITS_MPS2, GYR_UNITS_RADPS, TIME_UNITS_S
from imucarry.readers.entries import SensorEntry
from imucarry.readers.names import kind_of_word, placement_of
from imucarry.readers.toml_fields import (
    axis_of,
    columns_of,
    date_of,
    files_of,
    label_of,
    number_of,
    positive_of,
    size_of,
    text_of,
    unit_text_of,
)
from imucarry.readers.words import printable, require_word

TOML_NAME = "session.toml"
SESSION_KEYS = (
    "participant",
    "session",
    "date",
    "body_mass_kg",
    "height_m",
    "lane_m",
    "bouts",
    "rom",
    "sensor",
)
SENSOR_KEYS = (
    "placement",
    "file",
    "columns",
    "sensor",
    "acc_unit",
    "gyr_unit",
    "time_unit",
    "rate_hz",
    "acc_scale",
    "gyr_scale",
    "up",
    "out",
    "clock_offset_s",
    "event_s",
)
SHEETS = ("bouts.csv", "rom.csv")
TABLE_ENDINGS = (".csv", ".txt", ".tsv", ".parquet", ".gz")


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


def read_plan(path: Path) -> SessionPlan:
    """Read a session's plan.

    Parameters
    ----------
    path : Path
        A folder, or a session file in it.

    Raises
    ------
    SessionError
        If there is no session there, or its file is wrong.
    """
    if path.is_dir():
        toml = path / TOML_NAME
        return _from_toml(toml) if toml.exists() else plan_from_names(path)
    if not path.exists():
        raise SessionError(
            "is not there; name a session folder or its session.toml", file=str(path)
        )
    return _from_toml(path)


def _from_toml(path: Path) -> SessionPlan:
    tree = _tree(path)
    for key in tree:
        require_word(key, SESSION_KEYS, "key", path.name, printable(key))
    tables = tree.get("sensor", [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        raise SessionError("write [[sensor]] with two brackets", file=path.name, where="sensor")
    sensors = tuple(_sensor(table, path.name, n + 1) for n, table in enumerate(tables))
    _require_sensors(sensors, path.name)
    return SessionPlan(
        folder=path.parent,
        toml=path.name,
        participant=label_of(tree, "participant", path.name),
        session=label_of(tree, "session", path.name),
        sensors=sensors,
        bouts=text_of(tree, "bouts", path.name),
        rom=text_of(tree, "rom", path.name),
        date=date_of(tree, path.name),
        body_mass_kg=size_of(tree, "body_mass_kg", path.name),
        height_m=size_of(tree, "height_m", path.name),
        lane_m=size_of(tree, "lane_m", path.name),
    )


def _tree(path: Path) -> dict[str, Any]:
    try:
        data = path.read_bytes()
        return tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise SessionError(
            "is no UTF-8 text; save it as UTF-8", file=path.name, where=f"line {line}"
        ) from error
    except (OSError, tomllib.TOMLDecodeError, RecursionError) as error:
        first = (str(error).splitlines() or [type(error).__name__])[0]
        what, _, where = first.partition(" (at ")
        raise SessionError(
            f"cannot be read as TOML: {what}", file=path.name, where=where.rstrip(")")
        ) from error


def _require_sensors(sensors: Sequence[SensorEntry], file: str) -> None:
    if not sensors:
        raise SessionError(
            "lists no sensor; add [[sensor]] with placement and file", file=file, where="sensor"
        )
    for index, entry in enumerate(sensors):
        if entry.placement in {other.placement for other in sensors[:index]}:
            raise SessionError(
                f"two files for one placement, {entry.placement}; keep one [[sensor]] a placement",
                file=file,
                where=f"sensor {index + 1}",
            )


def _sensor(table: Mapping[str, Any], file: str, number: int) -> SensorEntry:
    where = f"sensor {number}"
    for key in table:
        require_word(key, SENSOR_KEYS, "key", file, f"{where}, {printable(key)}")
    placement = require_word(
        text_of(table, "placement", file, where), PLACEMENTS, "placement", file, where
    )
    entry = SensorEntry(
        placement=placement,
        files=files_of(table, file, where),
        columns=columns_of(table, file, where),
        sensor=text_of(table, "sensor", file, where),
        acc_unit=unit_text_of(table, "acc_unit", "acc", tuple(ACC_UNITS_MPS2), file, where),
        gyr_unit=unit_text_of(table, "gyr_unit", "gyr", tuple(GYR_UNITS_RADPS), file, where),
        time_unit=unit_text_of(table, "time_unit", "time", tuple(TIME_UNITS_S), file, where),
        rate_hz=positive_of(table, "rate_hz", file, where),
        acc_scale=positive_of(table, "acc_scale", file, where),
        gyr_scale=positive_of(table, "gyr_scale", file, where),
        up=axis_of(table, "up", file, where),
        out=axis_of(table, "out", file, where),
        clock_offset_s=number_of(table, "clock_offset_s", file, where),
        event_s=number_of(table, "event_s", file, where),
    )
    if "clock_offset_s" in table and "event_s" in table:
        raise SessionError(
            "clock_offset_s and event_s both say where this clock stands; keep one",
            file=file,
            where=where,
        )
    for kind in ("acc", "gyr"):
        if f"{kind}_scale" in table and f"{kind}_unit" not in table:
            raise SessionError(
                f"{kind}_scale is the size of one count in {kind}_unit; state {kind}_unit too",
                file=file,
                where=where,
            )
    if entry.up and entry.up[1] == entry.out[1:]:
        raise SessionError("up and out are the same axis", file=file, where=where)
    return entry


def plan_from_names(folder: Path) -> SessionPlan:
    """Make a plan for a folder without a session file, from the names of its files.

    Raises
    ------
    SessionError
        If no file names a placement, or two files could be one placement.
    """
    files = sorted(path.name for path in folder.iterdir() if _is_table(path))
    found = {placement: _files_of(files, placement, folder) for placement in PLACEMENTS}
    sensors = tuple(SensorEntry(p, files=names) for p, names in found.items() if names)
    others = [name for name in files if name not in SHEETS]
    if not sensors and len(others) == 1:
        return _plan(folder, _from_one_file(folder, others[0]))
    if not sensors:
        raise SessionError(
            "holds no session.toml, and no file names a placement (chest*.csv, *left*wrist*.csv,"
            " *right*wrist*.csv); rename the files or write a session.toml",
            file=folder.name,
        )
    return _plan(folder, sensors)


def sheets_of(folder: Path) -> tuple[str, str]:
    """Return the names of a folder's bout sheet and ROM sheet, each "" where it has none."""
    bouts, rom = (name if (folder / name).is_file() else "" for name in SHEETS)
    return bouts, rom


def _plan(folder: Path, sensors: tuple[SensorEntry, ...]) -> SessionPlan:
    bouts, rom = sheets_of(folder)
    told = "; ".join(f"{entry.placement} is {' + '.join(entry.files)}" for entry in sensors)
    participant = folder.resolve().name or "unnamed"
    message = (
        f"without session.toml it was assumed: participant {participant!r}, session '1', {told}"
    )
    return SessionPlan(
        folder=folder,
        toml="",
        participant=participant,
        session="1",
        sensors=sensors,
        bouts=bouts,
        rom=rom,
        notices=(Notice("session_assumed", message, file=folder.name, severity="check"),),
    )


def _is_table(path: Path) -> bool:
    return path.is_file() and path.name.lower().endswith(TABLE_ENDINGS)


def _files_of(files: Sequence[str], placement: str, folder: Path) -> tuple[str, ...]:
    """Return the file of one placement, or its pair of accelerometer and gyroscope files."""
    mine = [name for name in files if placement_of(name.partition(".")[0]) == placement]
    mine = [name for name in mine if not name.endswith(("_channels.tsv", "_events.tsv"))]
    if len(mine) < 2:
        return tuple(mine)
    kinds = [kind_of_word(name.partition(".")[0]) for name in mine]
    if len(mine) == 2 and set(kinds) == {"acc", "gyr"}:
        return tuple(mine)
    raise SessionError(
        f"two files for one placement, {placement}: {mine[0]} and {mine[1]}; keep one, or write a"
        " session.toml",
        file=folder.name,
    )


def _from_one_file(folder: Path, name: str) -> tuple[SensorEntry, ...]:
    """Return an entry for every placement that the columns of one lone file name."""
    # Only here a plan needs the parser; elsewhere making one stays light.
    from imucarry.readers.columns import find_roles
    from imucarry.readers.formats import read_table

    roles = find_roles(read_table(folder / name, name), SensorEntry(""))
    placements = {placement_of(sensor.label) for sensor in roles.sensors}
    sensors = tuple(SensorEntry(p, files=(name,)) for p in PLACEMENTS if p in placements)
    if not sensors:
        raise SessionError(
            f"{name} names no placement; rename it (chest*.csv, *left*wrist*.csv,"
            " *right*wrist*.csv) or write a session.toml",
            file=folder.name,
        )
    return sensors
