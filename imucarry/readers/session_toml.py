"""A session's plan from its ``session.toml``."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from imucarry.basics.errors import SessionError
from imucarry.basics.files import NO_FILE, is_special
from imucarry.basics.records import PLACEMENTS
from imucarry.basics.units import ACC_UNITS_MPS2, GYR_UNITS_RADPS, TIME_UNITS_S
from imucarry.readers.entries import SensorEntry, SessionPlan
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
from imucarry.readers.toml_hints import how_to_write
from imucarry.readers.words import printable, require_word

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


def plan_from_toml(path: Path) -> SessionPlan:
    """Read a session file.

    Raises
    ------
    SessionError
        If it cannot be read, or a key, a word or a number in it is wrong.
    """
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
    data = b""
    try:
        if is_special(path):
            raise SessionError(NO_FILE, file=path.name)
        data = path.read_bytes()
        tree = tomllib.loads(data.decode("utf-8-sig"))
        repr(tree)  # a number that cannot be shown is refused here
        return tree
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise SessionError(
            "is no UTF-8 text; save it as UTF-8", file=path.name, where=f"line {line}"
        ) from error
    except (OSError, tomllib.TOMLDecodeError, RecursionError) as error:
        first = (str(error).splitlines() or [type(error).__name__])[0]
        what, _, where = first.partition(" (at ")
        hint = how_to_write(_line_at(data, where))
        raise SessionError(
            hint or f"cannot be read as TOML: {what}", file=path.name, where=where.rstrip(")")
        ) from error
    except ValueError as error:  # Python writes no number of so many digits
        raise SessionError(
            "holds a number of thousands of digits; write it shorter", file=path.name
        ) from error


def _line_at(data: bytes, where: str) -> str:
    """Return the line that an error names, "" where it names none."""
    found = re.match(r"line (\d+)", where)
    lines = data.decode("utf-8-sig", errors="replace").split("\n")
    return lines[int(found[1]) - 1] if found and int(found[1]) <= len(lines) else ""


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
    placement = text_of(table, "placement", file, where)
    if placement == "" and "placement" in table:
        raise SessionError(
            f"says no placement for {' and '.join(files_of(table, file, where))}; write"
            f" {', '.join(PLACEMENTS[:-1])} or {PLACEMENTS[-1]}",
            file=file,
            where=where,
        )
    placement = require_word(placement, PLACEMENTS, "placement", file, where)
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
