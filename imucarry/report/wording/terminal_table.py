"""One line a bout for the terminal: the sternum and the free arms against the free walk."""

from __future__ import annotations

import re
import textwrap
import unicodedata
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Final

from imucarry.basics.records import SIDES, BoutResult, Side
from imucarry.carry.bout_checks import FREE_ARM
from imucarry.report.wording import say, say_checks, texts, words_checks
from imucarry.report.wording import terminal_cells as cells
from imucarry.report.wording.implements import (
    NamedFor,
    implement_told,
    several_implements,
)

COLUMNS: Final = 79
WIDEST: Final = 109
"""Columns of lines where the output is no terminal, and the most that a wide one is given."""

INDENT: Final = 2
GAP: Final = 2
NAME_LONG, NAME_SHORT = 24, 14
HOLD: Final = 1
"""The column that gives way where a line would be too long."""
FOUND: Final = 2
"""The column of what was found of the rotation."""

FULL, SHORT, BELOW = range(3)
"""Ways to tell a part of a row: fully ("stopped, pain 3"), shortly ("stopped"), or below alone."""


@dataclass(frozen=True, slots=True)
class Layout:
    """How fully the rows tell their parts; `arms` are those beside the sternum."""

    implements: bool = True
    elastic: int = FULL
    name: int = NAME_LONG
    noted: int = FULL
    words: int = FULL
    arms: bool = True


def _layouts() -> tuple[Layout, ...]:
    found = [Layout()]
    for shorter in (
        {"elastic": SHORT},
        {"elastic": FULL, "implements": False},
        {"elastic": SHORT},
        {"name": NAME_SHORT},
        {"elastic": BELOW},
        {"noted": SHORT},
        {"noted": BELOW},
        {"words": SHORT},
        {"arms": False},
    ):
        found.append(replace(found[-1], **shorter))
    return tuple(found)


LAYOUTS: Final = _layouts()
"""From the fullest to the shortest."""


def plain(words: str) -> str:
    """Text without anything that a narrow console cannot show."""
    hyphened = re.sub("[–\u2011\u2212]", "-", words)  # noqa: RUF001 - the dash is meant
    decomposed = unicodedata.normalize("NFKD", hyphened)
    ascii_only = decomposed.encode("ascii", "ignore").decode("ascii")
    return "".join(letter if letter.isprintable() else " " for letter in ascii_only)


def bout_lines(
    bouts: Sequence[BoutResult], in_doubt: Collection[str] = (), columns: int = COLUMNS
) -> list[str]:
    """One line a bout under a heading, in columns as wide as they need to be.

    Where the sternum was not measured in any bout, the arms stand in its place. Lines that would
    be longer than `columns` are set with the first of `LAYOUTS` that fits: implements, "on
    elastic", pain and stops are named below, names and words are shortened, the arms' shares
    left out beside the sternum's. What is cut even so ends in "~". Where arms are compared with
    the free walks of like pace in some bouts alone, others have a star. Bouts `in_doubt` (of
    which arm was free) and those whose free arm swung less are marked where the lines leave room.
    """
    if not bouts:
        return [texts.TERMINAL["none"]]
    sets = ((layout, _rows(bouts, layout)) for layout in LAYOUTS)
    fit = next((found for found in sets if _over(found[1], columns) <= 0), None)
    layout, rows = fit or (LAYOUTS[-1], _rows(bouts, LAYOUTS[-1]))
    rows = _marked(rows, bouts, in_doubt, columns)
    widths = _widths(rows)
    widths[HOLD] = max(widths[HOLD] - max(_over(rows, columns), 0), 1)
    return [*(_line(row, widths) for row in rows), *_told_below(bouts, layout, columns)]


def _told_below(bouts: Sequence[BoutResult], layout: Layout, columns: int) -> list[str]:
    """What the rows leave out, below them."""
    named_for = several_implements(bouts)
    below = list[str]()
    if named_for and not layout.implements:
        below += _below(_by_implement(bouts, named_for), columns)
    elastic = [bout.data.row.bout for bout in bouts if bout.data.row.perturbed == "elastic"]
    if elastic and layout.elastic == BELOW:
        below += _below(f"{texts.PERTURBED['elastic']}: {', '.join(elastic)}", columns)
    noted = _noted_of(bouts)
    if noted and layout.noted != FULL:
        below += _below(f"{texts.TERMINAL_HEAD['noted']}: {noted}", columns)
    if layout.arms and cells.starred(bouts):
        below.append(" " * INDENT + texts.TERMINAL["pooled"])
    return below


def _marked(
    rows: list[tuple[str, ...]],
    bouts: Sequence[BoutResult],
    in_doubt: Collection[str],
    columns: int,
) -> list[tuple[str, ...]]:
    """Rows with "side in doubt" for the arms' shares, and "arm less" beside the rotation.

    Each is left out where it would make lines too long.
    """
    heading, *lines = rows
    if heading[-1] != texts.TERMINAL_HEAD["arms"]:
        return rows
    doubt, less = words_checks.SIDE_IN_DOUBT["short"], texts.TERMINAL["arm_less"]
    doubted = [heading, *((*line[:-1], doubt) if bout.data.row.bout in in_doubt else line
                          for line, bout in zip(lines, bouts, strict=True))]  # fmt: skip
    rows = doubted if _over(doubted, columns) <= 0 else rows
    fallen = [heading, *(
        (*line[:FOUND], f"{line[FOUND]}, {less}", *line[FOUND + 1 :]) if _arm_fell(bout) else line
        for line, bout in zip(rows[1:], bouts, strict=True)
    )]  # fmt: skip
    return fallen if _over(fallen, columns) <= 0 else rows


