"""Small marks beside the findings: a shape for each, and the kept share as a short strip."""

from __future__ import annotations

import math
from collections.abc import Sequence

from markupsafe import Markup

from imucarry.basics.records import Estimate
from imucarry.report.figures.shapes import SHAPES

STRIP_WIDTH, STRIP_HEIGHT = 190.0, 20.0
STRIP_TOP_PCT = 140.0
EDGE = 8.0
ARROW = 4.0

GLYPHS = {
    "full": '<circle cx="8" cy="8" r="6" class="g-line g-full"/>',
    "half": '<circle cx="8" cy="8" r="6" class="g-line"/>'
    '<path d="M8 2a6 6 0 0 0 0 12Z" class="g-full"/>',
    "open": '<circle cx="8" cy="8" r="6" class="g-line"/>',
    "dotted": '<circle cx="8" cy="8" r="6" class="g-line g-dots"/>',
    "dash": '<path d="M3 8h10" class="g-line"/>',
}
"""Filled as far as the sternum kept turning: told by shape, not by colour."""


def glyph(name: str) -> Markup:
    """The mark of a finding; its word stands beside it."""
    shape = GLYPHS.get(name, GLYPHS["dash"])
    return Markup(
        f'<svg class="glyph" viewBox="0 0 16 16" aria-hidden="true" focusable="false">{shape}</svg>'
    )


def kept_strip(kept: Estimate, lines_pct: Sequence[float]) -> Markup:
    """The kept share with its interval on a line from 0 to 140 %; "" when it is not known.

    Dashed at `lines_pct`, which a free walk is not held against.
    An interval that goes on beyond the line ends in an arrow.
    """
    if not math.isfinite(kept.value):
        return Markup("")
    middle = STRIP_HEIGHT / 2
    parts = [
        f'<svg class="strip" viewBox="0 0 {STRIP_WIDTH:g} {STRIP_HEIGHT:g}" aria-hidden="true" '
        'focusable="false">',
        f'<path class="s-base" d="M{EDGE:g} {middle:g}H{STRIP_WIDTH - EDGE:g}"/>',
        f'<path class="l-limit" d="{"".join(map(_upright, lines_pct))}"/>' if lines_pct else "",
        f'<path class="l-free solid" d="{_upright(100.0)}"/>',
    ]
    if math.isfinite(kept.ci_low) and math.isfinite(kept.ci_high):
        low, high = _place(kept.ci_low), _place(kept.ci_high)
        parts.append(f'<path class="s-interval" d="M{low:.1f} {middle:g}H{high:.1f}"/>')
        if kept.ci_high > STRIP_TOP_PCT:
            tip, back = high + ARROW, f"{middle - ARROW:g}V{middle + ARROW:g}"
            parts.append(f'<path class="d-mean" d="M{high:.1f} {back}L{tip:.1f} {middle:g}Z"/>')
    parts.append(f'<path class="d-mean" d="{SHAPES["diamond"](_place(kept.value), middle, 4.6)}"/>')
    parts.append("</svg>")
    return Markup("".join(parts))


def strip_head(reduced_pct: float, minimal_pct: float) -> Markup:
    """The scale that stands above the strips."""
    labels = "".join(
        f'<text class="tick" text-anchor="middle" x="{_place(pct):.1f}" y="11">{pct:g}</text>'
        for pct in (0.0, minimal_pct, reduced_pct, 100.0)
    )
    return Markup(
        f'<svg class="strip" viewBox="0 0 {STRIP_WIDTH:g} 14" aria-hidden="true" '
        f'focusable="false">{labels}</svg>'
    )


def _place(pct: float) -> float:
    inside = min(max(pct, 0.0), STRIP_TOP_PCT)
    return EDGE + inside / STRIP_TOP_PCT * (STRIP_WIDTH - 2 * EDGE)


def _upright(pct: float) -> str:
    return f"M{_place(pct):.1f} 3V{STRIP_HEIGHT - 3:g}"
