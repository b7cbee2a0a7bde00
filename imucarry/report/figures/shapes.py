"""Marks of a chart as SVG shapes with class names; the style sheet colours them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.report.figures.chart import Mark
from imucarry.report.figures.style import STYLES


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


def draw(mark: Mark, box: Box) -> str:
    """One mark as SVG."""
    return _DRAW[mark.kind](mark, box)


def line_path(mark: Mark, box: Box) -> str:
    return f'<path class="l-{mark.style}" d="{path_data(box.x(mark.x), box.y(mark.y))}"/>'


def path_data(x: FloatArray, y: FloatArray) -> str:
    """Points as an SVG path that breaks where a point is not finite."""
    good = np.isfinite(x) & np.isfinite(y)
    if not good.any():
        return ""
    starts = np.flatnonzero(good & ~np.concatenate([[False], good[:-1]]))
    ends = np.flatnonzero(good & ~np.concatenate([good[1:], [False]])) + 1
    return "".join(_run(x[a:b], y[a:b]) for a, b in zip(starts, ends, strict=True))


def _run(x: FloatArray, y: FloatArray) -> str:
    """One unbroken line, as steps in tenths from point to point: half as long to write."""
    points = np.rint(np.stack([x, y], axis=1) * 10.0).astype(int)
    steps = np.diff(points, axis=0).ravel().tolist()
    start = f"M{points[0, 0] / 10:g} {points[0, 1] / 10:g}"
    return start + "l" + "".join(map(_tenths, steps)) if steps else start


@lru_cache(maxsize=4096)
def _tenths(value: int) -> str:
    """A number of tenths as SVG reads it, with the space that parts it from the one before."""
    shown = f"{abs(value) / 10:g}".removeprefix("0") or "0"
    return f"-{shown}" if value < 0 else f" {shown}"


def _band(mark: Mark, box: Box) -> str:
    good = np.isfinite(mark.low) & np.isfinite(mark.high)
    x = np.concatenate([mark.x[good], mark.x[good][::-1]])
    y = np.concatenate([mark.high[good], mark.low[good][::-1]])
    return f'<path class="a-{mark.style}" d="{path_data(box.x(x), box.y(y))}Z"/>' if x.size else ""


def dots_path(mark: Mark, box: Box) -> str:
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


def _point(x: float, y: float, r: float) -> str:
    """A line without length: its round ends, drawn by the style sheet, make the dot."""
    return f"M{x:.1f} {y:.1f}h0"


SHAPES = {
    "circle": _circle,
    "square": _square,
    "triangle": _triangle,
    "diamond": _diamond,
    "cross": _cross,
    "point": _point,
}


def _whisker_x(mark: Mark, box: Box) -> str:
    y = float(box.y(mark.y)[0])
    low, high = (_clip(float(box.x(v)[0]), box) for v in (mark.low, mark.high))
    return stroke(mark.style, f"M{low:.1f} {y - 4:.1f}v8M{low:.1f} {y:.1f}H{high:.1f}m0 -4v8")


def _clip(x: float, box: Box) -> float:
    return min(max(x, box.left), box.left + box.width)


def _whisker_y(mark: Mark, box: Box) -> str:
    x = float(box.x(mark.x)[0])
    low, high = (float(box.y(v)[0]) for v in (mark.low, mark.high))
    return stroke(mark.style, f"M{x - 4:.1f} {low:.1f}h8M{x:.1f} {low:.1f}V{high:.1f}m-4 0h8")


def stroke(style: str, data: str) -> str:
    return f'<path class="l-{style} solid" d="{data}"/>'


def _zone_x(mark: Mark, box: Box) -> str:
    low, high = (_clip(float(box.x(v)[0]), box) for v in (mark.low, mark.high))
    return rect(mark.style, low, box.top, high - low, box.height)


def _zone_y(mark: Mark, box: Box) -> str:
    low, high = (float(box.y(v)[0]) for v in (mark.low, mark.high))
    return rect(mark.style, box.left, high, box.width, low - high)


def rect(style: str, x: float, y: float, width: float, height: float) -> str:
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
    "line": line_path,
    "band": _band,
    "dots": dots_path,
    "whisker_x": _whisker_x,
    "whisker_y": _whisker_y,
    "zone_x": _zone_x,
    "zone_y": _zone_y,
    "rule_x": _rule_x,
    "rule_y": _rule_y,
}
