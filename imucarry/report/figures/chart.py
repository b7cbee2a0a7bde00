"""The plain description of a picture that every way of drawing it shares.

A `Chart` has panels above one another over one x axis; a `Panel` has marks in
drawing order. Nothing here knows about SVG or any drawing library.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

import numpy as np

from imucarry.basics.records import FloatArray, IntArray

Kind = Literal[
    "line", "band", "dots", "whisker_x", "whisker_y", "zone_x", "zone_y", "rule_x", "rule_y"
]
Tick = tuple[float, str]


def _empty() -> FloatArray:
    return np.empty(0)


@dataclass(frozen=True, slots=True)
class Mark:
    """One layer of a panel.

    Attributes
    ----------
    kind : str
        "line" and "dots" use `x`, `y`; "band" fills between `low` and `high` over
        `x`; "whisker_x" runs from `low` to `high` at `y`, "whisker_y" at `x`;
        "zone_x" and "zone_y" are stripes across the panel from `low` to `high`;
        "rule_x" and "rule_y" are lines across the panel at `x` or `y`.
    style : str
        A key of ``style.STYLES``.
    label : str
        Words for the legend; "" keeps it out of the legend.
    hover : tuple of str
        One text a dot, shown on demand.
    """

    kind: Kind
    style: str
    x: FloatArray = field(default_factory=_empty)
    y: FloatArray = field(default_factory=_empty)
    low: FloatArray = field(default_factory=_empty)
    high: FloatArray = field(default_factory=_empty)
    label: str = ""
    hover: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Panel:
    """One stripe of a chart; with `row_labels`, y counts rows instead of a quantity."""

    marks: tuple[Mark, ...]
    y_label: str
    y_range: tuple[float, float]
    height: float
    row_labels: tuple[Tick, ...] = ()


@dataclass(frozen=True, slots=True)
class Chart:
    """A picture with its words: title, one sentence of finding, caption."""

    key: str
    title: str
    finding: str
    caption: str
    panels: tuple[Panel, ...]
    x_label: str
    x_range: tuple[float, float]
    x_ticks: tuple[Tick, ...] = ()


def line(style: str, x: FloatArray, y: FloatArray, label: str = "") -> Mark:
    """A line; it breaks where a value is NaN."""
    return Mark("line", style, x=x, y=y, label=label)


def dots(
    style: str, x: FloatArray, y: FloatArray, label: str = "", hover: Sequence[str] = ()
) -> Mark:
    """One marker a value."""
    return Mark("dots", style, x=x, y=y, label=label, hover=tuple(hover))


def band(style: str, x: FloatArray, low: FloatArray, high: FloatArray, label: str = "") -> Mark:
    """The area between two lines."""
    return Mark("band", style, x=x, low=low, high=high, label=label)


def whisker_x(style: str, y: float, low: float, high: float) -> Mark:
    """An interval along x."""
    return Mark("whisker_x", style, y=_one(y), low=_one(low), high=_one(high))


def whisker_y(style: str, x: float, low: float, high: float) -> Mark:
    """An interval along y."""
    return Mark("whisker_y", style, x=_one(x), low=_one(low), high=_one(high))


def zone(axis: Literal["x", "y"], style: str, low: float, high: float, label: str = "") -> Mark:
    """A stripe across the panel."""
    kind: Kind = "zone_x" if axis == "x" else "zone_y"
    return Mark(kind, style, low=_one(low), high=_one(high), label=label)


def rule(axis: Literal["x", "y"], style: str, at: float, label: str = "") -> Mark:
    """A line across the panel at one x or one y."""
    if axis == "x":
        return Mark("rule_x", style, x=_one(at), label=label)
    return Mark("rule_y", style, y=_one(at), label=label)


@lru_cache(maxsize=256)
def nice_ticks(low: float, high: float, at_most: int) -> tuple[Tick, ...]:
    """Round values between two ends, at most `at_most` of them, with their texts."""
    span = high - low
    if not np.isfinite(span) or span <= 0:
        return ()
    rough = span / at_most
    decade = 10.0 ** np.floor(np.log10(rough))
    step = next(s * decade for s in (1.0, 2.0, 5.0, 10.0) if s * decade >= rough * (1 - 1e-9))
    values = np.arange(np.ceil(low / step - 1e-9), np.floor(high / step + 1e-9) + 1) * step
    digits = max(0, -int(np.floor(np.log10(step) + 1e-9)))
    return tuple((float(v), f"{v + 0.0:.{digits}f}".replace("-", "\u2212")) for v in values)


def span_of(values: Sequence[FloatArray], *, include: float | None = None) -> tuple[float, float]:
    """A range that holds all finite values, with a little air; (0, 1) without any."""
    parts = [np.asarray(v, dtype=float).ravel() for v in values]
    if include is not None:
        parts.append(_one(include))
    joined = np.concatenate(parts) if parts else _empty()
    joined = joined[np.isfinite(joined)]
    if not joined.size:
        return (0.0, 1.0)
    low, high = float(joined.min()), float(joined.max())
    air = 0.06 * (high - low) or 1.0
    bottom = low if low == include else low - air
    return bottom, high if high == include and high > bottom else high + air


def apart(numbers: FloatArray | IntArray, height: float) -> FloatArray:
    """Return heights about 0 that keep dots of like values apart, the same each time.

    Parts of the golden section: however many follow each other, none lie close together.
    """
    golden = (math.sqrt(5.0) - 1.0) / 2.0
    return np.asarray(height * ((numbers * golden) % 1.0 - 0.5), dtype=np.float64)


def _one(value: float) -> FloatArray:
    return np.array([float(value)])
