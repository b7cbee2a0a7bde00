"""What a session consists of: from ``session.toml``, or from the names of a folder's files."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from imucarry.basics.errors import SessionError
from imucarry.basics.records import PLACEMENTS, Notice
from imucarry.basics.units import ACC_UNITS_MPS2, GYR_UNITS_RADPS, TIME_UNITS_S
from imucarry.readers.entries import SensorEntry
from imucarry.readers.names import kind_of_word, placement_of, unit_of
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
)
COLUMN_ROLES = ("time", "counter", "acc", "gyr")
AXIS_WORDS = ("+x", "-x", "+y", "-y", "+z", "-z")
TABLE_ENDINGS = (".csv", ".txt", ".tsv", ".parquet", ".gz")
LARGEST = {"body_mass_kg": 500.0, "height_m": 3.0, "lane_m": 1000.0}


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
    try:
        tree = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError) as error:
        first = (str(error).splitlines() or [type(error).__name__])[0]
        raise SessionError(f"cannot be read as TOML: {first}", file=path.name) from error
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
        participant=_label(tree, "participant", path.name),
        session=_label(tree, "session", path.name),
        sensors=sensors,
        bouts=_text(tree, "bouts", path.name),
        rom=_text(tree, "rom", path.name),
        date=_date(tree, path.name),
        body_mass_kg=_size(tree, "body_mass_kg", path.name),
        height_m=_size(tree, "height_m", path.name),
        lane_m=_size(tree, "lane_m", path.name),
    )


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
        _text(table, "placement", file, where), PLACEMENTS, "placement", file, where
    )
    entry = SensorEntry(
        placement=placement,
        files=_files(table, file, where),
        columns=_columns(table, file, where),
        sensor=_text(table, "sensor", file, where),
        acc_unit=_unit(table, "acc_unit", "acc", tuple(ACC_UNITS_MPS2), file, where),
        gyr_unit=_unit(table, "gyr_unit", "gyr", tuple(GYR_UNITS_RADPS), file, where),
        time_unit=_unit(table, "time_unit", "time", tuple(TIME_UNITS_S), file, where),
        rate_hz=_positive(table, "rate_hz", file, where),
        acc_scale=_positive(table, "acc_scale", file, where),
        gyr_scale=_positive(table, "gyr_scale", file, where),
        up=_axis(table, "up", file, where),
        out=_axis(table, "out", file, where),
        clock_offset_s=_number(table, "clock_offset_s", file, where),
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


def _label(tree: Mapping[str, Any], key: str, file: str) -> str:
    value = tree.get(key)
    text = str(value).strip() if isinstance(value, str | int) and value is not True else ""
    if not text:
        raise SessionError(f'must hold {key} = "..."', file=file, where=key)
    if any(mark in text for mark in "/\\") or not text.isprintable() or set(text) == {"."}:
        raise SessionError(
            f"{key} {text[:40]!r} holds marks that a file name cannot; use letters and digits",
            file=file,
            where=key,
        )
    return text


def _text(table: Mapping[str, Any], key: str, file: str, where: str = "") -> str:
    value = table.get(key, "")
    if not isinstance(value, str) or "\0" in value:
        raise SessionError(f'{key} must be text: {key} = "..."', file=file, where=where or key)
    return value.strip()


def _number(table: Mapping[str, Any], key: str, file: str, where: str) -> float:
    value = table.get(key, float("nan"))
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if not is_number or (key in table and not abs(value) < 1e12):
        raise SessionError(f"{key} must be a number, not {value!r}", file=file, where=where)
    return float(value)


def _positive(table: Mapping[str, Any], key: str, file: str, where: str) -> float:
    value = _number(table, key, file, where)
    if value <= 0:
        raise SessionError(f"{key} must be above 0, not {value:g}", file=file, where=where)
    return value


def _size(tree: Mapping[str, Any], key: str, file: str) -> float:
    value = _positive(tree, key, file, key)
    if value > LARGEST[key]:
        unit = key.rpartition("_")[2]
        raise SessionError(f"{key} of {value:g} {unit} is too large", file=file, where=key)
    return value


def _date(tree: Mapping[str, Any], file: str) -> date | None:
    value = tree.get("date")
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, str):
        try:
            return date.fromisoformat(value)
        except ValueError:
            value = 0
    if value is None or isinstance(value, date):
        return value
    raise SessionError("write date = 2026-03-14", file=file, where="date")


def _axis(table: Mapping[str, Any], key: str, file: str, where: str) -> str:
    text = _text(table, key, file, where).lower()
    if not text:
        return ""
    signed = text if text[0] in "+-" else f"+{text}"
    return require_word(signed, AXIS_WORDS, f"axis for {key}", file, where)


def _unit(
    table: Mapping[str, Any], key: str, quantity: str, known: tuple[str, ...], file: str, where: str
) -> str:
    text = _text(table, key, file, where)
    if not text:
        return ""
    return require_word(unit_of(text, quantity) or text, known, key, file, where)


def _files(table: Mapping[str, Any], file: str, where: str) -> tuple[str, ...]:
    value = table.get("file")
    names = [value] if isinstance(value, str) else value
    good = isinstance(names, list) and names and all(isinstance(n, str) and n for n in names)
    if not isinstance(names, list) or not good or any("\0" in name for name in names):
        raise SessionError('write file = "chest.csv", or a list', file=file, where=f"{where}, file")
    if len(set(names)) < len(names):
        raise SessionError("lists one file twice", file=file, where=f"{where}, file")
    return tuple(names)


def _columns(table: Mapping[str, Any], file: str, where: str) -> Mapping[str, tuple[str, ...]]:
    value = table.get("columns", {})
    if not isinstance(value, dict):
        raise SessionError(
            'write columns = {time = "t", acc = ["ax", "ay", "az"]}', file=file, where=where
        )
    return {role: _column_names(role, names, file, where) for role, names in value.items()}


def _column_names(role: str, names: object, file: str, where: str) -> tuple[str, ...]:
    require_word(role, COLUMN_ROLES, "column role", file, f"{where}, columns")
    listed = names if isinstance(names, list) else [names]
    texts = [str(name) for name in listed if isinstance(name, str | int)]
    wanted = 3 if role in ("acc", "gyr") else 1
    if len(texts) != wanted or len(listed) != wanted or len(set(texts)) < wanted:
        raise SessionError(
            f"columns.{role} needs {wanted} different column name{'s' if wanted > 1 else ''}",
            file=file,
            where=where,
        )
    return tuple(texts)


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
    others = [name for name in files if name not in ("bouts.csv", "rom.csv")]
    if not sensors and len(others) == 1:
        return _plan(folder, _from_one_file(folder, others[0]), files)
    if not sensors:
        raise SessionError(
            "holds no session.toml, and no file names a placement (chest*.csv, *left*wrist*.csv,"
            " *right*wrist*.csv); rename the files or write a session.toml",
            file=folder.name,
        )
    return _plan(folder, sensors, files)


def _plan(folder: Path, sensors: tuple[SensorEntry, ...], files: Sequence[str]) -> SessionPlan:
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
        bouts="bouts.csv" if "bouts.csv" in files else "",
        rom="rom.csv" if "rom.csv" in files else "",
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
