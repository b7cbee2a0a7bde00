"""Rows of two tables that belong together: strides by time, bouts by name."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from imucarry.basics.errors import ColumnError
from imucarry.basics.records import FloatArray, IntArray

WHO = ("participant", "session", "bout")
KEPT = {
    "sternum": "kept_yaw",
    "left_arm": "kept_left_arm",
    "right_arm": "kept_right_arm",
}
"""Which strides count, by the beginning of a measure's name; else ``kept_timing``."""


@dataclass(frozen=True, slots=True)
class Pairs:
    """Matched values with the number of their person and of their unit (person and bout)."""

    level: str
    a: FloatArray
    b: FloatArray
    person: IntArray
    unit: IntArray
    n_only_a: int
    n_only_b: int


def match(a: pd.DataFrame, b: pd.DataFrame, measure: str, tolerance_s: float) -> Pairs:
    """Pair the rows of two tables."""
    timed = all("start_s" in table and measure in table for table in (a, b))
    if timed and not _one_row_a_bout(a, b):
        return _match_strides(_kept(a, measure), _kept(b, measure), measure, tolerance_s)
    return _match_bouts(_values(a, measure, "first"), _values(b, measure, "second"))


def _one_row_a_bout(a: pd.DataFrame, b: pd.DataFrame) -> bool:
    """Return whether both tables name each bout once: then they are of bouts, not of strides."""
    by = _shared(a, b, WHO)
    return "bout" in by and not any(table.duplicated(by).any() for table in (a, b))


def _kept(table: pd.DataFrame, measure: str) -> pd.DataFrame:
    """Return the strides that count for a measure and have a value."""
    column = next((name for stem, name in KEPT.items() if measure.startswith(stem)),
                  "kept_timing")  # fmt: skip
    counts = table[measure].notna() & table["start_s"].notna()
    if column in table:
        counts &= table[column].astype(str).str.lower().isin(["true", "1", "1.0"])
    return table[counts].sort_values("start_s", kind="stable")


def _shared(a: pd.DataFrame, b: pd.DataFrame, names: tuple[str, ...]) -> list[str]:
    return [name for name in names if name in a and name in b]


def _match_strides(a: pd.DataFrame, b: pd.DataFrame, measure: str, tolerance_s: float) -> Pairs:
    """Pair strides of the same bout whose starts are each other's nearest."""
    by = _shared(a, b, WHO)
    groups_a, groups_b = _groups(a, by), _groups(b, by)
    found: list[tuple[tuple[str, ...], FloatArray, FloatArray]] = []
    for key in sorted(groups_a.keys() & groups_b.keys()):
        one, two = groups_a[key], groups_b[key]
        rows_a, rows_b = nearest_pairs(
            one["start_s"].to_numpy(np.float64), two["start_s"].to_numpy(np.float64), tolerance_s
        )
        found.append((key, one[measure].to_numpy(np.float64)[rows_a],
                      two[measure].to_numpy(np.float64)[rows_b]))  # fmt: skip
    n_pairs = sum(values.size for _, values, _ in found)
    persons = [key[by.index("participant")] if "participant" in by else "" for key, _, _ in found]
    sizes = [values.size for _, values, _ in found]
    return Pairs(
        "stride",
        np.concatenate([values for _, values, _ in found]) if found else np.empty(0),
        np.concatenate([values for _, _, values in found]) if found else np.empty(0),
        np.repeat(_numbered(persons), sizes),
        _renumbered(np.repeat(np.arange(len(found)), sizes)),
        len(a) - n_pairs,
        len(b) - n_pairs,
    )


def _groups(table: pd.DataFrame, by: list[str]) -> dict[tuple[str, ...], pd.DataFrame]:
    """Split a table by the text of some columns."""
    if not by:
        return {(): table}
    keys = table[by].astype(str).agg("\x1f".join, axis=1) if len(table) else pd.Series(dtype=str)
    return {tuple(str(key).split("\x1f")): part for key, part in table.groupby(keys, sort=True)}


def nearest_pairs(
    a_s: FloatArray, b_s: FloatArray, tolerance_s: float
) -> tuple[IntArray, IntArray]:
    """Return the rows of two sorted lists of times that are each other's nearest.

    Parameters
    ----------
    a_s, b_s : ndarray, shape (n,), (m,) [s]
        Rising.
    tolerance_s : float [s]

    Returns
    -------
    rows_a, rows_b : ndarray of int, shape (k,)
    """
    if a_s.size == 0 or b_s.size == 0:
        return np.empty(0, np.int64), np.empty(0, np.int64)
    to_b, to_a = _nearest(a_s, b_s), _nearest(b_s, a_s)
    rows = np.arange(a_s.size)
    good = (to_a[to_b] == rows) & (np.abs(a_s - b_s[to_b]) <= tolerance_s)
    return rows[good], to_b[good]


def _nearest(of: FloatArray, among: FloatArray) -> IntArray:
    """Return for each time the row of the nearest among others."""
    right = np.clip(np.searchsorted(among, of), 1, max(among.size - 1, 1))
    left = right - 1
    right = np.minimum(right, among.size - 1)
    nearer_left = np.abs(of - among[left]) <= np.abs(among[right] - of)
    return np.where(nearer_left, left, right).astype(np.int64)


def _values(table: pd.DataFrame, measure: str, which: str) -> pd.DataFrame:
    """Return the rows of a measure as a column ``value``, from a wide or a tidy table."""
    if {"measure", "value"} <= set(table.columns):
        rows = table[table["measure"] == measure]
    elif measure in table:
        rows = table.assign(value=table[measure])
    else:
        rows = table.iloc[:0]
    rows = rows[rows["value"].notna()] if "value" in rows else rows.iloc[:0]
    if rows.empty:
        raise ColumnError(
            f"the {which} table has no value of {measure!r}; its columns are "
            f"{', '.join(map(str, table.columns))}",
            where=measure,
        )
    return rows


def _match_bouts(a: pd.DataFrame, b: pd.DataFrame) -> Pairs:
    """Pair rows of the same participant, session, bout and side."""
    by = _shared(a, b, (*WHO, "side"))
    if not {"bout", "participant"} & set(by):
        raise ColumnError("the tables share no column participant or bout to match rows by")
    for table, which in ((a, "first"), (b, "second")):
        if table.duplicated(by).any():
            raise ColumnError(
                f"the {which} table has several rows for one {', '.join(by)}: a further "
                "column must tell them apart in both tables"
            )
    one = a[by].astype(str).assign(a=a["value"].astype(float))
    two = b[by].astype(str).assign(b=b["value"].astype(float))
    joined = one.merge(two, on=by, how="inner").sort_values(by, kind="stable")
    person = joined["participant"].tolist() if "participant" in by else [""] * len(joined)
    return Pairs(
        "bout",
        joined["a"].to_numpy(np.float64),
        joined["b"].to_numpy(np.float64),
        _numbered(person),
        np.arange(len(joined)),
        len(a) - len(joined),
        len(b) - len(joined),
    )


def _numbered(names: list[str]) -> IntArray:
    """Number names from 0, in sorted order."""
    return np.asarray(np.unique(np.array(names, dtype=str), return_inverse=True)[1], np.int64)


def _renumbered(numbers: IntArray) -> IntArray:
    """Close the gaps that units without a pair leave."""
    return np.asarray(np.unique(numbers, return_inverse=True)[1], np.int64)
