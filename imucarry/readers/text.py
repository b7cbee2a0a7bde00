"""Text tables: delimited numbers in any common layout, to one array of floats."""

from __future__ import annotations

import csv
import re
import warnings
from collections import Counter
from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import IO, Any

import numpy as np
import pandas as pd

from imucarry.basics.errors import UnknownFormatError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray, Notice
from imucarry.basics.words import counted
from imucarry.readers.layout import Layout, find_layout, layout_sentence
from imucarry.readers.row_cells import marks_thousands, plain_of, told_decimal, value_of
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
    values, text, cut = _without_cut_row(source, layout, rows.values, rows.text)
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
        return _Rows(source, values, text, strict=True, notices=_short(source, layout, values))
    source = without_nul(source)
    values, text = _parse_tolerant(source, layout)
    return _Rows(source, values, text, strict=False, notices=_broken(source, layout, values))


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
            return _gathered(frames, layout, n_guess)


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


def _gathered(
    frames: Iterable[pd.DataFrame], layout: Layout, n_guess: int
) -> tuple[FloatArray, dict[int, TextColumn]]:
    values = np.empty((n_guess, layout.n_columns), order="F")
    pieces: dict[int, list[pd.Series]] = {
        column: [] for column, kind in enumerate(layout.kinds) if kind != "number"
    }
    n_rows = 0
    for frame in frames:
        end = n_rows + len(frame)
        if end > len(values):
            values = _grown(values, end)
        for column in pieces:
            pieces[column].append(frame[column])
            values[n_rows:end, column] = np.nan
        numeric = [column for column in range(layout.n_columns) if column not in pieces]
        _fill(values[n_rows:end], frame, numeric, layout.decimal)
        n_rows = end
    text = {column: _text_column(parts) for column, parts in pieces.items()}
    return values[:n_rows], text


def _grown(values: FloatArray, least: int) -> FloatArray:
    grown = np.empty((max(least, len(values) * 5 // 4), values.shape[1]), order="F")
    grown[: len(values)] = values
    return grown


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


def _text_column(parts: list[pd.Series]) -> TextColumn:
    codes, words = pd.factorize(pd.concat(parts) if len(parts) > 1 else parts[0])
    return TextColumn(tuple(str(word).strip() for word in words), codes)


def _fill(values: FloatArray, frame: pd.DataFrame, columns: Sequence[int], decimal: str) -> None:
    """Put columns of cells into an array as floats, NaN where a cell is no number.

    Cells that are no plain numbers are read one by one, once the table has told
    whether their marks can be those of thousands.
    """
    odd: dict[int, pd.Series] = {}
    for column in columns:
        cells = frame[column]
        if cells.dtype != np.float64:
            cells = cells.str.strip().str.strip('"')
            odd[column] = cells[_plain_numbers(cells, decimal, values[:, column])]
        else:
            values[:, column] = cells.to_numpy()
    words = {column: pd.factorize(cells.to_numpy()) for column, cells in odd.items() if cells.size}
    groups = marks_thousands((word for _, found in words.values() for word in found), decimal)
    for column, (codes, found) in words.items():
        read = np.array([value_of(word, decimal, groups=groups) for word in found])
        values[odd[column].index.to_numpy() - frame.index[0], column] = read[codes]


def _plain_numbers(cells: pd.Series, decimal: str, values: FloatArray) -> BoolArray:
    """Put cells that are plain numbers into an array; return where other text stands."""
    plain = cells
    if decimal != ".":
        plain = cells.where(~cells.str.contains(".", regex=False, na=False))
        plain = plain.str.replace(decimal, ".", regex=False)
    values[:] = pd.to_numeric(plain, errors="coerce").to_numpy(dtype=np.float64, na_value=np.nan)
    return np.asarray(np.isnan(values) & cells.notna().to_numpy())


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


def _broken(source: Source, layout: Layout, values: FloatArray) -> tuple[Notice, ...]:
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


def _short(source: Source, layout: Layout, values: FloatArray) -> tuple[Notice, ...]:
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


def _without_cut_row(
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
