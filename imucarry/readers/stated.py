"""Files to look at, each with what a session file beside it states of it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from imucarry.basics.errors import SessionError
from imucarry.readers.entries import SensorEntry, SessionPlan
from imucarry.readers.plan import SHEETS, TABLE_ENDINGS, TOML_NAME, read_plan

Stated = tuple[Path, SensorEntry | None]


def with_entries(paths: Sequence[Path]) -> list[Stated]:
    """Return files with their entries in a session file, None where there is none.

    Parameters
    ----------
    paths : sequence of Path
        Files, of which sheets are left out, and folders, of which the sensor files are taken:
        those that the ``session.toml`` in it lists, else all tables.

    Raises
    ------
    SessionError
        If a folder's session file is wrong, or a folder holds no table.
    """
    found: list[Stated] = []
    files = [path for path in paths if path.name not in SHEETS] or list(paths)
    for path in files:
        if path.is_dir():
            found += _of_folder(path)
        else:
            found += _of_file(path)
    return found


def _of_folder(folder: Path) -> list[Stated]:
    if (folder / TOML_NAME).is_file():
        plan = read_plan(folder)
        return [(plan.path(name), entry) for entry in plan.sensors for name in entry.files]
    tables = [
        path
        for path in sorted(folder.iterdir())
        if path.is_file() and path.name.lower().endswith(TABLE_ENDINGS) and path.name not in SHEETS
    ]
    if not tables:
        raise SessionError("holds no table of samples", file=str(folder))
    return [(path, None) for path in tables]


def _of_file(path: Path) -> list[Stated]:
    plan = _plan_beside(path)
    entries = [
        entry
        for entry in (plan.sensors if plan else ())
        for name in entry.files
        if plan and plan.path(name).resolve() == path.resolve()
    ]
    return [(path, entry) for entry in entries] or [(path, None)]


def _plan_beside(path: Path) -> SessionPlan | None:
    """Return the plan beside a file; one that is wrong states nothing yet."""
    if not (path.parent / TOML_NAME).is_file():
        return None
    try:
        return read_plan(path.parent)
    except SessionError:
        return None
