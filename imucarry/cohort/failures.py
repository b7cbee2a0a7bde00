"""The sessions that could not be scored, in ``failures.csv``."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from imucarry.basics.errors import ImucarryError
from imucarry.cohort.gather import carried_names
from imucarry.cohort.schema import FAILURES
from imucarry.cohort.task import Outcome
from imucarry.readers.plan import read_plan
from imucarry.readers.sheets import ManifestRow
from imucarry.tables.text import csv_text

Failed = tuple[ManifestRow, Outcome]


def write_failures(
    failed: Sequence[Failed], folder: Path, manifest: Sequence[ManifestRow]
) -> list[str]:
    """Write ``failures.csv``, a row a session that could not be scored; return its columns.

    Parameters
    ----------
    failed : sequence of (ManifestRow, Outcome)
        In the manifest's order.
    folder : Path
    manifest : sequence of ManifestRow
        All its rows: their further columns stand in the table, failures or none.
    """
    extras = [dict(row.extra) for row, _ in failed]
    carried = carried_names(
        [dict(row.extra) for row in manifest], [column.name for column in FAILURES.columns]
    )
    known = [said_by(row)[:2] for row, _ in failed]
    columns = {
        "folder": [row.folder for row, _ in failed],
        "error": [outcome.error for _, outcome in failed],
        "message": [outcome.message for _, outcome in failed],
        "participant": [participant for participant, _ in known],
        "session": [session for _, session in known],
        **{free: [extra.get(name, "") for extra in extras] for name, free in carried.items()},
    }
    text = csv_text(FAILURES, columns, list(carried.values()))
    (folder / FAILURES.file).write_bytes(text.encode())
    return list(columns)


def said_by(row: ManifestRow) -> tuple[str, str, str]:
    """Return participant, session and date by a session's own file; "" where it says none.

    Parameters
    ----------
    row : ManifestRow
        Of a session that could not be scored: its file may be missing, or wrong.
    """
    try:
        plan = read_plan(row.path)
    except (ImucarryError, OSError):
        return "", "", ""
    date = plan.date.isoformat() if plan.date else ""
    return (plan.participant, plan.session, date) if plan.toml else ("", "", "")
