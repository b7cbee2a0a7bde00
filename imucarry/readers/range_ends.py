"""Clipping: samples that stand at the end of a sensor's range."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray, IndexRanges
from imucarry.readers.parts import RawStream
from imucarry.readers.resample import Grid
from imucarry.readers.runs import merged_ranges, runs_of


def clipped_ranges(stream: RawStream, size: float, grid: Grid) -> IndexRanges:
    """Return where an axis stands at its extreme for three samples or more, on the grid.

    It is looked for in the samples as written: between them the grid blurs a plateau.

    Parameters
    ----------
    stream : RawStream
    size : float
        The size of one written unit in m/s^2 or rad/s.
    grid : Grid
    """
    acc = stream.kind == "acc"
    least = evidence.CLIP_LEAST_ACC_MPS2 if acc else evidence.CLIP_LEAST_GYR_RADPS
    if stream.largest * size < least.value:
        return ()
    runs = clipped_runs(stream.values, least.value / size)
    if stream.times.time_s is not grid.time_s:
        runs = [_on_grid(stream.times.time_s, run, grid.time_s) for run in runs]
    return merged_ranges([run for run in runs if run[1] > run[0]])


def clipped_runs(values: FloatArray, least: float) -> list[tuple[int, int]]:
    """Return runs of three or more equal extreme values of an axis.

    Parameters
    ----------
    values : ndarray, shape (N, 3)
    least : float
        Extremes below it are no end of a range.
    """
    runs = []
    n_run = evidence.CLIP_RUN.value
    for axis in range(3):
        column = values[:, axis]
        for extreme in (column.max(), column.min()):
            if abs(extreme) >= least:
                at = column == extreme
                if np.count_nonzero(at) >= n_run:
                    flat = [run for run in runs_of(at) if run[1] - run[0] >= n_run]
                    if len(flat) > 1 or _is_cut_off(column, flat):
                        runs += flat
    return runs


def _is_cut_off(values: FloatArray, flat: Sequence[tuple[int, int]]) -> bool:
    """Whether the signal leaves a flat top by more than a smooth one would in its digits.

    Of a parabola that digits hide over three samples, the next is lower by four digits.
    """
    digit = np.diff(np.unique(values)).min(initial=np.inf)
    beside = [index for first, last in flat for index in (first - 1, last)]
    steps = [
        abs(values[index] - values[flat[0][0]]) for index in beside if 0 <= index < values.size
    ]
    return bool(max(steps, default=0.0) > evidence.CLIP_STEP_DIGITS.value * digit)


def _on_grid(time_s: FloatArray, run: tuple[int, int], grid_s: FloatArray) -> tuple[int, int]:
    """Return the grid samples from the first to the last sample of a run."""
    first = int(np.searchsorted(grid_s, time_s[run[0]], side="left"))
    last = int(np.searchsorted(grid_s, time_s[run[1] - 1], side="right"))
    return max(first - 1, 0), min(last + 1, grid_s.size)
