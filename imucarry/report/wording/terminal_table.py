"""One line a bout for the terminal: the sternum and the free arms against the free walk."""

from __future__ import annotations

import math
import re
import textwrap
import unicodedata
from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import Final

from imucarry.basics.records import SIDES, BoutResult, Estimate, Side
from imucarry.carry.baseline_moved import ARMS_UNLIKE
from imucarry.carry.bout_checks import FREE_ARM
from imucarry.report.lookup import arm_share_of, estimate_of, role_of
from imucarry.report.wording import say, say_arms, say_checks, texts, words_checks
from imucarry.report.wording.implements import (
    NamedFor,
    implement_told,
    several_implements,
)
from imucarry.report.wording.numbers import number

Starred = frozenset[tuple[str, Side]]
"""Bouts by name and arms."""

COLUMNS: Final = 79
INDENT: Final = 2
GAP: Final = 2
NAME_WIDEST: Final = 14
HOLD: Final = 1
"""The column that gives way where a line would be too long."""
FOUND: Final = 2
"""The column of what was found of the rotation."""

NOTED_FULLY, NOTED_SHORT, NOTED_BELOW = range(3)
"""Ways to tell pain and stops: "stopped, pain 3", "stopped", or nothing; a line below tells all."""


def plain(words: str) -> str:
    """Text without anything that a narrow console cannot show."""
    hyphened = re.sub("[–\u2011\u2212]", "-", words)  # noqa: RUF001 - the dash is meant
    decomposed = unicodedata.normalize("NFKD", hyphened)
    ascii_only = decomposed.encode("ascii", "ignore").decode("ascii")
    return "".join(letter if letter.isprintable() else " " for letter in ascii_only)


def bout_lines(bouts: Sequence[BoutResult], in_doubt: Collection[str] = ()) -> list[str]:
    """One line a bout under a heading, in columns as wide as they need to be.

    Where the sternum was not measured in any bout, the arms stand in its place. Where
    implements, "on elastic", or pain and stops would make lines too long, those bouts are named
    below. Where arms are compared with the free walks of like pace in some bouts alone, others
    have a star. Bouts `in_doubt` (of which arm was free) and those whose free arm swung less are
    marked where the lines leave room.
    """
    if not bouts:
        return [texts.TERMINAL["none"]]
    named_for, below = several_implements(bouts), list[str]()
    rows = _fitted(_rows(bouts, named_for))
    if named_for and _over(rows) > 0:
        below = _below(_by_implement(bouts, named_for))
        named_for = frozenset()
        rows = _fitted(_rows(bouts, named_for))
    noted, told, shown = _noted_of(bouts), NOTED_FULLY, list(bouts)
    elastic = [bout.data.row.bout for bout in bouts if bout.data.row.perturbed == "elastic"]
    if elastic and _over(rows) > 0:
        shown = [_named_below(bout) for bout in bouts]
        rows = _rows(shown, named_for)
        below += _below(f"{texts.PERTURBED['elastic']}: {', '.join(elastic)}")
    while noted and _over(rows) > 0 and told < NOTED_BELOW:
        told += 1
        rows = _fitted(_rows(shown, named_for, told))
    if told != NOTED_FULLY:
        below += _below(f"{texts.TERMINAL_HEAD['noted']}: {noted}")
    rows = _marked(rows, shown, in_doubt)
    if _starred(bouts):
        below.append(" " * INDENT + texts.TERMINAL["pooled"])
    widths = _widths(rows)
    widths[HOLD] = max(widths[HOLD] - max(_over(rows), 0), 0)
    return [*(_line(row, widths) for row in rows), *below]


