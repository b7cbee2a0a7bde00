"""Agreement of two tables in words and as a picture."""

from __future__ import annotations

import math
from html import escape

import numpy as np

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.limits_of_agreement import Limit
from imucarry.basics.records import SIDES
from imucarry.basics.reliability import Icc
from imucarry.carry.agreement import Agreement
from imucarry.report.definitions import BY_ID
from imucarry.report.figures.chart import Chart, Mark, Panel, dots, rule, span_of, zone
from imucarry.report.figures.shapes import Box
from imucarry.report.figures.style import LIGHT, css_rules, css_variables
from imucarry.report.figures.svg import RIGHT, WIDTH, place, text, to_svg
from imucarry.report.wording.numbers import number, unit_name
from imucarry.report.wording.words_agreement import AGREE, COLUMNS, LIMITS_FOR
from imucarry.tables.schema import BOUT_SUMMARY, STRIDES

HEIGHT = 240.0
INSET = 3.0
BELOW = 3.6
"""How far the foot of a letter stands below the middle of its line."""

LINE_HEIGHT = 12.0
LETTER = 6.5
"""Height of a line of words, and width of one of its letters at most."""

TITLE = "agreement"
UNITS = {column.name: column.unit for table in (STRIDES, BOUT_SUMMARY) for column in table.columns}
LEAST_PAIRS = 3


def lines(found: Agreement) -> list[str]:
    """Return the agreement in a few lines for the console.

    Parameters
    ----------
    found : Agreement
    """
    said = [
        AGREE["pairs"].format(
            n=found.a.size, level=found.level, only_a=found.n_only_a, only_b=found.n_only_b
        )
    ]
    if math.isfinite(found.later_s):
        later = {"later": number(found.later_s, 3), "spread": number(found.later_sd_s, 3)}
        said += [AGREE["starts"].format(**later), *_clocks(found)]
    if found.limits is None:
        return [*said, AGREE["too_few" if found.a.size < LEAST_PAIRS else "all_round"]]
    said += [
        AGREE["bias"].format(value=_interval(found.limits.bias)),
        AGREE["limits"].format(
            low=_interval(found.limits.lower), high=_interval(found.limits.upper)
        ),
        LIMITS_FOR[found.limits_for].format(n=found.limits.n_persons),
    ]
    if (found.level, found.limits_for) == ("stride", "one_person"):
        said.append(AGREE["too_narrow"])
    rmse = AGREE["rmse"].format(value=number(found.rmse, 3))
    if found.circular:
        return [*said, rmse, AGREE["angles"]]
    said += [AGREE["slope"].format(value=_interval(found.proportional)), rmse]
    if found.icc_because:
        return [*said, AGREE["no_icc"].format(why=found.icc_because.replace("_", " "))]
    said += [_icc(icc) for icc in (found.icc_agreement, found.icc_consistency)]
    return [*said, AGREE["icc_of"].format(n=found.limits.n_persons)]


def _clocks(found: Agreement) -> list[str]:
    """Say that the clocks of the tables seem to differ, where they do."""
    if math.isfinite(found.shift_s):
        way = AGREE["later" if found.shift_s > 0 else "earlier"]
        return [AGREE["shifted"].format(shift=number(abs(found.shift_s), 3), way=way)]
    apart = abs(found.later_s) > evidence.AGREE_STARTS_S.value
    return [AGREE["starts_apart"]] if apart else []


def _interval(value: Limit) -> str:
    return f"{number(value.value, 3)} ({number(value.low, 3)} to {number(value.high, 3)})"


def _icc(icc: Icc) -> str:
    limits = Limit(icc.value, icc.low, icc.high)
    return AGREE["icc"].format(form=icc.form, value=_interval(limits))


