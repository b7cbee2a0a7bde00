"""One line of a table as cells, what each cell is, and the number that it spells."""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from imucarry.basics.evidence import readers as evidence

OTHER_MARK = {".": ",", ",": "."}
NUMBER = {
    ".": re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"),
    ",": re.compile(r"[+-]?(?:\d+,?\d*|,\d+)(?:[eE][+-]?\d+)?"),
}
# By decimal mark: thousands under the other mark.
GROUPED = {
    ".": re.compile(r"[+-]?[1-9]\d{0,2}(?:,\d{3})+(?:\.\d*)?"),
    ",": re.compile(r"[+-]?[1-9]\d{0,2}(?:\.\d{3})+(?:,\d*)?"),
}
GAP = r"[ \u00a0\u2007\u2009\u202f'\u2019]"
SPACED = re.compile(rf"[+-]?[1-9]\d{{0,2}}(?:{GAP}\d{{3}})+(?:[.,]\d*)?")
SHORT_WHOLE, LONG_WHOLE = re.compile(r"[+-]?\d{1,3}"), re.compile(r"[+-]?\d{4,}")
MINUS = str.maketrans(dict.fromkeys("\u2010\u2011\u2012\u2013\u2212\ufe63\uff0d", "-"))
NO_NUMBER = """nan na n/a null none - -- --- ? inf -inf +inf -nan missing <na>
#n/a #na #num! #value! #div/0! #ref! 1.#qnan -1.#qnan 1.#ind -1.#ind 1.#inf -1.#inf"""
MISSING = frozenset(NO_NUMBER.split())
INSTANT = re.compile(
    r"(?:\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}[T ]\s*)?\d{1,2}:\d{2}(?::\d{2}.*|[.,]\d+)|\d{4}-\d\d-\d\d"
    r"|\d{8}[T ]\d{6}(?:[.,]\d+)?(?:Z|[+-]\d\d(?::?\d\d)?)?"
)


@dataclass(frozen=True, slots=True)
class Block:
    """A run of rows that one separator and decimal mark make."""

    separator: str
    decimal: str
    first: int
    rows: tuple[tuple[str, ...], ...]
    score: tuple[float, float]


def cells_of(text: str, separator: str) -> list[str]:
    """Split one line into stripped cells, minding quotes."""
    if separator == " ":
        return [cell.strip('"') for cell in text.split()]
    if '"' in text:
        try:
            row = next(csv.reader([text], delimiter=separator, skipinitialspace=True), [])
            return [cell.strip() for cell in row]
        except csv.Error:
            pass
    return [cell.strip() for cell in text.split(separator)]


@lru_cache(maxsize=1 << 12)
def kind_of(cell: str, decimal: str) -> str:
    """Return "number", "grouped" (a number with thousands marks), "missing", "instant" or "word".

    A layout is asked thrice for each cell.
    """
    if NUMBER[decimal].fullmatch(cell):
        return "number"
    if not cell or cell.lower() in MISSING:
        return "missing"
    if INSTANT.fullmatch(cell):
        return "instant"
    if GROUPED[decimal].fullmatch(cell):
        return "grouped"
    plain = plain_of(cell)
    return kind_of(plain, decimal) if plain != cell else "word"


def plain_of(cell: str) -> str:
    """Return a cell with the usual minus sign, without spaces around it or between its groups."""
    text = cell.strip().translate(MINUS)
    if text[:1] in ("-", "+"):
        text = text[0] + text[1:].lstrip()
    return re.sub(GAP, "", text) if SPACED.fullmatch(text) else text


def value_of(cell: str, decimal: str, *, groups: bool) -> float:
    """Return the number that a cell spells, NaN where it is none.

    Parameters
    ----------
    cell : str
    decimal : str
        "." or ",".
    groups : bool
        Whether the other mark alone ("12.345" beside decimal commas) marks thousands.
    """
    text = plain_of(cell)
    other = OTHER_MARK[decimal]
    if GROUPED[decimal].fullmatch(text) and (groups or not NUMBER[other].fullmatch(text)):
        text = text.replace(other, "")
    return float(text.replace(decimal, ".")) if NUMBER[decimal].fullmatch(text) else math.nan


