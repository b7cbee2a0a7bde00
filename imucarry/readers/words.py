"""Closed lists of words, with a hint where a word is nearly right."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from typing import Final

from imucarry.basics.errors import SessionError

MEANT: Final[dict[str, str]] = {
    **dict.fromkeys(("r", "rt", "r_hand"), "right"),
    **dict.fromkeys(("l", "lt", "l_hand"), "left"),
    **dict.fromkeys(("b", "bilateral", "two", "l+r", "r+l"), "both"),
    **dict.fromkeys(("walk", "walking", "free_walk", "unloaded", "baseline"), "free"),
    **dict.fromkeys(("side", "one_hand"), "suitcase"),
    **dict.fromkeys(("farmers", "farmer's", "two_hands"), "farmer"),
    "pre": "before",
    "post": "after",
}
"""Words that are written for others of the lists: asked about, never taken."""


def printable(text: str) -> str:
    """Return a text of any origin in a form that is safe on one line of a screen."""
    short = text if len(text) <= 40 else f"{text[:40]}..."
    return "".join(mark if mark.isprintable() else "?" for mark in short)


def require_word(word: str, known: Sequence[str], kind: str, file: str, where: str) -> str:
    """Return a word of a closed list.

    Raises
    ------
    SessionError
        If it is not in the list; the message lists the words and names the nearest.
    """
    if word in known:
        return word
    meant = _meant(word[:80], known)
    hint = f"did you mean {meant!r}? " if meant else ""
    shown = word if len(word) <= 40 else f"{word[:40]}..."
    raise SessionError(
        f"unknown {kind} {shown!r}; {hint}it is one of {', '.join(known)}", file=file, where=where
    )


def _meant(word: str, known: Sequence[str]) -> str:
    """Return the word of a list that may be meant by another; "" without one."""
    plain = MEANT.get(word.strip("._ "), "")
    if plain in known:
        return plain
    parts = [one for one in known if one in word.split("_")]
    close = get_close_matches(word, known, n=1) or (parts if len(parts) == 1 else [])
    return close[0] if close else ""
