"""One row a session or a notice of one: what the sessions' own ``run.json`` say."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any, Final

from imucarry.basics.records import Notice
from imucarry.cohort.gather import Scored, as_written, carried_names
from imucarry.cohort.plan import SESSIONS_FOLDER
from imucarry.cohort.schema import CHECKS, SESSIONS
from imucarry.cohort.study_checks import StudyCheck
from imucarry.tables.columns import Table
from imucarry.tables.text import csv_text


def notices_of(item: Scored) -> tuple[Notice, ...]:
    """Return the notices of a session as its ``run.json`` lists them."""
    return tuple(Notice(**notice) for notice in item.run["notices"])


def write_sessions(
    scored: Sequence[Scored],
    folder: Path,
    manifest: Iterable[str],
    study: Sequence[StudyCheck] = (),
) -> list[str]:
    """Write ``cohort_sessions.csv``, a row a session that was scored; return its columns.

    Parameters
    ----------
    scored : sequence of Scored
    folder : Path
    manifest : iterable of str
        Further columns of the manifest, which follow the table's own.
    study : sequence of StudyCheck
        Checks between sessions, counted for each session that they are about.
    """
    rows = [
        (item, (item.participant, item.session, item.source,
                f"{SESSIONS_FOLDER}/{item.folder.name}", item.date, item.run["body_mass_kg"],
                sum(row[SEVERITY] == "check" for row in _told(item, study))))
        for item in sorted(scored, key=as_written)
    ]  # fmt: skip
    return _write(SESSIONS, rows, folder, manifest)


def write_checks(
    scored: Sequence[Scored],
    folder: Path,
    manifest: Iterable[str] = (),
    study: Sequence[StudyCheck] = (),
) -> list[str]:
    """Write ``cohort_checks.csv``, a row a notice of a session; return its columns.

    Notices of the whole study come first, without participant and session. The other rows are
    sorted by participant and session; those of a session are the study's notices of it, then
    its own in the order of its ``run.json``.

    Parameters
    ----------
    scored : sequence of Scored
    folder : Path
    manifest : iterable of str
        Further columns of the manifest, which follow the table's own.
    study : sequence of StudyCheck
    """
    whole = Scored("", "", folder, {})
    rows = [(whole, _row(whole, one.notice)) for one in study if not one.sessions]
    rows += [(item, row) for item in sorted(scored, key=as_written) for row in _told(item, study)]
    return _write(CHECKS, rows, folder, manifest)


SEVERITY: Final = 4
"""The place of the severity in a row of `_told`."""


def _told(item: Scored, study: Sequence[StudyCheck]) -> list[tuple[str, ...]]:
    """Return what ``cohort_checks.csv`` tells of a session, each thing once."""
    of_study = [one.notice for one in study if any(item is about for about in one.sessions)]
    return list(dict.fromkeys(_row(item, notice) for notice in (*of_study, *notices_of(item))))


def _row(item: Scored, n: Notice) -> tuple[str, ...]:
    where = n.where or n.file
    return item.participant, item.session, where, n.code, n.severity, n.message


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
