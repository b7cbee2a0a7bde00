"""A `Chart` as the plain data of an interactive figure, written without any library.

Colours stand as ``var(--name)``; the page's script puts the present theme's
colours in when it draws. Numbers are rounded to what a screen can show.
"""

from __future__ import annotations

import json
from typing import Any

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.report.figures.chart import Chart, Mark, Panel
from imucarry.report.figures.style import STYLES
from imucarry.report.figures.svg import ROW_NAME_ABOVE

GAP_FRAC = 0.09
LEFT_NUMBERS, LEFT_ROWS = 60, 12
SYMBOLS = {
    "circle": "circle",
    "square": "square",
    "triangle": "triangle-up",
    "diamond": "diamond",
    "cross": "x-thin",
}


def to_interactive(chart: Chart) -> dict[str, Any]:
    """Return ``{"data": [...], "layout": {...}}`` with one y axis a panel."""
    domains = _domains(chart.panels)
    data: list[dict[str, Any]] = []
    shapes: list[dict[str, Any]] = []
    layout = _layout(chart)
    for number, (panel, domain) in enumerate(zip(chart.panels, domains, strict=True), 1):
        suffix = "" if number == 1 else str(number)
        layout[f"yaxis{suffix}"] = _y_axis(panel, domain)
        for mark in panel.marks:
            data += _traces(mark, f"y{suffix}")
            shapes += _shapes(mark, f"y{suffix}", domain)
    layout["shapes"] = shapes
    layout["annotations"] = [
        _panel_name(panel, top) for panel, (_, top) in zip(chart.panels, domains, strict=True)
    ] + [
        _row_name(panel, number, value, words)
        for number, panel in enumerate(chart.panels, 1)
        for value, words in panel.row_labels
    ]
    return {"data": data, "layout": layout}


def to_json(tree: object) -> str:
    """JSON that is safe inside a ``<script>`` element, whatever its texts hold."""
    raw = json.dumps(tree, ensure_ascii=True, separators=(",", ":"), allow_nan=False)
    # ensure_ascii writes U+2028 and U+2029 as escapes; "<", ">" and "&" are escaped here.
    return raw.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def numbers(values: FloatArray, digits: int = 2) -> list[float | None]:
    """Rounded plain numbers; NaN becomes null, which breaks a line."""
    rounded = np.round(np.asarray(values, dtype=float), digits)
    plain: list[float | None] = rounded.tolist()
    for place in np.flatnonzero(~np.isfinite(rounded)):
        plain[place] = None
    return plain


def _domains(panels: tuple[Panel, ...]) -> list[tuple[float, float]]:
    total = sum(panel.height for panel in panels)
    room = 1.0 - GAP_FRAC * (len(panels) - 1)
    domains = []
    top = 1.0
    for panel in panels:
        bottom = max(0.0, top - room * panel.height / total)
        domains.append((bottom, top))
        top = bottom - GAP_FRAC
    return domains


def _layout(chart: Chart) -> dict[str, Any]:
    rows_only = all(panel.row_labels for panel in chart.panels)
    axis: dict[str, Any] = {
        "title": {"text": chart.x_label},
        "range": list(chart.x_range),
        "anchor": "y" if len(chart.panels) == 1 else f"y{len(chart.panels)}",
        "gridcolor": "var(--hair)",
        "zeroline": False,
    }
    if chart.x_ticks:
        axis["tickvals"] = [value for value, _ in chart.x_ticks]
        axis["ticktext"] = [_plain(words) for _, words in chart.x_ticks]
    return {
        "xaxis": axis,
        "height": 130 + 1.5 * sum(panel.height for panel in chart.panels),
        "margin": {"l": LEFT_ROWS if rows_only else LEFT_NUMBERS, "r": 16, "t": 34, "b": 48},
        "paper_bgcolor": "var(--sheet)",
        "plot_bgcolor": "var(--sheet)",
        "font": {"color": "var(--ink)", "size": 12},
        "showlegend": False,
        "hovermode": "closest",
    }


def _y_axis(panel: Panel, domain: tuple[float, float]) -> dict[str, Any]:
    axis: dict[str, Any] = {
        "domain": [round(v, 4) for v in domain],
        "range": list(panel.y_range),
        "gridcolor": "var(--hair)",
        "zeroline": False,
        "automargin": True,
    }
    if panel.row_labels:
        axis |= {"showticklabels": False, "showgrid": False}
    return axis


def _panel_name(panel: Panel, top: float) -> dict[str, Any]:
    """What the panel shows, above it: turned along the axis it would run into the next one."""
    return {
        "text": _plain(panel.y_label),
        "xref": "paper",
        "yref": "paper",
        "x": 0,
        "y": round(top, 4),
        "xanchor": "left",
        "yanchor": "bottom",
        "showarrow": False,
        "font": {"size": 11, "color": "var(--soft)"},
    }


