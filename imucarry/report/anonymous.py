"""A visit with the person shown as a code."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any, Final, cast

from imucarry.basics.records import Notice, SensorResult, SessionScores
from imucarry.carry.earlier import History

CODE_LENGTH: Final = 6
LEAST_LETTERS: Final = 3
"""A shorter name is a code already, and would be found inside other words and numbers."""


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
    bare = replace(
        scores,
        session=session,
        sensors=tuple(_without_files(sensor) for sensor in scores.sensors),
        bouts=tuple(
            replace(bout, data=replace(bout.data, row=replace(bout.data.row, note="", extra={})))
            for bout in scores.bouts
        ),
    )
    return cast(SessionScores, _renamed(bare, _pattern(name), code))


def history_as_code(history: History, participant: str) -> History:
    """Replace the participant's name by a code in what is told of earlier visits."""
    return cast(History, _renamed(history, _pattern(participant), person_code(participant)))


def _pattern(name: str) -> re.Pattern[str]:
    """What finds a name as a word of its own; nothing where the name is too short."""
    if len(name) < LEAST_LETTERS:
        return re.compile(r"(?!)")
    return re.compile(rf"(?<!\w){re.escape(name)}(?!\w)", re.IGNORECASE)


def _without_files(sensor: SensorResult) -> SensorResult:
    recording = sensor.recording
    readings = tuple(replace(r, file=recording.placement) for r in recording.readings)
    return replace(sensor, recording=replace(recording, readings=readings))


def _renamed(tree: Any, pattern: re.Pattern[str], code: str) -> Any:
    """A copy in which no text holds the name and no notice names a file; arrays are shared."""
    if isinstance(tree, str):
        return pattern.sub(code, tree)
    if isinstance(tree, tuple):
        return tuple(_renamed(item, pattern, code) for item in tree)
    if isinstance(tree, Mapping):
        return {key: _renamed(item, pattern, code) for key, item in tree.items()}
    if is_dataclass(tree) and not isinstance(tree, type):
        changes = {f.name: _renamed(getattr(tree, f.name), pattern, code) for f in fields(tree)}
        if isinstance(tree, Notice):
            changes["file"] = ""
        return replace(tree, **changes)
    return tree
