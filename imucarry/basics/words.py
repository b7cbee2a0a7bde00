"""Words of people: evened out, and numbers with their nouns for messages."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator


def counted(n: int, noun: str) -> str:
    """Return a number and its noun, in the singular for one: "1 gap", "2 gaps"."""
    return f"{n} {noun}" if n == 1 else f"{n} {noun}s"


def plain(word: str) -> str:
    """Lower case, with single spaces in place of everything but letters and digits."""
    return re.sub(r"[^a-z0-9]+", " ", word.lower()).strip()


def as_first_written(names: Iterable[str], alike: Callable[[str], str] = plain) -> Iterator[str]:
    """Write each name, in turn, as the first was written that is `alike`."""
    first: dict[str, str] = {}
    for name in names:
        yield first.setdefault(alike(name) or name, name)
