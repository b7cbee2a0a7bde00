"""Files with a row an event: the accelerometer in one row, the gyroscope in the next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from imucarry.basics.errors import ColumnError, TimebaseError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray
from imucarry.readers.roles import KIND_NAMES

Axes = Sequence[FloatArray]


def event_rows(acc: Axes, gyr: Axes) -> Mapping[str, BoolArray]:
    """Return the rows that are samples of each sensor where a row is new for one of them alone.

    The other's cells hold 0, or its last sample once more.

    Parameters
    ----------
    acc, gyr : sequence of three ndarray, shape (N,)
        As written in the file.

    Returns
    -------
    mapping of "acc" and "gyr" to ndarray of bool, shape (N,)
        Empty where rows hold samples of both.
    """
    n_rows, n_few = acc[0].size, evidence.LEAST_EVENT_ROWS.value
    if n_rows < n_few:
        return {}
    firsts = (0, n_rows // 4, n_rows // 2, 3 * n_rows // 4)
    if not any(_found(acc, gyr, slice(first, first + n_few)) for first in firsts):
        return {}
    return _found(acc, gyr, slice(None))


def _found(acc: Axes, gyr: Axes, rows: slice) -> Mapping[str, BoolArray]:
    most = 1.0 - evidence.UNREADABLE_FRAC.value
    least = evidence.LEAST_EVENTS_FRAC.value
    for mark in (_is_filled, _is_new):
        of_acc, of_gyr = mark(acc, rows), mark(gyr, rows)
        one = of_acc != of_gyr
        if one.mean() > most and min((of_acc & one).mean(), (of_gyr & one).mean()) > least:
            return {"acc": of_acc | ~of_gyr, "gyr": of_gyr | ~of_acc}
    return {}


def _is_filled(axes: Axes, rows: slice) -> BoolArray:
    """Return where a row has any number but 0."""
    x, y, z = (axis[rows] for axis in axes)
    return np.asarray((x != 0) | (y != 0) | (z != 0))


def _is_new(axes: Axes, rows: slice) -> BoolArray:
    """Return where a row differs from the one before it."""
    found = np.zeros(axes[0][rows].size, dtype=np.bool_)
    for axis in axes:
        found[1:] |= np.diff(axis[rows]) != 0
    found[:1] = True
    return found


def require_equal_counts(present: Mapping[str, BoolArray], file: str) -> None:
    """Refuse rows of one sensor each that have neither times nor the same number for both.

    Raises
    ------
    TimebaseError
        If the one stated rate cannot be that of both.
    """
    counts = sorted(np.count_nonzero(rows) for rows in present.values())
    if len(counts) > 1 and counts[0] < (1.0 - evidence.UNREADABLE_FRAC.value) * counts[1]:
        raise TimebaseError(
            f"holds {counts[0]} samples of one sensor and {counts[1]} of the other, and no times:"
            " one rate cannot be that of both; export the times too",
            file=file,
            where="rows of one sensor each",
        )


def require_equal_ends(present: Mapping[str, BoolArray], file: str) -> None:
    """Refuse columns of two rates that stand side by side: one ends long before the other.

    Parameters
    ----------
    present : mapping of "acc" and "gyr" to ndarray of bool, shape (N,)
        The rows that hold a sample of each.
    file : str

    Raises
    ------
    ColumnError
        If one is filled from the first row on without a gap, and ends where the other goes on.
    """
    ends = {kind: int(np.flatnonzero(rows)[-1]) + 1 for kind, rows in present.items() if rows.any()}
    if len(ends) < 2:
        return
    shorter, longer = sorted(ends, key=lambda kind: ends[kind])
    n_short, n_long = ends[shorter], ends[longer]
    whole = all(present[kind][: ends[kind]].mean() > 1.0 - evidence.UNREADABLE_FRAC.value
                for kind in ends)  # fmt: skip
    if whole and n_short < evidence.SIDE_BY_SIDE_FRAC.value * n_long:
        raise ColumnError(
            f"the {KIND_NAMES[shorter]} ends after {n_short} of {n_long} rows, as where columns of"
            " two rates stand side by side; export each with times of its own into a file of its"
            " own, or cut the file there if it was switched off",
            file=file,
            where=f"near row {n_short + 1}",
        )
