"""The table over weeks for the terminal: in columns where it fits, else a sentence a row."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import Final

from imucarry.carry.earlier import History
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import words_visits
from imucarry.report.wording.numbers import unbroken
from imucarry.report.wording.say_visits import history_doubts, history_head, history_table
from imucarry.report.wording.terminal_table import COLUMNS, GAP, INDENT, plain

LEAST_CHANGE: Final = 16
"""Columns that the words of the change need at least."""


def history_lines(history: History, columns: int = COLUMNS) -> list[str]:
    """What changed since earlier visits: which visits, the table, what cannot be compared."""
    table, doubts = history_table(history), history_doubts(history)
    if table is None and not doubts:
        return []
    head = history_head(history)
    rows = _table_lines(table, columns) if table else []
    notes = table.notes if table else ()
    return [
        *_wrapped(head, columns),
        *rows,
        *(line for words in (*notes, *doubts) for line in _wrapped(words, columns)),
    ]


def _table_lines(table: Table, columns: int) -> list[str]:
    grid = [("", *map(plain, table.heads[:-1]))]
    grid += [
        (plain(row.head), *(plain(cell.value) for cell in row.cells[:-1])) for row in table.rows
    ]
    widths = [max(map(len, column)) for column in zip(*grid, strict=True)]
    start = INDENT + sum(widths) + GAP * len(widths)
    if start + LEAST_CHANGE > columns:
        said = (_sentence(table, row) for row in table.rows)
        return [line for words in said for line in _wrapped(words, columns)]
    lines = [_line(grid[0], widths)]
    for row, cells in zip(table.rows, grid[1:], strict=True):
        lines += _row_lines(_line(cells, widths), row, start, columns)
        lines += _below(table, row, columns)
    return lines


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    padded = (cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
    return (" " * INDENT + (" " * GAP).join(padded)).rstrip()


def _row_lines(line: str, row: TableRow, start: int, columns: int) -> list[str]:
    """A row with its change, which goes on below itself."""
    change = textwrap.wrap(unbroken(plain(row.cells[-1].value)), columns - start) or [""]
    first, *others = change
    return [f"{line.ljust(start)}{first}".rstrip(), *(" " * start + part for part in others)]


def _below(table: Table, row: TableRow, columns: int) -> list[str]:
    """What stands below the values of a row: pain, stops and the next load, with their visits."""
    there = [(head, cell.below) for head, cell in _columns(table, row) if cell.value]
    said = [f"{head}: {below}" for head, below in there if below]
    if len(there) > 1 and len({below for _, below in there}) == 1 and said:
        said = [words_visits.OVER_WEEKS["each"].format(below=there[0][1])]
    return _wrapped("; ".join(said), columns, INDENT + GAP) if said else []


def _columns(table: Table, row: TableRow) -> Iterable[tuple[str, Cell]]:
    return zip(table.heads[:-1], row.cells[:-1], strict=True)


def _sentence(table: Table, row: TableRow) -> str:
    """A row of a table that is too wide: "Pain with 8 kg: visit 1 3, now 0; less"."""
    values = [
        f"{head} {cell.value}" + (f" ({cell.below})" if cell.below else "")
        for head, cell in _columns(table, row)
        if cell.value
    ]
    change = row.cells[-1].value
    return f"{row.head}: {', '.join(values)}" + (f"; {change}" if change else "")


def _wrapped(words: str, columns: int, indent: int = INDENT) -> list[str]:
    return textwrap.wrap(
        unbroken(plain(words)),
        columns,
        initial_indent=" " * indent,
        subsequent_indent=" " * (INDENT + GAP),
    )
