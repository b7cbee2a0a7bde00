"""One row a session or a notice of one: what the sessions' own ``run.json`` say."""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterable, Sequence
from pathlib import Path
from typing import Any, Final

from imucarry.basics.records import Notice
from imucarry.cohort.gather import Scored, as_written, carried_names
from imucarry.cohort.plan import SESSIONS_FOLDER
from imucarry.cohort.schema import CHECKS, SESSIONS
from imucarry.cohort.study_checks import StudyCheck
from imucarry.tables.columns import Table
from imucarry.tables.schema import BOUT_SUMMARY
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
    names = _bouts_of(item)
    rows = [*(_row(item, notice) for notice in of_study),
            *(_row(item, notice, names) for notice in notices_of(item))]  # fmt: skip
    return list(dict.fromkeys(rows))


def _row(item: Scored, n: Notice, bouts: Collection[str] = ()) -> tuple[str, ...]:
    where = n.where or n.file
    about = ";".join(bouts_named(n.where, bouts))
    return item.participant, item.session, where, n.code, n.severity, n.message, about, n.file


def _bouts_of(item: Scored) -> frozenset[str]:
    """Return the names of a session's bouts, as its notices write them."""
    try:
        with (item.folder / BOUT_SUMMARY.file).open(encoding="utf-8", newline="") as stream:
            written = [row["bout"] for row in csv.DictReader(stream)]
    except FileNotFoundError:
        return frozenset()
    return frozenset((*written, *(name.removeprefix("'") for name in written)))  # see `safe_text`


def bouts_named(where: str, bouts: Collection[str]) -> tuple[str, ...]:
    """Return the bouts that the place of a notice names: "3", "bout 3, column aim", "1 / 4".

    Parameters
    ----------
    where : str
    bouts : collection of str
        Names of the session's bouts.
    """
    if where in bouts:
        return (where,)
    several = tuple(where.split(" / "))
    if all(name in bouts for name in several):
        return several
    named = where.removeprefix("bout ")
    return next(((one,) for one in (named, named.split(", ")[0]) if one in bouts), ())


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
