"""How the words of ``rom.csv`` are understood: motion, device, population, raters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from imucarry.basics.records import RomReading
from imucarry.basics.words import plain


@dataclass(frozen=True, slots=True)
class RomDesign:
    """How a shoulder test was done, in the words of the evidence table; "" is unknown.

    ``unknown`` says in words what is not known; "" when all is.
    """

    motion: str
    active_passive: str
    rater: str
    population: str
    device: str
    unknown: str = ""


_POPULATIONS = {
    "asymptomatic": ("asymptomatic", "healthy", "no symptoms", "symptom free"),
    "adhesive_capsulitis": ("adhesive capsulitis", "frozen shoulder"),
    "impingement": ("subacromial impingement", "impingement"),
    "shoulder_pain": ("shoulder pain", "pain", "painful shoulder"),
    "symptomatic": ("symptomatic",),
}
_RATERS = {
    "same": ("same", "intra", "intrarater", "intra rater", "same rater"),
    "different": ("different", "inter", "interrater", "inter rater", "different raters"),
}


def read_motion(test: str) -> str:
    """Return the motion that a test's name says, or "" where it says none that is known."""
    words = plain(test).split()
    stems = " ".join(words)
    if "horizontal" in words or "scaption" in words:
        return ""
    if "rotation" in stems or "rot" in words or {"ir", "er"} & set(words):
        outward = {"external", "lateral", "er", "ext"} & set(words)
        inward = {"internal", "medial", "ir", "int"} & set(words)
        if bool(outward) == bool(inward):
            return ""
        return "external_rotation" if outward else "internal_rotation"
    if {"abduction", "abd"} & set(words):
        return "glenohumeral_abduction" if {"glenohumeral", "gh"} & set(words) else "abduction"
    return "flexion" if {"flexion", "flex"} & set(words) else ""


def read_device(method: str) -> str:
    """Return the kind of device: "inclinometer", "goniometer", or "" for others."""
    found = [kind for kind in ("inclinometer", "goniometer") if kind in plain(method)]
    return found[0] if len(found) == 1 else ""


def read_active_passive(word: str) -> str:
    """Return "active", "passive" or ""."""
    known = {"active": "active", "arom": "active", "passive": "passive", "prom": "passive"}
    return known.get(plain(word), "")


def read_population(word: str) -> str:
    """Return the population's name in the evidence table, or ""."""
    return next((name for name, words in _POPULATIONS.items() if plain(word) in words), "")


def read_rater(before: Sequence[RomReading], after: Sequence[RomReading]) -> str:
    """Return whether the same or different raters read before and after, or "".

    The column may say so ("same", "different"), or name the raters: one name in all
    readings is the same rater, more names are different raters.
    """
    readings = (*before, *after)
    if raters_differ(readings):
        return "different"
    return "same" if all(plain(reading.rater) for reading in readings) else ""


def raters_differ(readings: Sequence[RomReading]) -> bool:
    """Whether any readings are said to be by different raters, or name more than one.

    A reading without a rater tells nothing.
    """
    names = {plain(reading.rater) for reading in readings} - {""}
    named = names.difference(*_RATERS.values())
    return len(named) > 1 or bool(names & set(_RATERS["different"]))


def read_design(before: Sequence[RomReading], after: Sequence[RomReading]) -> RomDesign:
    """Return how a test was done before and after; "" for what is not said or not known."""
    one = before[0]
    found = {
        "motion": read_motion(one.test),
        "active_passive": read_active_passive(one.active_passive)
        or read_active_passive(_how(one.test)),
        "rater": read_rater(before, after),
        "population": read_population(one.population),
        "method": read_device(one.method),
    }
    unknown = [_unknown(name, before, after) for name, value in found.items() if not value]
    return RomDesign(
        found["motion"], found["active_passive"], found["rater"], found["population"],
        found["method"], " and ".join(unknown),
    )  # fmt: skip


def _unknown(name: str, before: Sequence[RomReading], after: Sequence[RomReading]) -> str:
    """Say of one respect that it is not given, or that no published error has its word."""
    if name == "motion":
        return "none is held for this motion"
    given = [getattr(reading, name) for reading in (*before[:1], *after[:1])]
    if name == "rater":
        given = [reading.rater for reading in (*before, *after)]
    if not all(plain(word) for word in given):
        return f"{name!r} is not given in rom.csv"
    return f"none is held for the {name.replace('_', ' or ')} {given[0]!r}"


def _how(test: str) -> str:
    """Return the word of a test's name that says active or passive."""
    return next((w for w in plain(test).split() if read_active_passive(w)), "")


def done_alike(readings: Sequence[RomReading]) -> bool:
    """Whether all readings share method, position, and active or passive."""
    ways = {
        (plain(item.method), plain(item.position), plain(item.active_passive)) for item in readings
    }
    return len(ways) == 1


def one_way(readings: Sequence[RomReading]) -> bool:
    """Whether all readings were done alike, by one rater as far as is told."""
    return done_alike(readings) and not raters_differ(readings)


def done_otherwise(before: Sequence[RomReading], after: Sequence[RomReading]) -> str:
    """Return how readings before and after were done differently.

    "passive before, active after", or the name of the column that differs within either.
    """
    said = []
    for name in ("active_passive", "method", "position"):
        then, now = ({plain(getattr(item, name)) for item in part} for part in (before, after))
        if len(then) == len(now) == 1 and then != now:
            ways = (next(iter(way)) or f"no {name.replace('_', ' or ')} given"
                    for way in (then, now))  # fmt: skip
            said.append("{} before, {} after".format(*ways))
        elif len(then | now) > 1:
            said.append(f"{name.replace('_', ' or ')} differs")
    return "; ".join(said)
