"""The table that every reader of a format makes: numbers by column, and what was seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from imucarry.basics.records import FloatArray, Notice


@dataclass(frozen=True, slots=True)
class TextColumn:
    """A column of text: ``words[codes[row]]``, code -1 where the cell is empty."""

    words: tuple[str, ...]
    codes: NDArray[np.integer]


@dataclass(frozen=True, slots=True)
class Table:
    """One file as columns.

    Attributes
    ----------
    file : str
        The file as the user named it.
    hashes : tuple of (str, str)
        SHA-256 of every file that was read, the table's own first.
    layout : str
        One plain sentence: encoding, separator, decimal mark, header row.
    names, units : tuple of str
        One a column; a name is "" without a header, a unit is "" where no row
        of units tells it.
    numbers : ndarray, shape (N, K)
        NaN where a cell is empty or text.
    text : mapping of column number to TextColumn
    first_line : int
        Line of the first row of numbers, counted from 1.
    rate_hz : float
        The rate that the lines before the table state, NaN without.
    """

    file: str
    hashes: tuple[tuple[str, str], ...]
    layout: str
    names: tuple[str, ...]
    units: tuple[str, ...]
    numbers: FloatArray
    text: Mapping[int, TextColumn] = field(default_factory=dict)
    first_line: int = 1
    rate_hz: float = float("nan")
    notices: tuple[Notice, ...] = ()
