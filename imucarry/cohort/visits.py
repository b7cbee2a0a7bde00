"""One row a session or a notice of one: what the sessions' own ``run.json`` say."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from imucarry.basics.records import Notice
from imucarry.cohort.gather import Scored, as_written, carried_names
from imucarry.cohort.plan import SESSIONS_FOLDER
from imucarry.cohort.schema import CHECKS, SESSIONS
from imucarry.tables.text import csv_text


def notices_of(item: Scored) -> tuple[Notice, ...]:
    """Return the notices of a session as its ``run.json`` lists them."""
    return tuple(Notice(**notice) for notice in item.run["notices"])


def write_sessions(scored: Sequence[Scored], folder: Path, manifest: Iterable[str]) -> list[str]:
    """Write ``cohort_sessions.csv``, a row a session that was scored; return its columns.

    Parameters
    ----------
    scored : sequence of Scored
    folder : Path
    manifest : iterable of str
        Further columns of the manifest, which follow the table's own.
    """
    names = [column.name for column in SESSIONS.columns]
    carried = carried_names([dict.fromkeys(manifest, "")], names)
    items = sorted(scored, key=as_written)
    rows = [
        (item.participant, item.session, item.source, f"{SESSIONS_FOLDER}/{item.folder.name}",
         item.date, item.run["body_mass_kg"], _n_checks(item))
        for item in items
    ]  # fmt: skip
    columns = {name: [row[k] for row in rows] for k, name in enumerate(names)}
    for name, free in carried.items():
        columns[free] = [item.carried.get(name, "") for item in items]
    text = csv_text(SESSIONS, columns, list(carried.values()))
    (folder / SESSIONS.file).write_bytes(text.encode())
    return list(columns)


def _n_checks(item: Scored) -> int:
    return sum(notice.severity == "check" for notice in notices_of(item))


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
    names = [column.name for column in CHECKS.columns]
    carried = carried_names([dict.fromkeys(manifest, "")], names)
    rows = dict.fromkeys(
        (item.participant, item.session, n.where or n.file, n.code, n.severity, n.message,
         *(item.carried.get(name, "") for name in carried))
        for item in sorted(scored, key=as_written)
        for n in notices_of(item)
    )  # fmt: skip
    columns = {name: [row[k] for row in rows] for k, name in enumerate([*names, *carried.values()])}
    text = csv_text(CHECKS, columns, list(carried.values()))
    (folder / CHECKS.file).write_bytes(text.encode())
    return list(columns)
