"""Closed lists of words, with a hint where a word is nearly right."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

from imucarry.basics.errors import SessionError


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
    close = get_close_matches(word[:80], known, n=1)
    hint = f"did you mean {close[0]!r}? " if close else ""
    shown = word if len(word) <= 40 else f"{word[:40]}..."
    raise SessionError(
        f"unknown {kind} {shown!r}; {hint}it is one of {', '.join(known)}", file=file, where=where
    )
