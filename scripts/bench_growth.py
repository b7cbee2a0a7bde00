"""The picture of growth: time and memory against length and against number of sessions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

from bench_tools import MEBIBYTE, Grown
from environment import ROOT

from imucarry.report.figures.style import LIGHT

PICTURE = ROOT / "data" / "growth.svg"
WIDTH, HEIGHT = 880, 656
PANEL_WIDTH, PANEL_HEIGHT = 330, 195
LEFTS, TOPS = (78, 512), (84, 366)
INSETS = (46, 24)
FONT = "system-ui, -apple-system, 'Segoe UI', 'Liberation Sans', Arial, sans-serif"

Points = Sequence[tuple[float, float]]


def draw(lengths: Sequence[Grown], cohorts: Sequence[Grown]) -> str:
    """Write the picture to ``data/growth.svg`` and return the README's lines on it."""
    PICTURE.write_text(picture(lengths, cohorts), encoding="utf-8", newline="\n")
    return (
        f"![{_said(lengths, cohorts)}](data/growth.svg)\n\n"
        "Time and peak memory of the same run, both axes logarithmic; the dashed line is growth in "
        "proportion to the largest, and what lies above it is the fixed cost of a start."
    )


def picture(lengths: Sequence[Grown], cohorts: Sequence[Grown]) -> str:
    """Return four panels: length left, sessions right, time above, memory below."""
    columns = (
        ("One recording, 3 sensors at 100 Hz", "length of the recording", lengths, "process"),
        ("A cohort, 2 workers", "sessions of 4 min, 3 sensors", cohorts, "parent process"),
    )
    parts = [_open(_said(lengths, cohorts))]
    for left, (heading, x_name, found, whose) in zip(LEFTS, columns, strict=True):
        parts.append(_text(left, TOPS[0] - 46, heading, "heading"))
        labels = [one.label for one in found]
        times = [(one.size, one.seconds) for one in found]
        peaks = [(one.size, one.peak_bytes / MEBIBYTE) for one in found]
        parts.append(_panel(left, TOPS[0], times, labels, "time [s]", x_name))
        parts.append(
            _panel(left, TOPS[1], peaks, labels, f"peak memory of the {whose} [MiB]", x_name)
        )
    return "\n".join([*parts, _legend(), "</svg>"]) + "\n"


def _said(lengths: Sequence[Grown], cohorts: Sequence[Grown]) -> str:
    """Say in one sentence what the picture shows, for those who do not see it."""
    (short, *_, long), (few, *_, many) = lengths, cohorts
    return (
        f"Growth. A recording of {short.label} takes {_value(short.seconds)} s and "
        f"{_value(short.peak_bytes / MEBIBYTE)} MiB, one of {long.label} "
        f"{_value(long.seconds)} s and {_value(long.peak_bytes / MEBIBYTE)} MiB; a cohort of "
        f"{few.label} sessions {_value(few.seconds)} s and "
        f"{_value(few.peak_bytes / MEBIBYTE)} MiB, one of {many.label} "
        f"{_value(many.seconds)} s and {_value(many.peak_bytes / MEBIBYTE)} MiB."
    )


def _panel(
    left: float, top: float, points: Points, labels: Sequence[str], y_name: str, x_name: str
) -> str:
    """Return one panel of points with their values, decades, and growth in proportion."""
    last_x, last_y = points[-1]
    line = [(x, last_y * x / last_x) for x, _ in points]
    lowest = min(y for _, y in (*points, *line))
    decades = (math.floor(math.log10(lowest)), math.ceil(math.log10(max(y for _, y in points))))
    span = (math.log10(points[0][0]), math.log10(last_x))

    def x_at(x: float) -> float:
        share = (math.log10(x) - span[0]) / (span[1] - span[0])
        return left + INSETS[0] + share * (PANEL_WIDTH - sum(INSETS))

    def y_at(y: float) -> float:
        share = (math.log10(y) - decades[0]) / (decades[1] - decades[0])
        return top + PANEL_HEIGHT * (1.0 - share)

    right, foot = left + PANEL_WIDTH, top + PANEL_HEIGHT
    parts = [_text(left - 44, top - 12, y_name, "name")]
    for decade in range(decades[0], decades[1] + 1):
        y = y_at(10.0**decade)
        parts.append(f'<path class="hair" d="M{left:g} {y:.1f}H{right:g}"/>')
        parts.append(_text(left - 8, y + 4.5, f"{10.0**decade:,.10g}", "tick", "end"))
    for label, (x, _) in zip(labels, points, strict=True):
        parts.append(f'<path class="hair" d="M{x_at(x):.1f} {top:g}V{foot:g}"/>')
        parts.append(_text(x_at(x), foot + 18, label, "tick", "middle"))
    parts.append(f'<path class="base" d="M{left:g} {foot:g}H{right:g}"/>')
    parts.append(_text(right, foot + 37, x_name, "name", "end"))
    parts.append(_line([(x_at(x), y_at(y)) for x, y in line], "proportion"))
    parts.append(_line([(x_at(x), y_at(y)) for x, y in points], "measured"))
    for x, y in points:
        parts.append(f'<circle class="dot" cx="{x_at(x):.1f}" cy="{y_at(y):.1f}" r="4.2"/>')
        # A value above its point stands clear of both lines, which rise to the right.
        parts.append(_text(x_at(x) - 5, y_at(y) - 9, _value(y), "value", "end"))
    return "\n".join(parts)


def _value(number: float) -> str:
    """Three digits, no more: a second run differs in the next."""
    return f"{number:.1f}" if number < 10.0 else f"{number:,.0f}"


def _line(places: Points, css: str) -> str:
    steps = "L".join(f"{x:.1f} {y:.1f}" for x, y in places)
    return f'<path class="{css}" d="M{steps}"/>'


def _text(x: float, y: float, words: str, css: str, anchor: str = "start") -> str:
    where = f'x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"'
    return f'<text class="{css}" {where}>{escape(words)}</text>'


def _legend() -> str:
    y = HEIGHT - 18
    return "\n".join(
        [
            _line([(78, y - 5), (114, y - 5)], "measured"),
            f'<circle class="dot" cx="96" cy="{y - 5}" r="4.2"/>',
            _text(122, y, "measured", "tick"),
            _line([(212, y - 5), (248, y - 5)], "proportion"),
            _text(256, y, "growth in proportion, through the largest", "tick"),
        ]
    )


def _open(said: str) -> str:
    """Return the head: the picture has its own paper, so that it suits a dark page too."""
    ink, soft, hair, edge = (LIGHT[name] for name in ("ink", "soft", "hair", "edge"))
    return f"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" \
width="{WIDTH}" height="{HEIGHT}" role="img">
<title>{escape(said)}</title>
<style>
text{{font-family:{FONT};fill:{soft}}}
.heading{{font-size:17px;font-weight:600;fill:{ink}}}
.name,.tick{{font-size:13px}}
.value{{font-size:13px;font-weight:600;fill:{ink}}}
path{{fill:none}}
.hair{{stroke:{hair}}}
.base{{stroke:{edge}}}
.measured{{stroke:{LIGHT["left"]};stroke-width:2.2}}
.dot{{fill:{LIGHT["left"]}}}
.proportion{{stroke:{LIGHT["right"]};stroke-width:1.6;stroke-dasharray:6 4}}
</style>
<rect width="{WIDTH}" height="{HEIGHT}" rx="10" fill="{LIGHT["paper"]}" stroke="{hair}"/>"""
