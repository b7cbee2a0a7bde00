"""Whether what one row says of hold, side and load can all be true."""

from __future__ import annotations

import math
from dataclasses import replace

from imucarry.basics.errors import SessionError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoutRow
from imucarry.readers.cells import SheetRow

ONE_HAND = ("suitcase",)
BOTH_HANDS = ("farmer", "mixed")
EITHER_HAND = ("rack", "bottoms_up", "overhead")


def check_loads(row: BoutRow, given: str, file: str, at: SheetRow) -> BoutRow:
    """Check one bout's hold, loaded side and loads against each other; fill what follows.

    Parameters
    ----------
    row : BoutRow
    given : str
        "" where the sheet leaves ``loaded_side`` empty.
    file : str
    at : SheetRow
        The row of the sheet.

    Raises
    ------
    SessionError
        If they contradict each other.
    """
    row = _with_side(row, given)
    problem, column = (
        _empty_side(row, given) or _contradiction(row) or _sum_problem(row) or ("", "")
    )
    if problem:
        if at.missing:
            problem += f" (the row has {len(at.cells) - len(at.missing)} of {len(at.cells)} cells)"
        raise SessionError(problem, file=file, where=f"line {at.line}, column {column}")
    return _with_hands(row)


def _with_side(row: BoutRow, given: str) -> BoutRow:
    """Take the loaded side from the hold or the hands where it is empty."""
    if given:
        return row
    if row.hold in BOTH_HANDS:
        return replace(row, loaded_side="both")
    left, right = row.left_load_kg > 0, row.right_load_kg > 0
    if left or right:
        side = "both" if left and right else ("left" if left else "right")
        return replace(row, loaded_side=side)
    return row


def _empty_side(row: BoutRow, given: str) -> tuple[str, str] | None:
    """Tell of a carry of which nothing says the side."""
    if given or row.loaded_side != "none" or row.hold not in (*ONE_HAND, *EITHER_HAND):
        return None
    sides = "left or right" if row.hold in ONE_HAND else "left, right or both"
    return f"is empty, but the hold is {row.hold}; write {sides}", "loaded_side"


def _contradiction(row: BoutRow) -> tuple[str, str] | None:
    hold, side = row.hold, row.loaded_side
    if hold == "free" and (side != "none" or row.load_kg > 0):
        return "a free walk carries nothing: loaded_side is none, load_kg is 0 or empty", "hold"
    if hold in ONE_HAND and side not in ("left", "right"):
        return f"{hold} loads one hand: loaded_side is left or right, not {side}", "loaded_side"
    if hold == "farmer" and side != "both":
        return f"farmer loads both hands: loaded_side is both, not {side}", "loaded_side"
    if hold in ("rack", "bottoms_up", "overhead", "mixed") and side == "none":
        return f"{hold} needs a loaded_side: left, right or both", "loaded_side"
    if hold == "mixed" and not (row.left_hold and row.right_hold):
        return "mixed needs left_hold and right_hold", "left_hold"
    if hold == "mixed" and row.left_hold == row.right_hold:
        return "mixed needs two different holds; name the one hold in hold", "left_hold"
    if side == "none" and row.load_kg > 0:
        return f"load_kg is {row.load_kg:g} but loaded_side is none", "loaded_side"
    return None


def _sum_problem(row: BoutRow) -> tuple[str, str] | None:
    left, right = row.left_load_kg, row.right_load_kg
    if row.loaded_side == "left" and right > 0:
        return f"right_load_kg is {right:g} but loaded_side is left", "right_load_kg"
    if row.loaded_side == "right" and left > 0:
        return f"left_load_kg is {left:g} but loaded_side is right", "left_load_kg"
    if row.loaded_side == "none" and (left > 0 or right > 0):
        return "a hand is loaded but loaded_side is none", "loaded_side"
    if math.isnan(left) and math.isnan(right):
        return None
    total = math.fsum(load for load in (left, right) if not math.isnan(load))
    one_missing = math.isnan(left) or math.isnan(right)
    if one_missing and row.loaded_side == "both":
        return "both hands are loaded: fill left_load_kg and right_load_kg, or neither", (
            "right_load_kg" if math.isnan(right) else "left_load_kg"
        )
    if not math.isnan(row.load_kg) and abs(total - row.load_kg) > evidence.LOAD_SUM_KG.value:
        return (
            f"left_load_kg and right_load_kg sum to {total:g}, load_kg is {row.load_kg:g}",
            "load_kg",
        )
    return None


def _with_hands(row: BoutRow) -> BoutRow:
    """Take the total from the hands where it is empty."""
    loads = [load for load in (row.left_load_kg, row.right_load_kg) if not math.isnan(load)]
    if loads and math.isnan(row.load_kg):
        return replace(row, load_kg=math.fsum(loads))
    return row
