"""Read the manifest into tasks: every session once, each with a folder of its own."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from imucarry.basics.dates import moment_of
from imucarry.basics.errors import ImucarryError, SessionError
from imucarry.basics.records import Notice
from imucarry.basics.settings import Settings
from imucarry.basics.words import counted, listed
from imucarry.cohort.task import Task
from imucarry.outputs import plain_errors, resolved
from imucarry.readers.plan import read_plan
from imucarry.readers.sheets import ManifestRow, read_manifest

SESSIONS_FOLDER = "sessions"
KEYS_FOLDER = ".finished"
_NAME_LENGTH = 60
MOST_NAMED = 10
"""Folders that a message names."""


@dataclass(frozen=True, slots=True)
class Plan:
    """The manifest's rows and their tasks, in the manifest's order, and what was odd about it."""

    rows: tuple[ManifestRow, ...]
    tasks: tuple[Task, ...]
    notices: tuple[Notice, ...] = ()
    file: str = ""


def make_plan(manifest: Path, out: Path, settings: Settings, *, force: bool = False) -> Plan:
    """Return one task a row of the manifest.

    Parameters
    ----------
    manifest, out : Path
    settings : Settings
    force : bool
        Sessions may be written beside files of others.

    Raises
    ------
    SessionError
        If the manifest cannot be read, a folder lies outside the manifest's, or
        two rows name the same participant and session.
    """
    rows = tuple(read_manifest(manifest))
    _refuse_twins(rows, manifest.name)
    with plain_errors(out):
        home = resolved(out)  # workers elsewhere have another working folder
    tasks = tuple(_task(k, row, home, settings, force=force) for k, row in enumerate(rows))
    return Plan(rows, tasks, _odd_dates(rows, manifest.name), manifest.name)


def _task(number: int, row: ManifestRow, out: Path, settings: Settings, *, force: bool) -> Task:
    name = folder_name(row.folder)
    return Task(
        number=number,
        name=row.folder,
        folder=row.path,
        out=out / SESSIONS_FOLDER / name,
        key_file=out / KEYS_FOLDER / f"{name}.json",
        settings=settings,
        force=force,
    )


def folder_name(name: str) -> str:
    """Return a folder name for a session that is safe on every system and unique.

    Parameters
    ----------
    name : str
        The folder as the manifest names it.
    """
    plain = re.sub(r"[^A-Za-z0-9-]+", "_", name).strip("_-")[:_NAME_LENGTH]
    if plain == name:
        return plain
    return f"{plain}-{hashlib.sha256(name.encode()).hexdigest()[:8]}".lstrip("-")


def _odd_dates(rows: Sequence[ManifestRow], file: str) -> tuple[Notice, ...]:
    """Return one notice where the column ``date`` holds what is no ISO 8601 date."""
    dates = [(row.line, dict(row.extra).get("date", "")) for row in rows]
    odd = [(line, text) for line, text in dates if text and not moment_of(text)]
    if not odd:
        return ()
    line, text = odd[0]
    more = f" (nor is that of {counted(len(odd) - 1, 'more row')})" if len(odd) > 1 else ""
    message = (
        f"{text[:40]!r} is no ISO date{more} and orders no visits;"
        " write year-month-day, such as 2026-03-14"
    )
    where = f"line {line}, column date"
    return (Notice("date_not_iso", message, file=file, where=where, severity="check"),)


def _refuse_twins(rows: Sequence[ManifestRow], file: str) -> None:
    """Raise when two rows are the same participant's same session.

    A folder that cannot be read is no twin: it fails later, as a row of its own.
    """
    seen: dict[tuple[str, str], list[str]] = {}
    bare: list[str] = []
    for row in rows:
        try:
            session = read_plan(row.path)
        except (ImucarryError, OSError):
            continue
        seen.setdefault((session.participant, session.session), []).append(row.folder)
        bare += [] if session.toml else [row.folder]
    twins = {who: folders for who, folders in seen.items() if len(folders) > 1}
    if not twins:
        return
    said = [
        f"{_named(folders)} are {'both' if len(folders) == 2 else 'all'} "
        f"participant {who[0]!r}, session {who[1]!r}"
        for who, folders in twins.items()
    ]
    alike = {name for folders in twins.values() for name in folders}
    missing = [name for name in bare if name in alike]
    cure = "give each session its own name"
    if missing:
        has, one = ("has", "one") if len(missing) == 1 else ("have", "one into each")
        cure = f"{_named(missing)} {has} no session.toml; write {one}"
    raise SessionError(f"{'; '.join(said)}; {cure}", file=file)


def _named(folders: Sequence[str]) -> str:
    """Return the names of folders, the first of many."""
    shown, n_more = [repr(name) for name in folders[:MOST_NAMED]], len(folders) - MOST_NAMED
    return listed([*shown, f"{n_more} more"] if n_more > 0 else shown)
