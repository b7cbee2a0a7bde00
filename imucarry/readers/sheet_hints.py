"""What may have been meant by a cell or a header that cannot be read."""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Final

from imucarry.basics.evidence import readers as evidence

KG_OF_LB: Final = 0.45359237
"""Exactly, by the definition of the international pound."""

POUNDS_WORD: Final = r"(?:lbs?|pounds?)\.?"
POUNDS: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*" + POUNDS_WORD, re.IGNORECASE)
SEVERAL: Final = re.compile(r"(\d+)\s*[x\u00d7*]\s*(\d+(?:[.,]\d+)?)\s*(?:kg)?", re.IGNORECASE)
SEVERAL_POUNDS: Final = re.compile(
    SEVERAL.pattern.removesuffix(r"(?:kg)?") + POUNDS_WORD, re.IGNORECASE
)
POUNDS_WORDS: Final = frozenset(("lb", "lbs", "pound", "pounds"))
LOAD_WORDS: Final = frozenset(("load", "weight", "total", "mass", "carried", "in", "kg"))
ROWS_LOOKED_AT: Final = 10


def load_meant(text: str) -> str:
    """ " (35 lb is 15.9 kg)", " (2x16 is 32 in all)", or "" where nothing such is written."""
    pounds, several = POUNDS.fullmatch(text), SEVERAL.fullmatch(text)
    if both := SEVERAL_POUNDS.fullmatch(text):
        return f" ({text} is {int(both[1]) * _number(both[2]) * KG_OF_LB:.1f} kg in all)"
    if pounds:
        return f" ({text} is {_number(pounds[1]) * KG_OF_LB:.1f} kg)"
    if several:
        return f" ({text} is {int(several[1]) * _number(several[2]):g} in all)"
    return ""


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def column_in_pounds(column: str, header: Sequence[str]) -> str:
    """Return the column of a header that holds a missing load in pounds, as written; "" without.

    Parameters
    ----------
    column : str
        The one that is missing.
    header : sequence of str
    """
    if column != "load_kg":
        return ""
    for cell in header:
        parts = set(_parts(cell))
        if parts & POUNDS_WORDS and parts <= POUNDS_WORDS | LOAD_WORDS:
            return cell.strip()
    return ""


def column_meant(column: str, header: Sequence[str]) -> str:
    """Return the column of a header that may be meant for a missing one, as written; "" without.

    Parameters
    ----------
    column : str
        The one that is missing.
    header : sequence of str
    """
    plain = {"_".join(_parts(cell)): cell.strip() for cell in header}
    if column in plain:
        return plain[column]
    likeness = evidence.NEAR_NEEDED_COLUMN_LIKENESS.value
    close = get_close_matches(column, [name[:80] for name in plain], n=1, cutoff=likeness)
    return plain.get(close[0], "") if close else ""


def header_below(rows: Sequence[tuple[int, Sequence[str]]], needed: Sequence[str]) -> int:
    """Return the line of a header that does not stand first, 0 without one.

    Parameters
    ----------
    rows : sequence of (line, cells)
        Those below the first.
    needed : sequence of str
    """
    for line, cells in rows[:ROWS_LOOKED_AT]:
        if set(needed) <= {"_".join(_parts(cell)) for cell in cells}:
            return line
    return 0


def _parts(cell: str) -> list[str]:
    return [part for part in re.split(r"[^a-z0-9]+", cell.lower()) if part]
