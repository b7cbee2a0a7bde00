"""What is carried, however it is spelt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator


def implement_key(implement: str) -> str:
    """Return an implement as it is compared: without regard to case and spaces."""
    return "".join(implement.casefold().split())


def as_first_written(implements: Iterable[str]) -> Iterator[str]:
    """Write each implement, in turn, as it was written first."""
    first: dict[str, str] = {}
    for name in implements:
        yield first.setdefault(implement_key(name), name)
