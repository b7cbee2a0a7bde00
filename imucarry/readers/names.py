"""What a column's name says: quantity, axis, unit and sensor, by a generic grammar.

A name is cut into words at brackets, marks, spaces and changes of case. Words
for the quantity, the axis, the unit and the place on the body are looked up;
what is left names the sensor.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from imucarry.readers.lexicon import (
    ACC_WORDS,
    AXES,
    AXIS_NUMBERS,
    CHEST_WORDS,
    COUNTER_WORDS,
    FREE_OF_GRAVITY,
    GRAVITY_WORDS,
    GYR_WORDS,
    LEFT_WORDS,
    LETTER_KINDS,
    NEUTRAL_WORDS,
    OTHER_WORDS,
    PLACEMENT_SHORT,
    RIGHT_WORDS,
    SENSOR_WORDS,
    SPELLINGS,
    STRANGE_UNITS,
    TIME_WORDS,
    TYPE_WORDS,
    WRIST_WORDS,
)

KNOWN_WORDS = ACC_WORDS | GYR_WORDS | OTHER_WORDS | GRAVITY_WORDS
LONG_WORDS = "|".join(sorted(KNOWN_WORDS, key=len, reverse=True))
NUMBERED_TIME = re.compile(rf"({'|'.join(sorted(TIME_WORDS, key=len, reverse=True))})(\d+)")
GLUED = re.compile(rf"({LONG_WORDS}|[awgm])([xyz])(\d*)")
AXIS_OF_SENSOR = re.compile(r"([xyz])(\d+)")
GLUED_BACK = re.compile(rf"([xyz])({LONG_WORDS})")
NUMBERED = re.compile(rf"({LONG_WORDS})(\d+)")
UNIT_MARKS = frozenset("/^\u00b2\u00b0\u207b")
BRACKETS = re.compile(r"[\[({<]([^\[\](){}<>]*)[\])}>]")
RATE = re.compile(r"[@ ]*\d+(?:[.,]\d+)? *k?hz *", re.IGNORECASE)
WORD = re.compile(r"[A-Z]{2,}(?=[xyz](?![a-z]))|[A-Z]+(?![a-z])\d*|[A-Z]?[a-z]+\d*|\d+")
SIGNS = str.maketrans(
    {"\u03c9": " omega ", "\u03a9": " omega ", "\u2126": " omega ", "\u2093": "_x", "\u02e3": "_x",
     "\u1d67": "_y", "\u02b8": "_y", "\u1dbb": "_z", "\u0142": "l", "\u0141": "L", "\u00f8": "o",
     "\u00d8": "O", "\u00df": "ss"}
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class NameParts:
    """What one name says.

    ``kind`` is "acc", "gyr", "gravity", "other", "time", "counter", "sensor", "type" or "";
    ``axis`` "x", "y", "z", a number that may stand for one ("1", "2", "3") or "";
    ``unit`` is "" where the name is silent; ``strange_unit`` is one that it names and that is not
    known.
    """

    kind: str = ""
    axis: str = ""
    unit: str = ""
    group: str = ""
    free_of_gravity: bool = False
    strange_unit: str = ""


def squeezed_unit(text: str) -> str:
    """Return the letters and digits of a unit's spelling, powers and marks evened out."""
    text = text.strip()
    for old, new in (
        ("²", "2"),
        ("⁻¹", ""),
        ("⁻²", "2"),
        ("⁻", "-"),
        ("°", "deg"),
        ("º", "deg"),
        ("˚", "deg"),
        ("µ", "u"),
        ("μ", "u"),
    ):
        text = text.replace(old, new)
    text = re.sub(r"\ufffd+(?=\s*/\s*s)", "deg", text)  # a degree sign lost to a wrong encoding
    text = re.sub(r"(?<=s)(?:ec)?[\s^*]*(?:-1|-?\(1\))$", "", text)
    return re.sub(r"[^a-z0-9]", "", text.lower())


def unit_of(text: str, quantity: str) -> str:
    """Return the unit that a text spells for "acc", "gyr" or "time", or ""."""
    return SPELLINGS[quantity].get(squeezed_unit(text), "")


def unit_anywhere(text: str) -> str:
    """Return the unit that a text spells for any quantity, or ""."""
    text = text.strip().strip("[](){}<>")
    spelled = (unit_of(text, quantity) for quantity in SPELLINGS)
    found = next((unit for unit in spelled if unit), "")
    return found or (
        text.lower() if text.lower() in ("ut", "t", "degc", "hz", "a.u.", "au") else ""
    )


