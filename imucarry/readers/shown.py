"""How results call a file that a session names by an absolute path: by its name alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from imucarry.basics.records import FileReading, Notice, Recording, Session


def shown_name(file: str) -> str:
    """Return a file as results show it: as the session names it, without an absolute path."""
    return Path(file).name if Path(file).is_absolute() else file


def without_folders(session: Session) -> Session:
    """Return a session whose readings and notices show no absolute path.

    Its inputs keep theirs, so that they are known to be inputs.
    """
    absolute = [file for file, _ in session.input_sha256 if shown_name(file) != file]
    if not absolute:
        return session
    names = {file: shown_name(file) for file in sorted(absolute, key=len, reverse=True)}
    return replace(
        session,
        recordings=tuple(_recording(recording, names) for recording in session.recordings),
        notices=_notices(session.notices, names),
        bouts_file=shown_name(session.bouts_file),
        rom_file=shown_name(session.rom_file),
    )


def _recording(recording: Recording, names: Mapping[str, str]) -> Recording:
    readings = tuple(_reading(reading, names) for reading in recording.readings)
    return replace(recording, readings=readings, notices=_notices(recording.notices, names))


def _reading(reading: FileReading, names: Mapping[str, str]) -> FileReading:
    file = shown_name(reading.file)
    return replace(reading, file=file, notices=_notices(reading.notices, names))


def _notices(notices: Iterable[Notice], names: Mapping[str, str]) -> tuple[Notice, ...]:
    return tuple(_notice(notice, names) for notice in notices)


def _notice(notice: Notice, names: Mapping[str, str]) -> Notice:
    message = notice.message
    for file, name in names.items():
        message = message.replace(file, name)
    return replace(notice, message=message, file=shown_name(notice.file))
