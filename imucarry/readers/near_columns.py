"""Columns of the bouts sheet that are not read, but whose name nearly is one that is."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from difflib import get_close_matches
from functools import cache
from typing import Final

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import Notice
from imucarry.readers.cells import Sheet

COLUMN_NOT_READ: Final = "column_not_read"
"""Code of the notice."""

MEANT: Final = "name it {}"

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


@cache
def near_column(name: str) -> str:
    """Return the column of the bouts sheet that a name nearly is; "" without one.

    Parameters
    ----------
    name : str
        A column that is not read, in any writing.
    """
    parts = [part for part in re.split(r"[^a-z0-9]+", name.lower()) if part]
    if len(parts) <= evidence.NEAR_COLUMN_MOST_PARTS.value:
        for column, listed in WORDS.items():
            if any(set(words.split()) <= set(parts) for words in listed):
                return column
    close = get_close_matches(
        "_".join(parts)[:80], list(WORDS), n=1, cutoff=evidence.NEAR_COLUMN_LIKENESS.value
    )
    return close[0] if close else ""


def near_columns(sheet: Sheet, known: Collection[str]) -> list[Notice]:
    """Tell of columns that are not read and may be meant for one that is.

    Only those that hold something in a row in which the column meant has nothing.

    Parameters
    ----------
    sheet : Sheet
        Of the bouts.
    known : collection of str
        The columns that are read.
    """
    found = []
    for column, written in zip(sheet.columns, sheet.header, strict=False):
        meant = near_column(column) if column not in known else ""
        if meant and any(row.cells[column] and not row.cells.get(meant) for row in sheet.rows):
            message = (
                f"column {written!r} is not read, only carried to the results: "
                f"{MEANT.format(meant)}, or leave it if it is something else"
            )
            found.append(Notice(COLUMN_NOT_READ, message, sheet.file, "header", "check"))
    return found


def is_meant(notices: Iterable[Notice], column: str) -> bool:
    """Whether a notice tells of a column that may be meant for this one."""
    said = f"{MEANT.format(column)},"
    return any(item.code == COLUMN_NOT_READ and said in item.message for item in notices)
