"""Several bouts named in short: "bouts 3, 4, 6 to 8"."""

from __future__ import annotations

from collections.abc import Sequence

from imucarry.basics.records import BoutRow
from imucarry.report.wording import say, texts

SHORTEST_RUN = 3
"""Numbers in a row that are told as "6 to 8"."""


def bouts_named(rows: Sequence[BoutRow]) -> str:
    """ "bout 4", "bouts 3, 4, 6 to 8", or the bouts' own names."""
    names = [row.bout for row in rows]
    if len(names) < 2 or not all(name.isdecimal() for name in names):
        return ", ".join(say.bout_name(row) for row in rows)
    return texts.BOUTS.format(bouts=", ".join(numbers_in_short(names)))


def numbers_in_short(names: Sequence[str]) -> list[str]:
    """ "3", "4", "6 to 8" of bouts by number; other names as they are."""
    if not all(name.isdecimal() for name in names):
        return list(names)
    return _runs([int(name) for name in names])


def _runs(numbers: Sequence[int]) -> list[str]:
    """ "3", "4", "6 to 8": numbers in their order, those that follow one another as one."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    said: list[str] = []
    for run in runs:
        if len(run) < SHORTEST_RUN:
            said += map(str, run)
        else:
            said.append(texts.TABLE["interval"].format(low=run[0], high=run[-1]))
    return said
