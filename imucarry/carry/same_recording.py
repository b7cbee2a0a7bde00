"""One recording that stands for two visits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from imucarry.basics.records import Notice, SessionScores

Files = tuple[tuple[str, str], ...]
"""The sha256 and the name of each file of a visit's sensors."""

SAME_RECORDING: Final = "same_recording"
"""Code of the notice."""

MOST_NAMED: Final = 4


def recordings_of(result: SessionScores) -> Files:
    """Return the files that the sensors of a visit were read from."""
    found = (
        (reading.sha256, reading.file)
        for recording in result.session.recordings
        for reading in recording.readings
        if reading.sha256
    )
    return tuple(sorted(set(found)))


def recordings_of_run(run: Mapping[str, Any]) -> Files:
    """Return the same from a ``run.json``; () where it does not say."""
    try:
        found = {
            (str(reading["sha256"]), str(reading["file"]))
            for sensor in run["sensors"]
            for reading in sensor["understood"]
        }
    except (KeyError, TypeError):
        return ()
    return tuple(sorted(found))


def same_recordings(visits: Sequence[tuple[str, Files]]) -> tuple[Notice, ...]:
    """Tell of files of sensors that several visits share.

    Parameters
    ----------
    visits : sequence of (name, Files)

    Returns
    -------
    tuple of Notice
        A check for each group of visits, with the files that they share.
    """
    holders: dict[str, list[int]] = {}
    files: dict[str, str] = {}
    for place, (_, listed) in enumerate(visits):
        for digest, file in listed:
            files.setdefault(digest, file)
            if place not in holders.setdefault(digest, []):
                holders[digest].append(place)
    shared: dict[tuple[int, ...], list[str]] = {}
    for digest, places in holders.items():
        if len(places) > 1:
            shared.setdefault(tuple(places), []).append(files[digest])
    return tuple(
        Notice(SAME_RECORDING, _said([visits[k][0] for k in places], names), severity="check")
        for places, names in sorted(shared.items())
    )


def _said(visits: Sequence[str], files: Sequence[str]) -> str:
    named = ", ".join(sorted(set(files)))
    whole = [*visits[:MOST_NAMED], *(["..."] if len(visits) > MOST_NAMED else [])]
    last = " and ".join([", ".join(whole[:-1]), whole[-1]])
    one = "one of them has" if len(visits) == 2 else "all but one of them have"
    return (
        f"{last} hold the same recording ({named}): {one} the wrong files, unless one recording "
        "was cut in parts"
    )
