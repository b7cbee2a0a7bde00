"""What is carried, however it is spelt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from imucarry.basics import words


def implement_key(implement: str) -> str:
    """Return an implement as it is compared: without regard to case and spaces."""
    return "".join(implement.casefold().split())


def as_first_written(implements: Iterable[str]) -> Iterator[str]:
    """Write each implement, in turn, as it was written first."""
    return words.as_first_written(implements, implement_key)
