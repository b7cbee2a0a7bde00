"""A `Chart` as static SVG: shown without any script, sharp in print, small on a phone.

Shapes carry class names only, so that the page's style sheet colours them, on
white paper and in the dark.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.report.figures.chart import Chart, Mark, Panel, Tick, nice_ticks
from imucarry.report.figures.style import STYLES

WIDTH = 400.0
RIGHT = 10.0
TOP = 4.0
LABEL_HEIGHT = 16.0
GAP = 8.0
FOOT = 36.0
LEFT_NUMBERS = 34.0
LEFT_ROWS = 10.0
AREAS = ("band", "zone_x", "zone_y")
TICKS_X = 6
TICKS_Y = 4


@dataclass(frozen=True, slots=True)
class Box:
    """Where a panel stands in the picture, and what its axes span."""

    left: float
    top: float
    width: float
    height: float
    x_range: tuple[float, float]
    y_range: tuple[float, float]

    def x(self, value: FloatArray | float) -> FloatArray:
        """Horizontal place of values."""
        low, high = self.x_range
        return np.asarray(self.left + (np.asarray(value) - low) / (high - low) * self.width)

    def y(self, value: FloatArray | float) -> FloatArray:
        """Vertical place of values."""
        low, high = self.y_range
        return np.asarray(self.top + (high - np.asarray(value)) / (high - low) * self.height)


def to_svg(chart: Chart, *, label_id: str = "") -> str:
    """Draw a chart as one ``<svg>`` element, described by the element `label_id`."""
    boxes = place(chart)
    foot_y = boxes[-1].top + boxes[-1].height
    x_ticks = chart.x_ticks or nice_ticks(*chart.x_range, TICKS_X)
    parts = [_open(foot_y + FOOT, label_id)]
    for panel, box in zip(chart.panels, boxes, strict=True):
        parts.append(_panel(panel, box, x_ticks))
    parts.append(_x_axis(chart.x_label, x_ticks, boxes[-1]))
    parts.append("</svg>")
    return "".join(parts)


def place(chart: Chart) -> tuple[Box, ...]:
    """Lay the panels out, top down."""
    rows = any(panel.row_labels for panel in chart.panels)
    left = LEFT_ROWS if rows else LEFT_NUMBERS
    top = TOP
    boxes = []
    for panel in chart.panels:
        top += LABEL_HEIGHT if panel.y_label else 0.0
        boxes.append(
            Box(left, top, WIDTH - left - RIGHT, panel.height, chart.x_range, panel.y_range)
        )
        top += panel.height + GAP
    return tuple(boxes)


def _open(height: float, label_id: str) -> str:
    labelled = f'role="img" aria-labelledby="{escape(label_id)}"' if label_id else "aria-hidden=true"
    return f'<svg class="plot" viewBox="0 0 {WIDTH:g} {height:g}" {labelled} focusable="false">'


def _panel(panel: Panel, box: Box, x_ticks: Iterable[Tick]) -> str:
    parts = []
    if panel.y_label:
        parts.append(text(0, box.top - 5, panel.y_label, "axis-name"))
    grid = [v_line(box, float(box.x(v))) for v, _ in x_ticks if _inside(v, box.x_range)]
    areas = [mark for mark in panel.marks if mark.kind in AREAS]
    others = [mark for mark in panel.marks if mark.kind not in AREAS]
    parts += [draw(mark, box) for mark in areas]
    parts += grid
    parts.append(_rows(panel, box) if panel.row_labels else _y_axis(box))
    parts += [draw(mark, box) for mark in others]
    return "".join(parts)


def _y_axis(box: Box) -> str:
    parts = []
    for value, label in nice_ticks(*box.y_range, TICKS_Y):
        y = float(box.y(value))
        parts.append(h_line(box, y))
        parts.append(text(box.left - 5, y + 3.6, label, "tick", anchor="end"))
    return "".join(parts)


def _rows(panel: Panel, box: Box) -> str:
    parts = []
    for value, label in panel.row_labels:
        y = float(box.y(value))
        parts.append(text(box.left, y - 9.5, label, "row-name"))
    return "".join(parts)


def _x_axis(name: str, ticks: Iterable[Tick], box: Box) -> str:
    base = box.top + box.height
    parts = [f'<path class="base" d="M{box.left:g} {base:.1f}H{box.left + box.width:g}"/>']
    for value, label in ticks:
        if _inside(value, box.x_range):
            parts.append(text(float(box.x(value)), base + 13, label, "tick", anchor="middle"))
    parts.append(text(box.left + box.width, base + 29, name, "axis-name", anchor="end"))
    return "".join(parts)


def _inside(value: float, limits: tuple[float, float]) -> bool:
    slack = 1e-9 * (limits[1] - limits[0])
    return limits[0] - slack <= value <= limits[1] + slack


def text(x: float, y: float, words: str, css: str, *, anchor: str = "start") -> str:
    """One line of text, escaped."""
    where = "" if anchor == "start" else f' text-anchor="{anchor}"'
    return f'<text class="{css}" x="{x:.1f}" y="{y:.1f}"{where}>{escape(words)}</text>'


def v_line(box: Box, x: float) -> str:
    """A hair line down a panel."""
    return f'<path class="hair" d="M{x:.1f} {box.top:.1f}V{box.top + box.height:.1f}"/>'


def h_line(box: Box, y: float) -> str:
    """A hair line across a panel."""
    return f'<path class="hair" d="M{box.left:g} {y:.1f}H{box.left + box.width:g}"/>'


def draw(mark: Mark, box: Box) -> str:
    """One mark as SVG."""
    return _DRAW[mark.kind](mark, box)


def _line(mark: Mark, box: Box) -> str:
    return f'<path class="l-{mark.style}" d="{path_data(box.x(mark.x), box.y(mark.y))}"/>'


def path_data(x: FloatArray, y: FloatArray) -> str:
    """Points as an SVG path that breaks where a point is not finite."""
    good = np.isfinite(x) & np.isfinite(y)
    starts = good & ~np.concatenate([[False], good[:-1]])
    return "".join(
        f"{'M' if first else 'L'}{a:.1f} {b:.1f}"
        for a, b, first in zip(x[good], y[good], starts[good], strict=True)
    )


def _band(mark: Mark, box: Box) -> str:
    good = np.isfinite(mark.low) & np.isfinite(mark.high)
    x = np.concatenate([mark.x[good], mark.x[good][::-1]])
    y = np.concatenate([mark.high[good], mark.low[good][::-1]])
    return f'<path class="a-{mark.style}" d="{path_data(box.x(x), box.y(y))}Z"/>' if x.size else ""


def _dots(mark: Mark, box: Box) -> str:
    style = STYLES[mark.style]
    shape = SHAPES[style.marker]
    good = np.isfinite(mark.x) & np.isfinite(mark.y)
    where = zip(box.x(mark.x[good]), box.y(mark.y[good]), strict=True)
    return (
        f'<path class="d-{mark.style}" d="'
        + "".join(shape(float(x), float(y), style.size) for x, y in where)
        + '"/>'
    )


def _circle(x: float, y: float, r: float) -> str:
    return f"M{x - r:.1f} {y:.1f}a{r:g} {r:g} 0 1 0 {2 * r:g} 0a{r:g} {r:g} 0 1 0 {-2 * r:g} 0Z"


def _square(x: float, y: float, r: float) -> str:
    s = 0.9 * r
    return f"M{x - s:.1f} {y - s:.1f}h{2 * s:.1f}v{2 * s:.1f}h{-2 * s:.1f}Z"


def _triangle(x: float, y: float, r: float) -> str:
    return f"M{x:.1f} {y - 1.1 * r:.1f}l{1.1 * r:.1f} {2 * r:.1f}h{-2.2 * r:.1f}Z"


def _diamond(x: float, y: float, r: float) -> str:
    return f"M{x:.1f} {y - r:.1f}l{r:g} {r:g}l{-r:g} {r:g}l{-r:g} {-r:g}Z"


def _cross(x: float, y: float, r: float) -> str:
    return f"M{x - r:.1f} {y - r:.1f}l{2 * r:g} {2 * r:g}m0 {-2 * r:g}l{-2 * r:g} {2 * r:g}"


SHAPES = {
    "circle": _circle,
    "square": _square,
    "triangle": _triangle,
    "diamond": _diamond,
    "cross": _cross,
}


def _whisker_x(mark: Mark, box: Box) -> str:
    y = float(box.y(mark.y)[0])
    low, high = (_clip(float(box.x(v)[0]), box) for v in (mark.low, mark.high))
    return _stroke(mark, f"M{low:.1f} {y - 4:.1f}v8M{low:.1f} {y:.1f}H{high:.1f}m0 -4v8")


def _clip(x: float, box: Box) -> float:
    return min(max(x, box.left), box.left + box.width)


def _whisker_y(mark: Mark, box: Box) -> str:
    x = float(box.x(mark.x)[0])
    low, high = (float(box.y(v)[0]) for v in (mark.low, mark.high))
    return _stroke(mark, f"M{x - 4:.1f} {low:.1f}h8M{x:.1f} {low:.1f}V{high:.1f}m-4 0h8")


def _stroke(mark: Mark, data: str) -> str:
    return f'<path class="l-{mark.style} solid" d="{data}"/>'


def _zone_x(mark: Mark, box: Box) -> str:
    low, high = (_clip(float(box.x(v)[0]), box) for v in (mark.low, mark.high))
    return _rect(mark.style, low, box.top, high - low, box.height)


def _zone_y(mark: Mark, box: Box) -> str:
    low, high = (float(box.y(v)[0]) for v in (mark.low, mark.high))
    return _rect(mark.style, box.left, high, box.width, low - high)


def _rect(style: str, x: float, y: float, width: float, height: float) -> str:
    return (
        f'<rect class="a-{style}" x="{x:.1f}" y="{y:.1f}" width="{max(width, 0):.1f}" '
        f'height="{max(height, 0):.1f}"/>'
    )


def _rule_x(mark: Mark, box: Box) -> str:
    x = float(box.x(mark.x)[0])
    return f'<path class="l-{mark.style}" d="M{x:.1f} {box.top:.1f}v{box.height:.1f}"/>'


def _rule_y(mark: Mark, box: Box) -> str:
    y = float(box.y(mark.y)[0])
    return f'<path class="l-{mark.style}" d="M{box.left:g} {y:.1f}h{box.width:g}"/>'


_DRAW = {
    "line": _line,
    "band": _band,
    "dots": _dots,
    "whisker_x": _whisker_x,
    "whisker_y": _whisker_y,
    "zone_x": _zone_x,
    "zone_y": _zone_y,
    "rule_x": _rule_x,
    "rule_y": _rule_y,
}


def swatch(mark: Mark) -> str:
    """A small sample of a mark for the legend."""
    box = Box(2, 2, 24, 10, (0.0, 1.0), (0.0, 1.0))
    edge, middle = np.array([0.0, 1.0]), np.array([0.5])
    shapes = {
        "line": lambda: _line(Mark("line", mark.style, x=edge, y=np.full(2, 0.5)), box),
        "dots": lambda: _dots(Mark("dots", mark.style, x=middle, y=middle), box),
        "band": lambda: _rect(mark.style, 2, 2, 24, 10),
        "whisker": lambda: _stroke(mark, "M4 3v8M4 7H24m0 -4v8"),
        "rule": lambda: _line(Mark("line", mark.style, x=edge, y=np.full(2, 0.5)), box),
        "zone": lambda: _rect(mark.style, 2, 2, 24, 10),
    }
    inner = shapes[mark.kind.split("_")[0]]()
    return f'<svg class="swatch" viewBox="0 0 28 14" aria-hidden="true" focusable="false">{inner}</svg>'
