"""Shoulder tests before and after, over the bands of their errors."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from imucarry.basics.records import FloatArray, RetestFinding
from imucarry.report.figures.chart import Chart, Mark, Panel, band, dots, rule
from imucarry.report.wording import say_retest, say_retest_short, texts
from imucarry.report.wording.degrees import degrees, signed_degrees, tests_whole

ROW_HEIGHT: Final = 36.0
ERROR_HALF: Final = 0.16
"""How far the band of an error reaches above and below the middle of its row."""

POSITIONING_HALF: Final = 0.07
LEAST_REACH_DEG: Final = 5.0
AIR: Final = 1.3
"""How much farther than the largest change or error the axis reaches: none lies at the frame."""


def retest_chart(findings: Sequence[RetestFinding]) -> Chart | None:
    """Change of each test and side over the bands of its errors; None without a change."""
    changes = np.array([found.change_deg for found in findings], dtype=float)
    if not np.isfinite(changes).any():
        return None
    errors = np.array([(found.error_deg, found.positioning_deg) for found in findings], dtype=float)
    whole = tests_whole(findings)
    marks: list[Mark] = [rule("x", "between", 0.0, texts.LEGEND["no_change"])]
    for row, found in enumerate(findings):
        marks += _row(found, -float(row), whole=whole)
    words = texts.FIGURES["retest"]
    panel = Panel(
        tuple(marks),
        "",
        (-len(findings) + 0.5, 0.62),
        ROW_HEIGHT * len(findings),
        tuple((-float(row), _name(found, whole=whole)) for row, found in enumerate(findings)),
    )
    two = words["caption_positioning"] if np.isfinite(errors[:, 1]).any() else ""
    return Chart(
        key="retest",
        title=words["picture"],
        finding=say_retest_short.retest_count(findings),
        caption=words["caption"] + two,
        panels=(panel,),
        x_label=words["x"],
        x_range=_about_zero([changes, errors.ravel()]),
    )


def _about_zero(values: Sequence[FloatArray]) -> tuple[float, float]:
    """A range as far to both sides of 0, so that a change is seen against no change."""
    largest = float(np.nanmax(np.abs(np.concatenate([*values, np.zeros(1)]))))
    reach = max(AIR * largest, LEAST_REACH_DEG)
    return -reach, reach


def _name(found: RetestFinding, *, whole: bool) -> str:
    return texts.FIGURES["retest"]["row"].format(
        name=say_retest.retest_name(found),
        before=degrees(found.before_deg, whole=whole),
        after=degrees(found.after_deg, whole=whole),
    )


def _row(found: RetestFinding, level: float, *, whole: bool) -> list[Mark]:
    """The bands of one test and its diamond, which is hollow without a band."""
    marks: list[Mark] = []
    for style, label, size, half in (
        ("torso_band", "positioning", found.positioning_deg, POSITIONING_HALF),
        ("free_band", "error", found.error_deg, ERROR_HALF),
    ):
        if np.isfinite(size):
            ends = np.full(2, level)
            reach = np.array([-size, size])
            marks.append(band(style, reach, ends - half, ends + half, texts.LEGEND[label]))
    style, label = ("mean", "change") if marks else ("mean_open", "change_open")
    at = np.array([found.change_deg]), np.array([level])
    change = signed_degrees(found.change_deg, whole=whole)
    hover = [f"{_name(found, whole=whole)}: {change} deg"]
    return [*marks, dots(style, *at, texts.LEGEND[label], hover)]
