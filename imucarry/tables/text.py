"""Tables as CSV text: UTF-8, comma, point, fixed digits, ``\\n``, empty when undefined."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from imucarry.readers.cells import NUMBER
from imucarry.tables.columns import Column, Table

# A spreadsheet runs a cell that begins so as a formula.
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")

# Decimal digits of a written number that survive its binary form, less one for sums.
_SURE_DIGITS = 14

Rows = Mapping[str, Sequence[Any]]
"""A table as columns: every sequence has one entry a row."""


def safe_text(cell: str) -> str:
    """Return a text cell that no spreadsheet takes for a formula; a plain number stays one."""
    if not cell.startswith(_FORMULA_STARTS) or NUMBER.fullmatch(cell):
        return cell
    return f"'{cell}"


def carried_names(names: Iterable[str], taken: Iterable[str], prefix: str) -> dict[str, str]:
    """Return the columns of a sheet with the names that they get in an output, each only once.

    Parameters
    ----------
    names : iterable of str
        The columns as the sheet names them; one that comes again is passed over.
    taken : iterable of str
        Names that the output has already.
    prefix : str
        What a taken name is given, as often as it needs.
    """
    used, found = set(taken), dict[str, str]()
    for name in dict.fromkeys(names):
        free = safe_text(name)
        while free in used:
            free = prefix + free
        used.add(free)
        found[name] = free
    return found


def column_text(values: Sequence[Any], column: Column) -> list[str]:
    """Return the cells of a column as text; NaN, None and "" are empty.

    Parameters
    ----------
    values : sequence of object
    column : Column
    """
    write = _writer(column)
    # NaN alone is not equal to itself.
    return ["" if v is None or v != v or v == "" else write(v) for v in values]


def _writer(column: Column) -> Callable[[Any], str]:
    """Return what writes one cell of a column that is not empty."""
    digits = column.digits
    match column.kind:
        case "boolean":
            return lambda value: "true" if value else "false"
        case "integer":
            return lambda value: str(int(value))
        case "number" if column.as_given:
            return lambda value: _fixed(value, max(digits, _decimals(value)))
        case "number":
            return lambda value: _fixed(value, digits)
        case _:
            return lambda value: safe_text(str(value))


def _fixed(value: float, digits: int) -> str:
    written = f"{value:.{digits}f}"
    # "-0.000" and "0.000" are the same number and must be the same bytes.
    return written[1:] if written[0] == "-" and float(written) == 0.0 else written


def _decimals(value: float) -> int:
    """Return how many decimals a number has, without the noise of its last binary digits."""
    most = max(0, _SURE_DIGITS - len(f"{abs(value):.0f}"))
    return len(f"{value:.{most}f}".rstrip("0").partition(".")[2])


def csv_text(table: Table, rows: Rows, extra: Sequence[str] = ()) -> str:
    """Return a table as CSV text.

    Parameters
    ----------
    table : Table
    rows : mapping of column name to values
    extra : sequence of str
        Names of further text columns after the table's own (unknown sheet columns).
    """
    columns = (*table.columns, *(Column(name, "string", "", "") for name in extra))
    cells = [column_text(rows[column.name], column) for column in columns]
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow([safe_text(column.name) for column in columns])
    writer.writerows(zip(*cells, strict=True))
    return stream.getvalue()
