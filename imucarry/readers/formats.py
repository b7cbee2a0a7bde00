"""The formats that can be read: one row a format, tried in order."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from imucarry.basics.errors import InputError
from imucarry.readers.motion_bids import is_motion_bids, read_motion_bids
from imucarry.readers.parquet import is_parquet, read_parquet
from imucarry.readers.table import Table
from imucarry.readers.text import read_text_table


@dataclass(frozen=True, slots=True)
class Format:
    """A file format: how it is recognised and how it is read."""

    name: str
    recognises: Callable[[Path], bool]
    read: Callable[[Path, str], Table]


def _any(path: Path) -> bool:
    return True


FORMATS: tuple[Format, ...] = (
    Format("Parquet", is_parquet, read_parquet),
    Format("Motion-BIDS", is_motion_bids, read_motion_bids),
    Format("delimited text", _any, read_text_table),
)


def read_table(path: Path, name: str) -> Table:
    """Read a file by the first format that recognises it.

    Parameters
    ----------
    path : Path
    name : str
        The file as the user named it, for messages.
    """
    with contextlib.suppress(OSError, ValueError):  # a name that no file can have
        if path.exists() and not (path.is_file() or path.is_dir()):
            raise InputError("is no file of data; name one", file=name)
    return next(row for row in FORMATS if row.recognises(path)).read(path, name)
