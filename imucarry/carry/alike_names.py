"""What several visits write differently, implements and shoulder tests, under one name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from imucarry.basics import words
from imucarry.carry.implements import as_first_written
from imucarry.carry.visits import Row, Visit, word


def alike_implements(visits: Sequence[Visit]) -> tuple[Visit, ...]:
    """Write an implement in all visits as it was written first: case and spaces do not matter."""
    names = as_first_written(
        word(row, "implement") for visit in visits for row in (*visit.bouts, *visit.ladder)
    )

    def named(rows: Sequence[Row]) -> tuple[Row, ...]:
        return tuple({**row, "implement": next(names)} for row in rows)

    return tuple(
        replace(visit, bouts=named(visit.bouts), ladder=named(visit.ladder)) for visit in visits
    )


def alike_tests(visits: Sequence[Visit]) -> tuple[Visit, ...]:
    """Write a shoulder test in all visits as it was written first."""
    names = words.as_first_written(word(row, "test") for visit in visits for row in visit.retest)
    return tuple(
        replace(visit, retest=tuple({**row, "test": next(names)} for row in visit.retest))
        for visit in visits
    )
