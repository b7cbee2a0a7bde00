"""Shoulder tests around several bouts: which sittings are compared, and what lies between."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.records import BoutRow, Notice, RetestFinding, RomReading

SEVERAL_BOUTS = "rom_several_bouts"
MOST_NAMED = 6


def first_and_last(
    readings: Sequence[RomReading], bouts: Sequence[str] = ()
) -> tuple[list[RomReading], list[RomReading]]:
    """Return the readings of the first sitting before and of the last one after.

    Parameters
    ----------
    readings : sequence of RomReading
        Of one test and side.
    bouts : sequence of str, optional
        Names of the session's bouts in the order of time. Without them numbers are taken
        in their order, other names in that of the readings.

    Returns
    -------
    before, after : list of RomReading
        Readings that name no bout, or an unknown one, stand around the whole visit. Those
        after a bout that is earlier than the first sitting before are left out.
    """
    names = bouts or _in_order(readings)
    place = {name: k for k, name in enumerate(names)}
    before, after = (
        [(place.get(item.bout, at), item) for item in readings if item.when == when]
        for when, at in (("before", -1), ("after", len(place)))
    )
    first = min((at for at, _ in before), default=-1)
    after = [(at, item) for at, item in after if at >= first]
    last = max((at for at, _ in after), default=-1)
    return _one_sitting(before, first), _one_sitting(after, last)


def _one_sitting(placed: Sequence[tuple[int, RomReading]], at: int) -> list[RomReading]:
    """Return the readings at one place; of two unknown names there, those of the first."""
    there = [item for place, item in placed if place == at]
    return [item for item in there if item.bout == there[0].bout]


def _in_order(readings: Sequence[RomReading]) -> list[str]:
    names = [item.bout for when in ("before", "after") for item in readings if item.when == when]
    named = [name for name in dict.fromkeys(names) if name]
    return sorted(named, key=int) if all(name.isdecimal() for name in named) else named


def bouts_between(
    finding: RetestFinding, readings: Sequence[RomReading], bouts: Sequence[BoutRow]
) -> tuple[BoutRow, ...]:
    """Return the bouts between a test before and after that loaded its side.

    From the bout that the readings before name to the one that those after name; readings
    that name none stand around the whole visit. A test of no side, or of both, stands
    around the bouts of either.
    """
    own = [item for item in readings if (item.test, item.side) == (finding.test, finding.side)]
    rows = sorted(bouts, key=lambda row: row.start_s)
    names = [row.bout for row in rows]
    before, after = first_and_last(own, names)
    begin = next((names.index(item.bout) for item in before if item.bout in names), 0)
    end = next((names.index(item.bout) for item in after if item.bout in names), len(names) - 1)
    either = finding.side not in ("left", "right")
    return tuple(
        row
        for row in rows[begin : end + 1]
        if row.hold != "free" and (either or row.loaded_side in (finding.side, "both"))
    )


def sitting_notices(
    readings: Sequence[RomReading], bouts: Sequence[str] = ()
) -> tuple[Notice, ...]:
    """Return a check for each test and side that was done before or after several bouts.

    Parameters
    ----------
    readings : sequence of RomReading
    bouts : sequence of str, optional
        As in `first_and_last`.
    """
    said = []
    for test, side in sorted({(item.test, item.side) for item in readings}):
        own = [item for item in readings if (item.test, item.side) == (test, side)]
        name = " ".join(part for part in (test.replace("_", " "), side) if part)
        said += [f"{name}: {what}" for what in _told(own, bouts)]
    return tuple(Notice(SEVERAL_BOUTS, text, severity="check") for text in said)


def _told(readings: Sequence[RomReading], bouts: Sequence[str]) -> list[str]:
    before, after = first_and_last(readings, bouts)
    sittings = {(item.when, item.bout) for item in readings}
    whens = {when for when, _ in sittings}
    if len(whens) > 1 and not after:
        return ["the tests after are around earlier bouts than those before: they are not compared"]
    if len(sittings) == len(whens) or not (before and after):
        return []
    means = [text for name in _in_order(readings) for text in _around(name, readings)]
    several = means[:MOST_NAMED] + (["..."] if len(means) > MOST_NAMED else [])
    around = f" ({'; '.join(several)})" if several else ""
    return [
        f"tests before or after name several bouts: those before{_bout(before)} are compared with "
        f"those after{_bout(after)}{around}"
    ]


def _bout(readings: Sequence[RomReading]) -> str:
    return f" bout {readings[0].bout[:40]}" if readings[0].bout else " that name no bout"


def _around(name: str, readings: Sequence[RomReading]) -> list[str]:
    """ "around bout 4: 60.3 to 66.3 deg", where it was tested before and after; [] else."""
    before, after = (
        [item.value_deg for item in readings if (item.when, item.bout) == (when, name)]
        for when in ("before", "after")
    )
    if not (before and after):
        return []
    return [f"around bout {name[:40]}: {np.mean(before):.1f} to {np.mean(after):.1f} deg"]
