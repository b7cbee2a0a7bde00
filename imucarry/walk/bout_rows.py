"""The bouts of a session: the sheet's rows with their times, or the walking that is found."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from imucarry.basics.errors import SessionError
from imucarry.basics.records import BoutRow, Orientation, Recording, Session, Window
from imucarry.basics.settings import WalkSettings
from imucarry.walk.bouts import find_walks


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
        In the order of the sheet. Rows without times are matched with the walks by ``order``
        where all have one, else as they stand.

    Raises
    ------
    SessionError
        If rows without times are not as many as the walks that are found, or one of those is
        told by nothing but the swing of the arms: gestures and other walks are mistaken then.
    """
    rows = session.bout_rows
    if rows is not None and all(math.isfinite(row.start_s) for row in rows):
        return rows
    walks = find_walks(recordings, orientations, settings)
    found = [walk.window for walk in walks]
    if rows is None:
        return tuple(
            BoutRow(str(k), window.start_s, window.end_s) for k, window in enumerate(found, 1)
        )
    swung = [walk.window for walk in walks if walk.by_swing]
    if len(found) != len(rows) or swung:
        raise SessionError(
            _count_mismatch(len(rows), found, swung),
            file=session.bouts_file,
            where="start_s, end_s",
        )
    window_of = dict(zip(_as_walked(rows), found, strict=True))
    return tuple(
        replace(row, start_s=window_of[k].start_s, end_s=window_of[k].end_s)
        for k, row in enumerate(rows)
    )


def _as_walked(rows: Sequence[BoutRow]) -> list[int]:
    """Return the places of the rows in the order walked: by ``order`` where all have one."""
    order = [row.order for row in rows]
    if not all(map(math.isfinite, order)):
        return list(range(len(rows)))
    return sorted(range(len(rows)), key=order.__getitem__)


def _count_mismatch(n_rows: int, found: Sequence[Window], swung: Sequence[Window]) -> str:
    rows = "1 row" if n_rows == 1 else f"{n_rows} rows"
    bouts = "1 walking bout was" if len(found) == 1 else f"{len(found)} walking bouts were"
    unsure = f", of which only the arm swing shows {_times(swung)}" if swung else ""
    return (
        f"the bouts sheet has {rows} without times, {'and' if len(found) == n_rows else 'but'} "
        f"{bouts} found ({_times(found) or 'none'}){unsure}; write start_s and end_s into the sheet"
    )


def _times(windows: Sequence[Window]) -> str:
    return ", ".join(f"{window.start_s:.1f} to {window.end_s:.1f} s" for window in windows)
