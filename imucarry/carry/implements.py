"""What is carried, however it is spelt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from imucarry.basics import words
from imucarry.basics.records import BoutRow, LadderRung


def implement_key(implement: str) -> str:
    """Return an implement as it is compared: without regard to case and spaces."""
    return "".join(implement.casefold().split())


def as_first_written(implements: Iterable[str]) -> Iterator[str]:
    """Write each implement, in turn, as it was written first."""
    return words.as_first_written(implements, implement_key)


def ladder_key(one: BoutRow | LadderRung) -> tuple[str, str, str, str, str]:
    """Return what bouts of one ladder have in common: hold, side, implement, both hands' holds."""
    implement = implement_key(one.implement)
    return one.hold, one.loaded_side, implement, one.left_hold, one.right_hold
