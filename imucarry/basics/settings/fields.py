"""What a setting is: a default from ``evidence``, and the values that it may have."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, fields
from numbers import Integral, Real
from typing import Any, TypeVar

from imucarry.basics.errors import SettingsError
from imucarry.basics.evidence import Evidence

Number = TypeVar("Number", int, float)

# A whole number may be written with more digits than a float can hold.
LARGEST = 1e300
KINDS = {float: "a number", int: "a whole number", str: "text", bool: "true or false"}


def within(default: Evidence[Number], least: Number, most: Number) -> Number:
    """Return a field with a default, and the range of its values, ends included."""
    made: Number = field(
        default=default.value, metadata={"range": (least, most), "key": default.key}
    )
    return made


def one_of(default: Evidence[str], choices: Evidence[Any]) -> str:
    """Return a field with a default, and the words that it may be."""
    made: str = field(
        default=default.value, metadata={"choices": choices.value, "key": default.key}
    )
    return made


def yes_or_no(default: Evidence[bool]) -> bool:
    """Return a field that is true or false."""
    made: bool = field(default=default.value, metadata={"key": default.key})
    return made


@dataclass(frozen=True, slots=True)
class Ranged:
    """Settings whose types and ranges are checked, also when made in Python.

    Raises
    ------
    SettingsError
        If a value is of a wrong type or out of its range; the message names the setting.
    """

    def __post_init__(self) -> None:
        for item in fields(self):
            given = getattr(self, item.name)
            value = as_kind(given, type(item.default))
            if value is None:
                kind = KINDS[type(item.default)]
                raise SettingsError(f"{item.name} must be {kind}, got {given!r}")
            least, most = item.metadata.get("range", (None, None))
            # Written so that NaN is refused too.
            if least is not None and not least <= value <= most:
                raise SettingsError(f"{item.name} must be {least:g} to {most:g}, got {value}")
            choices = item.metadata.get("choices")
            if choices and value not in choices:
                words = ", ".join(choices)
                raise SettingsError(f"{item.name} must be one of {words}, got {value!r}")
            object.__setattr__(self, item.name, value)


def as_kind(value: Any, kind: type) -> Any:
    """Return a value as a plain one of its kind, None where it is of another.

    A whole number is a number too; true and false are neither. NumPy's scalars count as
    Python's.
    """
    if type(value).__name__ in ("bool", "bool_"):
        return bool(value) if kind is bool else None
    if kind is int and isinstance(value, Integral):
        return int(value)
    if kind is float and isinstance(value, Real):
        if isinstance(value, Integral) and abs(int(value)) >= LARGEST:
            return math.inf if int(value) > 0 else -math.inf
        return float(value)
    return value if type(value) is kind else None
