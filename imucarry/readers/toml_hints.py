"""What to write instead of a line of a session file that cannot be read."""

from __future__ import annotations

import re
import tomllib
from typing import Final

from imucarry.readers.words import printable

CURLY_DOUBLE: Final = "\u201c\u201d\u201e\u00ab\u00bb"
CURLY: Final = CURLY_DOUBLE + "\u2018\u2019"
OF_NUMBERS: Final = ("_kg", "_m", "_hz", "_s", "_scale")
"""Ends of keys that hold a number."""

LINE: Final = re.compile(r"\s*(?P<key>[\w-]+)\s*(?P<mark>[=:])\s*(?P<value>[^#]*)")
NUMBER: Final = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
NUMBER_AND_UNIT: Final = re.compile(r"(?P<number>[+-]?\d+(?:[.,]\d+)?)\s*[A-Za-z%\u00b0/\u00b2]+")
DATE: Final = re.compile(r"\d{1,4}[./-]\d{1,2}[./-]\d{1,4}")
LEADING_ZEROS: Final = re.compile(r"(?P<sign>[+-]?)0+(?P<number>\d+(?:[.,]\d+)?)")
BARE: Final = re.compile(r"[^\W\d][\w .-]*|\d+[A-Za-z][\w .-]*")


def how_to_write(line: str) -> str:
    """ "68,0 cannot be read; write the number with a point: ...", or "" where not known.

    Parameters
    ----------
    line : str
        The line that cannot be read.
    """
    found = LINE.match(line)
    if found is None:
        return ""
    key, value = found["key"], printable(found["value"].strip())
    said = _instead(key, value)
    if said:
        return f"{value} cannot be read; write {said}"
    return f"write {key} = {value}, with = for the colon" if found["mark"] == ":" else ""


def _instead(key: str, value: str) -> str:
    """Return what to write instead of a value; "" where it is not known."""
    if any(mark in value for mark in CURLY):
        straight = _straight(value)
        return f"straight quotes: {key} = {straight}" if straight else ""
    if "\\" in value:
        return f"/ instead of \\ in paths: {key} = {value.replace(chr(92), '/')}"
    if DATE.fullmatch(value):
        return "the date as year-month-day: date = 2026-03-14"
    zeros = LEADING_ZEROS.fullmatch(value)
    if zeros and key.endswith(OF_NUMBERS):
        number = zeros["sign"] + zeros["number"].replace(",", ".")
        return f"the number without 0 before it: {key} = {number}"
    if NUMBER.fullmatch(value) and "," in value:
        return f"the number with a point: {key} = {value.replace(',', '.')}"
    with_unit = NUMBER_AND_UNIT.fullmatch(value)
    if with_unit and key.endswith(OF_NUMBERS):
        return f"the number without a unit: {key} = {with_unit['number'].replace(',', '.')}"
    return (
        f'it in straight quotes: {key} = "{value}"'
        if value.isdigit() or BARE.fullmatch(value)
        else ""
    )


def _straight(value: str) -> str:
    """Return a value with straight quotes and /, "" where that is no TOML either."""
    all_double = value.translate(dict.fromkeys(map(ord, CURLY), '"'))
    by_kind = value.translate(
        {ord(mark): '"' if mark in CURLY_DOUBLE else "'" for mark in CURLY}
    ).replace("\\", "/")
    bare = by_kind.strip(" \"'")
    for tried in (all_double.replace("\\", "/"), by_kind, f'"{bare}"'):
        try:
            tomllib.loads(f"value = {tried}")
        except (tomllib.TOMLDecodeError, RecursionError):
            continue
        return tried
    return ""
