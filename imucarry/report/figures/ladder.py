"""The load ladder: how much of the free walk's swing each load keeps."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.records import BoutResult, Estimate, LadderRung, SessionScores
from imucarry.carry.ladder_doubts import kept_more
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
from imucarry.report.lookup import estimate_of
from imucarry.report.wording import ladder_names, say_ladder, texts
from imucarry.report.wording.free_arms import on_ladder
from imucarry.report.wording.numbers import kilograms, number

HEIGHT = 170.0
LEAST_LOADS = 2
"""A line needs two points."""


def ladder_charts(scores: SessionScores) -> tuple[tuple[LadderRung, Chart], ...]:
    """The ladders of a visit that can be drawn, in the order and by the names of their answers."""
    found = (
        (rung, ladder_chart(rung, k, scores.bouts, ladder_names.for_words(scores, rung)))
        for k, rung in enumerate(ladder_names.as_carried(scores), 1)
    )
    return tuple((rung, chart) for rung, chart in found if chart is not None)


def ladder_chart(
    rung: LadderRung,
    ordinal: int,
    bouts: Sequence[BoutResult] = (),
    named: LadderRung | None = None,
) -> Chart | None:
    """Kept rotation against load; None where no load was measured.

    Of `bouts`, those with loads that do not count are drawn hollow. Title and finding call the
    ladder as `named` is called, which has no implement where all ladders have the same.
    """
    loads = np.array(rung.loads_kg, dtype=float)
    apart = _not_counted(rung, bouts)
    if not np.isfinite(rung.kept_pct).any() and not apart:
        return None
    words = texts.FIGURES["ladder"]
    threshold = number(rung.threshold_pct, 0)
    values = [np.array(v, dtype=float) for v in (rung.kept_pct, rung.ci_low_pct, rung.ci_high_pct)]
    values += [np.array([(kept.value, kept.ci_low, kept.ci_high) for _, kept in apart])]
    low, high = span_of([*values, np.array([rung.threshold_pct, 100.0])], include=0.0)
    return Chart(
        key=f"ladder-{ordinal}",
        title=words["title"].format(hold=ladder_names.ladder_hold(named or rung)),
        finding=say_ladder.ladder(named or rung),
        caption=words["caption"].format(threshold=threshold, fit=words.get(_drawn(rung), ""))
        + _caption(rung, apart),
        panels=(
            Panel((*_marks(rung, loads), *_hollow(rung, apart)), words["y"], (low, high), HEIGHT),
        ),
        x_label=words["x"],
        x_range=(0.0, float(loads.max()) * 1.1),
        x_ticks=((0.0, "0"), *((float(load), kilograms(load)) for load in loads)),
    )


def _drawn(rung: LadderRung) -> str:
    """What is drawn of the line that may only fall: "line", with its "band", or ""."""
    # Where a heavier load kept more, such a line would hide it.
    if kept_more(rung) is not None or len(rung.fit_pct) != len(rung.loads_kg):
        return ""
    if np.count_nonzero(np.isfinite(rung.fit_pct)) < LEAST_LOADS:
        return ""
    has_band = len(rung.fit_low_pct) == len(rung.fit_high_pct) == len(rung.loads_kg)
    return "band" if has_band else "line"


def _marks(rung: LadderRung, loads: np.ndarray) -> tuple[Mark, ...]:
    kept = np.array(rung.kept_pct, dtype=float)
    marks: list[Mark] = []
    drawn = _drawn(rung)
    if drawn == "band":
        at, lowest, highest = _where_known(loads, rung.fit_low_pct, rung.fit_high_pct)
        marks.append(band("torso_band", at, lowest, highest, texts.LEGEND["fit_band"]))
    marks.append(rule("y", "free", 100.0, texts.LEGEND["free_mean"]))
    threshold = number(rung.threshold_pct, 0)
    marks.append(
        rule(
            "y", "limit", rung.threshold_pct, texts.LEGEND["threshold"].format(threshold=threshold)
        )
    )
    if drawn:
        at, trend = _where_known(loads, rung.fit_pct)
        marks.append(line("torso", at, trend, texts.LEGEND["fit"]))
    for load, low, high in zip(loads, rung.ci_low_pct, rung.ci_high_pct, strict=False):
        if np.isfinite(low) and np.isfinite(high):
            marks.append(whisker_y("mean", float(load), low, high))
    hover = [f"{load:g} kg: {number(value, 0)} %" for load, value in zip(loads, kept, strict=True)]
    marks.append(dots("mean", loads, kept, texts.LEGEND["mean"], hover))
    return tuple(marks)


def _where_known(loads: np.ndarray, *values: Sequence[float]) -> tuple[np.ndarray, ...]:
    """Loads with values, without those that do not count, so that a line goes on past them."""
    found = (loads, *(np.array(value, dtype=float) for value in values))
    known = np.isfinite(found).all(axis=0)
    return tuple(part[known] for part in found)


def _not_counted(
    rung: LadderRung, bouts: Sequence[BoutResult]
) -> tuple[tuple[BoutResult, Estimate], ...]:
    """The bouts of this ladder whose loads do not count, with what they kept."""
    loads = {item.load_kg for item in rung.stopped}
    same = [bout for bout in bouts if bout.data.row.load_kg in loads and on_ladder(rung, bout)]
    found = ((bout, estimate_of(bout, "yaw_kept")) for bout in same)
    return tuple((bout, kept) for bout, kept in found if np.isfinite(kept.value))


def _hollow(rung: LadderRung, apart: Sequence[tuple[BoutResult, Estimate]]) -> list[Mark]:
    marks = []
    for bout, kept in apart:
        load = bout.data.row.load_kg
        if np.isfinite(kept.ci_low) and np.isfinite(kept.ci_high):
            marks.append(whisker_y("free", load, kept.ci_low, kept.ci_high))
        hover = [f"{ladder_names.load_name(rung, load)}: {number(kept.value, 0)} %"]
        at = np.array([load]), np.array([kept.value])
        marks.append(dots("mean_open", *at, texts.LEGEND["not_counted"], hover))
    return marks


def _caption(rung: LadderRung, apart: Sequence[tuple[BoutResult, Estimate]]) -> str:
    """Which loads are drawn hollow, and why."""
    loads = dict.fromkeys(ladder_names.load_name(rung, bout.data.row.load_kg) for bout, _ in apart)
    return texts.FIGURES["ladder"]["hollow"].format(loads=", ".join(loads)) if loads else ""
