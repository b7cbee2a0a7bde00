"""Columns of the bouts sheet that are not read, but whose name nearly is one that is."""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterable, Sequence
from difflib import SequenceMatcher, get_close_matches
from functools import cache
from typing import Final

from imucarry.basics.evidence import carry as carry_evidence
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import Notice
from imucarry.readers.cells import NUMBER, Sheet, SheetRow

COLUMN_NOT_READ: Final = "column_not_read"
"""Code of the notice."""

WORDS: Final[dict[str, tuple[str, ...]]] = {
    "pain_0_10": ("pain", "pains", "nrs", "vas"),
    "stop_reason": ("stop", "stops", "stopped", "stopping", "reason", "why", "ended"),
    "note": ("note", "notes", "comment", "comments", "remark", "remarks", "observation",
             "observations", "symptom", "symptoms"),
    "rpe_0_10": ("rpe", "borg", "exertion", "effort"),
    "distance_m": ("distance", "dist", "metres", "meters"),
    "rest_before_s": ("rest", "pause"),
    "perturbed": ("perturbed", "perturbation", "elastic"),
    "implement": ("implement", "equipment", "tool"),
    "baseline": ("baseline",),
    "order": ("order",),
    "shoulder_rotation_aim": ("rotation aim", "shoulder aim"),
    "left_load_kg": ("left load", "left kg", "left weight"),
    "right_load_kg": ("right load", "right kg", "right weight"),
    "left_hold": ("left hold",),
    "right_hold": ("right hold",),
}  # fmt: skip
"""Column, and what names it nearly: one word, or two in any order."""

SCALE: Final = "0 10 cr10 score scale rating level intensity numeric now of out to from"
BESIDE: Final[dict[str, frozenset[str]]] = {
    "pain_0_10": frozenset(SCALE.split()),
    "rpe_0_10": frozenset(SCALE.split()),
    "stop_reason": frozenset(("early", "because", "for", "of", "the", "bout")),
    "note": frozenset(("bout", "other", "any", "further", "general", "s")),
    "distance_m": frozenset(("m", "walked", "total", "in")),
    "rest_before_s": frozenset(("before", "s", "sec", "seconds", "in")),
    "left_load_kg": frozenset(("kg", "hand", "in")),
    "right_load_kg": frozenset(("kg", "hand", "in")),
}
"""What else may stand in a name: units, scale words; any other word makes it another thing."""

MOST: Final[dict[str, float]] = {
    "pain_0_10": 10.0,
    "rpe_0_10": 10.0,
    **dict.fromkeys(
        ("distance_m", "rest_before_s", "order", "left_load_kg", "right_load_kg"), math.inf
    ),
}
"""Columns of numbers from 0, and the most that each may be."""

COUNTS: Final[dict[str, str]] = {
    "pain_0_10": "Pain was not noted for any carry. If the column {names} holds it, name it "
    "pain_0_10",
    "stop_reason": "column {names} is not read, so no early stop counts in the answers above. If "
    "it says why bouts ended, name it stop_reason",
    "note": "column {names} is not read, only searched for alarm words: name it note to see it "
    "with each bout",
}
"""Columns without which an answer may be wrong, and what is told of one that may be meant."""

PAIN_ABOVE: Final = (
    "column {names} is not read, so no pain counts in the answers above. If it holds pain, name it "
    "pain_0_10"
)
OTHERS: Final = "not read, only carried to the results: {names}"
ONE: Final = "column {written!r} (name it {meant} if it is that)"


@cache
def near_column(name: str) -> str:
    """Return the column of the bouts sheet that a name nearly is; "" without one.

    Only where nothing else stands in the name but units and scale words.

    Parameters
    ----------
    name : str
        A column that is not read, in any writing.
    """
    parts = [part for part in re.split(r"[^a-z0-9]+", name.lower()) if part]
    for column, listed in WORDS.items():
        others = {word for words in listed for word in words.split()}
        others |= BESIDE.get(column, frozenset())
        if set(parts) <= others and any(set(words.split()) <= set(parts) for words in listed):
            return column
    return _slip(parts)


