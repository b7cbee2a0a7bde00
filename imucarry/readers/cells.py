"""Sheets that people write: rows of text cells, messy as spreadsheets save them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from imucarry.basics.errors import SessionError
from imucarry.readers.sheet_hints import column_in_pounds, column_meant, header_below, load_meant
from imucarry.readers.source import open_body, read_source
from imucarry.readers.words import require_word

SEPARATORS = (",", ";", "\t")
NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?")
LONGEST_CELL = 1 << 20
LONGEST_HEADER_SHOWN = 80


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row of a sheet: its line number and its cells by column name.

    ``missing`` names the columns for which it has no cell; their cells are empty.
    """

    line: int
    cells: Mapping[str, str]
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of text cells; column names are lower case, without spaces around.

    ``header`` holds them as they are written.
    """

    file: str
    columns: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    header: tuple[str, ...] = ()


def read_sheet(path: Path, name: str, needed: Sequence[str]) -> Sheet:
    """Read a sheet with a header row, whatever separator and encoding it was saved with.

    Lines that start with ``#`` and a space, and rows without a filled cell are passed over.

    Parameters
    ----------
    path : Path
    name : str
        The file as the user named it.
    needed : sequence of str
        Columns that must be there.

    Raises
    ------
    SessionError
        If the sheet cannot be read, or a needed column is absent or named twice.
    """
    lines = _lines(path, name, needed)
    separator = _separator(lines, needed)
    table = _split(lines, separator, name)
    if not table:
        raise SessionError(f"is empty; its header is {','.join(needed)}", file=name, where="line 1")
    _header_line, header = table[0]
    columns = tuple(cell.strip().lower().replace(" ", "_") for cell in header)
    while columns and not columns[-1]:
        columns = columns[:-1]
    _check_columns(columns, table, needed, name)
    rows = tuple(_row(line, cells, columns, name) for line, cells in table[1:])
    return Sheet(name, columns, rows, tuple(cell.strip() for cell in header))


def _lines(path: Path, name: str, needed: Sequence[str]) -> list[tuple[int, str]]:
    """Return the numbered lines that are no comment, as one text each record."""
    source = read_source(path, name, if_empty=f"its header is {','.join(needed)}")
    with open_body(source) as handle:
        text = handle.read().decode(source.encoding, errors="replace")
    lines = re.split(r"\r\n|\n|\r", text)
    if lines and re.fullmatch(r"sep=.", lines[0].strip().strip('"'), re.IGNORECASE):
        lines[0] = ""
    return [
        (number + 1, "" if re.match(r"\s*#(\s|$)", line) else line)
        for number, line in enumerate(lines)
    ]


def _separator(lines: Sequence[tuple[int, str]], needed: Sequence[str]) -> str:
    """Return the separator that makes most of the needed columns in the header."""
    header = next((line for _, line in lines if line.strip(" ,;\t")), "")
    wanted = set(needed)

    def n_found(separator: str) -> int:
        return len(wanted & {cell.strip().strip('"').lower() for cell in header.split(separator)})

    return max(SEPARATORS, key=n_found)


def _split(
    lines: Sequence[tuple[int, str]], separator: str, name: str
) -> list[tuple[int, list[str]]]:
    text = "\n".join(line for _, line in lines)
    csv.field_size_limit(max(csv.field_size_limit(), LONGEST_CELL))
    reader = csv.reader(io.StringIO(text), delimiter=separator, skipinitialspace=True)
    table, start = [], 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                table.append((start, cells))
            start = reader.line_num + 1
    except csv.Error as error:
        raise SessionError(
            f"cannot be read as a sheet ({error})", file=name, where=f"line {start}"
        ) from error
    return table


def _check_columns(
    columns: Sequence[str],
    table: Sequence[tuple[int, list[str]]],
    needed: Sequence[str],
    name: str,
) -> None:
    header = table[0][1]
    for column in columns:
        if column and columns.count(column) > 1:
            raise SessionError(f"has two columns {column!r}; keep one", file=name, where="header")
    for column in needed:
        if column not in columns:
            below = header_below(table[1:], needed)
            if below:
                raise SessionError(
                    "the header must be the first line; remove what stands above it",
                    file=name,
                    where=f"line {below}",
                )
            others = [cell for cell, known in zip(header, columns, strict=False)
                      if known not in needed]  # fmt: skip
            raise SessionError(
                f"has no column {column!r}; {_hint(column, others)}found {_in_short(header)},"
                f" needed {','.join(needed)}",
                file=name,
                where="header",
            )


def _hint(column: str, others: Sequence[str]) -> str:
    """Say what may have been meant by a column that is missing."""
    if pounds := column_in_pounds(column, others):
        return (
            f"loads are in kg here: multiply the pounds of {pounds!r} by 0.4536 and name the column"
            f" {column}; "
        )
    meant = column_meant(column, others)
    return f"did you mean {meant!r}? It must be written {column}; " if meant else ""


def _in_short(header: Sequence[str]) -> str:
    """Return a header as it was found, cut where it is long."""
    found = ",".join(cell.strip() for cell in header)
    if len(found) <= LONGEST_HEADER_SHOWN:
        return repr(found)
    return f"{found[:LONGEST_HEADER_SHOWN]!r} and more ({len(header)} columns)"


def _row(line: int, cells: list[str], columns: Sequence[str], name: str) -> SheetRow:
    if any(cell.strip() for cell in cells[len(columns) :]):
        raise SessionError(
            f"has {len(cells)} cells but the header has {len(columns)}; put text that holds the"
            " separator into quotes",
            file=name,
            where=f"line {line}",
        )
    padded = [*cells, *[""] * (len(columns) - len(cells))]
    named = {c: cell.strip() for c, cell in zip(columns, padded, strict=False) if c}
    return SheetRow(line, named, tuple(c for c in columns[len(cells) :] if c))


def number(row: SheetRow, column: str, file: str, low: float, high: float) -> float:
    """Return a cell as a number, NaN where it is empty; a decimal comma is read too.

    Raises
    ------
    SessionError
        If it is no number or outside `low` to `high`.
    """
    text = row.cells.get(column, "")
    if not text:
        return float("nan")
    where = f"line {row.line}, column {column}"
    if not NUMBER.fullmatch(text):
        wanted = "the total carried as one number" if column == "load_kg" else "one number"
        raise SessionError(
            f"{text[:40]!r} is no number; write {wanted} in digits, without a unit, such as 7.5"
            f"{load_meant(text[:40]) if column.endswith('_kg') else ''}",
            file=file,
            where=where,
        )
    value = float(text.replace(",", "."))
    if value < 0 <= low:
        raise SessionError(f"{text} is negative; write 0 or more", file=file, where=where)
    if not low <= value <= high:
        raise SessionError(
            f"{text} is out of range; write {low:g} to {high:g}", file=file, where=where
        )
    return value


def word(row: SheetRow, column: str, known: Sequence[str], file: str, empty: str) -> str:
    """Return a cell as a word of a closed list; `empty` where the cell is empty."""
    text = row.cells.get(column, "").lower().replace(" ", "_").replace("-", "_")
    if not text:
        return empty
    return require_word(text, known, column, file, f"line {row.line}, column {column}")
