"""Walking in the recording that no row of the bouts sheet covers: a bout that was forgotten."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from imucarry.basics.evidence import passes
from imucarry.basics.evidence import worn as evidence
from imucarry.basics.records import BoutRow, Notice, SensorResult, Window
from imucarry.basics.settings import WalkSettings
from imucarry.walk.bouts import find_walking

WALK_NOT_IN_SHEET: Final = "walk_not_in_sheet"
"""Code of the notice."""

MOST_NAMED: Final = 6


def check_forgotten(
    rows: Sequence[BoutRow], sensors: Sequence[SensorResult], settings: WalkSettings
) -> tuple[Notice, ...]:
    """Tell of walking as long as a bout in which the sheet has none.

    Parameters
    ----------
    rows : sequence of BoutRow
        Of the sheet, with times; without times nothing is asked.
    sensors : sequence of SensorResult
    settings : WalkSettings

    Returns
    -------
    tuple of Notice
        One at most: a check, but a note where there are several such walks to few bouts, which
        are ways back.
    """
    if not rows or not all(math.isfinite(row.start_s) for row in rows):
        return ()
    least_s = _least_s(rows)
    if not any(least_s <= gap.end_s - gap.start_s for gap in _pauses(rows, sensors)):
        return ()
    walks = find_walking(
        [item.recording for item in sensors], [item.orientation for item in sensors], settings
    )
    margins_s = 2.0 * passes.BOUT_MARGIN_S.value  # that `find_walking` adds to each walk
    found = [
        part for part in _outside(walks, rows) if part.end_s - part.start_s - margins_s >= least_s
    ]
    if not found:
        return ()
    ways_back = len(found) > 1 and len(found) >= evidence.WAYS_BACK_LEAST_FRAC.value * len(rows)
    return (Notice(WALK_NOT_IN_SHEET, _said(found), severity="note" if ways_back else "check"),)


def _least_s(rows: Sequence[BoutRow]) -> float:
    """Return how long a walk is at least to be a bout like the others [s]."""
    usual_s = float(np.median([row.end_s - row.start_s for row in rows]))
    return max(evidence.FORGOTTEN_LEAST_S.value, evidence.FORGOTTEN_LEAST_FRAC.value * usual_s)


def _pauses(rows: Sequence[BoutRow], sensors: Sequence[SensorResult]) -> list[Window]:
    """Return the parts of the recording that no row covers."""
    times = [item.recording.time_s for item in sensors if item.recording.time_s.size]
    whole = Window(float(min(t[0] for t in times)), float(max(t[-1] for t in times)))
    return _outside([whole], rows)


def _outside(walks: Sequence[Window], rows: Sequence[BoutRow]) -> list[Window]:
    """Return the parts of some windows that no row covers."""
    left = []
    for walk in walks:
        inside = sorted(
            (max(row.start_s, walk.start_s), min(row.end_s, walk.end_s))
            for row in rows
            if row.start_s < walk.end_s and row.end_s > walk.start_s
        )
        ends = [walk.start_s, *itertools.accumulate((end for _, end in inside), max)]
        starts = [*(start for start, _ in inside), walk.end_s]
        left += [Window(a, b) for a, b in zip(ends, starts, strict=True) if b > a]
    return left


def _said(found: Sequence[Window]) -> str:
    times = [f"{part.start_s:.0f} to {part.end_s:.0f} s" for part in found]
    if len(times) > MOST_NAMED:
        times = [*times[:MOST_NAMED], f"{len(times) - MOST_NAMED} more"]
    named = " and ".join(filter(None, [", ".join(times[:-1]), times[-1]]))
    ask = "Were bouts forgotten? They were" if len(found) > 1 else "Was a bout forgotten? It was"
    return f"Walking outside the rows of the bouts sheet: {named}. {ask} not scored."
