"""Chunks of a parsed table gathered into one array of floats, and its columns of text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import pandas as pd

from imucarry.basics.records import BoolArray, FloatArray
from imucarry.readers.layout import Layout
from imucarry.readers.row_cells import marks_thousands, value_of
from imucarry.readers.table import TextColumn


def gathered(
    frames: Iterable[pd.DataFrame], layout: Layout, n_guess: int
) -> tuple[FloatArray, dict[int, TextColumn]]:
    """Return the numbers of all chunks, shape (N, C), NaN in columns of text, and those columns.

    Parameters
    ----------
    frames : iterable of DataFrame
        The chunks in order.
    layout : Layout
    n_guess : int
        How many rows are expected: more of them cost a copy.
    """
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
