"""Text tables: delimited numbers in any common layout, to one array of floats."""

from __future__ import annotations

import csv
import re
import warnings
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import IO, Any

import numpy as np
import pandas as pd

from imucarry.basics.errors import UnknownFormatError
from imucarry.basics.records import FloatArray, Notice
from imucarry.readers.gathering import gathered
from imucarry.readers.layout import Layout, find_layout, layout_sentence
from imucarry.readers.odd_rows import (
    broken_rows,
    short_rows,
    without_asides,
    without_cut_row,
)
from imucarry.readers.row_cells import plain_of, told_decimal
from imucarry.readers.source import Source, open_body, read_source, sha256_of, without_nul
from imucarry.readers.table import Table, TextColumn

CHUNK_ROWS = 1 << 15
LARGE_BYTES = 5 << 20
QUOTED_THOUSANDS = re.compile(rb'"[+-]?\d{1,3}(?:,\d{3})+(?:\.\d*)?"(?=[,\r\n]|$)')


def read_text_table(path: Path, name: str) -> Table:
    """Read a delimited text file whose layout is not known.

    Raises
    ------
    InputError
        If the file cannot be opened or unpacked.
    UnknownFormatError
        If it holds no table of numbers.
    ColumnError
        If header and rows do not fit each other.
    """
    with ThreadPoolExecutor(1) as beside:
        digest = beside.submit(sha256_of, path, name)  # a tenth of the time, if done after
        source = read_source(path, name)
        table = table_of(source, find_layout(source))
        return replace(table, hashes=((name, digest.result()),))


def table_of(source: Source, layout: Layout) -> Table:
    """Parse the rows of a source whose layout is known; its hash is left to the caller.

    Raises
    ------
    UnknownFormatError
        If the rows cannot be parsed, or thousands cannot be told from decimals.
    """
    rows = _read_rows(source, layout)
    if not layout.decimal_shown and not (rows.strict and _are_whole(rows.values)):
        layout, rows = _with_told_decimal(source, layout, rows)
    source = rows.source
    values, text, cut = without_cut_row(source, layout, rows.values, rows.text)
    return Table(
        file=source.file,
        hashes=(),
        layout=layout_sentence(source, layout),
        names=layout.names,
        units=layout.units,
        numbers=values,
        text=text,
        first_line=layout.first_line,
        rate_hz=layout.rate_hz,
        notices=(*source.notices, *rows.notices, *cut),
    )


@dataclass(frozen=True, slots=True)
class _Rows:
    """The parsed rows; strict where every cell was a plain number."""

    source: Source
    values: FloatArray
    text: dict[int, TextColumn]
    strict: bool
    notices: tuple[Notice, ...] = ()


def _read_rows(source: Source, layout: Layout) -> _Rows:
    with suppress(ValueError, pd.errors.ParserError, pd.errors.ParserWarning):
        values, text = _parse(source, layout, strict=True)
        return _Rows(source, values, text, strict=True, notices=short_rows(source, layout, values))
    source, aside = without_asides(without_nul(source), layout)
    values, text = _parse_tolerant(source, layout)
    notices = broken_rows(source, layout, values, aside)
    return _Rows(source, values, text, strict=False, notices=notices)


def _are_whole(values: FloatArray) -> bool:
    """Whether no number has a fraction: then no mark was read as a decimal one."""
    return bool(((np.floor(values) == values) | np.isnan(values)).all())


def _with_told_decimal(source: Source, layout: Layout, rows: _Rows) -> tuple[Layout, _Rows]:
    """Let all cells tell whether a mark is that of decimals or of thousands, and read by it."""
    told = told_decimal(_different_cells(rows.source, layout))
    if told == "?":
        raise UnknownFormatError(
            "holds cells such as 1.234 that may be thousands or decimals; export it again without"
            " thousands marks",
            file=source.file,
            where=f"rows from line {layout.first_line} on",
        )
    if told in ("", layout.decimal):
        return layout, rows
    layout = replace(layout, decimal=told)
    return layout, _read_rows(source, layout)


def _different_cells(source: Source, layout: Layout) -> list[dict[str, int]]:
    """Return the different cells of each column of numbers, and how many rows have each."""
    with suppress(pd.errors.ParserError):
        return _counted_cells(source, layout)
    return _counted_cells(source, replace(layout, quoted=False))  # a stray quote is no quote