def is_axis_only(text: str) -> bool:
    """Whether a header cell is nothing but an axis (with or without a unit)."""
    return BRACKETS.sub("", text).strip().lower() in AXES


@lru_cache(maxsize=1024)
def parse_name(name: str, unit_cell: str = "") -> NameParts:
    """Take a column's name apart.

    Parameters
    ----------
    name : str
        The header cell.
    unit_cell : str, optional
        The cell of the units row under it.
    """
    stem, unit_texts = _without_unit(_in_plain_letters(name))
    unit_texts = [text for text in (unit_cell.strip("[](){}<> "), *unit_texts) if text]
    words = _apart([word for raw in _words(stem) for word in _unglued(raw)], NUMBERED)
    words = _without_and(words)
    kind, axis, used = _kind_and_axis(words)
    tail = words[max(used) + 1 :] if used else []
    rest = [word for index, word in enumerate(words) if index not in used]
    free = bool(FREE_OF_GRAVITY & set(words)) or "".join(words[:2]) in FREE_OF_GRAVITY
    if not kind and not axis:
        return _no_axis(words, unit_texts)
    kind, unit, taken = _unit(kind, unit_texts, tail)
    strange = ""
    if kind in ("acc", "gyr") and not unit:
        strange, taken = _strange_unit(name, unit_cell, tail)
    if taken:
        rest = rest[: len(rest) - taken]
    if kind == "gravity":
        rest = [word for word in rest if word not in ACC_WORDS]
    return NameParts(kind, axis, unit, _group(rest), free, strange)


def placement_of(label: str) -> str:
    """Return the placement that a label's words name, or ""."""
    words = set(_words(label)) | {re.sub(r"[^a-z]", "", label.lower())}
    short = next((PLACEMENT_SHORT[word] for word in words if word in PLACEMENT_SHORT), "")
    if short:
        return short
    if words & WRIST_WORDS or ("arm" in words and words & {"fore", "lower"}):
        if words & LEFT_WORDS:
            return "left_wrist"
        return "right_wrist" if words & RIGHT_WORDS else ""
    return "chest" if words & CHEST_WORDS else ""


def kind_of_word(word: str) -> str:
    """Return "acc", "gyr", "gravity" or "" for a column's cell, or a part of a file's name."""
    word = _in_plain_letters(word)
    words = set(_words(word)) | {re.sub(r"[^a-z]", "", word.lower())}
    is_acc, is_gyr = bool(words & ACC_WORDS) or words == {"a"}, bool(words & GYR_WORDS)
    if not (is_acc or is_gyr):
        return "gravity" if words & GRAVITY_WORDS else ""
    return "" if is_acc and is_gyr else ("acc" if is_acc else "gyr")


def plain_words(text: str) -> list[str]:
    """Return the words of a text, in small letters without accents."""
    return _words(_in_plain_letters(text))


def _in_plain_letters(text: str) -> str:
    """Return a text without accents, signs of the trade as words; units keep their marks."""
    if text.isascii():
        return text
    apart = unicodedata.normalize("NFD", text.translate(SIGNS))
    return "".join(mark for mark in apart if not unicodedata.combining(mark))


def _without_unit(name: str) -> tuple[str, list[str]]:
    """Cut a bracketed unit off a name; brackets that hold no unit stay as words."""
    units = [text for text in BRACKETS.findall(name) if unit_anywhere(text)]
    stem = BRACKETS.sub(lambda hit: " " if unit_anywhere(hit[1]) else f" {hit[1]} ", name)
    return stem, units


def _words(text: str) -> list[str]:
    return [word.lower() for word in WORD.findall(text)]


def _unglued(word: str) -> list[str]:
    """Split "accx" and "xgyro" into quantity and axis, "ax1" and "x1" at the sensor's number."""
    if match := GLUED.fullmatch(word):
        return [part for part in match.groups() if part]
    if match := AXIS_OF_SENSOR.fullmatch(word):
        return [match[1], match[2]]
    if match := GLUED_BACK.fullmatch(word):
        return [match[2], match[1]]
    return [word]


