"""Agreement of two tables in words and as a picture."""

from __future__ import annotations

import numpy as np

from imucarry.basics.reliability import Icc, Limit
from imucarry.carry.agreement import Agreement
from imucarry.report.figures.chart import Chart, Mark, Panel, dots, rule, span_of, zone
from imucarry.report.figures.style import LIGHT, css_rules, css_variables
from imucarry.report.figures.svg import to_svg
from imucarry.report.wording.numbers import number
from imucarry.report.wording.words_agreement import AGREE, LIMITS_FOR

HEIGHT = 240.0


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
    if found.limits is None:
        return [*said, AGREE["too_few"]]
    said += [
        AGREE["bias"].format(value=_interval(found.limits.bias)),
        AGREE["limits"].format(
            low=_interval(found.limits.lower), high=_interval(found.limits.upper)
        ),
        LIMITS_FOR[found.limits_for].format(n=found.limits.n_persons),
        AGREE["slope"].format(value=_interval(found.proportional)),
        AGREE["rmse"].format(value=number(found.rmse, 3)),
    ]
    if found.icc_because:
        return [*said, AGREE["no_icc"].format(why=found.icc_because.replace("_", " "))]
    return [*said, *(_icc(icc) for icc in (found.icc_agreement, found.icc_consistency))]


def _interval(value: Limit) -> str:
    return f"{number(value.value, 3)} ({number(value.low, 3)} to {number(value.high, 3)})"


def _icc(icc: Icc) -> str:
    limits = Limit(icc.value, icc.low, icc.high)
    return AGREE["icc"].format(form=icc.form, value=_interval(limits))


def picture(found: Agreement) -> str:
    """Return differences against means as a self-contained SVG document.

    Follows Bland & Altman 1986, Lancet i:307-310, figure 2.
    """
    means, differences = (found.a + found.b) / 2.0, found.a - found.b
    marks: list[Mark] = [rule("y", "between", 0.0)]
    if found.limits is not None:
        bounds = (found.limits.bias, found.limits.lower, found.limits.upper)
        marks += [zone("y", "free_band", limit.low, limit.high) for limit in bounds]
        marks.append(rule("y", "free", found.limits.bias.value, AGREE["bias_line"]))
        marks += [rule("y", "limit", limit.value) for limit in bounds[1:]]
    marks.append(dots("torso", means, differences))
    spread = [limit.low for limit in _ends(found)] + [limit.high for limit in _ends(found)]
    panel = Panel(
        marks=tuple(marks),
        y_label=AGREE["difference"],
        y_range=span_of([differences, np.array(spread)], include=0.0),
        height=HEIGHT,
    )
    chart = Chart(
        key="agreement",
        title=found.measure,
        finding="",
        caption="",
        panels=(panel,),
        x_label=AGREE["mean"].format(measure=found.measure),
        x_range=span_of([means]),
    )
    return _document(to_svg(chart))


def _ends(found: Agreement) -> tuple[Limit, ...]:
    return () if found.limits is None else (found.limits.lower, found.limits.upper)


def _document(svg: str) -> str:
    """Return an SVG element as a file of its own: its styles inside, on white."""
    style = f"<style>svg{{{css_variables(LIGHT)}font:11px sans-serif;background:#fff}}"
    style += ".hair{stroke:var(--hair)}.base{stroke:var(--edge)}" + css_rules() + "</style>"
    head, rest = svg.split(">", 1)
    return f'{head} xmlns="http://www.w3.org/2000/svg">{style}{rest}\n'
