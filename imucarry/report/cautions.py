"""The cautions that stand where a person reads results."""

from __future__ import annotations

from imucarry.carry.cautions import caution_groups

Caution = tuple[str, str]
"""Its words and on whose word they stand."""


def caution_lists() -> tuple[tuple[str, tuple[Caution, ...]], ...]:
    """Headings, each with its cautions and their sources."""
    return tuple(
        (heading, tuple((item.text, item.source) for item in items))
        for heading, items in caution_groups()
    )
