"""The sheet of shoulder tests of a session."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

from imucarry.basics.errors import SessionError
from imucarry.basics.records import RomReading
from imucarry.basics.words import as_first_written
from imucarry.readers.cells import SheetRow, number, read_sheet, word

ROM_COLUMNS = ("test", "side", "when", "value_deg")


def read_rom(path: Path, name: str = "") -> tuple[RomReading, ...]:
    """Read ``rom.csv``: readings of shoulder tests before and after.

    Tests that differ by case, spaces, "_" and "-" alone are one, named as it is first.

    Raises
    ------
    SessionError
        If a word is unknown or an angle is no angle.
    """
    name = name or path.name
    sheet = read_sheet(path, name, ROM_COLUMNS)
    readings = [_rom(row, name) for row in sheet.rows]
    tests = as_first_written(reading.test for reading in readings)
    return tuple(replace(reading, test=test) for reading, test in zip(readings, tests, strict=True))


def _rom(row: SheetRow, file: str) -> RomReading:
    test = row.cells["test"]
    value = number(row, "value_deg", file, -360, 360)
    side = word(row, "side", ("left", "right", "none"), file, "")
    when = word(row, "when", ("before", "after"), file, "")
    for column, missing in (
        ("test", not test),
        ("side", not side),
        ("when", not when),
        ("value_deg", math.isnan(value)),
    ):
        if missing:
            raise SessionError("is empty", file=file, where=f"line {row.line}, column {column}")
    return RomReading(
        test=test,
        side=side,
        when="before" if when == "before" else "after",
        value_deg=value,
        bout=row.cells.get("bout", ""),
        method=row.cells.get("method", ""),
        active_passive=row.cells.get("active_passive", ""),
        position=row.cells.get("position", ""),
        population=row.cells.get("population", ""),
        rater=row.cells.get("rater", ""),
        line=row.line,
    )
