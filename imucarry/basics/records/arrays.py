"""Kinds of arrays, and what a record checks of its own."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
IndexRanges = tuple[tuple[int, int], ...]


def freeze(array: NDArray[np.generic], shape: tuple[int, ...], name: str) -> None:
    """Check the shape of an array (-1: any length) and make it read-only.

    Raises
    ------
    ValueError
        If the shape differs.
    """
    fits = array.ndim == len(shape) and all(
        want in (-1, got) for want, got in zip(shape, array.shape, strict=True)
    )
    if not fits:
        raise ValueError(f"{name} has shape {array.shape}, expected {shape}")
    array.setflags(write=False)


def freeze_arrays(record: Any, shape: tuple[int, ...], **others: tuple[int, ...]) -> None:
    """Check and freeze all array fields of a record; `others` have a shape of their own.

    Raises
    ------
    ValueError
        If a shape differs.
    """
    for field in fields(record):
        value = getattr(record, field.name)
        if isinstance(value, np.ndarray):
            freeze(value, others.get(field.name, shape), field.name)


def require_finite(array: FloatArray, name: str) -> None:
    """Raise ``ValueError`` where an array holds NaN or infinity."""
    if not np.isfinite(array).all():
        raise ValueError(f"{name} holds values that are not finite")
