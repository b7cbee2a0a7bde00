"""Columns that hold a part of a time: whole seconds beside their fraction, a date alone."""

from __future__ import annotations

import re
from typing import Final

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray
from imucarry.basics.units import TIME_UNITS_S
from imucarry.readers.names import parse_name
from imucarry.readers.row_cells import INSTANT
from imucarry.readers.table import Table

DATE: Final = re.compile(r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}\.?")
FRACTIONS: Final = ("ms", "us", "ns")
WORDS_LOOKED_AT: Final = 20


def seconds_and_parts(table: Table, time: int) -> tuple[int, int, FloatArray] | None:
    """Join whole seconds and the column beside them that holds their fraction.

    Parameters
    ----------
    table : Table
    time : int
        The column of times, either of the two.

    Returns
    -------
    seconds, part : int
        The two columns.
    time_s : ndarray, shape (N,) [s]
        Or None in place of all, where the column of times stands alone.

    Notes
    -----
    The names say seconds and a smaller unit; the fraction stays below a second, and begins anew
    where the seconds go on.
    """
    for seconds in (time, time - 1):
        part = seconds + 1
        if seconds < 0 or part >= len(table.names) or {seconds, part} & set(table.text):
            continue
        units = [parse_name(table.names[c], table.units[c]).unit for c in (seconds, part)]
        if units[0] != "s" or units[1] not in FRACTIONS:
            continue
        whole, fraction_s = table.numbers[:, seconds], _in_s(table.numbers[:, part], units[1])
        if _fit(whole, fraction_s):
            return seconds, part, np.asarray(whole + fraction_s, dtype=np.float64)
    return None


def _in_s(values: FloatArray, unit: str) -> FloatArray:
    return np.asarray(values * TIME_UNITS_S[unit], dtype=np.float64)


def _fit(whole: FloatArray, fraction_s: FloatArray) -> bool:
    known = np.isfinite(whole) & np.isfinite(fraction_s)
    whole, fraction_s = whole[known], fraction_s[known]
    if whole.size < 2 or (whole != np.floor(whole)).any():
        return False
    if fraction_s.min() < 0 or fraction_s.max() >= 1:
        return False
    anew, on = np.diff(fraction_s) < 0, np.diff(whole) > 0
    return bool(anew.any() and (anew == on).mean() >= 1 - evidence.UNREADABLE_FRAC.value)


def holds_times(table: Table, column: int) -> bool:
    """Whether a column of text holds times, or dates with times."""
    if column not in table.text:
        return False
    words = [word for word in table.text[column].words if word][:WORDS_LOOKED_AT]
    return bool(words) and all(INSTANT.fullmatch(word) and ":" in word for word in words)


def is_date_alone(table: Table, column: int) -> bool:
    """Whether a column of text holds dates without times, which tell no sample from another."""
    if column not in table.text:
        return False
    words = [word for word in table.text[column].words if word]
    return bool(words) and all(DATE.fullmatch(word) for word in words[:WORDS_LOOKED_AT])
