"""A scored session as it shows itself at a prompt and in a notebook."""

from __future__ import annotations

from html import escape

import pandas as pd

from imucarry.basics.records import SessionScores
from imucarry.basics.words import counted

BOUT_COLUMNS = (
    "bout",
    "hold",
    "loaded_side",
    "load_kg",
    "sternum_yaw_range_deg",
    "yaw_kept_pct",
    "rotation_finding",
)
DECIMALS = 1


def in_short(result: SessionScores) -> str:
    """Return whose visit it is, how many bouts it has and how much there is to check."""
    session = result.session
    checks = sum(notice.severity == "check" for notice in result.notices)
    return (
        f"ScoredSession(participant={session.participant!r}, session={session.session!r}, "
        f"{counted(len(result.bouts), 'bout')}, {counted(checks, 'check')}, "
        f"{counted(len(result.notices) - checks, 'note')})"
    )


def as_html(result: SessionScores, bouts: pd.DataFrame) -> str:
    """Return the same with the bouts as a table and what is to be checked as a list."""
    table = bouts[list(BOUT_COLUMNS)].round(DECIMALS).to_html(index=False, na_rep="", border=0)
    checks = [notice for notice in result.notices if notice.severity == "check"]
    items = "".join(
        f"<li>{escape(', '.join(filter(None, (item.file, item.where, item.message))))}</li>"
        for item in checks
    )
    listed = f"<p>To check:</p><ul>{items}</ul>" if items else ""
    return f"<p>{escape(in_short(result))}</p>{table}{listed}"
