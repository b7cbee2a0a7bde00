"""What was odd in a session's sheets and was read all the same."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoutRow, Notice, RomReading
from imucarry.readers.cells import Sheet

MOST_NAMED = 12


def bout_notices(sheet: Sheet, bouts: Sequence[BoutRow]) -> tuple[Notice, ...]:
    """Return one notice for each thing that is odd in some rows, where there are any.

    Rows with too few cells, empty holds, and carries of 0 kg are odd.

    Parameters
    ----------
    sheet : Sheet
        Of the bouts.
    bouts : sequence of BoutRow
        What its rows were read as, in the same order.
    """
    return (*_short_rows(sheet), *_empty_holds(sheet), *_carries_of_nothing(sheet, bouts))


def _short_rows(sheet: Sheet) -> list[Notice]:
    """Tell of rows that end before the header does, together where the same cells are missing."""
    found: dict[tuple[str, ...], list[int]] = {}
    for row in sheet.rows:
        if row.missing:
            found.setdefault(row.missing, []).append(row.line)
    return [
        Notice(
            "row_short",
            f"the row ends before {missing[0]}; what is absent was taken as empty",
            file=sheet.file,
            where=f"{lines_named(lines)}, {_columns(missing)}",
            severity="check",
        )
        for missing, lines in found.items()
    ]


def _empty_holds(sheet: Sheet) -> list[Notice]:
    lines = [row.line for row in sheet.rows if not row.cells.get("hold")]
    if not lines:
        return []
    message = (
        "the hold is empty and was taken as unknown; write free for a walk without load, "
        "or the hold of the carry"
    )
    where = f"{lines_named(lines)}, column hold"
    return [Notice("hold_empty", message, file=sheet.file, where=where, severity="check")]


def _carries_of_nothing(sheet: Sheet, bouts: Sequence[BoutRow]) -> list[Notice]:
    lines = [
        row.line
        for row, bout in zip(sheet.rows, bouts, strict=True)
        if bout.hold not in ("free", "unknown") and bout.load_kg == 0
    ]
    if not lines:
        return []
    message = (
        "the hold is a carry, but load_kg is 0; write the load, implement included, or leave it "
        "empty where it is not known. A carry without load is compared with the free walk, but is "
        "no step of the load ladder"
    )
    where = f"{lines_named(lines)}, column load_kg"
    return [Notice("load_zero", message, file=sheet.file, where=where, severity="check")]


def heavy_loads(bouts: Sequence[BoutRow], body_mass_kg: float, file: str) -> tuple[Notice, ...]:
    """Return a check for each bout whose load in one hand looks like a slip of the pen.

    Parameters
    ----------
    bouts : sequence of BoutRow
    body_mass_kg : float
        NaN where it is not known.
    file : str
        The sheet, as named.
    """
    known = math.isfinite(body_mass_kg)
    most_kg = evidence.HAND_MOST_BODY_MASS.value * body_mass_kg
    most_kg = most_kg if known else evidence.HAND_MOST_KG.value
    found = []
    for bout in bouts:
        load_kg = _in_one_hand(bout)
        if not load_kg > most_kg:
            continue
        of_mass = f", {load_kg / body_mass_kg:.1f} times the body mass," if known else ""
        message = (
            f"{load_kg:g} kg in one hand{of_mass} is more than is carried: is it "
            f"{load_kg / 10.0:g} kg?"
        )
        where = f"bout {bout.bout}, column load_kg"
        found.append(Notice("load_large", message, file=file, where=where, severity="check"))
    return tuple(found)


def _in_one_hand(bout: BoutRow) -> float:
    """Return the heavier hand's load [kg]; half of what both carry where neither is known."""
    hands = [load for load in (bout.left_load_kg, bout.right_load_kg) if math.isfinite(load)]
    if hands:
        return max(hands)
    return 0.5 * bout.load_kg if bout.loaded_side == "both" else bout.load_kg


def unknown_bouts(
    readings: Sequence[RomReading], bouts: Collection[str], file: str
) -> tuple[Notice, ...]:
    """Return one notice for every bout that shoulder tests name and the session has not.

    Parameters
    ----------
    readings : sequence of RomReading
    bouts : collection of str
        Names of the session's bouts.
    file : str
        The sheet of the shoulder tests, as named.
    """
    found: dict[str, list[int]] = {}
    for reading in readings:
        if reading.bout and reading.bout not in bouts:
            found.setdefault(reading.bout, []).append(reading.line)
    return tuple(
        Notice(
            "rom_bout_unknown",
            f"{name[:40]!r} is no bout of this session ({_listed(bouts)}); mend the name",
            file=file,
            where=f"{lines_named(lines)}, column bout",
            severity="check",
        )
        for name, lines in found.items()
    )


def lines_named(lines: Sequence[int]) -> str:
    """Return "line 3", "lines 3, 4": the first of many."""
    return f"line{'s' if len(lines) > 1 else ''} {_listed(lines)}"


def _columns(names: Sequence[str]) -> str:
    return f"column{'s' if len(names) > 1 else ''} {_listed(names)}"


def _listed(items: Collection[object]) -> str:
    """Return the first of many items, or all of few."""
    shown = [str(item) for item in items][:MOST_NAMED]
    return ", ".join([*shown, "..."] if len(items) > MOST_NAMED else shown)
