"""Which labels name the implement: those of a hold and side carried with several."""

from __future__ import annotations

from collections.abc import Iterable

from imucarry.basics.records import BoutResult, BoutRow
from imucarry.carry.implements import implement_key

HeldSo = tuple[str, str, str, str]
"""Hold and side, and the hold of each hand."""

NamedFor = frozenset[HeldSo]


def several_implements(bouts: Iterable[BoutResult]) -> NamedFor:
    """The holds and sides that were carried with more than one implement in a visit."""
    found: dict[HeldSo, set[str]] = {}
    for bout in bouts:
        row = bout.data.row
        if row.hold != "free":
            found.setdefault(_held_so(row), set()).add(implement_key(row.implement))
    return frozenset(held for held, implements in found.items() if len(implements) > 1)


def implement_told(row: BoutRow, named_for: NamedFor) -> str:
    """The implement of a bout as its label names it, "" where its hold and side had but one."""
    return " ".join(row.implement.split()) if _held_so(row) in named_for else ""


def _held_so(row: BoutRow) -> HeldSo:
    return row.hold, row.loaded_side, row.left_hold, row.right_hold
