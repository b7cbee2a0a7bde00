"""Accelerometer and gyroscope in files of their own: whether they share a clock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import Notice, Recording
from imucarry.readers.parts import Part, RawStream
from imucarry.readers.roles import KIND_NAMES

HALVES_APART: Final = "halves_apart"
KINDS: Final = "one has {first}, the other {second}"
OWN_START: Final = "each counts from its own first sample"
NO_TIMES: Final = "neither has times"
CLOCKS: Final = {
    "utc": "date and time",
    "local": "date and time",
    "day": "the time of day",
    "elapsed": "times from some start",
    "rows": "no times",
}
CONSEQUENCE: Final = (
    "if one began later, steps may be given to the wrong foot and angles are off; export both in"
    " one file, or both with date and time"
)


def halves_apart(parts: Sequence[Part], streams: Sequence[RawStream]) -> list[Notice]:
    """Tell of two files of one sensor without a common clock.

    A check where they are not equally long, else a note: what starts and ends together has
    the same length.

    Parameters
    ----------
    parts : sequence of Part
    streams : sequence of RawStream
        Their accelerometer and gyroscope.
    """
    why = _why_apart(parts, streams)
    if not why:
        return []
    shorter, longer = sorted(streams, key=_length_s)
    differ_s = _length_s(longer) - _length_s(shorter)
    slower_s = max(stream.times.period_s for stream in streams)
    alike = differ_s <= evidence.HALVES_ALIKE_STEPS.value * slower_s
    told = (
        "they are equally long"
        if alike
        else f"the {KIND_NAMES[shorter.kind]} is {differ_s:.2f} s shorter"
    )
    message = (
        "accelerometer and gyroscope are in two files without a common clock"
        f" ({why}) and were taken to start together; {told}{'' if alike else f': {CONSEQUENCE}'}"
    )
    files = " and ".join(part.table.file for part in parts)
    return [Notice(HALVES_APART, message, file=files, severity="note" if alike else "check")]


def told_once(recordings: Sequence[Recording]) -> tuple[list[Recording], list[Notice]]:
    """Put such checks of several sensors into one, which then stands for the session.

    Returns
    -------
    recordings : list of Recording
        Without those checks, if there are several.
    notices : list of Notice
    """
    found = [
        notice
        for recording in recordings
        for notice in recording.notices
        if notice.code == HALVES_APART and notice.severity == "check"
    ]
    if len(found) < 2:
        return list(recordings), []
    kept = [replace(r, notices=tuple(n for n in r.notices if n not in found)) for r in recordings]
    message = next(iter({n.message for n in found})) if _one_message(found) else _general(found)
    return kept, [replace(found[0], message=message, file="; ".join(n.file for n in found))]


def _one_message(found: Sequence[Notice]) -> bool:
    return len({notice.message for notice in found}) == 1


def _general(found: Sequence[Notice]) -> str:
    """Return what several checks have in common, without how much shorter each is."""
    before, _, _ = found[0].message.partition("; the ")
    return f"{before}; they are not equally long: {CONSEQUENCE}"


def _why_apart(parts: Sequence[Part], streams: Sequence[RawStream]) -> str:
    """Return why two files have no common clock, "" where they have one or there is one file."""
    if len(parts) < 2 or len(streams) < 2:
        return ""
    clocks = list(dict.fromkeys(part.times.clock for part in parts))
    if len(clocks) > 1:
        return KINDS.format(first=CLOCKS[clocks[0]], second=CLOCKS[clocks[1]])
    if clocks == ["rows"]:
        return NO_TIMES
    if clocks == ["elapsed"] and all(_from_own_start(part, streams) for part in parts):
        return OWN_START
    return ""


def _from_own_start(part: Part, streams: Sequence[RawStream]) -> bool:
    """Whether the first time of a file is 0, or one sample after it."""
    period_s = next((s.times.period_s for s in streams if s.file == part.table.file), 0.0)
    near_s = evidence.EVEN_STAMPS_FRAC.value * period_s
    return min(abs(part.times.start_s), abs(part.times.start_s - period_s)) <= near_s


def _length_s(stream: RawStream) -> float:
    return float(stream.times.time_s[-1] - stream.times.time_s[0])
