"""Runs of true values in a mask."""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import BoolArray


def runs_of(mask: BoolArray) -> tuple[tuple[int, int], ...]:
    """Return the half-open ranges in which a mask is true."""
    if not mask.any():
        return ()
    edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(np.int8)))
    return tuple((int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True))
