"""Rows of two tables that belong together: strides by time, bouts by name."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pandas as pd
from pandas.api.types import is_bool_dtype

from imucarry.basics.errors import ColumnError
from imucarry.basics.records import FloatArray, IntArray
from imucarry.basics.statistics import Neighbours, neighbours
from imucarry.carry.stride_shift import Group, whole_stride_shift

ORDER = ("first", "second")
WHO = ("participant", "session", "bout")
KEPT = {
    "sternum": "kept_yaw",
    "left_arm": "kept_left_arm",
    "right_arm": "kept_right_arm",
}
"""Which strides count, by the beginning of a measure's name; else ``kept_timing``."""


@dataclass(frozen=True, slots=True)
class Pairs:
    """Matched values with the number of their person and of their unit (person and bout).

    ``later_s``, of strides, is by how much each begins later in the second table;
    ``shift_s`` by how much the whole table does where strides are paired with neighbours
    (`whole_stride_shift`). ``order``, of strides, says which follow each other, where a
    table has columns ``pass`` and ``stride_in_pass`` or ``stride``.
    """

    level: str
    a: FloatArray
    b: FloatArray
    person: IntArray
    unit: IntArray
    n_only_a: int
    n_only_b: int
    later_s: FloatArray
    shift_s: float = math.nan
    order: Neighbours | None = None


def match(a: pd.DataFrame, b: pd.DataFrame, measure: str, tolerance_s: float) -> Pairs:
    """Pair the rows of two tables.

    Raises
    ------
    ColumnError
        If a table has no such measure, if that is no number, if no two rows belong
        together, or if rows of several persons or sessions cannot be told apart in the
        other table; the message says why.
    """
    _require_told_apart(a, b)
    wide = all(measure in table for table in (a, b))
    timed = [wide and "start_s" in table for table in (a, b)]
    if any(timed) and not _one_row_a_bout(a, b):
        if not all(timed):
            raise ColumnError(
                f"the {ORDER[timed.index(False)]} table has no column start_s, by which strides "
                "are matched",
                where="start_s",
            )
        return _match_strides(
            _kept(a, measure, "first"), _kept(b, measure, "second"), measure, tolerance_s
        )
    return _match_bouts(_values(a, measure, "first"), _values(b, measure, "second"))


def _require_told_apart(a: pd.DataFrame, b: pd.DataFrame) -> None:
    """Refuse tables of which one names several persons or sessions, and the other none."""
    for table, other, which in ((a, b, 1), (b, a, 0)):
        for name in WHO[:2]:
            n_names = table[name].nunique() if name in table and name not in other else 0
            if n_names > 1:
                raise ColumnError(
                    f"the {ORDER[which]} table has no column {name}, but the {ORDER[1 - which]} "
                    f"holds {n_names} of them: add it, or compare one at a time",
                    where=name,
                )


def _one_row_a_bout(a: pd.DataFrame, b: pd.DataFrame) -> bool:
    """Return whether both tables name each bout once: then they are of bouts, not of strides."""
    by = _shared(a, b, WHO)
    return "bout" in by and not any(table.duplicated(by).any() for table in (a, b))


def _kept(table: pd.DataFrame, measure: str, which: str) -> pd.DataFrame:
    """Return the strides that count for a measure and have a value."""
    column = next((name for stem, name in KEPT.items() if measure.startswith(stem)),
                  "kept_timing")  # fmt: skip
    numbers = {name: _numbers(table[name], name, which) for name in (measure, "start_s")}
    table = table.assign(**numbers)
    counts = table[measure].notna() & table["start_s"].notna()
    if column in table:
        counts &= table[column].astype(str).str.lower().isin(["true", "1", "1.0"])
    if not counts.any():
        raise ColumnError(
            f"the {which} table has no stride that counts ({column}) with start_s and a value",
            where=measure,
        )
    return table[counts].sort_values("start_s", kind="stable")


def _numbers(values: pd.Series, name: str, which: str) -> pd.Series:
    """Return a column as numbers, empty cells as NaN."""
    found = pd.to_numeric(values, errors="coerce").astype(float)
    wrong = np.flatnonzero(values.notna() & ~np.isfinite(found))
    if is_bool_dtype(values) or wrong.size:
        row = int(wrong[0]) if wrong.size else 0
        raise ColumnError(
            f"'{values.iloc[row]}' in row {row + 1} of the {which} table is no number; only numbers"
            " can be compared",
            where=name,
        )
    return found


def _shared(a: pd.DataFrame, b: pd.DataFrame, names: tuple[str, ...]) -> list[str]:
    return [name for name in names if name in a and name in b]


