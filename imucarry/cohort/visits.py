"""One row a session or a notice of one: what the sessions' own ``run.json`` say."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from imucarry.basics.records import Notice
from imucarry.cohort.gather import Scored, as_written
from imucarry.cohort.schema import CHECKS
from imucarry.tables.text import csv_text


def notices_of(item: Scored) -> tuple[Notice, ...]:
    """Return the notices of a session as its ``run.json`` lists them."""
    return tuple(Notice(**notice) for notice in item.run["notices"])


def write_checks(scored: Sequence[Scored], folder: Path) -> list[str]:
    """Write ``cohort_checks.csv``, a row a notice of a session; return its columns.

    Rows are sorted by participant and session; those of a session stand in the order of
    its ``run.json``.

    Parameters
    ----------
    scored : sequence of Scored
    folder : Path
    """
    names = [column.name for column in CHECKS.columns]
    rows = dict.fromkeys(
        (item.participant, item.session, n.where or n.file, n.code, n.severity, n.message)
        for item in sorted(scored, key=as_written)
        for n in notices_of(item)
    )
    columns = {name: [row[k] for row in rows] for k, name in enumerate(names)}
    (folder / CHECKS.file).write_bytes(csv_text(CHECKS, columns).encode())
    return names
