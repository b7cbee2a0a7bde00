"""Text tables: delimited numbers in any common layout, to one array of floats."""

from __future__ import annotations

import csv
import warnings
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import IO, Any

import numpy as np
import pandas as pd

from imucarry.basics.errors import UnknownFormatError
from imucarry.basics.records import FloatArray, Notice
from imucarry.readers.layout import Layout, find_layout, layout_sentence
from imucarry.readers.source import Source, open_body, read_source, sha256_of, without_nul
from imucarry.readers.table import Table, TextColumn

CHUNK_ROWS = 1 << 15
LARGE_BYTES = 5 << 20


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
    """Parse the rows of a source whose layout is known; its hash is left to the caller."""
    try:
        values, text = _parse(source, layout, strict=True)
        notices: tuple[Notice, ...] = ()
    except (ValueError, pd.errors.ParserError, pd.errors.ParserWarning):
        source = without_nul(source)
        values, text = _parse_tolerant(source, layout)
        notices = _broken(source, layout, values)
    values, text, cut = _without_cut_row(source, layout, values, text)
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
        notices=(*source.notices, *notices, *cut),
    )


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
        for column in range(layout.n_columns):
            if column in pieces:
                pieces[column].append(frame[column])
                values[n_rows:end, column] = np.nan
            else:
                values[n_rows:end, column] = _numbers(frame[column], layout.decimal)
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


def _numbers(cells: pd.Series, decimal: str) -> FloatArray:
    """Return cells as floats: as they are, or from text with NaN where it is no number."""
    if cells.dtype == np.float64:
        return cells.to_numpy()
    text = cells.str.strip().str.strip('"')
    if decimal != ".":
        text = text.str.replace(decimal, ".", regex=False)
    return pd.to_numeric(text, errors="coerce").to_numpy(dtype=np.float64, na_value=np.nan)


def _parse_tolerant(source: Source, layout: Layout) -> tuple[FloatArray, dict[int, TextColumn]]:
    """Parse as text and take broken cells as missing; a stray quote is no quote."""
    try:
        if layout.quoted:
            with suppress(ValueError, pd.errors.ParserError, pd.errors.ParserWarning):
                return _parse(source, layout, strict=False)
        return _parse(source, replace(layout, quoted=False), strict=False)
    except (ValueError, pd.errors.ParserError, pd.errors.ParserWarning) as error:
        first = (str(error).strip().splitlines() or [""])[0][:120]
        raise UnknownFormatError(
            f"cannot be parsed as a table ({first}); export it again",
            file=source.file,
            where=f"rows from line {layout.first_line} on",
        ) from error


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
    message = f"{n_broken} rows are broken or incomplete and were taken as missing"
    return (Notice("broken_rows", message, file=source.file, where=where, severity="check"),)


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