def _counted_cells(source: Source, layout: Layout) -> list[dict[str, int]]:
    numeric = [column for column, kind in enumerate(layout.kinds) if kind == "number"]
    options = _options(source.encoding, layout, strict=False)
    found: list[Counter[str]] = [Counter() for _ in numeric]
    with open_body(source) as handle, warnings.catch_warnings():
        warnings.simplefilter("ignore", pd.errors.ParserWarning)
        handle.seek(layout.offset)
        with pd.read_csv(handle, chunksize=CHUNK_ROWS, **options) as frames:
            for frame in frames:
                for cells, column in zip(found, numeric, strict=True):
                    for cell, n_rows in frame[column].value_counts().items():
                        cells[plain_of(str(cell).strip().strip('"'))] += int(n_rows)
    return [dict(cells) for cells in found]


def _parse(
    source: Source, layout: Layout, *, strict: bool
) -> tuple[FloatArray, dict[int, TextColumn]]:
    """Parse the rows: numbers alone at once, else in chunks so that memory stays near one copy."""
    options = _options(source.encoding, layout, strict=strict)
    large = source.n_bytes > LARGE_BYTES
    with open_body(source) as handle, warnings.catch_warnings():
        warnings.simplefilter("error", pd.errors.ParserWarning)
        handle.seek(layout.offset)
        body: Path | IO[bytes] = handle
        if by_path := large and isinstance(source.body, Path) and _lines_are_plain(source, layout):
            # Of a large path the parser reads the parts side by side.
            body, options["skiprows"] = source.body, layout.first_line - 1
        if strict and set(layout.kinds) == {"number"}:
            if not large:
                frame = pd.read_csv(body, low_memory=False, **options)
                return np.asarray(frame.to_numpy(), dtype=np.float64), {}
            if by_path:
                return _emptied(pd.read_csv(body, **options)), {}
        n_guess = int(1.05 * (source.n_bytes - layout.offset) / layout.row_bytes) + 64
        with pd.read_csv(body, chunksize=CHUNK_ROWS, **options) as frames:
            return gathered(frames, layout, n_guess)


def _emptied(frame: pd.DataFrame) -> FloatArray:
    """Return a frame as one array; a column is let go of when it is copied, for the memory."""
    values = np.empty(frame.shape, order="F")
    for index, name in enumerate(frame.columns):
        values[:, index] = frame.pop(name).to_numpy()
    return values


def _lines_are_plain(source: Source, layout: Layout) -> bool:
    """Whether the parser counts the lines above the rows as we do."""
    above = source.head[: layout.offset]
    return b'"' not in above and above.count(b"\r") == above.count(b"\r\n")


def _options(encoding: str, layout: Layout, *, strict: bool) -> dict[str, Any]:
    """Return how to parse; strict: floats or an error, else text and bad lines skipped."""
    return {
        "sep": r"\s+" if layout.separator == " " else layout.separator,
        "decimal": layout.decimal,
        "header": None,
        "names": list(range(layout.n_columns)),
        "index_col": False,
        "dtype": {
            column: np.dtype(np.float64) if strict and kind == "number" else "str"
            for column, kind in enumerate(layout.kinds)
        },
        "quoting": csv.QUOTE_MINIMAL if layout.quoted else csv.QUOTE_NONE,
        "skipinitialspace": layout.padded,
        "encoding": encoding,
        "encoding_errors": "replace",
        "on_bad_lines": "error" if strict else "skip",
    }


def _parse_tolerant(source: Source, layout: Layout) -> tuple[FloatArray, dict[int, TextColumn]]:
    """Parse as text and take broken cells as missing; a stray quote is no quote."""
    try:
        if layout.quoted or _all_quotes_hold_thousands(source, layout):
            with suppress(ValueError, pd.errors.ParserError, pd.errors.ParserWarning):
                return _parse(source, replace(layout, quoted=True), strict=False)
        return _parse(source, replace(layout, quoted=False), strict=False)
    except (ValueError, pd.errors.ParserError, pd.errors.ParserWarning) as error:
        first = (str(error).strip().splitlines() or [""])[0][:120]
        raise UnknownFormatError(
            f"cannot be parsed as a table ({first}); export it again",
            file=source.file,
            where=f"rows from line {layout.first_line} on",
        ) from error


def _all_quotes_hold_thousands(source: Source, layout: Layout) -> bool:
    """Whether quotes that come late in a file stand around numbers with commas for thousands."""
    if layout.separator != ",":
        return False
    with open_body(source) as handle:
        handle.seek(layout.offset)
        body = handle.read()
    n_quotes = body.count(b'"')
    return n_quotes > 0 and n_quotes == 2 * len(QUOTED_THOUSANDS.findall(body))
