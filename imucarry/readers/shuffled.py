"""Rows that do not stand in the order of their times."""

from __future__ import annotations

import numpy as np

from imucarry.basics.errors import TimebaseError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.readers.set_back import Found

TOLD: Found = (
    "rows_shuffled",
    "times go up and down from row to row; rows were put in the order of their times",
)


def order_of_shuffled(
    stamps_s: FloatArray, repeated: BoolArray | None, file: str
) -> IntArray | None:
    """Return the order of rows whose times go up and down all over, None of others.

    Parameters
    ----------
    stamps_s : ndarray, shape (N,) [s]
    repeated : ndarray of bool, shape (N,) or None
        Where a row was written before.
    file : str

    Raises
    ------
    TimebaseError
        If the times do not tell the order: rows share them, or they come unevenly.
    """
    far_back = np.diff(stamps_s) < -evidence.SET_BACK_S.value
    if far_back.mean() <= evidence.SHUFFLED_FRAC.value:
        return None
    order = np.argsort(stamps_s, kind="stable")
    known = order if repeated is None else order[~repeated[order]]
    steps = np.diff(stamps_s[known])
    usual = float(np.median(steps))
    near = np.abs(steps - usual) <= evidence.USUAL_STEP_FRAC.value * usual
    if (steps == 0).any() or near.mean() < evidence.SHUFFLED_EVEN_FRAC.value:
        raise TimebaseError(
            f"the times go up and down from row to row ({int(far_back.sum())} times back by more"
            f" than {evidence.SET_BACK_S.value:g} s), and do not tell the order of the rows; put"
            " the rows in the order in which they were recorded",
            file=file,
            where="time column",
        )
    return order
