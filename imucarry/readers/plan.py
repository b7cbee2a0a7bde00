"""The plan of a session: from ``session.toml``, or from the names of a folder's files."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from imucarry.basics.errors import SessionError
from imucarry.basics.records import PLACEMENTS, Notice
from imucarry.readers.entries import SensorEntry, SessionPlan
from imucarry.readers.names import kind_of_word, placement_of
from imucarry.readers.session_toml import plan_from_toml

TOML_NAME = "session.toml"
SHEETS = ("bouts.csv", "rom.csv")
SHEET_STEMS = ("bouts", "rom")
IF_PARTS = "if they are parts of one recording, join them into one file"
TABLE_ENDINGS = (".csv", ".txt", ".tsv", ".parquet", ".gz")


# What is not read, and what to do with it.
NOT_READ = {
    ".xlsx": "is a spreadsheet: save it as {stem}.csv",
    ".xls": "is a spreadsheet: save it as {stem}.csv",
    ".xlsm": "is a spreadsheet: save it as {stem}.csv",
    ".ods": "is a spreadsheet: save it as {stem}.csv",
    ".numbers": "is a spreadsheet: save it as {stem}.csv",
    ".zip": "is an archive: unpack it",
    ".7z": "is an archive: unpack it",
    ".rar": "is an archive: unpack it",
}

NO_SESSION_FILE = (".csv", ".tsv", ".parquet", ".gz", *NOT_READ)
"""Endings of recordings and sheets, which no session file has."""


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
        return plan_from_toml(toml) if toml.exists() else plan_from_names(path)
    if not path.exists():
        raise SessionError(
            "is not there; name a session folder or its session.toml", file=str(path)
        )
    if path.suffix.lower() in NO_SESSION_FILE:
        raise SessionError(
            "is one file of a visit, not the visit; give the visit's folder, or its session.toml",
            file=path.name,
        )
    return plan_from_toml(path)


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
    not_read = _not_read(folder, {entry.placement for entry in sensors})
    if not sensors and not_read:
        raise SessionError("; ".join(not_read[:3]), file=folder.name)
    if not sensors and len(others) == 1:
        return _plan(folder, _from_one_file(folder, others[0]))
    if not sensors:
        raise SessionError(
            "holds no session.toml, and no file names a placement (chest*.csv, *left*wrist*.csv,"
            " *right*wrist*.csv); rename the files or write a session.toml",
            file=folder.name,
        )
    plan = _plan(folder, sensors)
    lost = [
        Notice("file_not_read", message, file=folder.name, severity="check") for message in not_read
    ]
    return replace(plan, notices=(*plan.notices, *lost))


def _not_read(folder: Path, placed: set[str]) -> list[str]:
    """Return what to do with spreadsheets and archives that may hold a sensor not yet found."""
    return [
        f"{path.name} {NOT_READ[path.suffix.lower()].format(stem=path.stem)}"
        for path in sorted(folder.iterdir())
        if path.suffix.lower() in NOT_READ
        and path.stem.lower() not in SHEET_STEMS
        and (not placed or placement_of(path.stem) not in {"", *placed})
    ]


def sheets_of(folder: Path) -> tuple[str, str]:
    """Return the names of a folder's bout sheet and ROM sheet, each "" where it has none.

    Raises
    ------
    SessionError
        If a sheet was saved as a spreadsheet or under another ending, which is not read.
    """
    for path in sorted(folder.iterdir()) if folder.is_dir() else ():
        stem, ending = path.stem.lower(), path.suffix.lower()
        other = ending in NOT_READ or ending in (".txt", ".tsv")
        if stem in SHEET_STEMS and other and not (folder / f"{stem}.csv").is_file():
            raise SessionError(f"is not read; save it as {stem}.csv", file=path.name)
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
    if sorted(kinds) in (["acc", "gyr"], ["acc", "gravity", "gyr"]):
        return tuple(mine)
    raise SessionError(
        f"two files for one placement, {placement}: {mine[0]} and {mine[1]}; {IF_PARTS}, else"
        " keep one, or write a session.toml",
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
