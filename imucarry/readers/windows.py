"""Whether the rows of a bout sheet fit each other and the recordings."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

from imucarry.basics.errors import SessionError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoutRow, Notice
from imucarry.readers.cells import SheetRow


def check_names(rows: Sequence[BoutRow], lines: Sequence[SheetRow], file: str) -> None:
    """Refuse a name that stands twice and a baseline that is no free bout.

    Raises
    ------
    SessionError
    """
    names = [row.bout for row in rows]
    free = {row.bout for row in rows if row.hold == "free"}
    for index, (row, line) in enumerate(zip(rows, lines, strict=True)):
        where = f"line {line.line}, column"
        if row.bout in names[:index]:
            raise SessionError(
                f"bout {row.bout!r} stands twice; give every bout a name of its own",
                file=file,
                where=f"{where} bout",
            )
        for name in row.baseline:
            if name not in free:
                raise SessionError(
                    f"baseline {name!r} is no bout with hold free",
                    file=file,
                    where=f"{where} baseline",
                )


def cut_overlaps(
    rows: Sequence[BoutRow], lines: Sequence[SheetRow], file: str
) -> tuple[list[BoutRow], list[Notice]]:
    """Cut bouts that overlap their next one a little, both in the middle of the overlap.

    A bout that lies within another one is left as it is.

    Returns
    -------
    rows : list of BoutRow
        In the same order.
    notices : list of Notice
    """
    cut, notices = list(rows), []
    order = sorted(range(len(rows)), key=lambda k: rows[k].start_s)
    for first, then in itertools.pairwise(order):
        before, after = rows[first], rows[then]
        over_s = before.end_s - after.start_s
        follows = before.start_s < after.start_s and before.end_s < after.end_s
        if not (follows and 0.0 < over_s < evidence.BOUTS_OVERLAP_S.value):
            continue
        middle_s = after.start_s + 0.5 * over_s
        cut[first] = replace(cut[first], end_s=middle_s)
        cut[then] = replace(cut[then], start_s=middle_s)
        message = (
            f"bouts {before.bout!r} and {after.bout!r} overlap by {over_s:.2f} s; both were cut "
            "in the middle of that"
        )
        where = f"line {lines[then].line}, column start_s"
        notices.append(Notice("bouts_overlap", message, file=file, where=where))
    return cut, notices


def check_windows(rows: Sequence[BoutRow], lines: Sequence[SheetRow], file: str) -> None:
    """Refuse times that are partly empty, run backwards or overlap.

    Raises
    ------
    SessionError
    """
    empty = [math.isnan(time) for row in rows for time in (row.start_s, row.end_s)]
    if any(empty) and not all(empty):
        line = next(
            line.line
            for row, line in zip(rows, lines, strict=True)
            if math.isnan(row.start_s) or math.isnan(row.end_s)
        )
        raise SessionError(
            "start_s and end_s are empty here but not everywhere; fill all rows or none",
            file=file,
            where=f"line {line}, columns start_s, end_s",
        )
    if not rows or empty[0]:
        return
    for row, at in zip(rows, lines, strict=True):
        if not row.end_s > row.start_s:
            raise SessionError(
                f"bout {row.bout!r} ends at {row.end_s:g} s, not after its start {row.start_s:g} s",
                file=file,
                where=f"line {at.line}, column end_s",
            )
    ordered = sorted(zip(rows, lines, strict=True), key=lambda pair: pair[0].start_s)
    for (before, _), (after, late) in itertools.pairwise(ordered):
        if after.start_s < before.end_s:
            raise SessionError(
                f"bouts {before.bout!r} and {after.bout!r} overlap; mend their times",
                file=file,
                where=f"line {late.line}, column start_s",
            )


def check_order(rows: Sequence[BoutRow], lines: Sequence[SheetRow], file: str) -> list[Notice]:
    """Tell that rows without times are matched by the column ``order``, where the rows are not.

    Returns
    -------
    list of Notice
        A note where ``order`` is another order than that of the rows.

    Raises
    ------
    SessionError
        If it is, and some rows have none or two rows have the same.
    """
    order = [row.order for row in rows if math.isfinite(row.order)]
    if order == sorted(order) or any(math.isfinite(row.start_s) for row in rows):
        return []
    if len(set(order)) < len(rows):
        missing = len(order) < len(rows)
        why = "not every row has one" if missing else "two rows have the same"
        raise SessionError(
            "without times the rows are matched with the walks in this order, but it is not the "
            f"order of the rows and {why}; number all rows as they were walked, or write start_s "
            "and end_s",
            file=file,
            where=f"line {lines[0].line}, column order",
        )
    message = "rows without times were matched with the walks by order, not as the rows stand"
    return [Notice("matched_by_order", message, file=file, where="column order")]


def checked_windows(
    rows: Sequence[BoutRow], start_s: float, end_s: float, file: str
) -> tuple[tuple[BoutRow, ...], list[Notice]]:
    """Clip bouts that reach a little past the recordings; refuse those that reach far.

    Raises
    ------
    SessionError
        If a bout reaches past the recordings by 2 s or more.
    """
    clipped, notices = [], []
    for row in rows:
        past = max(start_s - row.start_s, row.end_s - end_s)
        if math.isnan(row.start_s) or past <= 0:
            clipped.append(row)
            continue
        inside = min(row.end_s, end_s) - max(row.start_s, start_s)
        if past >= evidence.BOUT_PAST_S.value or inside <= 0:
            raise SessionError(
                f"bout {row.bout!r} ({row.start_s:g} to {row.end_s:g} s) is outside the recording"
                f" ({start_s:g} to {end_s:g} s); mend its times, or state the"
                " sensors' time_unit if theirs are read wrongly",
                file=file,
                where=f"bout {row.bout}",
            )
        clipped.append(replace(row, start_s=max(row.start_s, start_s), end_s=min(row.end_s, end_s)))
        message = f"bout {row.bout!r} reaches {past:.2f} s past the recording; it was clipped"
        notices.append(Notice("bout_clipped", message, file=file, where=f"bout {row.bout}"))
    return tuple(clipped), notices
