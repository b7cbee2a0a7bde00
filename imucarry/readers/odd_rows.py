"""Rows of a table that are broken, short or cut: what is told of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, Notice
from imucarry.basics.words import counted
from imucarry.readers.layout import NUMERIC, Layout
from imucarry.readers.lexicon import AXES
from imucarry.readers.names import parse_name
from imucarry.readers.row_cells import cells_of, kind_of
from imucarry.readers.source import Source, open_body, with_body
from imucarry.readers.table import TextColumn

SIGNS: Final = (b"-", b"+", b".")
REMARKS: Final = ("#", "%", "//")
LONGEST_NAME: Final = 80


def without_asides(source: Source, layout: Layout) -> tuple[Source, tuple[int, ...]]:
    """Empty the lines that are no rows; return their line numbers too.

    These are remarks, empty cells alone, the header once more, and lines of words at the end.

    Raises
    ------
    ColumnError
        If a line is another header: the columns change there.
    """
    with open_body(source) as handle:
        above = handle.read(layout.offset)
        lines = handle.readlines()
    aside = _asides(source, layout, lines)
    if not aside:
        return source, ()
    for index in aside:
        lines[index] = b"\n"
    numbers = tuple(layout.first_line + index for index in aside)
    return with_body(source, above + b"".join(lines)), numbers


def _asides(source: Source, layout: Layout, lines: Sequence[bytes]) -> list[int]:
    header = [name.lower() for name in layout.names]
    aside: list[int] = []
    at_end: list[int] = []
    for index, raw in enumerate(lines):
        line = raw.strip()
        if not line:
            continue
        first = line.lstrip(b"\"' ")[:1]
        if first.isdigit() or first in SIGNS:
            at_end.clear()
            continue
        text = line.decode(source.encoding, errors="replace")
        cells = cells_of(text, layout.separator)
        if not _is_header(cells, header):
            _require_no_other_header(source, layout, text, layout.first_line + index)
        if text.startswith(REMARKS) or not any(cells) or _is_header(cells, header):
            aside.append(index)
        elif _are_words(cells, layout):
            at_end.append(index)
        else:
            at_end.clear()
    return sorted([*aside, *at_end])


def _require_no_other_header(source: Source, layout: Layout, text: str, number: int) -> None:
    """Refuse a line that names axes otherwise than the header does."""
    cells = [cell for cell in cells_of(text.lstrip("#%/ "), layout.separator) if cell]
    if any(cell[0].isdigit() or cell[0] in "+-." or len(cell) > LONGEST_NAME for cell in cells):
        return
    n_axes = sum(parse_name(cell).axis in AXES for cell in cells)
    fits = len(cells) == layout.n_columns or not text.startswith(REMARKS)
    header = [name.lower() for name in layout.names]
    above = source.head[: layout.offset].decode(source.encoding, errors="replace").splitlines()
    same = _is_header(cells, header) or text in {line.strip() for line in above}
    if n_axes < evidence.LEAST_NUMERIC_CELLS.value or not fits or same:
        return
    raise ColumnError(
        "the columns have other names from here on than in the header; split the file here, and"
        " give each part its header",
        file=source.file,
        where=f"line {number}",
    )


def broken_rows(
    source: Source, layout: Layout, values: FloatArray, aside: Sequence[int]
) -> tuple[Notice, ...]:
    """Tell how many rows were left out or hold cells that are no numbers, and of lines aside.

    Parameters
    ----------
    source : Source
        Without the lines that are no rows.
    layout : Layout
    values : ndarray, shape (N, K)
    aside : sequence of int
        The numbers of these lines.
    """
    numeric = [column for column, kind in enumerate(layout.kinds) if kind == "number"]
    lacking = np.isnan(values[:, numeric]).any(axis=1)
    with open_body(source) as handle:
        handle.seek(layout.offset)
        n_lines = sum(1 for line in handle if line.strip())
    n_broken = int(lacking.sum()) + max(n_lines - len(values), 0)
    told = (_aside_notice(aside, source.file),) if aside else ()
    if not n_broken:
        return told
    line = layout.first_line + int(np.argmax(lacking))
    for number in aside:
        line += number <= line
    where = f"near line {line}" if lacking.any() else ""
    return (_broken_notice(n_broken, source.file, where), *told)


def _are_words(cells: Sequence[str], layout: Layout) -> bool:
    """Whether a line begins with a word, as no row does, and holds few numbers if any."""
    kinds = [kind_of(cell, layout.decimal) for cell in cells]
    n_numbers = sum(kind in NUMERIC for kind in kinds)
    return kinds[0] == "word" != layout.kinds[0] and 2 * n_numbers < layout.n_columns


def _is_header(cells: Sequence[str], header: Sequence[str]) -> bool:
    return any(header) and [cell.lower() for cell in cells if cell] == [n for n in header if n]


def _aside_notice(aside: Sequence[int], file: str) -> Notice:
    lines = counted(len(aside), "line")
    hold, was = ("holds", "was") if len(aside) == 1 else ("hold", "were")
    message = (
        f"{lines} among the rows {hold} no sample and {was} passed over: remarks, empty cells, a"
        " header, or words at the end"
    )
    return Notice("lines_aside", message, file=file, where=f"line {aside[0]}", severity="note")


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
