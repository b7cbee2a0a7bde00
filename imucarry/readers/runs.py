"""Runs of true values in a mask, and index ranges."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.records import BoolArray, IndexRanges


def runs_of(mask: BoolArray) -> tuple[tuple[int, int], ...]:
    """Return the half-open ranges in which a mask is true."""
    if not mask.any():
        return ()
    edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(np.int8)))
    return tuple((int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True))


def merged_ranges(ranges: Sequence[tuple[int, int]]) -> IndexRanges:
    """Return half-open ranges in order, those that touch made one."""
    merged: list[tuple[int, int]] = []
    for low, high in sorted(ranges):
        if merged and low <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    return tuple(merged)
