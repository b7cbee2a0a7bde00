"""Bouts whose words say pounds and whose load is the same number of kg."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoutRow, Notice
from imucarry.readers.cells import Sheet
from imucarry.readers.sheet_hints import KG_OF_LB
from imucarry.readers.sheet_notices import lines_named

LOAD_IN_POUNDS: Final = "load_in_pounds"
"""Code of the notice."""

MOST_NAMED: Final = 6
LONGEST_SHOWN: Final = 40
SAID: Final = re.compile(
    r"(?<![\d.,])(?:(\d{1,2})\s*[x\u00d7*]\s*)?(\d+(?:[.,]\d+)?)[\s_-]*(?:lbs?|pounds?)(?![a-z])",
    re.IGNORECASE,
)


def pounds_for_kg(sheet: Sheet, bouts: Sequence[BoutRow]) -> list[Notice]:
    """Tell of bouts whose name, implement or note says so many pounds, and the load so many kg.

    Parameters
    ----------
    sheet : Sheet
        Of the bouts.
    bouts : sequence of BoutRow
        What its rows were read as, in the same order.
    """
    found = [
        (row.line, bout, said)
        for row, bout in zip(sheet.rows, bouts, strict=True)
        if (said := next(_contradictions(bout), None))
    ]
    if not found:
        return []
    _line, first, (_load, words) = found[0]
    others = [f"{bout.bout[:LONGEST_SHOWN]} ({_in_kg(load)})" for _, bout, (load, _) in found[1:]]
    if len(others) > MOST_NAMED:
        others[MOST_NAMED:] = [f"{len(others) - MOST_NAMED} more"]
    message = f"{first.bout[:LONGEST_SHOWN]}: {words}. Which is right?"
    message += f" The same in {', '.join(others)}" if others else ""
    where = f"{lines_named([line for line, _, _ in found])}, column load_kg"
    return [Notice(LOAD_IN_POUNDS, message, sheet.file, where, "check")]


def _contradictions(bout: BoutRow) -> Iterator[tuple[float, str]]:
    """Yield each load that is the same number of kg as words say pounds, and how that is told."""
    loads = {
        "load_kg": bout.load_kg,
        "left_load_kg": bout.left_load_kg,
        "right_load_kg": bout.right_load_kg,
    }
    texts = {"name": bout.bout, "implement": bout.implement, "note": bout.note}
    for where, text in texts.items():
        for hit in SAID.finditer(text):
            one = float(hit[2].replace(",", "."))
            times = {1, int(hit[1] or 1), 2 if bout.loaded_side == "both" else 1}
            for column, load in loads.items():
                if any(_is_same(load, number * one) for number in times):
                    said = hit[0].replace("_", " ")
                    in_all = "" if _is_same(load, one) else f", {load:g} lb in all"
                    yield (
                        load,
                        f"the {where} says {said}{in_all}, which is {_in_kg(load)}; {column} says"
                        f" {load:g}",
                    )


def _in_kg(pounds: float) -> str:
    return f"{pounds * KG_OF_LB:.1f} kg"


def _is_same(load_kg: float, number: float) -> bool:
    return load_kg > 0 and abs(load_kg - number) <= evidence.LOAD_SUM_KG.value
