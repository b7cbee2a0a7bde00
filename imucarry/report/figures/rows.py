"""Rotation and arm swing of every bout: dots of each stride, one row a bout."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import report as evidence
from imucarry.basics.records import BoutResult, FloatArray, SessionScores, Side
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
from imucarry.report.lookup import (
    NO_STRIDES,
    column_of,
    estimate_of,
    free_bouts,
    role_of,
    swing_values,
)
from imucarry.report.wording import say, say_arms, texts
from imucarry.report.wording.implements import several_implements
from imucarry.report.wording.numbers import number

ROW_HEIGHT = 44.0
MOST_ROWS = 20
"""Rows that a printed page holds at half its width."""

HEAD = 0.52
DOTS_BELOW = 0.04
MEAN_BELOW = 0.33
SPREAD = 0.24
LIMIT_STYLES = ("limit", "limit_minimal")


def rotation_chart(scores: SessionScores, limits_pct: tuple[float, float]) -> Chart | None:
    """Sternum swing of each stride, bout by bout; None without a chest sensor."""
    rows = [_row(bout, "sternum_yaw_range", "none") for bout in scores.bouts]
    if not any(values.size for values, _ in rows):
        return None
    words = texts.FIGURES["rotation"]
    limits = {"reduced": number(limits_pct[0], 0), "minimal": number(limits_pct[1], 0)}
    panel = _panel(scores, "sternum_yaw_range", "none", limits_pct, "")
    return Chart(
        key="rotation",
        title=words["title"],
        finding=_finding(scores, "sternum_yaw_range", "none", "rotation"),
        caption=words["caption"].format(**limits),
        panels=(panel,),
        x_label=words["x"],
        x_range=_range(scores, ("sternum_yaw_range",), ("none",)),
    )


def swing_charts(scores: SessionScores) -> tuple[Chart, ...]:
    """Forearm swing of each stride, one panel an arm; () without wrist sensors.

    One chart holds both arms, or of a long visit a chart each, so that none is longer
    than a printed page.
    """
    sides: list[Side] = [
        side for side in ("left", "right")
        if any(side in bout.data.swing for bout in scores.bouts)
    ]  # fmt: skip
    if not sides:
        return ()
    if len(sides) * len(scores.bouts) > MOST_ROWS:
        return tuple(_swing_chart(scores, [side], f"swing-{side}") for side in sides)
    return (_swing_chart(scores, sides, "swing"),)


def _swing_chart(scores: SessionScores, sides: Sequence[Side], key: str) -> Chart:
    words = texts.FIGURES["swing"]
    said = [_finding(scores, "arm_swing", side, "swing") for side in sides]
    title = words["title"] if len(sides) > 1 else words["title_one"].format(side=sides[0])
    return Chart(
        key=key,
        title=title,
        finding=" ".join(dict.fromkeys(said)),
        caption=words["caption"] + _read_otherwise(scores, sides),
        panels=tuple(
            _panel(scores, "arm_swing", side, None, texts.FIGURES["curves"][side].split(" (")[0])
            for side in sides
        ),
        x_label=words["x"],
        x_range=_range(scores, ("arm_swing",) * len(sides), tuple(sides)),
    )


def _read_otherwise(scores: SessionScores, sides: Sequence[Side]) -> str:
    """Which bouts' arms are read against other free walks than the stripe holds; "" for none."""
    names = [
        say.bout_name(bout.data.row)
        for bout in scores.bouts
        if any(say_arms.of_like_pace(bout, side) for side in sides)
    ]
    return texts.FIGURES["swing"]["all_walks"].format(bouts=", ".join(names)) if names else ""


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
    measure: str,
    side: str,
    limits_pct: tuple[float, float] | None,
    label: str,
) -> Panel:
    marks = _free_marks(scores, measure, side, limits_pct)
    labels = []
    named_for = several_implements(scores.bouts)
    for index, bout in enumerate(scores.bouts):
        name = say.bout_label(bout.data.row, named_for)
        labels.append((-float(index), _row_label(name, bout, side)))
        marks += _row_marks(name, bout, measure, side, -float(index))
    n_rows = len(scores.bouts)
    return Panel(
        marks=tuple(marks),
        y_label=label,
        y_range=(-(n_rows - 1) - 0.5, HEAD),
        height=ROW_HEIGHT * (n_rows - 0.5 + HEAD),
        row_labels=tuple(labels),
    )


def _row_label(name: str, bout: BoutResult, side: str) -> str:
    return f"{name} ({texts.LEGEND['held_arm']})" if _is_held(bout, side) else name


def _is_held(bout: BoutResult, side: str) -> bool:
    """Whether an arm held the load; "none" is no arm."""
    return side != "none" and role_of(bout, "left" if side == "left" else "right") == "held"


def _free_marks(
    scores: SessionScores, measure: str, side: str, limits_pct: tuple[float, float] | None
) -> list[Mark]:
    walks = [_row(bout, measure, side)[0] for bout in free_bouts(scores)]
    joined = np.concatenate(walks) if walks else np.empty(0)
    if not joined.size:
        return []
    low, high = np.percentile(joined, [evidence.BAND_LOW_PCT.value, evidence.BAND_HIGH_PCT.value])
    mean = float(np.mean([walk.mean() for walk in walks if walk.size]))
    marks = [
        zone("x", "free_band", float(low), float(high), texts.LEGEND["free_band"]),
        rule("x", "free", mean, texts.LEGEND["free_mean"]),
    ]
    for style, share in zip(LIMIT_STYLES, limits_pct or (), strict=False):
        words = texts.LEGEND["limit"].format(share=number(share, 0))
        marks.append(rule("x", style, mean * share / 100.0, words))
    return marks


def _row_marks(name: str, bout: BoutResult, measure: str, side: str, level: float) -> list[Mark]:
    values, numbers = _row(bout, measure, side)
    style, mean_style = _styles(bout, side)
    heights = level - DOTS_BELOW + apart(numbers, SPREAD)
    hover = [
        f"{say.bout_name(bout.data.row)}, {texts.LEGEND['stride']} {int(n)}: {value:.1f} deg"
        for n, value in zip(numbers, values, strict=True)
    ]
    stride, mean = _labels(bout, side)
    marks = [dots(style, values, heights, stride, hover)]
    found = estimate_of(bout, measure, side)
    if np.isfinite(found.ci_low) and np.isfinite(found.ci_high):
        marks.append(whisker_x(mean_style, level - MEAN_BELOW, found.ci_low, found.ci_high))
    if np.isfinite(found.value):
        at = np.array([found.value]), np.array([level - MEAN_BELOW])
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


def _finding(scores: SessionScores, measure: str, side: str, key: str) -> str:
    """Where it was greatest and least, of an arm among the bouts in which it held no load."""
    bouts = [bout for bout in scores.bouts if not _is_held(bout, side)]
    found = [
        (estimate_of(bout, measure, side).value, say.bout_name(bout.data.row)) for bout in bouts
    ]
    finite = [item for item in found if np.isfinite(item[0])]
    if len(finite) > 1:
        key = f"{key}_held" if len(bouts) < len(scores.bouts) else key
    else:
        key = f"{key}_one" if finite else f"{key}_none"
    least_deg, least = min(finite, default=(np.nan, ""))
    most_deg, most = max(finite, default=(np.nan, ""))
    return texts.FIGURE_FINDINGS[key].format(
        side=texts.SIDES.get(side, ""),
        most=most,
        most_deg=number(most_deg),
        least=least,
        least_deg=number(least_deg),
    )
