"""What each measure means, taken from the one table of measures."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Meaning:
    """Label, unit, definition and source of one measure, and the table it stands in."""

    label: str
    unit: str
    definition: str
    source: str
    group: str


def meanings() -> dict[str, Meaning]:
    """Every measure by its id, in the order of the table."""
    return {}
