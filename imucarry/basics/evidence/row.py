"""One threshold: its value, unit, source and reason."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")

ENGINEERING_CHOICE = "engineering choice"
COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Evidence(Generic[T]):
    """A threshold or default with the ground it stands on.

    Attributes
    ----------
    key : str
        ``room.name_unit``, unique.
    value : float, int, str or tuple
        The value, in `unit`.
    unit : str
        UCUM code, ``"1"`` when it has no dimension.
    source : str
        A citation, or one of "engineering choice", "common practice, no source".
    why : str
        One sentence: why this value.
    """

    key: str
    value: T
    unit: str
    source: str
    why: str
