"""The cautions that stand where a person reads results."""

from __future__ import annotations


def caution_lists() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Headings, each with its cautions."""
    return ()
