"""The load ladder: how much of the free walk's swing each load keeps."""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import LadderRung
from imucarry.report.figures.chart import (
    Chart,
    Mark,
    Panel,
    band,
    dots,
    line,
    rule,
    span_of,
    whisker_y,
)
from imucarry.report.wording import say_ladder, texts
from imucarry.report.wording.numbers import kilograms, number

HEIGHT = 170.0


def ladder_chart(rung: LadderRung, ordinal: int) -> Chart | None:
    """Kept swing against load; None without tested loads."""
    loads = np.array(rung.loads_kg, dtype=float)
    if not loads.size:
        return None
    words = texts.FIGURES["ladder"]
    threshold = number(rung.threshold_pct, 0)
    values = [np.array(v, dtype=float) for v in (rung.kept_pct, rung.ci_low_pct, rung.ci_high_pct)]
    low, high = span_of([*values, np.array([rung.threshold_pct, 100.0])], include=0.0)
    return Chart(
        key=f"ladder-{ordinal}",
        title=words["title"].format(hold=say_ladder.ladder_hold(rung)),
        finding=say_ladder.ladder(rung),
        caption=words["caption"].format(threshold=threshold),
        panels=(Panel(_marks(rung, loads), words["y"], (low, high), HEIGHT),),
        x_label=words["x"],
        x_range=(0.0, float(loads.max()) * 1.1),
        x_ticks=((0.0, "0"), *((float(load), kilograms(load)) for load in loads)),
    )


def _marks(rung: LadderRung, loads: np.ndarray) -> tuple[Mark, ...]:
    kept = np.array(rung.kept_pct, dtype=float)
    marks: list[Mark] = []
    if len(rung.fit_low_pct) == loads.size and len(rung.fit_high_pct) == loads.size:
        marks.append(
            band("torso_band", loads, np.array(rung.fit_low_pct), np.array(rung.fit_high_pct),
                 texts.LEGEND["fit_band"])
        )  # fmt: skip
    marks.append(rule("y", "free", 100.0, texts.LEGEND["free_mean"]))
    threshold = number(rung.threshold_pct, 0)
    marks.append(
        rule(
            "y", "limit", rung.threshold_pct, texts.LEGEND["threshold"].format(threshold=threshold)
        )
    )
    if len(rung.fit_pct) == loads.size:
        marks.append(line("torso", loads, np.array(rung.fit_pct), texts.LEGEND["fit"]))
    for load, low, high in zip(loads, rung.ci_low_pct, rung.ci_high_pct, strict=False):
        if np.isfinite(low) and np.isfinite(high):
            marks.append(whisker_y("mean", float(load), low, high))
    hover = [f"{load:g} kg: {number(value, 0)} %" for load, value in zip(loads, kept, strict=True)]
    marks.append(dots("mean", loads, kept, texts.LEGEND["mean"], hover))
    return tuple(marks)
