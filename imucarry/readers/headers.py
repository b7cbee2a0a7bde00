"""The lines above a table's numbers: names, units, a stated rate."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import zip_longest

from imucarry.basics.errors import ColumnError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.units import TIME_UNITS_S
from imucarry.readers.names import (
    is_axis_only,
    kind_of_word,
    parse_name,
    unit_anywhere,
    unit_of,
)
from imucarry.readers.row_cells import Block, cells_of, kind_of

RATE_LINE = re.compile(
    r"([^,;|\t]*?)(?:rate|freq[a-z]*|fs|odr)(?:[ _]?hz)?\b([^0-9\n]*?)(\d+(?:[.,]\d+)?)\s*"
    r"(khz|hz|sps|$|[,;\t\s])",
    re.IGNORECASE,
)
# Beside a rate: that of something else than the samples of accelerometer and gyroscope.
OTHER_RATES = re.compile(
    r"heart|pulse|breath|respir|baud|\bbit|cut.?off|corner|pass\b|filter|band.?width|magn|\bmag\b"
    r"|baro|pressure|gps|temp|refresh|video|camera|error|loss|angular|rotation|range|e[ckm]g|ppg",
    re.IGNORECASE,
)
RULE = re.compile(r"[\s\-=_+|,;]*")  # blank, or nothing but a drawn line
SIZE = r"(ns|us|\u00b5s|\u03bcs|ms|msec|s|sec|seconds?|milliseconds?|microseconds?)"
INTERVAL_LINE = re.compile(
    r"(?:\bsampl\w*[ _-]?(?:interval|period|step|spacing)|\babtast(?:intervall|periode)|\bdt"
    r"|\btime[ _-]?step)\s*(?:[\[(]\s*" + SIZE + r"\s*[\])])?\s*[:=,;\t ]\s*"
    r"(\d+(?:[.,]\d+)?(?:e-?\d+)?)(?:\s*[,;\t]?\s*[\[(]?" + SIZE + r"\b)?",
    re.IGNORECASE,
)


def header_of(
    file: str, above: Sequence[str], block: Block, n_columns: int
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return names and units from the lines just above the block.

    Raises
    ------
    ColumnError
        If the header has another number of names than the rows have cells.
    """
    filled = [text for text in above[-6:] if not RULE.fullmatch(text)]
    rows = [
        _trimmed(cells_of(text.lstrip("\ufeff#% "), block.separator), n_columns)
        for text in filled[-3:]
    ]
    units = blank = ("",) * n_columns
    if len(rows) > 1 and _is_unit_row(rows[-1]) and len(rows[-2]) > 1:
        units = _padded(rows.pop(), n_columns)
        if len(units) > n_columns:
            raise _does_not_fit(len(units), "units", file, block)
    if not rows or len(rows[-1]) < 2 or not _is_header(rows[-1], block.decimal):
        return blank, units
    names = rows[-1]
    if len(rows) > 1 and _has_bare_axes(names) and any(kind_of_word(cell) for cell in rows[-2]):
        widest = max(rows[-2], names, key=len)
        fits = len(widest) <= n_columns
        names = _joined(*(_padded(row, n_columns) for row in rows[-2:])) if fits else widest
    elif len(rows) > 1 and len(rows[-2]) > 1 and _says_axes_again(names):
        names = _under_sensors(
            _padded(rows[-2], n_columns) if len(rows[-2]) <= n_columns else rows[-2], names
        )
    unnamed = [cell for row in block.rows for cell in row[len(names) :]]
    if len(names) > n_columns or any(unnamed):
        raise _does_not_fit(len(names), "names", file, block)
    return _padded(names, n_columns), units


