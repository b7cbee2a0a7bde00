"""Numbers as people read them: rounded by unit, a dash where there is none."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import Final

NONE: Final = "–"  # noqa: RUF001 - the dash is meant
MINUS: Final = "\u2212"
"""The minus sign of a change that is read as a number: a hyphen is shorter, and breaks a line."""

MOST_DIGITS: Final = 6
DIGITS: Final[dict[str, int]] = {
    "deg": 1,
    "deg/s": 0,
    "s": 3,
    "%": 1,
    "{steps}/min": 1,
    "m/s": 2,
    "m": 2,
    "kg": 1,
    "1": 2,
}
BEFORE_UNIT: Final = re.compile(
    r"(?<=[0-9]) (?=(?:%|kg|deg|deg/s|m/s|m/s2|m|s|ms|Hz|ppm|steps/min)(?![\w/]))"
)
UNIT_NAMES: Final[dict[str, str]] = {
    "{steps}/min": "steps/min",
    "{strides}": "",
    "1": "",
    "%": "%",
    "kg.s": "kg·s",
}


def number(value: float, digits: int = 1) -> str:
    """A rounded number; a dash when undefined, never "-0"."""
    if not math.isfinite(value):
        return NONE
    shown = f"{value:.{digits}f}"
    return shown[1:] if float(shown) == 0 and shown.startswith("-") else shown


def with_minus(shown: str) -> str:
    """A number as shown, with a minus sign in place of the hyphen."""
    return MINUS + shown[1:] if shown.startswith("-") else shown


def signed(value: float, digits: int = 1) -> str:
    """A change: "+11.8", "0.0", and with a minus sign where it fell."""
    shown = number(value, digits)
    rose = value > 0 and math.isfinite(value) and float(shown) != 0.0
    return f"+{shown}" if rose else with_minus(shown)


def beside(value: float, limits: Sequence[float], least: int = 0) -> str:
    """A number with at least `least` decimals, and as many as show that it is not at a limit."""
    apart = (
        digits
        for digits in range(least, MOST_DIGITS)
        if all(number(value, digits) != number(lim, digits) for lim in limits if lim != value)
    )
    return number(value, next(apart, MOST_DIGITS))


def decimals(unit: str) -> int:
    """How many decimals a unit deserves."""
    return DIGITS.get(unit, 2)


def quantity(value: float, unit: str) -> str:
    """A number rounded as its unit deserves, without the unit."""
    return number(value, decimals(unit))


def kilograms(value: float) -> str:
    """A load: as few digits as it needs."""
    return f"{value:g}" if math.isfinite(value) else NONE


def unbroken(words: str) -> str:
    """Words in which no line ends between a number and its unit."""
    return BEFORE_UNIT.sub("\u00a0", words)


def unit_name(unit: str) -> str:
    """A UCUM code as people write it."""
    return UNIT_NAMES.get(unit, unit)
