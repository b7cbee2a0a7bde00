"""The bouts of a session: the sheet's rows with their times, or the walking that is found."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from imucarry.basics.errors import SessionError
from imucarry.basics.records import BoutRow, Orientation, Recording, Session, Window
from imucarry.basics.settings import WalkSettings
from imucarry.walk.bouts import find_walking


def timed_rows(
    session: Session,
    recordings: Sequence[Recording],
    orientations: Sequence[Orientation],
    settings: WalkSettings,
) -> tuple[BoutRow, ...]:
    """Return the sheet's rows with their times, or a row for each walk that is found.

    Parameters
    ----------
    session : Session
    recordings, orientations : sequences
        Of the session's sensors, on its clock.
    settings : WalkSettings

    Returns
    -------
    tuple of BoutRow

    Raises
    ------
    SessionError
        If rows without times are not as many as the walks that are found.
    """
    rows = session.bout_rows
    if rows is not None and all(math.isfinite(row.start_s) for row in rows):
        return rows
    found = find_walking(recordings, orientations, settings)
    if rows is None:
        return tuple(
            BoutRow(str(k), window.start_s, window.end_s) for k, window in enumerate(found, 1)
        )
    if len(found) != len(rows):
        raise SessionError(
            _count_mismatch(len(rows), found), file=session.bouts_file, where="start_s, end_s"
        )
    return tuple(
        replace(row, start_s=window.start_s, end_s=window.end_s)
        for row, window in zip(rows, found, strict=True)
    )


def _count_mismatch(n_rows: int, found: Sequence[Window]) -> str:
    times = ", ".join(f"{window.start_s:.1f} to {window.end_s:.1f} s" for window in found)
    return (
        f"the bouts sheet has {n_rows} rows without times, but {len(found)} walking bouts were "
        f"found ({times or 'none'}); write start_s and end_s into the sheet"
    )
