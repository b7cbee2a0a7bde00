"""Parquet tables, where the extra ``parquet`` is installed."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd

from imucarry.basics.errors import UnknownFormatError
from imucarry.basics.records import FloatArray
from imucarry.readers.source import sha256_of
from imucarry.readers.table import Table, TextColumn

MAGIC = b"PAR1"


def is_parquet(path: Path) -> bool:
    """Whether a file starts as Parquet does."""
    try:
        with path.open("rb") as handle:
            return handle.read(len(MAGIC)) == MAGIC
    except OSError:
        return False


def read_parquet(path: Path, name: str) -> Table:
    """Read a Parquet file.

    Raises
    ------
    UnknownFormatError
        If it is damaged or the extra ``parquet`` is not installed.
    """
    sha256 = sha256_of(path, name)
    try:
        frame = pd.read_parquet(path)
    except ImportError as error:
        raise UnknownFormatError(
            "is Parquet, which needs an extra: pip install 'imucarry[parquet]'",
            file=name,
            where="first bytes",
        ) from error
    except Exception as error:  # the engines raise errors of many families for a damaged file
        first = (str(error).splitlines() or [type(error).__name__])[0][:120]
        raise UnknownFormatError(
            f"cannot be read as Parquet ({first})", file=name, where="table"
        ) from error
    if isinstance(frame.index, pd.DatetimeIndex) or frame.index.name:
        frame = frame.reset_index()
    return _as_table(frame, name, sha256)


def _as_table(frame: pd.DataFrame, name: str, sha256: str) -> Table:
    if not len(frame):
        raise UnknownFormatError("holds no rows; export it again", file=name, where="table")
    names = tuple(str(column) for column in frame.columns)
    values = np.full((len(frame), len(names)), np.nan, order="F")
    text = {}
    for index in range(len(names)):
        cells = frame.iloc[:, index]
        if pd.api.types.is_numeric_dtype(cells):
            values[:, index] = cells.to_numpy(dtype=np.float64, na_value=np.nan)
        else:
            text[index] = _text_column(cells)
    blank = ("",) * len(names)
    return Table(name, ((name, sha256),), "Parquet", names, blank, _finite(values), text)


def _text_column(cells: pd.Series) -> TextColumn:
    if pd.api.types.is_datetime64_any_dtype(cells):
        zone = "Z" if isinstance(cells.dtype, pd.DatetimeTZDtype) else ""
        naive = cells.dt.tz_convert("UTC").dt.tz_localize(None) if zone else cells
        cells = naive.map(lambda stamp: f"{stamp.isoformat()}{zone}", na_action="ignore")
    codes, words = pd.factorize(cells)
    return TextColumn(tuple(str(word) for word in words), codes)


def _finite(values: FloatArray) -> FloatArray:
    values[np.isinf(values)] = np.nan
    return values
