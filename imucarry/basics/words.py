"""Words of people: evened out, and numbers with their nouns for messages."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence


def counted(n: int, noun: str) -> str:
    """Return a number and its noun, in the singular for one: "1 gap", "2 gaps"."""
    return f"{n} {noun}" if n == 1 else f"{n} {noun}s"


def listed(words: Sequence[str]) -> str:
    """Return words as people read them: "a, b and c"."""
    return " and ".join([*([", ".join(words[:-1])] if words[:-1] else []), words[-1]])


def plain(word: str) -> str:
    """Lower case, with single spaces in place of everything but letters and digits."""
    return re.sub(r"[^a-z0-9]+", " ", word.lower()).strip()


def without_case(name: str) -> str:
    """Return a name as it is compared: case, spaces, "_" and "-" between words do not matter.

    Letters of every script and marks such as "+" and "<" do.
    """
    return " ".join(re.sub(r"_|(?<=\w)-(?=\w)", " ", name.casefold()).split())


def as_first_written(
    names: Iterable[str], alike: Callable[[str], str] = without_case
) -> Iterator[str]:
    """Write each name, in turn, as the first was written that is `alike`."""
    first: dict[str, str] = {}
    for name in names:
        yield first.setdefault(alike(name), name)
