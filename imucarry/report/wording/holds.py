"""What a hold is called: the same words wherever a carry is named."""

from __future__ import annotations

from typing import Protocol

from imucarry.basics.records import SIDES
from imucarry.report.wording import texts

BOTH_SIDES = ("farmer", "both")
"""A hold and side of which the words of the hold say already that both sides are loaded."""


class HeldSo(Protocol):
    """Anything that tells how a load was held: a bout, a ladder, a condition."""

    @property
    def hold(self) -> str: ...
    @property
    def loaded_side(self) -> str: ...
    @property
    def left_hold(self) -> str: ...
    @property
    def right_hold(self) -> str: ...


def hold_named(held: HeldSo, *, short: bool = False) -> str:
    """ "weight at the side, right", in short "side right"; "rack left, side right" of two holds."""
    if two_holds(held):
        hands = zip((held.left_hold, held.right_hold), SIDES, strict=True)
        return ", ".join(
            f"{texts.HOLDS_SHORT.get(hold, hold)} {side}" for hold, side in hands if hold != "free"
        )
    holds = texts.HOLDS_SHORT if short else texts.HOLDS
    sides = texts.LOADED_SIDES_SHORT if short else texts.LOADED_SIDES
    is_said = (held.hold, held.loaded_side) == BOTH_SIDES
    side = "" if is_said else sides.get(held.loaded_side, held.loaded_side)
    return (" " if short else ", ").join(filter(None, (holds.get(held.hold, held.hold), side)))


def two_holds(held: HeldSo) -> bool:
    """Whether the hold of each hand is known, and they differ."""
    return held.hold == "mixed" and bool(held.left_hold and held.right_hold)
