"""One row a session or a notice of one: what the sessions' own ``run.json`` say."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from imucarry.basics.records import Notice
from imucarry.carry.same_recording import recordings_of_run, same_recordings
from imucarry.cohort.gather import Scored, as_written, carried_names
from imucarry.cohort.plan import SESSIONS_FOLDER
from imucarry.cohort.schema import CHECKS, SESSIONS
from imucarry.tables.columns import Table
from imucarry.tables.text import csv_text


def notices_of(item: Scored) -> tuple[Notice, ...]:
    """Return the notices of a session as its ``run.json`` lists them."""
    return tuple(Notice(**notice) for notice in item.run["notices"])


def same_files(scored: Sequence[Scored], manifest: str) -> tuple[Notice, ...]:
    """Return a check for each recording that stands for several sessions of a manifest."""
    ordered = sorted(scored, key=as_written)
    found = same_recordings(
        [(f"{one.participant}, visit {one.session}", recordings_of_run(one.run)) for one in ordered]
    )
    return tuple(replace(notice, file=manifest, where="column folder") for notice in found)


def write_sessions(scored: Sequence[Scored], folder: Path, manifest: Iterable[str]) -> list[str]:
    """Write ``cohort_sessions.csv``, a row a session that was scored; return its columns.

    Parameters
    ----------
    scored : sequence of Scored
    folder : Path
    manifest : iterable of str
        Further columns of the manifest, which follow the table's own.
    """
    rows = [
        (item, (item.participant, item.session, item.source,
                f"{SESSIONS_FOLDER}/{item.folder.name}", item.date, item.run["body_mass_kg"],
                sum(row[SEVERITY] == "check" for row in _told(item))))
        for item in sorted(scored, key=as_written)
    ]  # fmt: skip
    return _write(SESSIONS, rows, folder, manifest)


def write_checks(scored: Sequence[Scored], folder: Path, manifest: Iterable[str] = ()) -> list[str]:
    """Write ``cohort_checks.csv``, a row a notice of a session; return its columns.

    Rows are sorted by participant and session; those of a session stand in the order of
    its ``run.json``.

    Parameters
    ----------
    scored : sequence of Scored
    folder : Path
    manifest : iterable of str
        Further columns of the manifest, which follow the table's own.
    """
    rows = [(item, row) for item in sorted(scored, key=as_written) for row in _told(item)]
    return _write(CHECKS, rows, folder, manifest)


SEVERITY: Final = 4
"""The place of the severity in a row of `_told`."""


def _told(item: Scored) -> list[tuple[str, ...]]:
    """Return what ``cohort_checks.csv`` tells of a session, each thing once."""
    return list(dict.fromkeys(
        (item.participant, item.session, n.where or n.file, n.code, n.severity, n.message)
        for n in notices_of(item)
    ))  # fmt: skip


def _write(
    table: Table,
    rows: Sequence[tuple[Scored, Sequence[Any]]],
    folder: Path,
    manifest: Iterable[str],
) -> list[str]:
    """Write a table of sessions' rows, the manifest's columns last; return its columns."""
    names = [column.name for column in table.columns]
    carried = carried_names([dict.fromkeys(manifest, "")], names)
    columns: dict[str, list[Any]] = {
        name: [row[k] for _, row in rows] for k, name in enumerate(names)
    }
    for name, free in carried.items():
        columns[free] = [item.carried.get(name, "") for item, _ in rows]
    text = csv_text(table, columns, list(carried.values()))
    (folder / table.file).write_bytes(text.encode())
    return list(columns)
