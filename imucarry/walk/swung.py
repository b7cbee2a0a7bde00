"""Walks that only the swing of the arms shows, beside those in which legs lift the wrist."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from imucarry.basics.evidence import passes as evidence
from imucarry.basics.records import Window


@dataclass(frozen=True, slots=True)
class Walk:
    """A walk that was found; `by_swing` where nothing but the swing of the arms tells it."""

    window: Window
    by_swing: bool


def swung_together(arms: Sequence[Sequence[Window]]) -> list[Window]:
    """Return the spells in which every arm that wears a sensor swings, long enough for a walk."""
    if not arms:
        return []
    together = list(arms[0])
    for spells in arms[1:]:
        together = [
            Window(max(a.start_s, b.start_s), min(a.end_s, b.end_s))
            for a in together
            for b in spells
            if overlap_s(a, b) >= evidence.WRIST_SWUNG_TOGETHER_S.value
        ]
    return together


def told_by_swing(
    spells: Sequence[Window], swung: Sequence[Window]
) -> tuple[list[Walk], list[Window]]:
    """Return the walks that the swing shows, and the spells of lifting that are none of theirs.

    Parameters
    ----------
    spells : sequence of Window
        In which the wrist is lifted as by legs.
    swung : sequence of Window
        In which the arms swing as in a walk.

    Notes
    -----
    Hands that talk lift the wrist too. A walk that the swing shows is therefore never joined
    with a spell beside it: it takes in only the spells that lie mostly within it.
    """
    walks: list[Walk] = []
    rest = list(spells)
    for swing in swung:
        within = [item for item in rest if 2.0 * overlap_s(item, swing) > _length_s(item)]
        others = [item for item in rest if item not in within]
        whole = Window(
            min([swing.start_s, *(item.start_s for item in within)]),
            max([swing.end_s, *(item.end_s for item in within)]),
        )
        longest = max(_clear_of(whole, others), key=_length_s, default=None)
        if longest and 2.0 * _length_s(longest) > _length_s(whole):
            walks.append(Walk(longest, by_swing=not within))
            rest = others
    return walks, rest


def overlap_s(a: Window, b: Window) -> float:
    """Return how long two windows overlap [s], 0 where they do not."""
    return max(0.0, min(a.end_s, b.end_s) - max(a.start_s, b.start_s))


def _length_s(window: Window) -> float:
    return window.end_s - window.start_s


def _clear_of(whole: Window, others: Sequence[Window]) -> list[Window]:
    """Return the parts of a window that no other covers."""
    parts = [whole]
    for other in others:
        ends = [
            (Window(part.start_s, min(part.end_s, other.start_s)),
             Window(max(part.start_s, other.end_s), part.end_s))
            for part in parts
        ]  # fmt: skip
        parts = [part for pair in ends for part in pair if part.end_s > part.start_s]
    return parts
