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
    return tuple(
        same_notice([visits[k][0] for k in places], names)
        for places, names in shared([listed for _, listed in visits])
    )


def shared(visits: Sequence[Files]) -> list[tuple[tuple[int, ...], list[str]]]:
    """Return what several visits hold: their places, and the names of what they share.

    Parameters
    ----------
    visits : sequence of Files
        Of each visit what it holds: a digest and a name each.
    """
    holders: dict[str, list[int]] = {}
    names: dict[str, str] = {}
    for place, listed in enumerate(visits):
        for digest, name in listed:
            names.setdefault(digest, name)
            if place not in holders.setdefault(digest, []):
                holders[digest].append(place)
    found: dict[tuple[int, ...], list[str]] = {}
    for digest, places in holders.items():
        if len(places) > 1:
            found.setdefault(tuple(places), []).append(names[digest])
    return sorted(found.items())


def same_notice(visits: Sequence[str], files: Sequence[str]) -> Notice:
    """Return the check that visits share files, each by its name."""
    named = ", ".join(sorted(set(files)))
    whole = [*visits[:MOST_NAMED], *(["..."] if len(visits) > MOST_NAMED else [])]
    last = " and ".join([", ".join(whole[:-1]), whole[-1]])
    one = "one of them has" if len(visits) == 2 else "all but one of them have"
    message = (
        f"{last} hold the same recording ({named}): {one} the wrong files, unless one recording "
        "was cut in parts"
    )
    return Notice(SAME_RECORDING, message, severity="check")
