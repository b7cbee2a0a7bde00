"""Shoulder tests before and after, with the error bar of the test."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.records import RetestFinding
from imucarry.report.figures.chart import Chart, Mark, Panel, dots, rule, span_of, whisker_x
from imucarry.report.wording import say_retest, texts
from imucarry.report.wording.numbers import number

ROW_HEIGHT = 36.0


def retest_chart(findings: Sequence[RetestFinding]) -> Chart | None:
    """Change of each test and side over the bar of its error; None without a change."""
    changes = np.array([found.change_deg for found in findings], dtype=float)
    if not np.isfinite(changes).any():
        return None
    errors = np.array([found.error_deg for found in findings], dtype=float)
    marks: list[Mark] = [rule("x", "between", 0.0, texts.LEGEND["no_change"])]
    for row, found in enumerate(findings):
        marks += _row(found, -float(row), first=row == 0)
    words = texts.FIGURES["retest"]
    panel = Panel(
        tuple(marks),
        "",
        (-len(findings) + 0.5, 0.62),
        ROW_HEIGHT * len(findings),
        tuple((-float(row), _name(found)) for row, found in enumerate(findings)),
    )
    return Chart(
        key="retest",
        title=words["picture"],
        finding=say_retest.retest_count(findings),
        caption=words["caption"],
        panels=(panel,),
        x_label=words["x"],
        x_range=span_of([changes, errors, -errors, np.zeros(1)]),
    )


def _name(found: RetestFinding) -> str:
    return texts.FIGURES["retest"]["row"].format(
        name=say_retest.retest_name(found),
        before=number(found.before_deg),
        after=number(found.after_deg),
    )


def _row(found: RetestFinding, level: float, *, first: bool) -> list[Mark]:
    marks: list[Mark] = []
    if np.isfinite(found.error_deg):
        label = texts.LEGEND["error"] if first else ""
        marks.append(whisker_x("free", level, -found.error_deg, found.error_deg, label))
    at = np.array([found.change_deg]), np.array([level])
    label = texts.LEGEND["change"] if first else ""
    marks.append(dots("mean", *at, label, [f"{_name(found)}: {number(found.change_deg)} deg"]))
    return marks
