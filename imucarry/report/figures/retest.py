"""Shoulder tests before and after, with the error bar of the test."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.records import RetestFinding
from imucarry.report.figures.chart import Chart, Mark, Panel, dots, rule, span_of, whisker_x
from imucarry.report.wording import say_retest, texts
from imucarry.report.wording.numbers import number

ROW_HEIGHT = 36.0


def retest_chart(findings: Sequence[RetestFinding]) -> Chart | None:
    """Change of each test and side over the bars of its errors; None without a change."""
    changes = np.array([found.change_deg for found in findings], dtype=float)
    if not np.isfinite(changes).any():
        return None
    errors = np.array([(found.error_deg, found.positioning_deg) for found in findings], dtype=float)
    marks: list[Mark] = [rule("x", "between", 0.0, texts.LEGEND["no_change"])]
    for row, found in enumerate(findings):
        marks += _row(found, -float(row))
    words = texts.FIGURES["retest"]
    panel = Panel(
        _named_once(marks),
        "",
        (-len(findings) + 0.5, 0.62),
        ROW_HEIGHT * len(findings),
        tuple((-float(row), _name(found)) for row, found in enumerate(findings)),
    )
    two = words["caption_positioning"] if np.isfinite(errors[:, 1]).any() else ""
    return Chart(
        key="retest",
        title=words["picture"],
        finding=say_retest.retest_count(findings),
        caption=words["caption"] + two,
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


def _row(found: RetestFinding, level: float) -> list[Mark]:
    """The bars of one test and its diamond, which is hollow without a bar."""
    marks: list[Mark] = []
    for style, label, size in (
        ("limit", "positioning", found.positioning_deg),
        ("free", "error", found.error_deg),
    ):
        if np.isfinite(size):
            marks.append(whisker_x(style, level, -size, size, texts.LEGEND[label]))
    style, label = ("mean", "change") if marks else ("mean_open", "change_open")
    at = np.array([found.change_deg]), np.array([level])
    hover = [f"{_name(found)}: {number(found.change_deg)} deg"]
    return [*marks, dots(style, *at, texts.LEGEND[label], hover)]


def _named_once(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """Marks of which only the first of a name stands in the legend."""
    told: set[str] = set()
    named = []
    for mark in marks:
        named.append(replace(mark, label="") if mark.label in told else mark)
        told.add(mark.label)
    return tuple(named)