def _kind_and_axis(words: Sequence[str]) -> tuple[str, str, list[int]]:
    """Return quantity, axis and the positions of the words that tell them."""
    axis_at = [index for index, word in enumerate(words) if word in AXES]
    if not axis_at:  # a number right after the quantity may count the axes
        axis_at = [
            index
            for index, (before, word) in enumerate(pairwise(words), 1)
            if word in AXIS_NUMBERS and _kind_of(before) in ("acc", "gyr")
        ]
    axis = words[axis_at[-1]] if axis_at else ""
    used = axis_at[-1:]
    joined = {index: "".join(words[index : index + 2]) for index in range(len(words) - 1)}
    for index, word in enumerate(words):
        pair = _kind_of(joined.get(index, ""))
        if pair:
            return pair, axis, [*used, index, index + 1]
        if kind := _kind_of(word):
            return kind, axis, [*used, index]
    before = axis_at[-1] - 1 if axis_at else -1
    if axis and before >= 0 and words[before] in LETTER_KINDS:
        return LETTER_KINDS[words[before]], axis, [*used, before]
    return "", axis, used


def _without_and(words: Sequence[str]) -> list[str]:
    """Leave out the "y" between a date and a time ("Fecha y hora"), which is no axis."""
    near = zip(["", *words], words, [*words[1:], ""], strict=False)
    return [word for a, word, b in near if word != "y" or not {a, b} <= TIME_WORDS]


def _apart(words: Sequence[str], pattern: re.Pattern[str]) -> list[str]:
    """Split "acc1" into quantity and number: of a sensor, or of an axis where none is named."""
    hits = [pattern.fullmatch(word) for word in words]
    return [
        part
        for word, hit in zip(words, hits, strict=True)
        for part in ((hit[1], hit[2]) if hit else (word,))
    ]


def _kind_of(word: str) -> str:
    if word in OTHER_WORDS:
        return "other"
    if word in ACC_WORDS:
        return "acc"
    if word in GRAVITY_WORDS:
        return "gravity"
    return "gyr" if word in GYR_WORDS else ""


def _unit(kind: str, bracketed: Sequence[str], tail: Sequence[str]) -> tuple[str, str, int]:
    """Return quantity, unit, and how many words at the end of the name spelled it."""
    if kind == "gravity":
        _, unit, taken = _unit("acc", bracketed, tail)
        return kind, unit, taken
    quantities = (kind,) if kind in ("acc", "gyr") else (("acc", "gyr") if not kind else ())
    for quantity in quantities:
        for text in bracketed:
            if unit := unit_of(text, quantity):
                return quantity, unit, 0
        for start in range(len(tail)):
            if unit := unit_of("".join(tail[start:]), quantity):
                return quantity, unit, len(tail) - start
    return kind, "", 0


def _strange_unit(name: str, unit_cell: str, tail: Sequence[str]) -> tuple[str, int]:
    """Return a unit that is named and not known, and how many words at the end spelled it."""
    cell = unit_cell.strip("[](){}<> -")
    if cell and not unit_anywhere(cell) and not RATE.fullmatch(cell):
        return cell, 0
    for text in BRACKETS.findall(name):
        words = _words(_in_plain_letters(text))
        if RATE.fullmatch(text) and words == list(tail[len(tail) - len(words) :]):
            return "", len(words)
        if UNIT_MARKS & set(text) or squeezed_unit(text) in STRANGE_UNITS:
            return text.strip(), len(words) if list(tail[len(tail) - len(words) :]) == words else 0
    for start in range(len(tail)):
        if "".join(tail[start:]) in STRANGE_UNITS:
            return " ".join(tail[start:]), len(tail) - start
    return "", 0


def _no_axis(words: Sequence[str], bracketed: Sequence[str]) -> NameParts:
    """Read a name without quantity and axis: time, counter, sensor, type or nothing."""
    words = _apart(words, NUMBERED_TIME)
    found = set(words) | {"".join(words)}
    texts = [*bracketed, *words, "".join(words[1:])]
    unit = next((unit for text in texts if (unit := unit_of(text, "time"))), "")
    if found & TYPE_WORDS:
        return NameParts("type")
    if found & SENSOR_WORDS and not found & TIME_WORDS:
        return NameParts("sensor")
    rest = [word for word in words if word not in TIME_WORDS | COUNTER_WORDS]
    if found & TIME_WORDS:
        return NameParts("time", unit=unit, group=_group(_without_time_unit(rest)))
    if found & COUNTER_WORDS:
        return NameParts("counter", group=_group(rest))
    if unit := unit_of("".join(words), "time"):
        return NameParts("time", unit=unit)
    return NameParts()


def _without_time_unit(words: Sequence[str]) -> Sequence[str]:
    """Return words without a unit of time at their end."""
    return words[:-1] if words and unit_of(words[-1], "time") else words


def _group(words: Sequence[str]) -> str:
    return "_".join(
        word for word in words if word not in NEUTRAL_WORDS and word not in FREE_OF_GRAVITY
    )
