"""What each arm does in a bout: it swings free, or it holds a load."""

from __future__ import annotations

from typing import Literal

from imucarry.basics.records import BoutRow, Side

Role = Literal["free", "held", "none"]


def arm_role(row: BoutRow, side: Side) -> Role:
    """Return "free", "held", or "none" where the sheet does not tell.

    Notes
    -----
    1. A load of its own, or a hold of its own (hold "mixed"), decides for the arm.
    2. Else the loaded side does.
    3. A bout that nobody described (hold "unknown", no loaded side) tells nothing.
    """
    own_hold = row.left_hold if side == "left" else row.right_hold
    own_load_kg = row.left_load_kg if side == "left" else row.right_load_kg
    if own_load_kg > 0.0 or own_hold not in ("", "free", "unknown"):
        return "held"
    if own_hold == "free" or row.hold == "free":
        return "free"
    if row.loaded_side in (side, "both"):
        return "held"
    return "none" if row.hold == "unknown" and row.loaded_side == "none" else "free"


def loaded_side(row: BoutRow) -> Side | None:
    """Return the side that carries the load, or None when neither or both do."""
    if row.loaded_side == "left":
        return "left"
    return "right" if row.loaded_side == "right" else None
