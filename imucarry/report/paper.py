"""Figures for papers, PNG and SVG, with the extra ``figures``: the page's charts redrawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np

from imucarry.basics.errors import OutputError
from imucarry.basics.records import SessionScores
from imucarry.report.figures.chart import Chart, Mark, Panel
from imucarry.report.figures.ladder import ladder_charts
from imucarry.report.figures.rows import rows_charts
from imucarry.report.figures.stride import stride_chart
from imucarry.report.figures.style import LIGHT, STYLES

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDTH_IN: Final = 5.2
IN_PER_UNIT: Final = 1.0 / 72.0
EXTRA_IN: Final = 1.0
DPI: Final = 300
MARKERS: Final = {"circle": "o", "square": "s", "triangle": "^", "diamond": "D", "cross": "x"}


def write_figures(scores: SessionScores, folder: Path) -> list[str]:
    """Write rotation, arm swing, ladders and mean strides as PNG and SVG.

    Parameters
    ----------
    scores : SessionScores
    folder : Path
        An existing folder.

    Returns
    -------
    list of str
        Names of the files, relative to `folder`.

    Raises
    ------
    OutputError
        If the extra ``figures`` is not installed.
    """
    try:
        import matplotlib
    except ImportError as error:
        raise OutputError(
            "figures for papers need an extra: pip install 'imucarry[figures]'"
        ) from error
    names = []
    # Fixed salt and no date: the same scores give the same bytes.
    with matplotlib.rc_context({"svg.hashsalt": "imucarry", "svg.fonttype": "none"}):
        for chart in charts_of(scores):
            figure = draw_chart(chart)
            for kind in ("png", "svg"):
                name = f"figure_{chart.key.replace('-', '_')}.{kind}"
                metadata = {"Date": None} if kind == "svg" else {"Software": None}
                figure.savefig(folder / name, dpi=DPI, metadata=metadata)
                names.append(name)
    return names


def charts_of(scores: SessionScores) -> Iterator[Chart]:
    """The charts that a paper may use."""
    found = [
        *(item.chart for item in rows_charts(scores)),
        *(chart for _, chart in ladder_charts(scores)),
        *(stride_chart(scores, bout) for bout in scores.bouts),
    ]
    yield from (chart for chart in found if chart is not None)


def draw_chart(chart: Chart) -> Figure:
    """One chart as a figure of its own; no drawing window is touched."""
    from matplotlib.figure import Figure

    heights = [panel.height for panel in chart.panels]
    figure = Figure(figsize=(WIDTH_IN, sum(heights) * IN_PER_UNIT + EXTRA_IN), layout="constrained")
    grid = figure.subplots(len(heights), 1, sharex=True, squeeze=False, height_ratios=heights)
    for axes, panel in zip(grid[:, 0], chart.panels, strict=True):
        _panel(axes, panel)
    last = grid[-1, 0]
    last.set_xlabel(_plain(chart.x_label))
    last.set_xlim(*chart.x_range)
    if chart.x_ticks:
        last.set_xticks([v for v, _ in chart.x_ticks], [_plain(t) for _, t in chart.x_ticks])
    _legend(figure, grid[:, 0].tolist())
    return figure


def _plain(words: str) -> str:
    """Text without the sign that the drawing library reads as the start of a formula."""
    return words.replace("$", r"\$")


def _panel(axes: Axes, panel: Panel) -> None:
    for mark in panel.marks:
        _DRAW[mark.kind](axes, mark, _colour(mark))
    axes.set_ylim(*panel.y_range)
    axes.spines[["top", "right"]].set_visible(False)
    if panel.row_labels:
        axes.set_yticks([v for v, _ in panel.row_labels], [_plain(t) for _, t in panel.row_labels])
    if panel.y_label:
        axes.set_title(_plain(panel.y_label), loc="left", fontsize="small")


def _legend(figure: Figure, panels: list[Axes]) -> None:
    found: dict[str, Artist] = {}
    for axes in panels:
        for handle, label in zip(*axes.get_legend_handles_labels(), strict=True):
            found.setdefault(label, handle)
    if found:
        figure.legend(
            found.values(), found.keys(), loc="outside lower center", ncols=2, fontsize="small",
            frameon=False,
        )  # fmt: skip


def _colour(mark: Mark) -> str:
    return LIGHT[STYLES[mark.style].colour]


def _label(mark: Mark) -> str:
    return _plain(mark.label) if mark.label else "_"


def _dash(mark: Mark) -> tuple[float, tuple[float, ...]] | str:
    dash = tuple(float(part) for part in STYLES[mark.style].dash.split())
    return (0.0, dash) if dash else "-"


def _line(axes: Axes, mark: Mark, colour: str) -> None:
    axes.plot(mark.x, mark.y, color=colour, linestyle=_dash(mark),
              linewidth=STYLES[mark.style].width, label=_label(mark))  # fmt: skip


def _dots(axes: Axes, mark: Mark, colour: str) -> None:
    style = STYLES[mark.style]
    face = "none" if style.hollow else colour
    axes.plot(mark.x, mark.y, linestyle="none", marker=MARKERS[style.marker], color=colour,
              markerfacecolor=face, markersize=1.6 * style.size, label=_label(mark),
              zorder=3)  # fmt: skip


def _band(axes: Axes, mark: Mark, colour: str) -> None:
    axes.fill_between(mark.x, mark.low, mark.high, color=colour, linewidth=0, label=_label(mark))


def _whisker_x(axes: Axes, mark: Mark, colour: str) -> None:
    axes.plot(np.concatenate([mark.low, mark.high]), np.repeat(mark.y, 2), color=colour,
              marker="|", label=_label(mark))  # fmt: skip


def _whisker_y(axes: Axes, mark: Mark, colour: str) -> None:
    axes.plot(np.repeat(mark.x, 2), np.concatenate([mark.low, mark.high]), color=colour,
              marker="_", label=_label(mark))  # fmt: skip


def _zone_x(axes: Axes, mark: Mark, colour: str) -> None:
    axes.axvspan(float(mark.low[0]), float(mark.high[0]), color=colour, linewidth=0,
                 label=_label(mark))  # fmt: skip


def _zone_y(axes: Axes, mark: Mark, colour: str) -> None:
    axes.axhspan(float(mark.low[0]), float(mark.high[0]), color=colour, linewidth=0,
                 label=_label(mark))  # fmt: skip


def _rule_x(axes: Axes, mark: Mark, colour: str) -> None:
    axes.axvline(float(mark.x[0]), color=colour, linestyle=_dash(mark),
                 linewidth=STYLES[mark.style].width, label=_label(mark))  # fmt: skip


def _rule_y(axes: Axes, mark: Mark, colour: str) -> None:
    axes.axhline(float(mark.y[0]), color=colour, linestyle=_dash(mark),
                 linewidth=STYLES[mark.style].width, label=_label(mark))  # fmt: skip


_DRAW: Final[dict[str, Callable[[Axes, Mark, str], None]]] = {
    "line": _line,
    "dots": _dots,
    "band": _band,
    "whisker_x": _whisker_x,
    "whisker_y": _whisker_y,
    "zone_x": _zone_x,
    "zone_y": _zone_y,
    "rule_x": _rule_x,
    "rule_y": _rule_y,
}
