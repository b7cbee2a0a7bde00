"""Rotation and arm swing of every bout: dots of each stride, one row a bout."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import report as evidence
from imucarry.basics.records import SIDES, BoutResult, FloatArray, SessionScores, Side
from imucarry.report.figures.chart import (
    Chart,
    Mark,
    Panel,
    apart,
    dots,
    rule,
    span_of,
    whisker_x,
    zone,
)
from imucarry.report.figures.spacing import (
    MOST_CLOSE,
    MOST_TOGETHER,
    NAME_ABOVE,
    Spacing,
    spacing_of,
)
from imucarry.report.lookup import (
    NO_STRIDES,
    column_of,
    estimate_of,
    free_bouts,
    in_even_parts,
    role_of,
    swing_values,
)
from imucarry.report.wording import say, say_arms, texts, words_checks
from imucarry.report.wording.bout_runs import bouts_named
from imucarry.report.wording.implements import several_implements
from imucarry.report.wording.numbers import number
from imucarry.report.wording.side_doubt import arms_in_doubt


@dataclass(frozen=True, slots=True)
class RowsChart:
    """A picture with a row a bout, and whose bouts, measure and sides it shows."""

    chart: Chart
    bouts: tuple[BoutResult, ...]
    measure: str
    sides: tuple[str, ...]


def rows_charts(scores: SessionScores) -> tuple[RowsChart, ...]:
    """Sternum swing, then forearm swing of each stride, bout by bout.

    Without a chest sensor the one, without wrist sensors the other is left out. One picture
    holds all bouts and both arms; of a long visit the arms, then the bouts are spread over
    several, so that none is longer than a printed page. No threshold is drawn: whether a bout
    kept it depends on how much the free walks differ too, which these pictures do not hold.
    """
    found = []
    if any(_row(bout, "sternum_yaw_range", "none")[0].size for bout in scores.bouts):
        for key, bouts in _runs(scores.bouts, "rotation"):
            chart = _rotation_chart(scores, bouts, key)
            found.append(RowsChart(chart, bouts, "sternum_yaw_range", ("none",)))
    sides = [side for side in SIDES if any(side in bout.data.swing for bout in scores.bouts)]
    alone = len(sides) * len(scores.bouts) > MOST_TOGETHER
    for of_chart in [[side] for side in sides] if alone else [sides] if sides else []:
        for key, bouts in _runs(scores.bouts, f"swing-{of_chart[0]}" if alone else "swing"):
            chart = _swing_chart(scores, bouts, of_chart, key)
            found.append(RowsChart(chart, bouts, "arm_swing", tuple(of_chart)))
    return tuple(found)


def _runs(bouts: Sequence[BoutResult], key: str) -> Iterator[tuple[str, tuple[BoutResult, ...]]]:
    """Bouts in as few runs as pictures hold them, as even as can be, each with its key."""
    runs = in_even_parts(bouts, MOST_CLOSE)
    for number_of, run in enumerate(runs, 1):
        yield (key if len(runs) == 1 else f"{key}-{number_of}"), tuple(run)


def _rotation_chart(scores: SessionScores, bouts: Sequence[BoutResult], key: str) -> Chart:
    words = texts.FIGURES["rotation"]
    return Chart(
        key=key,
        title=_title(words["title"], scores, bouts),
        finding=_finding(bouts, bouts, "sternum_yaw_range", "none", "rotation"),
        caption=words["caption"],
        panels=(_panel(scores, bouts, "sternum_yaw_range", "none", spacing_of(len(bouts))),),
        x_label=words["x"],
        x_range=_range(scores, ("sternum_yaw_range",), ("none",)),
    )


def _title(words: str, scores: SessionScores, bouts: Sequence[BoutResult]) -> str:
    """A title that says which bouts a picture shows where it does not show all."""
    if len(bouts) == len(scores.bouts):
        return words
    first, last = (say.bout_name(bout.data.row) for bout in (bouts[0], bouts[-1]))
    return texts.TABLE["of_bouts"].format(caption=words, first=first, last=last)


def _swing_chart(
    scores: SessionScores, bouts: Sequence[BoutResult], sides: Sequence[Side], key: str
) -> Chart:
    words = texts.FIGURES["swing"]
    free = {side: [b for b in bouts if not _is_held(b, side) and not arms_in_doubt(scores, b)]
            for side in sides}  # fmt: skip
    said = [_finding(free[side], bouts, "arm_swing", side, "swing") for side in sides]
    title = words["title"] if len(sides) > 1 else words["title_one"].format(side=sides[0])
    return Chart(
        key=key,
        title=_title(title, scores, bouts),
        finding=" ".join(dict.fromkeys(said)),
        caption=words["caption"] + _read_otherwise(bouts, sides),
        panels=tuple(
            _panel(
                scores,
                bouts,
                "arm_swing",
                side,
                spacing_of(len(sides) * len(bouts)),
            )
            for side in sides
        ),
        x_label=words["x"],
        x_range=_range(scores, ("arm_swing",) * len(sides), tuple(sides)),
    )


def _read_otherwise(bouts: Sequence[BoutResult], sides: Sequence[Side]) -> str:
    """Which bouts' arms are read against other free walks than the stripe holds; "" for none."""
    rows = [
        bout.data.row for bout in bouts if any(say_arms.of_like_pace(bout, side) for side in sides)
    ]
    return texts.FIGURES["swing"]["all_walks"].format(bouts=bouts_named(rows)) if rows else ""


