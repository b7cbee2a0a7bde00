"""Bouts that lie outside the recording of a sensor: it was switched on late, or off early."""

from __future__ import annotations

from collections.abc import Sequence

from imucarry.basics.evidence import worn as evidence
from imucarry.basics.records import BoutData, Notice, SensorResult


def check_covered(bouts: Sequence[BoutData], sensors: Sequence[SensorResult]) -> tuple[Notice, ...]:
    """Return a notice for each sensor that did not record all of every bout.

    Parameters
    ----------
    bouts : sequence of BoutData
    sensors : sequence of SensorResult
        On the session clock.
    """
    return tuple(notice for sensor in sensors for notice in _outside(bouts, sensor))


def _outside(bouts: Sequence[BoutData], sensor: SensorResult) -> list[Notice]:
    time_s = sensor.recording.time_s
    first_s, last_s = float(time_s[0]), float(time_s[-1])
    most_s = evidence.UNCOVERED_MOST_S.value
    early = [bout.row.bout for bout in bouts if bout.row.start_s < first_s - most_s]
    late = [bout.row.bout for bout in bouts if bout.row.end_s > last_s + most_s]
    placement = sensor.recording.placement
    ends = ((early, f"begins at {first_s:.0f} s"), (late, f"ends at {last_s:.0f} s"))
    return [
        Notice(
            code="sensor_not_recording",
            message=f"The recording {when}: it lacks part or all of "
            f"{'bout' if len(named) == 1 else 'bouts'} {', '.join(named)}.",
            where=placement,
            severity="check",
        )
        for named, when in ends
        if named
    ]
