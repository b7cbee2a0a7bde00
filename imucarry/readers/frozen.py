"""A frozen sensor: all six values the same, sample after sample, as in nobody's rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, IndexRanges, Notice, Recording
from imucarry.readers.resample import Grid
from imucarry.readers.runs import merged_ranges, runs_of

CODE = "held_values"
SPELLS_NAMED = 3
LEFT_OUT = "strides that this touches are left out"


def frozen_samples(acc: FloatArray, gyr: FloatArray, period_s: float) -> IndexRanges:
    """Return where accelerometer and gyroscope repeat all six values for about a second or longer.

    Parameters
    ----------
    acc, gyr : ndarray, shape (N, 3)
    period_s : float [s]

    Returns
    -------
    index ranges
        Half-open. Coarse values that repeat one axis at a time are in none of them.
    """
    n_least = _least_rows(period_s)
    if not _may_repeat(acc, gyr, max(1, n_least // 2)):
        return ()
    same = (acc[1:] == acc[:-1]).all(axis=1) & (gyr[1:] == gyr[:-1]).all(axis=1)
    return tuple((first, last + 1) for first, last in runs_of(same) if last + 1 - first >= n_least)


def _least_rows(period_s: float) -> int:
    return max(2, round(evidence.ASLEEP_S.value / period_s))


def _may_repeat(acc: FloatArray, gyr: FloatArray, step: int) -> bool:
    """Whether two rows `step` apart are the same: a long run holds two such rows."""
    few_acc, few_gyr = acc[::step], gyr[::step]
    rows = np.flatnonzero((few_acc[1:] == few_acc[:-1]).all(axis=1))
    return bool((few_gyr[rows + 1] == few_gyr[rows]).all(axis=1).any())


def mark_frozen(recording: Recording, bouts: Mapping[str, tuple[float, float]]) -> Recording:
    """Return a recording in which spells that were frozen within a bout are gaps, with one notice.

    Parameters
    ----------
    recording : Recording
    bouts : mapping of str to (float, float) [s]
        Start and end of each bout by its name, on the clock of the recording.

    Notes
    -----
    A spell counts where about a second of it lies in a bout; then all of it is a gap.
    Elsewhere a sensor may lie on a table.
    """
    period_s = 1.0 / recording.rate_hz
    spells = frozen_samples(recording.acc_mps2, recording.gyr_radps, period_s)
    n_least = _least_rows(period_s)
    found: list[tuple[int, int]] = []
    in_bouts: dict[tuple[tuple[int, int], ...], list[str]] = {}
    for name, span_s in bouts.items() if spells else ():
        low, high = np.searchsorted(recording.time_s, span_s).tolist()
        inside = [(a, b) for a, b in spells if min(b, high) - max(a, low) >= n_least]
        if inside:
            found += inside
            in_bouts.setdefault(tuple(inside), []).append(name)
    if not found:
        return recording
    gaps = merged_ranges([*recording.gaps, *found])
    return replace(recording, gaps=gaps, notices=(*recording.notices, _told(recording, in_bouts)))


def _told(
    recording: Recording, in_bouts: Mapping[tuple[tuple[int, int], ...], Sequence[str]]
) -> Notice:
    """Return the one notice of a sensor, in which bouts with the same spells stand together."""
    said = "; ".join(
        f"{_in_words(recording.time_s, spells)} in {'bout' if len(bouts) == 1 else 'bouts'} "
        f"{', '.join(bouts)}"
        for spells, bouts in in_bouts.items()
    )
    message = f"asleep or stuck (all six values unchanged) {said}: {LEFT_OUT}"
    return Notice(CODE, message, where=recording.placement, severity="check")


def frozen_notices(grid: Grid, file: str) -> tuple[Notice, ...]:
    """Return the notice that a file's sensor was frozen for a while, for the preview.

    Times count from the sensor's first sample; bouts are not known here.
    """
    spells = frozen_samples(grid.acc, grid.gyr, grid.period_s)
    if not spells:
        return ()
    said = _in_words(grid.time_s - grid.time_s[0], spells)
    message = f"asleep or stuck (all six values unchanged) {said}: in a bout, {LEFT_OUT}"
    return (Notice(CODE, message, file=file, severity="check"),)


def _in_words(time_s: FloatArray, spells: Sequence[tuple[int, int]]) -> str:
    named = [f"{time_s[a]:.1f} to {time_s[b - 1]:.1f} s" for a, b in spells[:SPELLS_NAMED]]
    more = len(spells) - len(named)
    said = " and from ".join(named) + (f" and {more} more times" if more else "")
    return f"from {said}"
