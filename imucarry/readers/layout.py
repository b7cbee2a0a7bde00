"""The layout of a text table: found on its block of numbers, not on its header.

The block is the first run of rows with equal, mostly numeric cells. The
separator and the decimal mark are those that make the most numeric cells;
header and units are the lines just above the block.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from imucarry.basics.errors import UnknownFormatError
from imucarry.basics.evidence import readers as evidence
from imucarry.readers.headers import header_of, stated_rate
from imucarry.readers.row_cells import Block, cells_of, kind_of, plain_of, shows_decimals
from imucarry.readers.source import Source

SEPARATORS = (",", ";", "\t", "|", " ")
NUMERIC = ("number", "grouped", "instant")
SEPARATOR_NAMES = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar", " ": "spaces"}


@dataclass(frozen=True, slots=True)
class Layout:
    """How a text table is laid out."""

    separator: str
    decimal: str
    decimal_shown: bool  # by the rows that were looked at: else whole numbers may hold thousands
    quoted: bool
    padded: bool  # spaces after separators
    offset: int  # byte of the first row
    first_line: int  # its line number, from 1
    row_bytes: float  # mean length of a row
    n_columns: int
    kinds: tuple[str, ...]  # "number", "instant" or "word", one a column
    names: tuple[str, ...]
    units: tuple[str, ...]
    rate_hz: float
    shortest_last_cell: int


def find_layout(source: Source) -> Layout:
    """Find separator, decimal mark, block of numbers, header and units.

    Raises
    ------
    UnknownFormatError
        If no run of rows with equal, mostly numeric cells is found.
    ColumnError
        If the header has another number of names than the rows have cells.
    """
    lines = _lines(source)
    block = _find_block(source, lines)
    if block is None:
        least = evidence.LEAST_BLOCK_ROWS.value
        is_long = source.n_bytes > len(source.head)
        longer = "; if it is that, remove the lines above the table" if is_long else ""
        raise UnknownFormatError(
            f"no table of numbers was found ({least} rows or more with equal, mostly numeric"
            f" cells); export the samples as CSV text with one row a sample{longer}",
            file=source.file,
            where="first 64 kB",
        )
    return _describe(source, lines, block)


def layout_sentence(source: Source, layout: Layout) -> str:
    """Say in one plain sentence how the file is laid out."""
    parts = [
        source.description,
        f"separated by {SEPARATOR_NAMES[layout.separator]}",
        "decimal comma" if layout.decimal == "," else "decimal point",
        "names above" if any(layout.names) else "no header",
        f"first row on line {layout.first_line}",
    ]
    return ", ".join(parts)


def _lines(source: Source) -> list[bytes]:
    """Cut the first part into lines with their ends; a last line that may go on is left out."""
    lines = source.head.splitlines(keepends=True)
    if lines and source.n_bytes > len(source.head) and not lines[-1].endswith((b"\r", b"\n")):
        lines.pop()
    return lines


def _texts(source: Source, lines: Sequence[bytes]) -> list[str]:
    return [line.decode(source.encoding, errors="replace").rstrip("\r\n") for line in lines]


def _forced_separator(first_line: str) -> str:
    match = re.fullmatch(r"sep=(.)", first_line.strip('\ufeff "'), re.IGNORECASE)
    return match[1] if match and match[1] in SEPARATORS else ""


def _find_block(source: Source, lines: Sequence[bytes]) -> Block | None:
    """Return the best block among all separators and decimal marks.

    The first lines mostly hold the start of the table; all lines are looked at
    only where they do not, and blank lines between single rows are the last thought.
    """
    n_start = evidence.SNIFF_ROWS.value
    for spaced in (False, True):
        for n_lines in (n_start, len(lines)):
            block = _best_block(source, lines, n_lines, spaced=spaced)
            if block is not None:
                return block
    return None


def _best_block(
    source: Source, lines: Sequence[bytes], n_start: int, *, spaced: bool
) -> Block | None:
    start = _texts(source, lines[:n_start])
    if spaced and all(text.strip() for text in start):
        return None
    step = max(1, (len(lines) - n_start) // evidence.SNIFF_ROWS.value)
    later = _texts(source, lines[n_start::step])
    forced = _forced_separator(start[0]) if start else ""
    best: Block | None = None
    for separator in (forced,) if forced else SEPARATORS:
        if separator != " " and not any(separator in text for text in start):
            continue
        split = [cells_of(text, separator) for text in start]
        for decimal in (".", ","):
            if decimal == separator and not any('"' in text for text in start):
                continue
            run = (_spaced_run if spaced else _first_run)(split, decimal)
            if run is None:
                continue
            block = _block(split[run[0] : run[1]], later, separator, decimal, run[0])
            if best is None or block.score > best.score:
                best = block
    return best


def _block(
    run: list[list[str]], later: Sequence[str], separator: str, decimal: str, first: int
) -> Block:
    """Return a run of table rows as a block, scored by its numeric cells.

    Rows from all over the first part count in the score: a decimal mark may not
    show in the first rows. Of two marks that make as many numbers, the one that
    needs fewer thousands marks is better.
    """
    rows = [*run, *(cells_of(text, separator) for text in later)]
    kept = tuple(tuple(row) for row in rows if len(row) == len(run[0]))
    kinds = [kind_of(cell, decimal) for row in kept for cell in row]
    numeric = sum(kinds.count(kind) for kind in NUMERIC) / len(kept)
    return Block(separator, decimal, first, kept, (numeric, -kinds.count("grouped") / len(kept)))


def _first_run(split: list[list[str]], decimal: str) -> tuple[int, int] | None:
    """Return start and end of the first run of at least three table rows."""
    start = 0
    width = -1
    for index, row in enumerate([*split, []]):
        if len(row) == width and _is_table_row(row, decimal):
            continue
        if width > 0 and index - start >= evidence.LEAST_BLOCK_ROWS.value:
            return _from_sparse_rows(split, start, width, decimal), index
        start, width = index, len(row) if _is_table_row(row, decimal) else -1
    return None


def _from_sparse_rows(split: list[list[str]], start: int, width: int, decimal: str) -> int:
    """Return where the rows above a run begin that hold a time or so and else nothing yet."""
    while start > 0 and len(split[start - 1]) == width:
        kinds = {kind_of(cell, decimal) for cell in split[start - 1]}
        if not kinds & set(NUMERIC) or not kinds <= {*NUMERIC, "missing"}:
            break
        start -= 1
    return start


def _spaced_run(split: list[list[str]], decimal: str) -> tuple[int, int] | None:
    """Return start and end of the first run with blank lines between its rows."""
    filled = [index for index, row in enumerate(split) if row not in ([], [""])]
    run = _first_run([split[index] for index in filled], decimal)
    return None if run is None else (filled[run[0]], filled[run[1] - 1] + 1)


def _is_table_row(row: Sequence[str], decimal: str) -> bool:
    if len(row) < evidence.LEAST_NUMERIC_CELLS.value:
        return False
    kinds = [kind_of(cell, decimal) for cell in row]
    n_numeric = sum(kinds.count(kind) for kind in NUMERIC)
    if n_numeric == len(row):
        return True
    n_filled = n_numeric + sum(
        kind == "missing" and cell != "" for cell, kind in zip(row, kinds, strict=True)
    )
    n_words = kinds.count("word")
    return n_filled >= evidence.LEAST_NUMERIC_CELLS.value and n_words <= n_filled and n_numeric > 0


def _describe(source: Source, lines: Sequence[bytes], block: Block) -> Layout:
    n_columns = len(block.rows[0])
    above = _texts(source, lines[: block.first])
    header, units = header_of(source.file, above, block, n_columns)
    offset = sum(map(len, lines[: block.first]))
    body = source.head[offset:]
    return Layout(
        separator=block.separator,
        decimal=block.decimal,
        decimal_shown=any(
            shows_decimals(plain_of(cell), block.decimal) for row in block.rows for cell in row
        ),
        quoted=b'"' in body,
        padded=block.separator != " " and f"{block.separator} ".encode() in body,
        offset=offset,
        first_line=block.first + 1,
        row_bytes=len(body) / max(1, len(lines) - block.first),
        n_columns=n_columns,
        kinds=tuple(_column_kind(block, column) for column in range(n_columns)),
        names=header,
        units=units,
        rate_hz=stated_rate(above),
        shortest_last_cell=min(len(row[-1]) for row in block.rows),
    )


def _column_kind(block: Block, column: int) -> str:
    kinds = [kind_of(row[column], block.decimal) for row in block.rows]
    counts = {kind: kinds.count(kind) for kind in ("number", "instant", "word")}
    counts["number"] += kinds.count("grouped")
    return max(counts, key=lambda kind: counts[kind])
