"""How the words of ``rom.csv`` are understood: motion, device, population, raters."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from imucarry.basics.records import RomReading


@dataclass(frozen=True, slots=True)
class RomDesign:
    """How a shoulder test was done, in the words of the evidence table; "" is unknown."""

    motion: str
    active_passive: str
    rater: str
    population: str
    device: str


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


def plain(word: str) -> str:
    """Lower case, with single spaces in place of everything but letters and digits."""
    return re.sub(r"[^a-z0-9]+", " ", word.lower()).strip()


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
    names = {plain(reading.rater) for reading in (*before, *after)}
    if "" in names:
        return ""
    said = {kind for kind, words in _RATERS.items() if names & set(words)}
    if said:
        return said.pop() if len(said) == 1 else ""
    return "same" if len(names) == 1 else "different"


def read_design(before: Sequence[RomReading], after: Sequence[RomReading]) -> RomDesign:
    """Return how a test was done before and after; "" for what is not said or not known."""
    one = before[0]
    return RomDesign(
        read_motion(one.test),
        read_active_passive(one.active_passive) or read_active_passive(_how(one.test)),
        read_rater(before, after),
        read_population(one.population),
        read_device(one.method),
    )


def _how(test: str) -> str:
    """Return the word of a test's name that says active or passive."""
    return next((w for w in plain(test).split() if read_active_passive(w)), "")


def done_alike(readings: Sequence[RomReading]) -> bool:
    """Whether all readings share method, position, and active or passive."""
    ways = {
        (plain(item.method), plain(item.position), plain(item.active_passive)) for item in readings
    }
    return len(ways) == 1
