"""Columns without names: told from their numbers, or refused."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray
from imucarry.readers.levels import gravity_marks
from imucarry.readers.names import kind_of_word
from imucarry.readers.row_cells import kind_of
from imucarry.readers.table import Table
from imucarry.readers.told_units import unit_of_gravity


@dataclass(frozen=True, slots=True)
class Guess:
    """A time column and the first column of each quantity's three axes."""

    time: int | None
    triads: Mapping[str, int]
    rule: str


def guess_columns(table: Table) -> Guess:
    """Find time, acceleration and angular rate in a table without header.

    Time is the column that only rises (or is text that reads as time). The rest
    must be three or six columns; acceleration is the triad whose mean over a
    second is about as long as its samples (gravity), angular rate the other.

    Raises
    ------
    ColumnError
        If the columns cannot be told apart with certainty.
    """
    filled = [
        column
        for column in range(table.numbers.shape[1])
        if column in table.text or not np.isnan(table.numbers[:, column]).all()
    ]
    time = next((column for column in filled if _is_time(table, column)), None)
    rest = [column for column in filled if column != time and column not in table.text]
    triads = _triads(rest)
    if triads is None:
        raise ColumnError(
            f"has no header, and {len(rest)} columns besides time cannot be told apart; add a"
            " line of names such as time_s,acc_x,acc_y,acc_z,gyr_x,gyr_y,gyr_z",
            file=table.file,
            where="line 1",
        )
    return Guess(time, _kinds(table, triads), "no header: told from the numbers")


def _is_time(table: Table, column: int) -> bool:
    if column in table.text:
        first = (table.text[column].words or ("",))[0]
        return ":" in first or kind_of(first, ".") == "instant"
    values = table.numbers[:, column]
    steps = np.diff(values[np.isfinite(values)])
    return steps.size > 0 and bool((steps >= 0).mean() > 0.98 and (steps > 0).mean() > 0.2)


def _triads(columns: list[int]) -> list[int] | None:
    firsts = columns[::3]
    together = [column for first in firsts for column in range(first, first + 3)]
    return firsts if len(columns) in (3, 6) and together == columns else None


def _kinds(table: Table, triads: list[int]) -> dict[str, int]:
    if len(triads) == 1:
        kind = kind_of_word(table.file.rsplit("/", 1)[-1].partition(".")[0])
        return {kind or ("acc" if _has_gravity(_triad(table, triads[0])) else "gyr"): triads[0]}
    has = [_has_gravity(_triad(table, first)) for first in triads]
    if has[0] == has[1]:
        raise ColumnError(
            "has no header, and both groups of three columns could be the accelerometer; add a"
            " line of names such as time_s,acc_x,acc_y,acc_z,gyr_x,gyr_y,gyr_z",
            file=table.file,
            where="line 1",
        )
    first, second = triads if has[0] else triads[::-1]
    return {"acc": first, "gyr": second}


def _triad(table: Table, first: int) -> FloatArray:
    values = table.numbers[:, first : first + 3]
    return values[(np.abs(values) <= evidence.LARGEST_NUMBER.value).all(axis=1)]


def _has_gravity(values: FloatArray) -> bool:
    """Whether the vector mostly keeps its direction and is as long as gravity in some unit."""
    if len(values) == 0:
        return False
    level, share = gravity_marks(values)
    return share > evidence.UNNAMED_GRAVITY_SHARE.value and unit_of_gravity(level) != ""
