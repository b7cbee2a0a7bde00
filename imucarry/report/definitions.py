"""What each measure means, taken from the one table of measures."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from imucarry.measures.table import MEASURES


@dataclass(frozen=True, slots=True)
class Meaning:
    """Label, unit, definition and source of one measure, and the table it stands in."""

    label: str
    unit: str
    definition: str
    source: str
    group: str


@cache
def meanings() -> dict[str, Meaning]:
    """Every measure by its id, in the order of the table."""
    return {m.id: Meaning(m.label, m.unit, m.definition, m.source, m.group) for m in MEASURES}