def marks_thousands(cells: Iterable[str], decimal: str) -> bool:
    """Whether the cells with the other mark alone ("12.345" beside decimal commas) are thousands.

    Not where many of them cannot be ("0.345"): there two decimal marks are mixed.
    """
    other = OTHER_MARK[decimal]
    marked = [cell for cell in map(plain_of, cells) if other in cell]
    as_decimals = [cell for cell in marked if NUMBER[other].fullmatch(cell)]
    n_against = sum(not GROUPED[decimal].fullmatch(cell) for cell in as_decimals)
    return n_against <= evidence.UNREADABLE_FRAC.value * len(as_decimals)


def shows_decimals(cell: str, decimal: str) -> bool:
    """Whether a cell is a number only if the mark is the decimal one.

    "0.5", "1.25" and "1,234.5" show a decimal point; "12.345" may be thousands.
    """
    other = OTHER_MARK[decimal]
    if GROUPED[decimal].fullmatch(cell):
        return not NUMBER[other].fullmatch(cell)
    is_decimal = decimal in cell and NUMBER[decimal].fullmatch(cell) is not None
    return is_decimal and not GROUPED[other].fullmatch(cell)


def told_decimal(columns: Sequence[Mapping[str, int]]) -> str:
    """Return the decimal mark that all cells of a table tell together.

    Parameters
    ----------
    columns : sequence of mapping of str to int
        The different cells of each column of numbers, and how many rows have each.

    Returns
    -------
    str
        "." or ","; "" where nothing speaks for one, "?" where thousands and decimals are both
        likely.

    Notes
    -----
    A mark before groups of exactly three digits alone is taken for one of thousands where the
    same column also holds whole numbers below 1000: a program that writes three decimals would
    write them, or leave out zeros elsewhere ("1.02"), which no cell does.
    """
    shown = {mark: _n_rows(columns, mark, shows_decimals) for mark in OTHER_MARK}
    lone = {mark: _n_rows(columns, mark, _is_lone_group) for mark in OTHER_MARK}
    seen = [mark for mark in OTHER_MARK if shown[mark]] or [m for m in OTHER_MARK if lone[m]]
    if len(seen) != 1:
        return "?" if seen and not any(shown.values()) else ""
    (mark,) = seen
    if shown[mark] > evidence.UNREADABLE_FRAC.value * (shown[mark] + lone[mark]):
        return mark
    found = {_column_tells(cells, mark) for cells in columns} - {"decimals"}
    if not found:
        return mark
    is_clear = "thousands" in found and "?" not in found and not shown[mark]
    return OTHER_MARK[mark] if is_clear else "?"


def _n_rows(
    columns: Sequence[Mapping[str, int]], mark: str, is_so: Callable[[str, str], bool]
) -> int:
    return sum(n for cells in columns for cell, n in cells.items() if is_so(cell, mark))


def _is_lone_group(cell: str, mark: str) -> bool:
    """Whether a cell may be a decimal number as well as thousands ("12.345")."""
    return bool(GROUPED[OTHER_MARK[mark]].fullmatch(cell) and NUMBER[mark].fullmatch(cell))


def _column_tells(cells: Mapping[str, int], mark: str) -> str:
    """Return what a mark is in one column: "thousands", "decimals", "?" or "few" to tell."""
    least = evidence.LEAST_DIFFERENT_CELLS.value
    groups = [cell for cell in cells if _is_lone_group(cell, mark)]
    if not groups or sum(SHORT_WHOLE.fullmatch(cell) is not None for cell in cells) < least:
        return "decimals"
    n_long = sum(n for cell, n in cells.items() if LONG_WHOLE.fullmatch(cell))
    if n_long > evidence.UNREADABLE_FRAC.value * sum(cells.values()):
        return "?"
    return "thousands" if sum(not cell.endswith("000") for cell in groups) >= least else "few"
