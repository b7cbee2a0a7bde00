"""The pictures of one measure, out of those of a visit."""

from __future__ import annotations

from imucarry.basics.records import SessionScores
from imucarry.report.figures.chart import Chart
from imucarry.report.figures.rows import rows_charts


def rotation_charts(scores: SessionScores) -> tuple[Chart, ...]:
    """Those of the sternum's swing."""
    return _of_measure(scores, "sternum_yaw_range")


def swing_charts(scores: SessionScores) -> tuple[Chart, ...]:
    """Those of the forearms' swing."""
    return _of_measure(scores, "arm_swing")


def _of_measure(scores: SessionScores, measure: str) -> tuple[Chart, ...]:
    return tuple(item.chart for item in rows_charts(scores) if item.measure == measure)
