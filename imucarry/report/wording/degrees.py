"""Readings in degrees: without decimals where all of them are whole."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from imucarry.basics.records import RetestFinding
from imucarry.report.wording.numbers import number, signed

NO_TENTHS: Final = ".0"
NEARLY: Final = 1e-6
"""Means of whole degrees are not exact in binary."""


def all_whole(readings_deg: Iterable[float]) -> bool:
    """Whether every reading that is there [deg] is a whole number."""
    return all(abs(value - round(value)) < NEARLY for value in readings_deg if math.isfinite(value))


def tests_whole(findings: Iterable[RetestFinding]) -> bool:
    """Whether all shoulder tests were read in whole degrees, before and after."""
    return all(all_whole((found.before_deg, found.after_deg)) for found in findings)


def degrees(value: float, digits: int = 1, *, whole: bool) -> str:
    """A number of degrees; "80" for 80.0 where all readings are `whole`."""
    return _trimmed(number(value, digits), digits, whole)


def signed_degrees(value: float, digits: int = 1, *, whole: bool) -> str:
    """A change in degrees; "+7" for 7.0 where all readings are `whole`."""
    return _trimmed(signed(value, digits), digits, whole)


def _trimmed(shown: str, digits: int, whole: bool) -> str:
    return shown.removesuffix(NO_TENTHS) if whole and digits == 1 else shown
