"""A plan sketch: the person seen from above, and the fan that the sternum sweeps."""

from __future__ import annotations

import math

from imucarry.basics.evidence import report as evidence
from imucarry.basics.records import BoutResult, BoutRow, SessionScores
from imucarry.report.figures.svg import text
from imucarry.report.lookup import baseline_value, estimate_of
from imucarry.report.wording import say, texts
from imucarry.report.wording.holds import hold_named
from imucarry.report.wording.implements import NamedFor, implement_told, several_implements
from imucarry.report.wording.numbers import number

WIDTH, HEIGHT = 124.0, 120.0
X, Y = 62.0, 92.0
ARM = 40.0
HAND = 48.0
RACK, RACK_UP = 20.0, 17.0
OVERHEAD = 25.0
IN_FRONT = ("rack", "bottoms_up")
REACH = 78.0
FREE_REACH = 87.0


def sketch_svg(scores: SessionScores, bout: BoutResult) -> str:
    """One person from above with this bout's fan and the free walk's, as an ``<svg>``."""
    swing = estimate_of(bout, "sternum_yaw_range").value
    base = baseline_value(scores, bout, "sternum_yaw_range")
    half, half_base = _half_rad(swing), _half_rad(base)
    parts = [f'<svg class="sketch" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" aria-hidden="true" '
             'focusable="false">']  # fmt: skip
    if math.isfinite(half):
        parts.append(f'<path class="fan" d="{_fan(half, REACH)}"/>')
    if math.isfinite(half_base):
        parts.append(f'<path class="l-free" d="{_fan(half_base, FREE_REACH)}"/>')
    parts.append(_person(bout, half))
    parts.append("</svg>")
    return "".join(parts)


def sketch_words(scores: SessionScores, bout: BoutResult) -> str:
    """The same in words: name, swing, the free walk's swing."""
    swing = estimate_of(bout, "sternum_yaw_range").value
    base = baseline_value(scores, bout, "sternum_yaw_range")
    key = "sketch_base" if math.isfinite(base) else "sketch"
    key = key if math.isfinite(swing) else "sketch_none"
    return texts.FIGURE_FINDINGS[key].format(
        bout=_name(bout.data.row, several_implements(scores.bouts)),
        value=number(swing),
        base=number(base),
    )


def _name(row: BoutRow, named_for: NamedFor) -> str:
    """ "bout 4, side right, on elastic": the load itself stands in the picture."""
    if row.hold == "free":
        return say.bout_in_short(row)
    held = hold_named(row, short=True)
    bout = texts.FIGURE_FINDINGS["sketch_bout"].format(bout=say.bout_name(row), held=held)
    perturbed = texts.PERTURBED.get(row.perturbed, row.perturbed)
    return ", ".join(filter(None, (bout, implement_told(row, named_for), perturbed)))


def _half_rad(range_deg: float) -> float:
    """Half the drawn angle: widened, and never so wide that it stops meaning forward."""
    drawn = min(range_deg * evidence.SKETCH_WIDENING.value, evidence.SKETCH_WIDEST_DEG.value)
    return math.radians(drawn) / 2.0 if math.isfinite(range_deg) else float("nan")


def _fan(half: float, reach: float) -> str:
    dx, dy = reach * math.sin(half), reach * math.cos(half)
    return (
        f"M{X:g} {Y:g}L{X - dx:.1f} {Y - dy:.1f}"
        f"A{reach:g} {reach:g} 0 0 1 {X + dx:.1f} {Y - dy:.1f}Z"
    )


def _person(bout: BoutResult, half: float) -> str:
    """Head and shoulders, the shoulder line at both ends of the swing, the load in its hand."""
    turns = (math.degrees(half), -math.degrees(half)) if math.isfinite(half) else ()
    lines = "".join(
        f'<path class="turned" d="M{X - ARM:g} {Y:g}h{2 * ARM:g}" '
        f'transform="rotate({turn:.1f} {X:g} {Y:g})"/>'
        for turn in turns
    )
    body = f'<ellipse class="shoulders" cx="{X:g}" cy="{Y:g}" rx="32" ry="10"/>'
    nose = f'<path class="head" d="M{X - 3:g} {Y - 9:g}l3 -5l3 5"/>'
    head = f'<circle class="head" cx="{X:g}" cy="{Y:g}" r="9.5"/>'
    return body + lines + nose + head + _loads(bout)


def _loads(bout: BoutResult) -> str:
    """A box where each loaded hand is; its load, or the whole load between two hands."""
    row = bout.data.row
    if row.hold == "free":
        return ""
    sides = {"left": (-1,), "right": (1,), "both": (-1, 1)}.get(row.loaded_side, ())
    own = {-1: row.left_hold, 1: row.right_hold} if row.hold == "mixed" else {}
    boxes = "".join(_box(own.get(side) or row.hold, side) for side in sides)
    each = {-1: row.left_load_kg, 1: row.right_load_kg}
    if len(sides) < 2 or not all(math.isfinite(load) for load in each.values()):
        each = {(sides[0] if len(sides) == 1 else 0): row.load_kg} if sides else {}
    return boxes + "".join(
        _load(side, f"{load_kg:g} kg") for side, load_kg in each.items() if math.isfinite(load_kg)
    )


def _load(side: int, words: str) -> str:
    """The load below its hand; it ends at the picture's edge, so that no letter is cut off."""
    x, anchor = {-1: (1.0, "start"), 0: (X, "middle"), 1: (WIDTH - 1.0, "end")}[side]
    return text(x, Y + 22, words, "tick", anchor=anchor)


def _box(hold: str, side: int) -> str:
    """At the side, in front of the shoulder, or hollow over it."""
    across, up, css = HAND, 0.0, "load"
    if hold in IN_FRONT:
        across, up = RACK, RACK_UP
    elif hold == "overhead":
        across, css = OVERHEAD, "load over"
    x, y = X + side * across - 6, Y - up - 6
    return f'<rect class="{css}" x="{x:g}" y="{y:g}" width="12" height="12"/>'
