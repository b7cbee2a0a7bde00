"""Over weeks: the free arm's share of its swing, as the rows of its own visit tell it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import SIDES
from imucarry.carry.bout_checks import UNLIKE_STRIDES
from imucarry.carry.visits import FOLLOWED, Row, Visit, number, word
from imucarry.walk.worn import WRONG_SIDE

IN_DOUBT: Final = "{side}_arm_in_doubt"
"""A cell that is "yes" where an arm's share has no fair free walk."""

OF_ARMS: Final = tuple(item for item in FOLLOWED if item.side in SIDES)


def by_own_walks(visit: Visit) -> Visit:
    """Return a visit whose arms are read against the free walks that their own rows use.

    Those are the free walks of like pace where the free walks' arms swung too differently to
    be averaged. A share is in doubt where there was no walk of like pace, or the pace is not
    known and the free walks differ. The arms of a carry that did not move with the strides,
    or whose loaded side is doubtful, are left out.
    """
    walks = {word(row, "bout"): row for row in visit.bouts if word(row, "hold") == "free"}
    like = {(word(row, "bout"), word(row, "side")): row for row in visit.matched_arms}
    unfit = _unfit(visit)
    bouts = tuple(
        row if word(row, "hold") == "free"
        else {**row, **dict.fromkeys(_columns(), "")} if word(row, "bout") in unfit
        else {**row, **_cells(row, walks, like)}
        for row in visit.bouts
    )  # fmt: skip
    return replace(visit, bouts=bouts)


def _unfit(visit: Visit) -> set[str]:
    """Return the bouts whose arms are left out; a doubt about the sheet is one about all."""
    names = {word(row, "bout") for row in visit.bouts}
    doubted = {where for code, where in visit.checks if code in (UNLIKE_STRIDES, WRONG_SIDE)}
    of_all = any(code == WRONG_SIDE and where not in names for code, where in visit.checks)
    return names if of_all else doubted


def _columns() -> Iterator[str]:
    return (name for item in OF_ARMS for name in (item.column, item.low, item.high))


def _cells(
    row: Row, walks: Mapping[str, Row], like: Mapping[tuple[str, str], Row]
) -> dict[str, str | float]:
    """Return the cells of a carry's free arms that differ from those of all free walks."""
    free = [side for side in SIDES if word(row, f"{side}_arm_role") == "free"]
    own = [walks[name] for name in word(row, "baseline_bouts").split(";") if name in walks]
    apart = any(_apart(own, side) for side in free)
    cells: dict[str, str | float] = {}
    for side in free:
        found = like.get((word(row, "bout"), side), {})
        if apart and math.isfinite(number(found, "value")):
            (item,) = (i for i in OF_ARMS if (i.side, i.measure) == (side, "arm_swing_kept"))
            names = (item.column, "value"), (item.low, "ci_low"), (item.high, "ci_high")
            cells |= {column: number(found, name) for column, name in names}
        elif apart or word(found, "missing_because") == "no_like_walk":
            cells[IN_DOUBT.format(side=side)] = "yes"
    return cells


def _apart(walks: Sequence[Row], side: str) -> bool:
    """Whether an arm swung too differently in the free walks for their mean to be a yardstick."""
    swings = [number(walk, f"{side}_arm_swing_deg") for walk in walks]
    there = [swing for swing in swings if swing > 0.0]
    least = 1.0 + evidence.ARM_BASELINE_APART_PCT.value / 100.0
    return len(there) > 1 and max(there) > least * min(there)


def in_doubt(row: Row, side: str) -> bool:
    """Whether an arm's share in a row of `by_own_walks` has no fair free walk."""
    return word(row, IN_DOUBT.format(side=side)) == "yes"
