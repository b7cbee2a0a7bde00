"""A `Chart` as static SVG: shown without any script, sharp in print, small on a phone.

Shapes carry class names only, so that the page's style sheet colours them, on
white paper and in the dark.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from html import escape

import numpy as np

from imucarry.report.figures.chart import Chart, Kind, Mark, Panel, Tick, nice_ticks
from imucarry.report.figures.shapes import Box, dots_path, draw, line_path, rect, stroke

WIDTH = 400.0
RIGHT = 10.0
TOP = 4.0
LABEL_HEIGHT = 19.0
LABEL_ABOVE = 8.0
"""How far the name of an axis stands above its panel: a number at the top keeps clear of it."""

GAP = 8.0
FOOT = 36.0
LEFT_NUMBERS = 34.0
LEFT_ROWS = 10.0
AREAS = ("band", "zone_x", "zone_y")
TICKS_X = 6
TICKS_Y = 4
ROW_NAME_ABOVE = 10.5
ROW_NAME_BELOW = 3.4
"""How far its letters reach below the line that a name stands on, in the largest type."""

ROW_TOP_ABOVE = 22.0
LARGEST_DIGIT = 8.4
"""Width of a digit in the largest type, on a phone."""

LONGEST_NAME = 60
"""Letters of a name of a row that the picture's width holds in the largest type."""


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
    rows_only = all(panel.row_labels for panel in chart.panels)
    left = LEFT_ROWS if rows_only else LEFT_NUMBERS
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
    labelled = 'aria-hidden="true"'
    if label_id:
        labelled = f'role="img" aria-labelledby="{escape(label_id)}"'
    return f'<svg class="plot" viewBox="0 0 {WIDTH:g} {height:g}" {labelled} focusable="false">'


def _panel(panel: Panel, box: Box, x_ticks: Iterable[Tick]) -> str:
    parts = []
    if panel.y_label:
        parts.append(text(0, box.top - LABEL_ABOVE, panel.y_label, "axis-name"))
    grid = [v_line(box, float(box.x(v))) for v, _ in x_ticks if _inside(v, box.x_range)]
    areas = [mark for mark in panel.marks if mark.kind in AREAS]
    others = [mark for mark in panel.marks if mark.kind not in AREAS]
    parts += [draw(mark, box) for mark in areas]
    parts += grid
    if not panel.row_labels:
        return "".join((*parts, _y_axis(box), *(draw(mark, box) for mark in others)))
    rules = [mark for mark in others if mark.kind == "rule_x"]
    parts += [draw(mark, box) for mark in rules]
    # No line and no stripe goes through a name: they stop at its ground.
    parts += [_ground(float(box.y(value)), box) for value, _ in panel.row_labels]
    parts.append(_row_lines(panel, box))
    parts += [draw(mark, box) for mark in others if mark.kind != "rule_x"]
    parts += [_row_name(float(box.y(value)), words, box) for value, words in panel.row_labels]
    return "".join(parts)


def _ground(y: float, box: Box) -> str:
    """The stripe across the panel that the name of a row stands on."""
    top = max(y - ROW_TOP_ABOVE, box.top)
    height = y - ROW_NAME_ABOVE + ROW_NAME_BELOW - top
    return (
        f'<rect class="row-ground" x="{box.left:g}" y="{top:.1f}" width="{box.width:g}" '
        f'height="{height:.1f}"/>'
    )


def _row_name(y: float, words: str, box: Box) -> str:
    """The name of a row; a long one is set smaller."""
    css = "row-name" if len(words) <= LONGEST_NAME else "row-name long"
    return text(box.left, y - ROW_NAME_ABOVE, words, css)


def _y_axis(box: Box) -> str:
    parts = []
    for value, label in nice_ticks(*box.y_range, TICKS_Y):
        y = float(box.y(value))
        parts.append(h_line(box, y))
        parts.append(text(box.left - 5, y + 3.6, label, "tick", anchor="end"))
    return "".join(parts)


def _row_lines(panel: Panel, box: Box) -> str:
    """Hair lines between the rows."""
    tops = (float(box.y(value)) - ROW_TOP_ABOVE for value, _ in panel.row_labels)
    return "".join(h_line(box, top) for top in tops if top > box.top + GAP)


def _x_axis(name: str, ticks: Iterable[Tick], box: Box) -> str:
    base = box.top + box.height
    parts = [f'<path class="base" d="M{box.left:g} {base:.1f}H{box.left + box.width:g}"/>']
    for value, label in ticks:
        if _inside(value, box.x_range):
            parts.append(_x_number(float(box.x(value)), base + 13, label))
    parts.append(text(box.left + box.width, base + 29, name, "axis-name", anchor="end"))
    return "".join(parts)


def _x_number(x: float, y: float, label: str) -> str:
    """A number centred below its tick, or ending at the picture's edge where it would be cut."""
    if x + LARGEST_DIGIT * len(label) / 2.0 > WIDTH - 1.0:
        return text(WIDTH - 1.0, y, label, "tick", anchor="end")
    return text(x, y, label, "tick", anchor="middle")


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


def swatch(mark: Mark) -> str:
    """A small sample of a mark for the legend."""
    return _swatch(mark.kind, mark.style)


@cache
def _swatch(kind: Kind, style: str) -> str:
    box = Box(2, 2, 24, 10, (0.0, 1.0), (0.0, 1.0))
    edge, middle = np.array([0.0, 1.0]), np.array([0.5])
    shapes = {
        "line": lambda: line_path(Mark("line", style, x=edge, y=np.full(2, 0.5)), box),
        "dots": lambda: dots_path(Mark("dots", style, x=middle, y=middle), box),
        "band": lambda: rect(style, 2, 2, 24, 10),
        "whisker": lambda: stroke(style, "M4 3v8M4 7H24m0 -4v8"),
        "rule": lambda: line_path(Mark("line", style, x=edge, y=np.full(2, 0.5)), box),
        "zone": lambda: rect(style, 2, 2, 24, 10),
    }
    inner = shapes[kind.split("_")[0]]()
    opening = '<svg class="swatch" viewBox="0 0 28 14" aria-hidden="true" focusable="false">'
    return f"{opening}{inner}</svg>"