def picture(found: Agreement) -> str:
    """Return differences against means as a self-contained SVG document.

    Follows Bland & Altman 1986, Lancet i:307-310, figure 2.
    """
    chart = _chart(found)
    names = _line_names(found, place(chart)[0])
    beside = max((len(words) for words, _ in names), default=0) * LETTER
    right = WIDTH - RIGHT + INSET
    drawn = "".join(text(right, y + BELOW, words, "row-name") for words, y in names)
    return _document(to_svg(chart, label_id=TITLE), chart.title, drawn, beside)


def _chart(found: Agreement) -> Chart:
    means, differences = (found.a + found.b) / 2.0, found.a - found.b
    marks: list[Mark] = [rule("y", "between", 0.0)]
    bounds = () if found.limits is None else (found.limits.bias, *_ends(found))
    marks += [zone("y", "free_band", limit.low, limit.high) for limit in bounds]
    marks.append(dots("pair", means, differences))
    # Lines come after the dots, which would hide them.
    marks += [rule("y", "limit" if k else "free", limit.value) for k, limit in enumerate(bounds)]
    edges = [edge for limit in _ends(found) for edge in (limit.low, limit.high)]
    measure, unit = named(found.measure)
    in_brackets = AGREE["unit"].format(unit=unit) if unit else ""
    panel = Panel(
        marks=tuple(marks),
        y_label=AGREE["difference"].format(unit=in_brackets),
        y_range=span_of([differences, np.array(edges)], include=0.0),
        height=HEIGHT,
    )
    return Chart(
        key="agreement",
        title=AGREE["title"].format(measure=measure),
        finding="",
        caption="",
        panels=(panel,),
        x_label=AGREE["mean"].format(measure=measure, unit=in_brackets),
        x_range=span_of([means]),
    )


def named(measure: str) -> tuple[str, str]:
    """Return a measure or a column as people read it, and its unit.

    Parameters
    ----------
    measure : str
        A measure's id, a column of ``strides.csv`` or ``bout_summary.csv``, or a name of the
        user's own, which stays as it is, without a unit.
    """
    if measure in BY_ID:
        return BY_ID[measure].label, unit_name(BY_ID[measure].unit)
    stem, unit = measure.rpartition("_")[0], UNITS.get(measure, "")
    for side in SIDES:
        own = stem.removeprefix(f"{side}_")
        words = COLUMNS.get(own) or (BY_ID[own].label if own in BY_ID else "")
        if words and unit:
            return words if own == stem else f"{words}, {side}", unit_name(unit)
    return measure, unit_name(unit)


def _line_names(found: Agreement, box: Box) -> list[tuple[str, float]]:
    """Return the names of bias and limits with their values, each with its height.

    Names of lines that lie close together are moved apart.
    """
    if found.limits is None:
        return []
    limits = found.limits
    upper, bias, lower = (
        float(box.y(one.value)) for one in (limits.upper, limits.bias, limits.lower)
    )
    lines = (
        ("upper_line", limits.upper, min(upper, bias - LINE_HEIGHT)),
        ("bias_line", limits.bias, bias),
        ("lower_line", limits.lower, max(lower, bias + LINE_HEIGHT)),
    )
    return [(f"{AGREE[name]} {number(one.value, 2)}", y) for name, one, y in lines]


def _ends(found: Agreement) -> tuple[Limit, ...]:
    return () if found.limits is None else (found.limits.lower, found.limits.upper)


def _document(svg: str, title: str, names: str, beside: float) -> str:
    """Return an SVG element as a file of its own: its styles inside, on white.

    To the right of the chart there is room for `names`, as wide as `beside`.
    """
    style = f"<style>svg{{{css_variables(LIGHT)}font:11px sans-serif;background:#fff}}"
    style += ".hair{stroke:var(--hair)}.base{stroke:var(--edge)}"
    style += css_rules() + "</style>"
    head, rest = svg.removesuffix("</svg>").split(">", 1)
    head = head.replace(f"0 0 {WIDTH:g} ", f"0 0 {WIDTH + beside:g} ")
    named_so = f'<title id="{TITLE}">{escape(title)}</title>'
    return f'{head} xmlns="http://www.w3.org/2000/svg">{named_so}{style}{rest}{names}</svg>\n'
