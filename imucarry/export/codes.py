"""Codes in place of what people wrote: names of bouts, implements and tests, notes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from imucarry.basics.evidence.shoulder_rom import ANY_MOTION
from imucarry.basics.records import SessionScores

FREE_TEXT = ("note", "stop_reason", "explanation")
"""Columns that are left out; explanations name bouts and tests in their sentences."""


@dataclass(frozen=True, slots=True)
class Codes:
    """What stands for each text that the session's sheets hold.

    Attributes
    ----------
    bouts : mapping of name to code
        The bouts' numbers, in their order.
    implements : mapping of name to code
    tests : mapping of name to code
        Shoulder motions that have a name of their own keep it.
    """

    bouts: Mapping[str, str]
    implements: Mapping[str, str]
    tests: Mapping[str, str]


def codes_of(scores: SessionScores) -> Codes:
    """Return the codes for one session's texts; the same session gives the same codes."""
    rows = [bout.data.row for bout in scores.bouts]
    tests = _numbered("test", (finding.test for finding in scores.retest))
    return Codes(
        bouts=_numbered("", (row.bout for row in rows)),
        implements=_numbered("implement", (row.implement for row in rows)),
        tests={name: name if name in ANY_MOTION else code for name, code in tests.items()},
    )


def _numbered(stem: str, names: Iterable[str]) -> dict[str, str]:
    found = dict.fromkeys(name for name in names if name)
    return {name: f"{stem}{k}" for k, name in enumerate(found, 1)}


def coded(columns: Mapping[str, list[Any]], codes: Codes) -> dict[str, list[Any]]:
    """Return a table's columns with codes in place of what people wrote.

    Parameters
    ----------
    columns : mapping of column name to cells
    codes : Codes
    """
    of_column = {
        "bout": codes.bouts,
        "baseline": codes.bouts,
        "baseline_bouts": codes.bouts,
        "implement": codes.implements,
        "test": codes.tests,
        **{name: dict[str, str]() for name in FREE_TEXT},
    }
    return {
        name: [_code(cell, of_column[name]) for cell in cells] if name in of_column else cells
        for name, cells in columns.items()
    }


def _code(cell: Any, codes: Mapping[str, str]) -> str:
    """Return the code of a cell, or of each of its names between ``;``; "" where none is known."""
    text = str(cell or "")
    if text in codes:
        return codes[text]
    return ";".join(codes[name] for name in text.split(";") if name in codes)
