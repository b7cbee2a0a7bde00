"""Numbers with their nouns, for messages."""

from __future__ import annotations


def counted(n: int, noun: str) -> str:
    """Return a number and its noun, in the singular for one: "1 gap", "2 gaps"."""
    return f"{n} {noun}" if n == 1 else f"{n} {noun}s"
