"""Every threshold and default of the package, with its source.

One module a room; each lists its rows as module constants made by
:func:`~imucarry.basics.evidence.row.evidence`. Code uses ``NAME.value``;
``imucarry sources`` and the report list the rows. A new threshold is one new
constant in the module of its room: nothing else needs to know.
"""

from __future__ import annotations

from typing import Any

from imucarry.basics.evidence import (
    carry,
    cohort,
    contacts,
    forward,
    measures,
    motion,
    passes,
    readers,
    report,
    walk,
    worn,
)
from imucarry.basics.evidence.row import Evidence

ROOMS = {
    "readers": readers,
    "motion": motion,
    "contacts": contacts,
    "forward": forward,
    "passes": passes,
    "walk": walk,
    "worn": worn,
    "measures": measures,
    "carry": carry,
    "report": report,
    "cohort": cohort,
}


def all_evidence() -> tuple[Evidence[Any], ...]:
    """Return every row, in the order of the rooms and of their modules."""
    return tuple(
        item
        for room in ROOMS.values()
        for item in vars(room).values()
        if isinstance(item, Evidence)
    )


__all__ = ["Evidence", "all_evidence"]
