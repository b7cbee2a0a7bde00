"""How far apart the rows of a picture stand, so that it is no longer than a printed page."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Spacing:
    """Rows of a picture in its own units: `below` a row's name come its dots, then its mean."""

    height: float
    dots_below: float
    mean_below: float
    spread: float


ROOMY, CLOSE = Spacing(44.0, 1.8, 14.5, 10.6), Spacing(34.0, -0.5, 7.5, 5.2)
MOST_ROOMY, MOST_TOGETHER, MOST_CLOSE = 16, 20, 27
"""Rows of a picture: roomy ones, those of two arms, and all that half a printed page holds."""

NAME_ABOVE = 22.0
"""How far above the middle of its dots a row begins, with its name."""


def spacing_of(n_rows: int) -> Spacing:
    """Close rows where a page does not hold as many roomy ones."""
    return ROOMY if n_rows <= MOST_ROOMY else CLOSE