def _match_strides(a: pd.DataFrame, b: pd.DataFrame, measure: str, tolerance_s: float) -> Pairs:
    """Pair strides of the same bout whose starts are each other's nearest."""
    by = _shared(a, b, WHO)
    groups_a, groups_b = _groups(a, by), _groups(b, by)
    found: list[tuple[tuple[str, ...], FloatArray, FloatArray]] = []
    paired: list[Group] = []
    places: list[FloatArray] = []
    for key in sorted(groups_a.keys() & groups_b.keys()):
        one, two = groups_a[key], groups_b[key]
        starts_a, starts_b = (part["start_s"].to_numpy(np.float64) for part in (one, two))
        rows_a, rows_b = nearest_pairs(starts_a, starts_b, tolerance_s)
        paired.append((starts_a, starts_b, rows_a, rows_b))
        places.append(_places(one)[rows_a] if _has_places(a) else _places(two)[rows_b])
        found.append((key, one[measure].to_numpy(np.float64)[rows_a],
                      two[measure].to_numpy(np.float64)[rows_b]))  # fmt: skip
    n_pairs = sum(values.size for _, values, _ in found)
    if n_pairs == 0:
        raise ColumnError(_why_no_strides(a, b, by, bool(found), tolerance_s))
    persons = [key[by.index("participant")] if "participant" in by else "" for key, _, _ in found]
    sizes = [values.size for _, values, _ in found]
    unit = _renumbered(np.repeat(np.arange(len(found)), sizes))
    return Pairs(
        "stride",
        np.concatenate([values for _, values, _ in found]) if found else np.empty(0),
        np.concatenate([values for _, _, values in found]) if found else np.empty(0),
        np.repeat(_numbered(persons), sizes),
        unit,
        len(a) - n_pairs,
        len(b) - n_pairs,
        np.concatenate([b_s[rows_b] - a_s[rows_a] for a_s, b_s, rows_a, rows_b in paired]),
        whole_stride_shift(paired),
        _order(unit, np.concatenate(places)),
    )


def _has_places(table: pd.DataFrame) -> bool:
    return "pass" in table and bool({"stride_in_pass", "stride"} & set(table.columns))


def _places(table: pd.DataFrame) -> FloatArray:
    """Return pass and stride of each row, shape (n, 2); NaN where they are not told."""
    if not _has_places(table):
        return np.full((len(table), 2), np.nan)
    names = ["pass", "stride_in_pass" if "stride_in_pass" in table else "stride"]
    numbers = table[names].apply(pd.to_numeric, errors="coerce")
    return np.asarray(numbers, dtype=np.float64)


def _order(unit: IntArray, places: FloatArray) -> Neighbours | None:
    """Return which strides follow each other, None where passes and strides do not tell."""
    if not np.isfinite(places).all():
        return None
    passes = np.column_stack([unit, places[:, 0]])
    run = np.unique(passes, axis=0, return_inverse=True)[1].ravel()
    rising = (np.diff(run) > 0) | ((np.diff(run) == 0) & (np.diff(places[:, 1]) >= 1.0))
    return neighbours(run, places[:, 1]) if rising.all() else None


def _why_no_strides(
    a: pd.DataFrame, b: pd.DataFrame, by: list[str], is_shared: bool, tolerance_s: float
) -> str:
    if not is_shared:
        return _why_no_names(a, b, by)
    spans = [f"{t['start_s'].min():.1f} to {t['start_s'].max():.1f} s" for t in (a, b)]
    return (
        f"no two strides start within {tolerance_s:g} s of each other: start_s is {spans[0]} in "
        f"the first table, {spans[1]} in the second; put both on one clock"
    )


def _why_no_names(a: pd.DataFrame, b: pd.DataFrame, by: list[str]) -> str:
    firsts = [" / ".join(str(table[name].iloc[0]) for name in by) for table in (a, b)]
    return (
        f"no row has the same {', '.join(by)} in both tables: the first begins with "
        f"{firsts[0]}, the second with {firsts[1]}"
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
    return rows.assign(value=_numbers(rows["value"], measure, which))


def _match_bouts(a: pd.DataFrame, b: pd.DataFrame) -> Pairs:
    """Pair rows of the same participant, session, bout and side."""
    by = _shared(a, b, (*WHO, "side"))
    if not {"bout", "participant"} & set(by):
        raise ColumnError("the tables share no column participant or bout to match rows by")
    for table, which in zip((a, b), ORDER, strict=True):
        if table.duplicated(by).any():
            raise ColumnError(
                f"the {which} table has several rows for one {', '.join(by)}: strides need a "
                "column start_s in both tables, other rows a column that tells them apart"
            )
    one, two = a[by].astype(str).assign(a=a["value"]), b[by].astype(str).assign(b=b["value"])
    joined = one.merge(two, on=by, how="inner").sort_values(by, kind="stable")
    if joined.empty:
        raise ColumnError(_why_no_names(a, b, by))
    person = joined["participant"].tolist() if "participant" in by else [""] * len(joined)
    return Pairs(
        "bout",
        joined["a"].to_numpy(np.float64),
        joined["b"].to_numpy(np.float64),
        _numbered(person),
        np.arange(len(joined)),
        len(a) - len(joined),
        len(b) - len(joined),
        np.empty(0),
    )


def _numbered(names: list[str]) -> IntArray:
    """Number names from 0, in sorted order."""
    return np.asarray(np.unique(np.array(names, dtype=str), return_inverse=True)[1], np.int64)


def _renumbered(numbers: IntArray) -> IntArray:
    """Close the gaps that units without a pair leave."""
    return np.asarray(np.unique(numbers, return_inverse=True)[1], np.int64)
