"""Shoulder tests before and after, with the error bar of the test."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.records import RetestFinding
from imucarry.report.figures.chart import Chart, Mark, Panel, dots, span_of, whisker_x
from imucarry.report.wording import say, texts
from imucarry.report.wording.numbers import number

ROW_HEIGHT = 36.0
BEYOND = ("increased_more_than_error", "decreased_more_than_error")


def retest_chart(findings: Sequence[RetestFinding]) -> Chart | None:
    """One row a test and side; None without a finite reading."""
    readings = np.array([[f.before_deg, f.after_deg] for f in findings], dtype=float)
    if not np.isfinite(readings).any():
        return None
    errors = np.array([f.error_deg for f in findings], dtype=float)
    marks: list[Mark] = []
    for row, found in enumerate(findings):
        marks += _row(found, -float(row), first=row == 0)
    bars = [readings, readings[:, 0] - errors, readings[:, 0] + errors]
    words = texts.FIGURES["retest"]
    beyond = sum(found.finding in BEYOND for found in findings)
    panel = Panel(
        tuple(marks),
        "",
        (-len(findings) + 0.5, 0.62),
        ROW_HEIGHT * len(findings),
        tuple((-float(row), say.retest_name(found)) for row, found in enumerate(findings)),
    )
    return Chart(
        key="retest",
        title=words["title"],
        finding=texts.FIGURE_FINDINGS["retest"].format(beyond=beyond, all=len(findings)),
        caption=words["caption"],
        panels=(panel,),
        x_label=words["x"],
        x_range=span_of(bars),
    )


def _row(found: RetestFinding, level: float, *, first: bool) -> list[Mark]:
    at = np.array([level])
    before, after = np.array([found.before_deg]), np.array([found.after_deg])
    marks: list[Mark] = []
    if np.isfinite(found.before_deg) and np.isfinite(found.error_deg):
        low, high = found.before_deg - found.error_deg, found.before_deg + found.error_deg
        marks.append(whisker_x("free", level, low, high, texts.LEGEND["error"] if first else ""))
    name = say.retest_name(found)
    hovers = [
        [f"{name}, {texts.LEGEND[key]}: {number(float(value[0]))} deg"]
        for key, value in (("before", before), ("after", after))
    ]
    marks.append(dots("before", before, at, texts.LEGEND["before"] if first else "", hovers[0]))
    marks.append(dots("mean", after, at, texts.LEGEND["after"] if first else "", hovers[1]))
    return marks
