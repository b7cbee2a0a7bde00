"""The cohort's pictures: each measure by hold and load, and rotation kept against load."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from imucarry.basics.records import BoolArray, FloatArray
from imucarry.basics.words import counted
from imucarry.carry.angle_measures import CIRCULAR
from imucarry.measures.measure import Measure
from imucarry.measures.table import MEASURES
from imucarry.report.cohort.conditions import CONDITION, ConditionNames, Held
from imucarry.report.cohort.data import ENDED, WHO, CohortData, grouped, with_condition, with_ended
from imucarry.report.figures.chart import Chart, Mark, Panel, apart, dots, line, rule, span_of
from imucarry.report.pictures import view
from imucarry.report.views import Cell, FigureView, Table, TableRow
from imucarry.report.wording import texts
from imucarry.report.wording.holds import hold_named
from imucarry.report.wording.numbers import number, unit_name
from imucarry.report.wording.words_cohort import COHORT, CONDITION_HEAD, SPREAD_HEADS

ROW_HEIGHT = 34.0
KEPT_HEIGHT = 190.0
SPREAD = 0.22
DOTS_BELOW = 0.14

FREE_PCT = 100.0
"""The free walk."""

OF_PANEL = ("hold", "left_hold", "right_hold")
OF_LINE = ("loaded_side", "implement", "perturbed")

Conditions = list[tuple[tuple[Any, ...], FloatArray, BoolArray]]
"""Conditions, each with the values of its bouts and which of them had pain or an early stop."""


def kept_view(data: CohortData) -> FigureView | None:
    """Rotation kept against load: one line a participant's visit, one panel a hold."""
    bouts = with_ended(data)
    loaded = bouts.dropna(subset=["yaw_kept_pct", "load_kg"]).query("load_kg > 0")
    if loaded.empty:
        return None
    top = float(loaded["load_kg"].max()) * 1.05
    line_pct = data.settings.carry.reduced_pct
    seen = [loaded["yaw_kept_pct"].to_numpy(float), np.array([line_pct, FREE_PCT])]
    panels = tuple(
        Panel(
            _kept_marks(group, line_pct),
            COHORT["kept_y"].format(hold=hold_named(Held(*key))),
            span_of(seen, include=0.0),
            KEPT_HEIGHT,
        )
        for key, group in grouped(loaded, OF_PANEL)
    )
    chart = Chart(
        key="kept",
        title=COHORT["kept"],
        finding=COHORT["kept_finding"].format(
            bouts=counted(len(loaded), "loaded bout"),
            people=counted(loaded["participant"].nunique(), "participant"),
        ),
        caption=COHORT["kept_caption"] + (COHORT["kept_hollow"] if loaded[ENDED].any() else ""),
        panels=panels,
        x_label=COHORT["load"],
        x_range=(0.0, top),
    )
    conditions = [
        _condition(key, group, "yaw_kept_pct") for key, group in grouped(loaded, CONDITION)
    ]
    return view(chart, _summary_table(conditions, COHORT["kept"], ConditionNames(data.bouts)))


def _kept_marks(group: pd.DataFrame, line_pct: float) -> tuple[Mark, ...]:
    threshold = texts.LEGEND["threshold"].format(threshold=number(line_pct, 0))
    marks: list[Mark] = [rule("y", "free", FREE_PCT, COHORT["free"])]
    marks.append(rule("y", "limit", line_pct, threshold))
    for _, rows in grouped(group, [*WHO, *OF_LINE]):
        rows = rows.sort_values("load_kg")
        x, y = rows["load_kg"].to_numpy(float), rows["yaw_kept_pct"].to_numpy(float)
        marks.append(line("between", x, y))
        marks += _bouts(x, y, rows[ENDED].to_numpy(bool))
    return tuple(marks)


def _bouts(x: FloatArray, y: FloatArray, ended: BoolArray) -> list[Mark]:
    """Bouts as dots, those with pain or an early stop hollow."""
    kinds = (("one_of_many", "bout", ~ended), ("one_open", "ended", ended))
    return [
        dots(style, x[these], y[these], COHORT[words])
        for style, words, these in kinds
        if these.any()
    ]


def measure_views(data: CohortData) -> tuple[FigureView, ...]:
    """One picture a measure and side that has any value, in the order of the registry."""
    rows = with_condition(data.scores, with_ended(data), ENDED)
    names = ConditionNames(data.bouts)
    found: dict[tuple[str, str], Conditions] = {}
    # All in one pass: a grouping costs more than a picture.
    for (measure, side, *condition), group in grouped(rows, ["measure", "side", *CONDITION]):
        conditions = found.setdefault((measure, side), [])
        conditions.append(_condition(tuple(condition), group, "value"))
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
    for index, (key, values, ended) in enumerate(conditions):
        level = -float(index)
        labels.append((level, f"{names(key)} ({values.size})"))
        middle = np.array([np.median(values)])
        # The ring comes first: it would hide the dots within it.
        marks.append(dots("before", middle, np.full(1, level - DOTS_BELOW), COHORT["middle"]))
        heights = level - DOTS_BELOW + apart(np.arange(values.size), SPREAD)
        marks += _bouts(values, heights, ended)
    n_rows, everything = len(conditions), np.concatenate([values for _, values, _ in conditions])
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


def _condition(
    key: tuple[Any, ...], rows: pd.DataFrame, name: str
) -> tuple[tuple[Any, ...], FloatArray, BoolArray]:
    return key, rows[name].to_numpy(float), rows[ENDED].to_numpy(bool)


def _summary_table(conditions: Conditions, caption: str, names: ConditionNames) -> Table:
    """Number, median, quartiles and range by condition."""
    body = []
    for key, values, _ in conditions:
        quantiles = np.percentile(values, [50, 25, 75, 0, 100])
        cells = (Cell(str(values.size)), *(Cell(number(float(q))) for q in quantiles))
        body.append(TableRow(names(key), cells))
    return Table(caption, CONDITION_HEAD, SPREAD_HEADS, tuple(body))
