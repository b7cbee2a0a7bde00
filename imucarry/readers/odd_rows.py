"""Rows of a table that are broken, short or cut: what is told of them."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, Notice
from imucarry.basics.words import counted
from imucarry.readers.layout import Layout
from imucarry.readers.source import Source, open_body
from imucarry.readers.table import TextColumn


def broken_rows(source: Source, layout: Layout, values: FloatArray) -> tuple[Notice, ...]:
    """Tell how many rows were left out or hold cells that are no numbers."""
    numeric = [column for column, kind in enumerate(layout.kinds) if kind == "number"]
    lacking = np.isnan(values[:, numeric]).any(axis=1)
    with open_body(source) as handle:
        handle.seek(layout.offset)
        n_lines = sum(1 for line in handle if line.strip())
    n_broken = int(lacking.sum()) + max(n_lines - len(values), 0)
    if not n_broken:
        return ()
    where = f"near line {layout.first_line + int(np.argmax(lacking))}" if lacking.any() else ""
    return (_broken_notice(n_broken, source.file, where),)


def _broken_notice(n_broken: int, file: str, where: str) -> Notice:
    is_, was = ("is", "was") if n_broken == 1 else ("are", "were")
    rows = counted(n_broken, "row")
    message = f"{rows} {is_} broken or incomplete and {was} taken as missing"
    return Notice("broken_rows", message, file=file, where=where, severity="check")


def short_rows(source: Source, layout: Layout, values: FloatArray) -> tuple[Notice, ...]:
    """Tell of rows that end before the others do; the last may be cut, which is told elsewhere.

    The lines are looked at only where a few rows lack their last number.
    """
    last = layout.n_columns - 1
    lacking = np.isnan(values[:-1, last]) if layout.kinds[last] == "number" else np.zeros(0)
    if not 0 < lacking.sum() <= evidence.UNREADABLE_FRAC.value * len(values):
        return ()
    separator = None if layout.separator == " " else layout.separator.encode()
    with open_body(source) as handle:
        handle.seek(layout.offset)
        n_cells = (len(line.split(separator)) for line in handle if line.strip())
        short = [row for row, n in enumerate(n_cells) if n <= last and row < len(values) - 1]
    if not short:
        return ()
    where = f"near line {layout.first_line + short[0]}"
    return (_broken_notice(len(short), source.file, where),)


def without_cut_row(
    source: Source, layout: Layout, values: FloatArray, text: dict[int, TextColumn]
) -> tuple[FloatArray, dict[int, TextColumn], tuple[Notice, ...]]:
    """Leave out a last row that the end of the file cut short."""
    last = source.last_line.decode(source.encoding, errors="replace").rstrip()
    if not last or not len(values):
        return values, text, ()
    separator = None if layout.separator == " " else layout.separator
    cells = last.split(separator)
    whole = len(cells) >= layout.n_columns and len(cells[-1]) >= layout.shortest_last_cell
    if whole:
        return values, text, ()
    notice = Notice("cut_row", "the last row is cut short and was left out", file=source.file)
    shorter = {key: TextColumn(item.words, item.codes[:-1]) for key, item in text.items()}
    return values[:-1], shorter, (notice,)
