"""What of a bout a sensor did not record, and when."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import report as evidence
from imucarry.basics.records import BoolArray, BoutData, BoutRow, FloatArray, SensorResult, Side

Spans = tuple[tuple[float, float], ...]
"""Starts and ends [s]."""


def wrist_lacks(data: BoutData, side: Side) -> str:
    """Why the recording of a wrist leaves too few strides, as a reason code; "" where it does not.

    Without any sample in the bout the sensor was not recording; with some, it recorded less than
    half of it; with half of them, but fewer that can be used, samples were missing or stood still.
    """
    arm = data.arms.get(side)
    duration_s = data.row.end_s - data.row.start_s
    if arm is None or not duration_s > 0.0:
        return ""
    inside = (arm.time_s >= data.row.start_s) & (arm.time_s <= data.row.end_s)
    needed = evidence.WRIST_RECORDED_SHARE.value * duration_s * arm.rate_hz
    if not inside.any():
        return "wrist_not_recording"
    if np.count_nonzero(inside) < needed:
        return "wrist_recorded_part"
    return "wrist_gaps" if np.count_nonzero(inside & arm.usable) < needed else ""


def chest_gaps(data: BoutData) -> Spans:
    """When samples of the chest sensor are missing within a bout."""
    trunk = data.trunk
    if trunk is None:
        return ()
    return _within(data.row, unusable(trunk.usable, trunk.time_s))


def gaps_in_bouts(
    sensor: SensorResult, rows: Sequence[BoutRow]
) -> tuple[tuple[BoutRow, Spans], ...]:
    """The bouts in which samples of a sensor are missing, and when.

    Spells in which its values stood still are told elsewhere and left out.
    """
    recording = sensor.recording
    holes = tuple(
        (float(recording.time_s[a]), float(recording.time_s[b - 1]))
        for a, b in recording.gaps
        if np.ptp(recording.acc_mps2[a:b], axis=0).any()
    )
    found = ((row, _within(row, holes)) for row in rows)
    return tuple((row, spans) for row, spans in found if spans)


def unusable(usable: BoolArray, time_s: FloatArray) -> Spans:
    """From the first to the last sample of each run that cannot be used."""
    edges = np.flatnonzero(np.diff(np.concatenate([[True], usable, [True]]).astype(int)))
    return tuple((float(time_s[a]), float(time_s[b - 1])) for a, b in edges.reshape(-1, 2))


def _within(row: BoutRow, spans: Spans) -> Spans:
    cut = ((max(start, row.start_s), min(end, row.end_s)) for start, end in spans)
    return tuple((start, end) for start, end in cut if end > start)
