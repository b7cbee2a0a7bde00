"""The bouts sheet of a session, and the manifest of a cohort."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from imucarry.basics.errors import SessionError
from imucarry.basics.records import (
    AIMS,
    HOLDS,
    LOADED_SIDES,
    PERTURBED,
    SHOULDER_ROTATION_AIMS,
    BoutRow,
    Notice,
)
from imucarry.readers.cells import Sheet, SheetRow, number, read_sheet, word
from imucarry.readers.loads import check_loads
from imucarry.readers.near_columns import near_columns
from imucarry.readers.pounds import pounds_for_kg
from imucarry.readers.sheet_notices import bout_notices
from imucarry.readers.windows import check_names, check_order, check_windows, cut_overlaps

BOUT_COLUMNS = ("bout", "start_s", "end_s", "hold", "loaded_side", "load_kg", "aim")
OPTIONAL_BOUT_COLUMNS = (
    "left_load_kg",
    "right_load_kg",
    "left_hold",
    "right_hold",
    "perturbed",
    "shoulder_rotation_aim",
    "implement",
    "baseline",
    "order",
    "rest_before_s",
    "rpe_0_10",
    "pain_0_10",
    "stop_reason",
    "distance_m",
    "note",
)
HAND_HOLDS = tuple(hold for hold in HOLDS if hold != "mixed")
MOST_KG = 1000.0
MOST_S = 1e9
LONGEST_NAME = 200
MOST_TOLD = 10
"""Rows that cannot be read which one message tells of."""


@dataclass(frozen=True, slots=True)
class Clock:
    """What 0 on the session clock is: ``kind`` as in `RowTimes`, ``start_s`` the stamp itself."""

    kind: str
    start_s: float


@dataclass(frozen=True, slots=True)
class ManifestRow:
    """One session of a cohort: its folder as written, resolved, and the further columns."""

    folder: str
    path: Path
    line: int
    extra: tuple[tuple[str, str], ...] = ()


def read_bouts(
    path: Path, name: str = "", *, clock: Clock | None = None
) -> tuple[tuple[BoutRow, ...], tuple[Notice, ...]]:
    """Read ``bouts.csv``.

    Parameters
    ----------
    path : Path
    name : str, optional
        The file as the user named it.
    clock : Clock, optional
        Needed for start and end as ISO 8601 instants.

    Returns
    -------
    rows : tuple of BoutRow
    notices : tuple of Notice
        Columns whose name nearly is one that is read, pounds in place of kg, rows with too few
        cells, holds that are empty, carries of 0 kg, bouts that overlap by less than 2 s, rows
        without times that do not stand in the order walked.

    Raises
    ------
    SessionError
        If a word is unknown, a number is no number or out of range, a name is
        double, bouts overlap by 2 s or more, or the columns of one row contradict each other.
    """
    name = name or path.name
    sheet = read_sheet(path, name, BOUT_COLUMNS)
    rows = _bouts(sheet, name, clock)
    check_names(rows, sheet.rows, name)
    rows, overlaps = cut_overlaps(rows, sheet.rows, name)
    check_windows(rows, sheet.rows, name)
    near = near_columns(sheet, (*BOUT_COLUMNS, *OPTIONAL_BOUT_COLUMNS))
    order = check_order(rows, sheet.rows, name)
    pounds = pounds_for_kg(sheet, rows)
    return tuple(rows), (*near, *pounds, *bout_notices(sheet, rows), *overlaps, *order)


def _bouts(sheet: Sheet, file: str, clock: Clock | None) -> list[BoutRow]:
    """Read all rows; what cannot be read in several is told together, one thing a row."""
    rows: list[BoutRow] = []
    wrong: list[SessionError] = []
    for row in sheet.rows:
        try:
            rows.append(_bout(row, file, clock))
        except SessionError as error:
            wrong.append(error)
    if len(wrong) > 1:
        more = "".join(f"; {error.where}: {error.message}" for error in wrong[1:MOST_TOLD])
        end = f"; and {len(wrong) - MOST_TOLD} more rows" if len(wrong) > MOST_TOLD else ""
        raise SessionError(f"{wrong[0].message}{more}{end}", file=file, where=wrong[0].where)
    if wrong:
        raise wrong[0]
    return rows


def _bout(row: SheetRow, file: str, clock: Clock | None) -> BoutRow:
    cells = row.cells
    known = {*BOUT_COLUMNS, *OPTIONAL_BOUT_COLUMNS}
    bout = BoutRow(
        bout=_bout_name(row, file),
        start_s=_time(row, "start_s", file, clock),
        end_s=_time(row, "end_s", file, clock),
        hold=word(row, "hold", HOLDS, file, "unknown"),
        loaded_side=word(row, "loaded_side", LOADED_SIDES, file, "none"),
        load_kg=number(row, "load_kg", file, 0, MOST_KG),
        aim=word(row, "aim", AIMS, file, ""),
        left_load_kg=number(row, "left_load_kg", file, 0, MOST_KG),
        right_load_kg=number(row, "right_load_kg", file, 0, MOST_KG),
        left_hold=word(row, "left_hold", HAND_HOLDS, file, ""),
        right_hold=word(row, "right_hold", HAND_HOLDS, file, ""),
        perturbed=word(row, "perturbed", PERTURBED, file, "none"),
        shoulder_rotation_aim=word(row, "shoulder_rotation_aim", SHOULDER_ROTATION_AIMS, file, ""),
        implement=cells.get("implement", ""),
        baseline=_names(cells.get("baseline", "")),
        order=number(row, "order", file, -MOST_S, MOST_S),
        rest_before_s=number(row, "rest_before_s", file, 0, MOST_S),
        rpe_0_10=number(row, "rpe_0_10", file, 0, 10),
        pain_0_10=number(row, "pain_0_10", file, 0, 10),
        stop_reason=cells.get("stop_reason", ""),
        distance_m=_distance(row, file),
        note=cells.get("note", ""),
        extra={column: text for column, text in cells.items() if column not in known},
    )
    return check_loads(bout, cells.get("loaded_side", ""), file, row)


def _bout_name(row: SheetRow, file: str) -> str:
    name = row.cells["bout"]
    where = f"line {row.line}, column bout"
    if not name:
        raise SessionError("is empty; give the bout a name", file=file, where=where)
    if len(name) > LONGEST_NAME:
        raise SessionError(
            f"a bout's name has at most {LONGEST_NAME} letters", file=file, where=where
        )
    return name


def _distance(row: SheetRow, file: str) -> float:
    distance_m = number(row, "distance_m", file, 0, MOST_S)
    if distance_m == 0:
        raise SessionError(
            "0 is no distance walked; leave it empty where none was measured",
            file=file,
            where=f"line {row.line}, column distance_m",
        )
    return distance_m


def _names(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _time(row: SheetRow, column: str, file: str, clock: Clock | None) -> float:
    """Return a time on the session clock: a number, or an ISO 8601 instant."""
    text = row.cells.get(column, "")
    where = f"line {row.line}, column {column}"
    if not re.match(r"\d{4}-\d\d-\d\d", text):
        try:
            return number(row, column, file, -MOST_S, MOST_S)
        except SessionError as error:
            raise SessionError(f"{text[:40]!r} {_forms(clock)}", file=file, where=where) from error
    try:
        instant = datetime.fromisoformat(text.replace(",", "."))
    except ValueError as error:
        raise SessionError(
            f"{text[:40]!r} is no ISO 8601 instant", file=file, where=where
        ) from error
    has_zone = instant.tzinfo is not None
    if clock is None or clock.kind not in ("utc", "local"):
        raise SessionError(
            "is an instant, but the sensors carry no date; write seconds from the first sample",
            file=file,
            where=where,
        )
    if has_zone != (clock.kind == "utc"):
        needed = "with its zone (Z or +01:00)" if clock.kind == "utc" else "without a zone"
        raise SessionError(f"write the instant {needed}, as the sensors do", file=file, where=where)
    return (instant if has_zone else instant.replace(tzinfo=UTC)).timestamp() - clock.start_s


def _forms(clock: Clock | None) -> str:
    """Say in which forms a time may be written, by what the sensors carry."""
    forms = (
        "is no time that is read here; write a number of seconds from the first sample of the"
        " earliest sensor"
    )
    if clock is None or clock.kind not in ("utc", "local"):
        return f"{forms}, such as 20.4"
    example = "2026-03-14T09:30:20" + ("+01:00" if clock.kind == "utc" else "")
    return f"{forms}, such as 20.4, or date and time as {example}"


def read_manifest(path: Path, name: str = "") -> tuple[ManifestRow, ...]:
    """Read the manifest of a cohort: one session folder a row, inside the manifest's folder.

    Raises
    ------
    SessionError
        If the sheet cannot be read, or a folder is empty, double or outside.
    """
    name = name or path.name
    sheet = read_sheet(path, name, ("folder",))
    home = Path(os.path.realpath(path)).parent
    rows = [_manifest_row(row, home, name) for row in sheet.rows]
    if not rows:
        raise SessionError("lists no session; add one row a folder", file=name, where="line 2")
    seen: dict[Path, int] = {}
    for row in rows:
        if row.path in seen:
            raise SessionError(
                f"folder {row.folder!r} stands on line {seen[row.path]} too; list it once",
                file=name,
                where=f"line {row.line}, column folder",
            )
        seen[row.path] = row.line
    return tuple(rows)


def _manifest_row(row: SheetRow, home: Path, file: str) -> ManifestRow:
    folder = row.cells["folder"]
    where = f"line {row.line}, column folder"
    if not folder or "\0" in folder:
        raise SessionError("is empty; name a session folder", file=file, where=where)
    # Not resolve(): it refuses a link that leads to itself, which is that one row's failure.
    path = Path(os.path.realpath(home / folder))
    if not path.is_relative_to(home):
        raise SessionError(
            f"{folder[:80]!r} lies outside the manifest's folder; move it inside",
            file=file,
            where=where,
        )
    extra = tuple((column, text) for column, text in row.cells.items() if column != "folder")
    return ManifestRow(folder, path, row.line, extra)