def _arm_fell(bout: BoutResult) -> bool:
    """Whether the trunk was measured and a check says that a free arm swung less."""
    return bout.data.trunk is not None and any(n.code == FREE_ARM for n in bout.notices)


def _below(words: str, columns: int) -> list[str]:
    return textwrap.wrap(plain(words), columns, initial_indent="  ", subsequent_indent="    ")


def _by_implement(bouts: Sequence[BoutResult], named_for: NamedFor) -> str:
    """ "kettlebell: 3, 4; sandbag: 5, 6": the bouts of holds carried with several implements."""
    found: dict[str, list[str]] = {}
    for row in (bout.data.row for bout in bouts):
        if implement := implement_told(row, named_for):
            found.setdefault(implement, []).append(row.bout)
    return "; ".join(f"{implement}: {', '.join(names)}" for implement, names in found.items())


def _noted_of(bouts: Sequence[BoutResult]) -> str:
    """ "bout 3 stopped, pain 7; bout 7 pain 3.5", "" where nothing was noted of any."""
    found = ((bout.data.row, say_checks.in_short(bout.data.row)) for bout in bouts)
    return "; ".join(f"{say.bout_name(row)} {noted}" for row, noted in found if noted)


def _rows(bouts: Sequence[BoutResult], layout: Layout) -> list[tuple[str, ...]]:
    chest = any(bout.data.trunk is not None for bout in bouts)
    sides = tuple(side for side in SIDES if any(side in bout.data.swing for bout in bouts))
    sides = sides if layout.arms or not chest else ()
    all_noted = [_noted(bout, layout.noted) for bout in bouts]
    is_told = any(all_noted) and bool(sides) and not chest
    rows = [_heads(sides, chest=chest) + (texts.TERMINAL_HEAD["noted"],) * is_told]
    starred = cells.starred(bouts)
    named_for = several_implements(bouts) if layout.implements else frozenset()
    for bout, noted in zip(bouts, all_noted, strict=True):
        found = (
            cells.of_sternum(bout, sides, starred, noted, short=layout.words == SHORT)
            if chest or not sides
            else (*cells.of_arms(bout, sides, starred, bouts), *((noted,) if is_told else ()))
        )
        name = _cut(plain(bout.data.row.bout), layout.name)
        rows.append((name, _hold(bout, layout, named_for), *found))
    return rows


def _hold(bout: BoutResult, layout: Layout, named_for: NamedFor) -> str:
    """ "side right 16 on elastic", or what the layout leaves of it."""
    row = bout.data.row
    hold = say.hold_in_short(replace(row, perturbed="none"), named_for)
    if layout.words == SHORT:
        for side, letter in texts.SIDE_LETTERS.items():
            hold = re.sub(rf"\b{texts.LOADED_SIDES_SHORT[side]}\b", letter, hold)
    elastic = {FULL: texts.PERTURBED, SHORT: texts.PERTURBED_SHORT, BELOW: {}}[layout.elastic]
    return plain(" ".join(filter(None, (hold, elastic.get(row.perturbed, "")))))


def _noted(bout: BoutResult, told: int) -> str:
    """ "stopped, pain 3", shortened to "stopped", or "" where it stands below."""
    if told == BELOW:
        return ""
    noted = say_checks.in_short(bout.data.row)
    return noted if told == FULL else noted.partition(",")[0]


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    return [max(map(len, column)) for column in zip(*rows, strict=True)]


def _over(rows: Sequence[Sequence[str]], columns: int) -> int:
    """By how many letters the widest line is too long."""
    widths = _widths(rows)
    return INDENT + sum(widths) + GAP * (len(widths) - 1) - columns


def _heads(sides: Sequence[Side], *, chest: bool) -> tuple[str, ...]:
    words = texts.TERMINAL_HEAD
    if chest or not sides:
        found = (words["sternum"], words["deg"], words["kept"])
        return (words["bout"], words["hold"], *found, *((words["arms"],) if sides else ()))
    each = ((words[side], words["kept"]) for side in sides)
    return (words["bout"], words["hold"], *(head for pair in each for head in pair))


def _line(row: Sequence[str], widths: Sequence[int]) -> str:
    there = (f"{_cut(cell, width):<{width}}" for cell, width in zip(row, widths, strict=True))
    return (" " * INDENT + (" " * GAP).join(there)).rstrip()


def _cut(cell: str, width: int) -> str:
    """Cut a cell to a width; a cut one ends in "~"."""
    return cell if len(cell) <= width else cell[: width - 1].rstrip() + texts.TERMINAL["cut"]