def _does_not_fit(n_found: int, what: str, file: str, block: Block) -> ColumnError:
    n_cells = len(block.rows[0])
    # Of times in whole numbers the decimals alone are missing.
    by_commas = block.separator == "," and n_cells in (2 * n_found, 2 * n_found - 1)
    what_to_do = (
        "the commas of decimals also part the cells: export with decimal points, or with"
        " semicolons between the cells"
        if by_commas
        else "give every column one name"
    )
    return ColumnError(
        f"the header has {n_found} {what} but the rows have {n_cells} cells; {what_to_do}",
        file=file,
        where=f"line {block.first}",
    )


def _trimmed(cells: list[str], n_columns: int) -> list[str]:
    """Drop empty cells that reach past the table."""
    while len(cells) > n_columns and not cells[-1]:
        cells = cells[:-1]
    return cells


def _padded(cells: Sequence[str], n_columns: int) -> tuple[str, ...]:
    cells = ["".join(m if m.isprintable() else " " for m in cell).strip() for cell in cells]
    return tuple(cells) + ("",) * (n_columns - len(cells))


def _is_unit_row(cells: Sequence[str]) -> bool:
    filled = [cell for cell in cells if cell and cell != "-"]
    return bool(filled) and 2 * sum(unit_anywhere(cell) != "" for cell in filled) > len(filled)


def _is_header(cells: Sequence[str], decimal: str) -> bool:
    return sum(kind_of(cell, decimal) == "word" for cell in cells) * 2 > len(cells)


def _has_bare_axes(cells: Sequence[str]) -> bool:
    return sum(is_axis_only(cell) for cell in cells) >= evidence.LEAST_NUMERIC_CELLS.value


def _joined(upper: Sequence[str], lower: Sequence[str]) -> list[str]:
    """Join two header rows; an empty upper cell repeats the one before it (merged cells)."""
    joined, current = [], ""
    for top, bottom in zip(upper, lower, strict=True):
        current = top or current
        joined.append(f"{current} {bottom}".strip() if is_axis_only(bottom) else bottom or top)
    return joined


def _says_axes_again(names: Sequence[str]) -> bool:
    """Whether a header repeats names of axes, as one does under the names of several sensors."""
    return any(name and names.count(name) > 1 and parse_name(name).axis for name in names)


def _under_sensors(upper: Sequence[str], lower: Sequence[str]) -> list[str]:
    """Put the word above before names that are repeated; an empty cell repeats the one before it.

    Without a word above each of them, or where names would still be repeated, all stay.
    """
    joined, current = [], ""
    for top, bottom in zip_longest(upper, lower, fillvalue=""):
        current = top or current
        repeated = bottom and lower.count(bottom) > 1
        joined.append(f"{current} {bottom}".strip() if repeated else bottom)
    filled = [name for name in joined if name]
    return joined if len(set(filled)) == len(filled) else list(lower)


def stated_rate(lines: Sequence[str]) -> float:
    """Return the sampling rate [Hz] that a line above the table states, or NaN.

    NaN too where lines state different rates. A stated interval from sample to sample is a
    rate too, if it says its unit and a worn sensor may sample so.
    """
    rates = {rate for line in lines for rate in _rates_in(line)}
    if rates:
        return rates.pop() if len(rates) == 1 else float("nan")
    return next((rate for line in lines if (rate := _rate_of_interval(line))), float("nan"))


def _rates_in(line: str) -> list[float]:
    """Return the rates of samples that a line states; those of a filter or a heart are none."""
    return [
        float(f"{float(hit[3].replace(',', '.')) * (1000 if hit[4].lower() == 'khz' else 1):.12g}")
        for hit in RATE_LINE.finditer(line)
        if not OTHER_RATES.search(f"{hit[1]} {hit[2]}")
    ]


def _rate_of_interval(line: str) -> float:
    match = INTERVAL_LINE.search(line)
    unit = unit_of(match[1] or match[3] or "", "time") if match else ""
    if not match or not unit:
        return 0.0
    interval_s = float(match[2].replace(",", ".")) * TIME_UNITS_S[unit]
    low, high = evidence.STEP_RANGE_S.value
    return float(f"{1 / interval_s:.12g}") if low <= interval_s <= high else 0.0
