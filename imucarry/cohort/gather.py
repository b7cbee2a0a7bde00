"""Join the finished sessions' tables, row by row, so that memory does not grow with the study."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from imucarry.basics.words import without_case
from imucarry.tables import text
from imucarry.tables.text import safe_text

MANIFEST_PREFIX = "manifest_"


@dataclass(frozen=True, slots=True)
class Scored:
    """One finished session: where its tables lie, the manifest's columns, parts of its run."""

    participant: str
    session: str
    folder: Path
    carried: Mapping[str, str]
    date: str = ""
    run: Mapping[str, Any] = field(default_factory=dict)  # as in its run.json
    source: str = ""  # its folder, as the manifest names it
    line: int = 0  # of the manifest

    @property
    def name(self) -> str:
        """Participant and visit, as messages name them."""
        return f"{self.participant}, visit {self.session}"


def join_tables(
    sessions: Sequence[Scored],
    file: str,
    columns: Sequence[str],
    target: Path,
    manifest: Iterable[str] = (),
) -> list[str]:
    """Write one table of all sessions; return its column names.

    Rows are sorted by participant and session, and by bout where they have one. The
    manifest's columns come after the table's own; a name that is taken gets the prefix
    ``manifest_``.

    Parameters
    ----------
    sessions : sequence of Scored
    file : str
        Name of the table in each session's folder.
    columns : sequence of str
        The table's own columns; those that only some sheets have follow them.
    target : Path
    manifest : iterable of str
        Columns of the manifest, which stand in the table also where it has no row.
    """
    own = [*columns, *_sheet_columns(sessions, file, columns)]
    carried = carried_names(
        [dict.fromkeys(manifest, ""), *(item.carried for item in sessions)], own
    )
    with target.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow([*own, *carried.values()])
        for item in sorted(sessions, key=as_written):
            tail = [safe_text(item.carried.get(name, "")) for name in carried]
            writer.writerows([*row, *tail] for row in _sorted_by_bout(item.folder / file, own))
    return [*own, *carried.values()]


def groups_of(scored: Sequence[Scored]) -> dict[str, frozenset[str]]:
    """Return each participant's groups, by the manifest's column ``group``.

    Parameters
    ----------
    scored : sequence of Scored
    """
    found: dict[str, frozenset[str]] = {}
    for item in scored:
        group, who = without_case(item.carried.get("group", "")), safe_text(item.participant)
        found[who] = found.get(who, frozenset()) | (frozenset([group]) if group else frozenset())
    return found


def as_written(item: Scored) -> tuple[str, str]:
    """Sort by what the table shows, so that the rows of the file are in order."""
    return safe_text(item.participant), safe_text(item.session)


def carried_names(rows: Iterable[Mapping[str, str]], taken: Iterable[str]) -> dict[str, str]:
    """Return the manifest's columns with the names that they get in the output.

    Parameters
    ----------
    rows : iterable of mapping
        The manifest's columns and cells, a row each.
    taken : iterable of str
        Names that the output has already; they get the prefix ``manifest_``.
    """
    return text.carried_names((name for row in rows for name in row), taken, MANIFEST_PREFIX)


def _sheet_columns(sessions: Sequence[Scored], file: str, known: Sequence[str]) -> list[str]:
    """Return the columns beyond `known` that any session's table has, sorted."""
    found: set[str] = set()
    for item in sessions:
        with (item.folder / file).open(encoding="utf-8", newline="") as stream:
            found.update(next(csv.reader(stream), []))
    return sorted(found - set(known))


def _sorted_by_bout(path: Path, names: Sequence[str]) -> list[list[str]]:
    """Return the rows of a table, each with the cells of `names`, empty where it has none."""
    with path.open(encoding="utf-8", newline="") as stream:
        lines = csv.reader(stream)
        header = next(lines)
        rows = [row for row in lines if row]
    if "bout" in header:
        bout = header.index("bout")
        rows.sort(key=lambda row: row[bout])
    if header == list(names):
        return rows
    place = {name: k for k, name in enumerate(header)}
    cells = [place.get(name, len(header)) for name in names]
    return [[padded[k] for k in cells] for padded in ([*row, ""] for row in rows)]