def _marked(
    rows: list[tuple[str, ...]], bouts: Sequence[BoutResult], in_doubt: Collection[str]
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
    rows = doubted if _over(doubted) <= 0 else rows
    fallen = [heading, *(
        (*line[:FOUND], f"{line[FOUND]}, {less}", *line[FOUND + 1 :]) if _arm_fell(bout) else line
        for line, bout in zip(rows[1:], bouts, strict=True)
    )]  # fmt: skip
    return fallen if _over(fallen) <= 0 else rows


def _arm_fell(bout: BoutResult) -> bool:
    """Whether the trunk was measured and a check says that a free arm swung less."""
    return bout.data.trunk is not None and any(n.code == FREE_ARM for n in bout.notices)


def _below(words: str) -> list[str]:
    return textwrap.wrap(plain(words), COLUMNS, initial_indent="  ", subsequent_indent="    ")


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


def _fitted(rows: list[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """Rows with "elastic" alone where "on elastic" would make lines too long."""
    if _over(rows) <= 0:
        return rows
    long, short = texts.PERTURBED["elastic"], texts.PERTURBED_SHORT["elastic"]
    return [(*r[:HOLD], r[HOLD].replace(long, short), *r[HOLD + 1 :]) for r in rows]


def _rows(
    bouts: Sequence[BoutResult], named_for: NamedFor, told: int = NOTED_FULLY
) -> list[tuple[str, ...]]:
    sides = tuple(side for side in SIDES if any(side in bout.data.swing for bout in bouts))
    chest = any(bout.data.trunk is not None for bout in bouts)
    all_noted = [_noted(bout, told) for bout in bouts]
    is_told = any(all_noted) and bool(sides) and not chest
    rows = [_heads(sides, chest=chest) + (texts.TERMINAL_HEAD["noted"],) * is_told]
    starred = _starred(bouts)
    for bout, noted in zip(bouts, all_noted, strict=True):
        row = bout.data.row
        found = (
            _of_sternum(bout, sides, starred, noted)
            if chest or not sides
            else (*_of_arms(bout, sides, starred), *((noted,) if is_told else ()))
        )
        rows.append(
            (plain(row.bout)[:NAME_WIDEST], plain(say.hold_in_short(row, named_for)), *found)
        )
    return rows


def _noted(bout: BoutResult, told: int) -> str:
    """ "stopped, pain 3", shortened to "stopped", or "" where it stands below."""
    if told == NOTED_BELOW:
        return ""
    noted = say_checks.in_short(bout.data.row)
    return noted if told == NOTED_FULLY else noted.partition(",")[0]


def _named_below(bout: BoutResult) -> BoutResult:
    """A bout whose row does not say that it was on elastic."""
    return replace(bout, data=replace(bout.data, row=replace(bout.data.row, perturbed="none")))


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    return [max(map(len, column)) for column in zip(*rows, strict=True)]


def _over(rows: Sequence[Sequence[str]]) -> int:
    """By how many letters the widest line is too long."""
    widths = _widths(rows)
    return INDENT + sum(widths) + GAP * (len(widths) - 1) - COLUMNS


def _heads(sides: Sequence[Side], *, chest: bool) -> tuple[str, ...]:
    words = texts.TERMINAL_HEAD
    if chest or not sides:
        found = (words["sternum"], words["deg"], words["kept"])
        return (words["bout"], words["hold"], *found, *((words["arms"],) if sides else ()))
    each = ((words[side], words["kept"]) for side in sides)
    return (words["bout"], words["hold"], *(head for pair in each for head in pair))


def _starred(bouts: Sequence[BoutResult]) -> Starred:
    """The bouts and arms of all free walks, where others are of those of like pace alone.

    Where none is, those that a check doubts.
    """
    like = {
        (bout.data.row.bout, side): found
        for bout in bouts
        for side in SIDES
        if (found := say_arms.of_like_pace(bout, side)) is not None
    }
    pooled = frozenset(arm for arm, found in like.items() if not found)
    if len(pooled) < len(like):
        return pooled
    doubtful = {
        bout.data.row.bout
        for bout in bouts
        if any(n.code == ARMS_UNLIKE and n.severity == "check" for n in bout.comparison.notices)
    }
    return frozenset(arm for arm in pooled if arm[0] in doubtful)


def _of_sternum(
    bout: BoutResult, sides: Sequence[Side], starred: Starred, noted: str
) -> tuple[str, ...]:
    """What was found and noted, the swing, its share of the free walk's, the free arms' shares."""
    code = bout.comparison.rotation_finding
    swung, kept = estimate_of(bout, "sternum_yaw_range"), estimate_of(bout, "yaw_kept")
    shares = (_arm_share(bout, side, starred) for side in sides)
    arms = " ".join(share for share in shares if share) or texts.TERMINAL["missing"]
    return (
        ", ".join(filter(None, (texts.FINDING_MARK.get(code, code), noted))),
        _degrees(swung),
        _share(kept, say.USUAL_LIMITS),
        *((arms,) if sides else ()),
    )


def _arm_share(bout: BoutResult, side: Side, starred: Starred) -> str:
    """ "L 92" or "L 92*"; "" for a held arm and one that nothing is known of."""
    kept, _ = arm_share_of(bout, side)
    if role_of(bout, side) == "held" or not math.isfinite(kept.value):
        return ""
    return texts.TERMINAL[side].format(kept=number(kept.value, 0)) + _star(bout, side, starred)


def _star(bout: BoutResult, side: Side, starred: Starred) -> str:
    return texts.TERMINAL["star"] if (bout.data.row.bout, side) in starred else ""


def _of_arms(bout: BoutResult, sides: Sequence[Side], starred: Starred) -> tuple[str, ...]:
    """The swing of each arm and its share of the free walk's; a held arm is only named."""
    cells: list[str] = []
    for side in sides:
        if role_of(bout, side) == "held":
            cells += (texts.ARM_ROLE["held"], "")
            continue
        swung = estimate_of(bout, "arm_swing", side)
        unit = texts.TERMINAL["deg"] if math.isfinite(swung.value) else "{value}"
        kept, _ = arm_share_of(bout, side)
        share = _share(kept, ()) + _star(bout, side, starred)
        cells += (unit.format(value=_degrees(swung)), share)
    return tuple(cells)


def _degrees(swung: Estimate) -> str:
    return number(swung.value) if math.isfinite(swung.value) else texts.TERMINAL["missing"]


def _share(kept: Estimate, limits_pct: tuple[float, ...]) -> str:
    """ "92 (81-103)"."""
    if not math.isfinite(kept.value):
        return texts.TERMINAL["missing"]
    value, low, high = (
        say.percent(part, limits_pct) for part in (kept.value, kept.ci_low, kept.ci_high)
    )
    return texts.TERMINAL["kept"].format(kept=value, low=low, high=high)


def _line(row: Sequence[str], widths: Sequence[int]) -> str:
    cells = (
        f"{_whole_words(cell, width):<{width}}" for cell, width in zip(row, widths, strict=True)
    )
    return (" " * INDENT + (" " * GAP).join(cells)).rstrip()


def _whole_words(cell: str, width: int) -> str:
    """Cut a cell to a width, between words where that leaves any."""
    if len(cell) <= width:
        return cell
    return cell[: width + 1].rpartition(" ")[0] or cell[:width]
