"""Dates as people write them in sheets."""

from __future__ import annotations

from datetime import UTC, datetime


def moment_of(text: str) -> str:
    """Return an ISO 8601 date or instant in one form, whose order as text is that in time.

    Parameters
    ----------
    text : str
        Such as ``2026-03-14`` or ``2026-03-14T09:30+01:00``.

    Returns
    -------
    str
        "" where the text is empty or no ISO 8601 date: 03/04/2026 may be March or April.
    """
    try:
        moment = datetime.fromisoformat(text.strip())
    except ValueError:
        return ""
    if moment.tzinfo is not None:
        try:
            moment = moment.astimezone(UTC)
        except OverflowError:
            return ""
    return moment.replace(tzinfo=None).isoformat(timespec="microseconds")