def _row_name(panel: Panel, number: int, value: float, words: str) -> dict[str, Any]:
    """A row's name over the row, as in the still picture: beside it, it would take its room."""
    low, high = panel.y_range
    return {
        "text": _plain(words),
        "xref": "paper",
        "yref": "y" if number == 1 else f"y{number}",
        "x": 0,
        "y": round(value + ROW_NAME_ABOVE * (high - low) / panel.height, 3),
        "xanchor": "left",
        "yanchor": "middle",
        "showarrow": False,
        "font": {"size": 11},
    }


def _plain(words: str) -> str:
    """Text that the drawing library shows as it stands: it reads some markup in labels."""
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _traces(mark: Mark, axis: str) -> list[dict[str, Any]]:
    common = {"type": "scatter", "yaxis": axis, "name": _plain(mark.label)}
    if mark.kind == "line":
        return [common | _x_of(mark.x) | {"y": numbers(mark.y), "mode": "lines",
                                          "line": _line_style(mark)}]  # fmt: skip
    if mark.kind == "dots":
        return [common | _dot_trace(mark)]
    if mark.kind == "band":
        return _band_traces(mark, common)
    if mark.kind.startswith("whisker"):
        return [common | _whisker_trace(mark)]
    return []


def _x_of(x: FloatArray) -> dict[str, Any]:
    steps = np.diff(x)
    if x.size > 2 and np.abs(steps - steps[0]).max() <= 1e-9 + 1e-6 * abs(steps[0]):
        return {"x0": round(float(x[0]), 4), "dx": round(float(steps.mean()), 8)}
    return {"x": numbers(x, 3)}


def _line_style(mark: Mark) -> dict[str, Any]:
    style = STYLES[mark.style]
    dash = ",".join(f"{part}px" for part in style.dash.split()) or "solid"
    return {"color": f"var(--{style.colour})", "width": style.width, "dash": dash}


def _dot_trace(mark: Mark) -> dict[str, Any]:
    style = STYLES[mark.style]
    symbol = SYMBOLS[style.marker] + ("-open" if style.hollow else "")
    colour = f"var(--{style.colour})"
    trace: dict[str, Any] = {
        "x": numbers(mark.x, 3),
        "y": numbers(mark.y),
        "mode": "markers",
        "marker": {
            "symbol": symbol,
            "color": colour,
            "size": 2.4 * style.size,
            "line": {"color": colour, "width": 1.2},
        },
    }
    if mark.hover:
        trace |= {"text": [_plain(words) for words in mark.hover], "hoverinfo": "text"}
    return trace


def _band_traces(mark: Mark, common: dict[str, Any]) -> list[dict[str, Any]]:
    x = np.concatenate([mark.x, mark.x[::-1]])
    y = np.concatenate([mark.high, mark.low[::-1]])
    colour = f"var(--{STYLES[mark.style].colour})"
    return [
        common
        | {"x": numbers(x, 3), "y": numbers(y), "mode": "lines", "fill": "toself"}
        | {"fillcolor": colour, "line": {"width": 0, "color": colour}, "hoverinfo": "skip"}
    ]


def _whisker_trace(mark: Mark) -> dict[str, Any]:
    along_x = mark.kind == "whisker_x"
    x = np.concatenate([mark.low, mark.high]) if along_x else np.repeat(mark.x, 2)
    y = np.repeat(mark.y, 2) if along_x else np.concatenate([mark.low, mark.high])
    colour = f"var(--{STYLES[mark.style].colour})"
    marker = {"symbol": "line-ns" if along_x else "line-ew", "size": 9,
              "line": {"width": 1.6, "color": colour}}  # fmt: skip
    return {
        "x": numbers(x, 3),
        "y": numbers(y),
        "mode": "lines+markers",
        "line": {"color": colour, "width": 1.8},
        "marker": marker,
    }


def _shapes(mark: Mark, axis: str, domain: tuple[float, float]) -> list[dict[str, Any]]:
    style = STYLES[mark.style]
    if mark.kind.startswith("rule"):
        line = _line_style(mark)
        value = float((mark.x if mark.kind == "rule_x" else mark.y)[0])
        return [_span(mark.kind, axis, domain, value, value) | {"type": "line", "line": line}]
    if mark.kind.startswith("zone"):
        low, high = float(mark.low[0]), float(mark.high[0])
        look = {"type": "rect", "line": {"width": 0}, "layer": "below"}
        return [_span(mark.kind, axis, domain, low, high) | look
                | {"fillcolor": f"var(--{style.colour})"}]  # fmt: skip
    return []


def _span(
    kind: str, axis: str, domain: tuple[float, float], low: float, high: float
) -> dict[str, Any]:
    if kind.endswith("_x"):
        return {
            "xref": "x",
            "yref": "paper",
            "x0": low,
            "x1": high,
            "y0": domain[0],
            "y1": domain[1],
        }
    return {"xref": "paper", "yref": axis, "x0": 0, "x1": 1, "y0": low, "y1": high}
