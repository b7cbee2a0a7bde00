"""One line of a table as cells, and what each cell is."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import lru_cache

NUMBER = {
    ".": re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"),
    ",": re.compile(r"[+-]?(?:\d+,?\d*|,\d+)(?:[eE][+-]?\d+)?"),
}
MISSING = frozenset(
    {"nan", "na", "n/a", "null", "none", "-", "inf", "-inf", "+inf", "-nan", "#n/a"}
)
INSTANT = re.compile(
    r"(?:\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}[T ]\s*)?\d{1,2}:\d{2}(?::\d{2}.*|[.,]\d+)|\d{4}-\d\d-\d\d"
)


@dataclass(frozen=True, slots=True)
class Block:
    """A run of rows that one separator and decimal mark make."""

    separator: str
    decimal: str
    first: int
    rows: tuple[tuple[str, ...], ...]
    score: float


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
    """Return "number", "missing", "instant" or "word"; a layout is asked thrice for each cell."""
    if NUMBER[decimal].fullmatch(cell):
        return "number"
    if not cell or cell.lower() in MISSING:
        return "missing"
    return "instant" if INSTANT.fullmatch(cell) else "word"