def _slip(parts: Sequence[str]) -> str:
    """Return the column that a name is a slip of the pen of; "" without one."""
    least = evidence.NEAR_COLUMN_LIKENESS.value
    for column in get_close_matches("_".join(parts)[:80], list(WORDS), n=1, cutoff=least):
        own = column.split("_")
        pairs = zip(parts, own, strict=False)
        is_slip = all(_likeness(*pair) >= evidence.NEAR_WORD_LIKENESS.value for pair in pairs)
        if "".join(parts) == "".join(own) or (len(parts) == len(own) and is_slip):
            return column
    return ""


def _likeness(one: str, other: str) -> float:
    return SequenceMatcher(None, one, other).ratio()


def near_columns(sheet: Sheet, known: Collection[str]) -> list[Notice]:
    """Tell of columns that are not read and may be meant for one that is.

    Only where the column meant has nothing in any carry, and the cells could be read as it.
    Those that pain, early stops or notes may stand in are checks; all others are one note.

    Parameters
    ----------
    sheet : Sheet
        Of the bouts.
    known : collection of str
        The columns that are read.
    """
    found: dict[str, list[tuple[str, str]]] = {}
    for column, written in zip(sheet.columns, sheet.header, strict=False):
        meant = near_column(column) if column not in known else ""
        if meant and _is_empty(sheet.rows, meant) and _can_be(sheet.rows, column, meant):
            found.setdefault(meant, []).append((column, written))
    told = [_check(sheet, meant, found[meant]) for meant in COUNTS if meant in found]
    others = [
        ONE.format(written=written, meant=meant)
        for meant, columns in found.items()
        if meant not in COUNTS
        for _, written in columns
    ]
    if others:
        said = OTHERS.format(names=", ".join(others))
        told.append(Notice(COLUMN_NOT_READ, said, sheet.file, "header", "note"))
    return told


def _check(sheet: Sheet, meant: str, columns: Sequence[tuple[str, str]]) -> Notice:
    """Return the check of the columns that may be meant for one of `COUNTS`."""
    said = COUNTS[meant]
    if meant == "pain_0_10":
        limit = carry_evidence.PAIN_LIMIT.value
        cells = (_number(row.cells[column]) for row in sheet.rows for column, _ in columns)
        said = PAIN_ABOVE if any(cell > limit for cell in cells) else said
    names = " or ".join(repr(written) for _, written in columns)
    return Notice(COLUMN_NOT_READ, said.format(names=names), sheet.file, "header", "check")


def _is_empty(rows: Iterable[SheetRow], meant: str) -> bool:
    """Whether a column is missing, or empty in all carries."""
    return not any(
        row.cells.get(meant) for row in rows if row.cells.get("hold", "").lower() != "free"
    )


def _can_be(rows: Iterable[SheetRow], column: str, meant: str) -> bool:
    """Whether the cells of a column could be read as another; not where all are empty."""
    cells = [cell for row in rows if (cell := row.cells[column].strip(" -"))]
    if meant in MOST:
        return bool(cells) and all(0 <= _number(cell) <= MOST[meant] for cell in cells)
    if meant == "stop_reason":
        planned = carry_evidence.PLANNED_STOPS.value
        cells = [cell for cell in cells if cell.lower().strip(" .-") not in planned]
    return any(re.search(r"[^\W\d_]", cell) for cell in cells)


def _number(cell: str) -> float:
    """Return a cell as a number; NaN where it is none."""
    cell = cell.strip()
    return float(cell.replace(",", ".")) if NUMBER.fullmatch(cell) else math.nan


def is_meant(notices: Iterable[Notice], column: str) -> bool:
    """Whether a check tells of a column that may be meant for this one."""
    said = f"name it {column}"
    return any(
        item.code == COLUMN_NOT_READ and item.severity == "check" and item.message.endswith(said)
        for item in notices
    )
