"""Bouts whose noted times do not fit the walking: a stopwatch beside the sensors' clock."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import worn as evidence
from imucarry.basics.records import BoutRow, FloatArray, Notice, Recording
from imucarry.motion.signals import block_length, block_means

SECOND_S = 1.0
TIMES_DO_NOT_FIT = "times_do_not_fit"
"""Code of the notice."""


def check_times(rows: Sequence[BoutRow], recording: Recording) -> tuple[Notice, ...]:
    """Return a notice where the bouts of a sheet hold more walking if all are moved alike.

    Parameters
    ----------
    rows : sequence of BoutRow
        With the times that were noted; without times nothing is asked.
    recording : Recording
        Of the chest, else of any sensor, on the session clock.

    Notes
    -----
    1. Movement second by second: the standard deviation of the size of acceleration, in
       parts of the bouts' median and at most 1, so that a brisker walk between bouts
       counts no more than theirs.
    2. Its mean over all bouts, for every shift of them by whole seconds; of shifts that
       hold as much the smallest is taken.
    """
    n_block = block_length(recording.time_s.size, recording.rate_hz, 1.0 / SECOND_S)
    moving, block_s = _movement(recording, n_block), n_block / recording.rate_hz
    first_s = float(recording.time_s[0])
    windows = np.array(
        [
            [(row.start_s - first_s) / block_s, (row.end_s - first_s) / block_s]
            for row in rows
            if math.isfinite(row.start_s)
        ]
    )
    if not windows.size or moving.size * block_s < evidence.TIMES_LEAST_S.value:
        return ()
    most = int(evidence.TIMES_MOST_S.value)
    shifts = sorted(range(-most, most + 1), key=abs)
    level = _usual(moving, windows)
    if not level > 0.0:
        return ()
    running = np.concatenate([[0.0], np.cumsum(np.minimum(moving / level, 1.0))])
    held = np.array([_held(running, windows + shift / block_s) for shift in shifts])
    best = int(np.argmax(held > held.max() - evidence.TIMES_ALIKE_FRAC.value))
    gain = float(held[best] - held[0])
    if gain < evidence.TIMES_GAIN_FRAC.value or abs(shifts[best]) < evidence.TIMES_SHIFT_S.value:
        return ()
    when = f"{abs(shifts[best])} s {'later' if shifts[best] > 0 else 'earlier'}"
    message = (
        f"The bouts sheet would fit the walking better if all its times were about {when}: "
        f"{100 * held[best]:.0f} % of the bouts' seconds would then hold walking, not "
        f"{100 * held[0]:.0f} %. Check the clock that the times were noted from."
    )
    return (Notice(TIMES_DO_NOT_FIT, message, where="start_s, end_s", severity="check"),)


def _movement(recording: Recording, n_block: int) -> FloatArray:
    """Return how much the sensor moves in each block, about a second, shape (K,) [m/s^2]."""
    squared = np.einsum("ni,ni->n", recording.acc_mps2, recording.acc_mps2)
    mean = block_means(np.sqrt(squared), n_block)
    return np.asarray(np.sqrt(np.maximum(block_means(squared, n_block) - mean**2, 0.0)))


def _usual(moving: FloatArray, windows: FloatArray) -> float:
    """Return the median movement of the blocks inside the windows, shape (B, 2)."""
    parts = [moving[max(round(a), 0) : max(round(b), 0)] for a, b in windows]
    inside = np.concatenate([np.empty(0), *parts])
    return float(np.median(inside)) if inside.size else 0.0


def _held(running: FloatArray, windows: FloatArray) -> float:
    """Return the mean of the windows' blocks, shape (B, 2); outside the recording none."""
    inside = np.interp(windows, np.arange(running.size), running)
    return float(np.diff(inside, axis=1).sum() / np.diff(windows, axis=1).sum())