def _row(bout: BoutResult, measure: str, side: str) -> tuple[FloatArray, FloatArray]:
    """Values of the strides that count, and their stride numbers."""
    if measure == "arm_swing":
        return swing_values(bout, "left" if side == "left" else "right")
    kept = bout.data.strides.kept_yaw
    values = column_of(bout, "sternum_yaw_range_deg")
    if values.size != kept.size:
        return NO_STRIDES, NO_STRIDES
    good = np.flatnonzero(kept & np.isfinite(values))
    return values[good], good.astype(np.float64) + 1.0


def _range(
    scores: SessionScores, measures: tuple[str, ...], sides: tuple[str, ...]
) -> tuple[float, float]:
    values = [
        _row(bout, measure, side)[0]
        for measure, side in zip(measures, sides, strict=True)
        for bout in scores.bouts
    ]
    return span_of(values, include=0.0)


def _panel(
    scores: SessionScores,
    bouts: Sequence[BoutResult],
    measure: str,
    side: str,
    spacing: Spacing,
) -> Panel:
    marks = _free_marks(scores, measure, side)
    labels = []
    named_for = several_implements(scores.bouts)
    for index, bout in enumerate(bouts):
        name = say.bout_label(bout.data.row, named_for)
        labels.append((-float(index), _row_label(name, scores, bout, side)))
        marks += _row_marks(name, bout, measure, side, -float(index), spacing)
    end = spacing.height - NAME_ABOVE
    return Panel(
        marks=tuple(marks),
        y_label="" if side == "none" else texts.FIGURES["curves"][side].split(" (")[0],
        y_range=(-(len(bouts) - 1) - end / spacing.height, NAME_ABOVE / spacing.height),
        height=spacing.height * (len(bouts) - 1) + end + NAME_ABOVE,
        row_labels=tuple(labels),
    )


def _row_label(name: str, scores: SessionScores, bout: BoutResult, side: str) -> str:
    if side != "none" and arms_in_doubt(scores, bout):
        return f"{name} ({words_checks.SIDE_IN_DOUBT['short']})"
    return f"{name} ({texts.LEGEND['held_arm']})" if _is_held(bout, side) else name


def _is_held(bout: BoutResult, side: str) -> bool:
    """Whether an arm held the load; "none" is no arm."""
    return side != "none" and role_of(bout, "left" if side == "left" else "right") == "held"


def _free_marks(scores: SessionScores, measure: str, side: str) -> list[Mark]:
    walks = [_row(bout, measure, side)[0] for bout in free_bouts(scores)]
    joined = np.concatenate(walks) if walks else np.empty(0)
    if not joined.size:
        return []
    low, high = np.percentile(joined, [evidence.BAND_LOW_PCT.value, evidence.BAND_HIGH_PCT.value])
    mean = float(np.mean([walk.mean() for walk in walks if walk.size]))
    return [
        zone("x", "free_band", float(low), float(high), texts.LEGEND["free_band"]),
        rule("x", "free", mean, texts.LEGEND["free_mean"]),
    ]


def _row_marks(
    name: str, bout: BoutResult, measure: str, side: str, level: float, spacing: Spacing
) -> list[Mark]:
    values, numbers = _row(bout, measure, side)
    style, mean_style = _styles(bout, side)
    heights = level + (apart(numbers, spacing.spread) - spacing.dots_below) / spacing.height
    mean_level = level - spacing.mean_below / spacing.height
    hover = [
        f"{say.bout_name(bout.data.row)}, {texts.LEGEND['stride']} {int(n)}: {value:.1f} deg"
        for n, value in zip(numbers, values, strict=True)
    ]
    stride, mean = _labels(bout, side)
    marks = [dots(style, values, heights, stride, hover)]
    found = estimate_of(bout, measure, side)
    if np.isfinite(found.ci_low) and np.isfinite(found.ci_high):
        marks.append(whisker_x(mean_style, mean_level, found.ci_low, found.ci_high))
    if np.isfinite(found.value):
        at = np.array([found.value]), np.array([mean_level])
        marks.append(dots(mean_style, *at, mean, [f"{name}: {found.value:.1f} deg"]))
    return marks


def _styles(bout: BoutResult, side: str) -> tuple[str, str]:
    if side not in ("left", "right"):
        return "torso", "mean"
    held = "_held" if _is_held(bout, side) else ""
    return f"{side}{held}", f"mean_{side}{held}"


def _labels(bout: BoutResult, side: str) -> tuple[str, str]:
    """What the legend calls a stride and the mean: by arm, since their marks differ."""
    words = texts.LEGEND
    if side not in ("left", "right"):
        return words["stride"], words["mean"]
    if _is_held(bout, side):
        return words["held_stride"].format(side=side), ""
    return words["arm_stride"].format(side=side), words["arm_mean"].format(side=side)


def _finding(
    bouts: Sequence[BoutResult],
    all_bouts: Sequence[BoutResult],
    measure: str,
    side: str,
    key: str,
) -> str:
    """Where it was greatest and least, of an arm among the bouts in which it certainly was free.

    Bouts that show the same figure are named together.
    """
    found = [(estimate_of(bout, measure, side).value, bout.data.row) for bout in bouts]
    finite = [(value, row) for value, row in found if np.isfinite(value)]
    values = [value for value, _ in finite]
    least_deg = number(min(values, default=np.nan))
    most_deg = number(max(values, default=np.nan))
    if most_deg != least_deg:
        key = f"{key}_held" if len(bouts) < len(all_bouts) else key
    else:
        key = f"{key}_one" if finite else f"{key}_none"
    return texts.FIGURE_FINDINGS[key].format(
        side=texts.SIDES.get(side, ""),
        most=bouts_named([row for value, row in finite if number(value) == most_deg]),
        most_deg=most_deg,
        least=bouts_named([row for value, row in finite if number(value) == least_deg]),
        least_deg=least_deg,
    )
