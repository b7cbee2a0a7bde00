"""A visit with the person shown as a code."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from typing import Final

from imucarry.basics.records import (
    BoutResult,
    ClockFit,
    FileReading,
    Notice,
    Recording,
    SensorResult,
    SessionScores,
)

CODE_LENGTH: Final = 6


def person_code(participant: str) -> str:
    """A short code that is the same at every visit.

    It is made from the name alone, so someone who knows the name can make it too:
    it keeps the name off the page, no more.
    """
    return "C-" + hashlib.sha256(participant.encode()).hexdigest()[:CODE_LENGTH].upper()


def as_code(scores: SessionScores) -> SessionScores:
    """Replace the participant by a code; leave out file names, notes and unknown columns."""
    name = scores.session.participant
    code = person_code(name)
    session = replace(scores.session, participant=code, input_sha256=())
    return replace(
        scores,
        session=session,
        sensors=tuple(_sensor(sensor, name, code) for sensor in scores.sensors),
        bouts=tuple(_bout(bout, name, code) for bout in scores.bouts),
        notices=_notices(scores.notices, name, code),
    )


def _notices(notices: tuple[Notice, ...], name: str, code: str) -> tuple[Notice, ...]:
    return tuple(
        replace(n, message=n.message.replace(name, code) if name else n.message, file="")
        for n in notices
    )


def _bout(bout: BoutResult, name: str, code: str) -> BoutResult:
    row = replace(bout.data.row, note="", extra={})
    data = replace(bout.data, row=row, notices=_notices(bout.data.notices, name, code))
    return replace(bout, data=data, notices=_notices(bout.notices, name, code))


def _sensor(sensor: SensorResult, name: str, code: str) -> SensorResult:
    clock: ClockFit = replace(sensor.clock, notices=_notices(sensor.clock.notices, name, code))
    return replace(sensor, recording=_recording(sensor.recording, name, code), clock=clock)


def _recording(recording: Recording, name: str, code: str) -> Recording:
    readings = tuple(_reading(r, recording.placement, name, code) for r in recording.readings)
    return replace(recording, readings=readings, notices=_notices(recording.notices, name, code))


def _reading(reading: FileReading, placement: str, name: str, code: str) -> FileReading:
    return replace(reading, file=placement, notices=_notices(reading.notices, name, code))
