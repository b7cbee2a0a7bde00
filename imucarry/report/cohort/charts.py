"""The cohort's pictures: each measure by hold and load, and rotation kept against load."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from imucarry.basics.records import FloatArray
from imucarry.basics.words import counted
from imucarry.carry.circular import CIRCULAR
from imucarry.measures.measure import Measure
from imucarry.measures.table import MEASURES
from imucarry.report.cohort.conditions import CONDITION, ConditionNames, hold_name
from imucarry.report.cohort.data import WHO, CohortData, grouped, with_condition
from imucarry.report.figures.chart import Chart, Mark, Panel, apart, dots, line, rule, span_of
from imucarry.report.pictures import view
from imucarry.report.views import Cell, FigureView, Table, TableRow
from imucarry.report.wording.numbers import number, unit_name
from imucarry.report.wording.words_cohort import COHORT, CONDITION_HEAD, SPREAD_HEADS

ROW_HEIGHT = 34.0
KEPT_HEIGHT = 190.0
SPREAD = 0.22
DOTS_BELOW = 0.14

OF_PANEL = ("hold", "left_hold", "right_hold")
OF_LINE = ("loaded_side", "implement", "perturbed")

Conditions = list[tuple[tuple[Any, ...], FloatArray]]
"""Conditions, each with its values."""


def kept_view(data: CohortData) -> FigureView | None:
    """Rotation kept against load: one line a participant's visit, one panel a hold."""
    loaded = data.bouts.dropna(subset=["yaw_kept_pct", "load_kg"]).query("load_kg > 0")
    if loaded.empty:
        return None
    top = float(loaded["load_kg"].max()) * 1.05
    low, high = span_of([loaded["yaw_kept_pct"].to_numpy(float)], include=0.0)
    panels = tuple(
        Panel(_kept_marks(group), f"{hold_name(*key)}, %", (low, high), KEPT_HEIGHT)
        for key, group in grouped(loaded, OF_PANEL)
    )
    chart = Chart(
        key="kept",
        title=COHORT["kept"],
        finding=COHORT["kept_finding"].format(
            bouts=counted(len(loaded), "loaded bout"),
            people=counted(loaded["participant"].nunique(), "participant"),
        ),
        caption=COHORT["kept_caption"],
        panels=panels,
        x_label=COHORT["load"],
        x_range=(0.0, top),
    )
    conditions = [
        (key, group["yaw_kept_pct"].to_numpy(float)) for key, group in grouped(loaded, CONDITION)
    ]
    return view(chart, _summary_table(conditions, COHORT["kept"], ConditionNames(data.bouts)))


def _kept_marks(group: pd.DataFrame) -> tuple[Mark, ...]:
    marks: list[Mark] = [rule("y", "free", 100.0, COHORT["free"])]
    for index, (_, rows) in enumerate(grouped(group, [*WHO, *OF_LINE])):
        rows = rows.sort_values("load_kg")
        x, y = rows["load_kg"].to_numpy(float), rows["yaw_kept_pct"].to_numpy(float)
        marks.append(line("between", x, y))
        marks.append(dots("one_of_many", x, y, COHORT["bout"] if index == 0 else ""))
    return tuple(marks)


def measure_views(data: CohortData) -> tuple[FigureView, ...]:
    """One picture a measure and side that has any value, in the order of the registry."""
    rows, names = with_condition(data.scores, data.bouts), ConditionNames(data.bouts)
    found: dict[tuple[str, str], Conditions] = {}
    # All in one pass: a grouping costs more than a picture.
    for (measure, side, *condition), group in grouped(rows, ["measure", "side", *CONDITION]):
        conditions = found.setdefault((measure, side), [])
        conditions.append((tuple(condition), group["value"].to_numpy(float)))
    return tuple(
        _measure_view(measure, side, found[measure.id, side], names)
        for measure in MEASURES
        for side in ("none", "left", "right")
        if (measure.id, side) in found
    )


def _measure_view(
    measure: Measure, side: str, conditions: Conditions, names: ConditionNames
) -> FigureView:
    title = measure.label if side == "none" else f"{measure.label}, {side}"
    unit = unit_name(measure.unit)
    marks: list[Mark] = []
    labels = []
    for index, (key, values) in enumerate(conditions):
        level = -float(index)
        labels.append((level, f"{names(key)} ({values.size})"))
        heights = level - DOTS_BELOW + apart(np.arange(values.size), SPREAD)
        marks.append(dots("one_of_many", values, heights, "" if index else COHORT["bout"]))
        middle = np.array([np.median(values)])
        marks.append(
            dots(
                "before", middle, np.full(1, level - DOTS_BELOW), "" if index else COHORT["middle"]
            )
        )
    n_rows, everything = len(conditions), np.concatenate([values for _, values in conditions])
    panel = Panel(
        marks=tuple(marks),
        y_label="",
        y_range=(0.55 - n_rows, 0.62),
        height=ROW_HEIGHT * (n_rows + 0.3),
        row_labels=tuple(labels),
    )
    chart = Chart(
        key=f"m-{measure.id}-{side}",
        title=title,
        finding=COHORT["measure_finding"].format(
            bouts=counted(everything.size, "bout"), conditions=counted(n_rows, "condition")
        ),
        caption=COHORT["angle_caption"] if measure.id in CIRCULAR else "",
        panels=(panel,),
        x_label=f"{title} ({unit})" if unit else title,
        x_range=span_of([everything]),
    )
    return view(chart, _summary_table(conditions, title, names))


def _summary_table(conditions: Conditions, caption: str, names: ConditionNames) -> Table:
    """Number, median, quartiles and range by condition."""
    body = []
    for key, values in conditions:
        quantiles = np.percentile(values, [50, 25, 75, 0, 100])
        cells = (Cell(str(values.size)), *(Cell(number(float(q))) for q in quantiles))
        body.append(TableRow(names(key), cells))
    return Table(caption, CONDITION_HEAD, SPREAD_HEADS, tuple(body))
