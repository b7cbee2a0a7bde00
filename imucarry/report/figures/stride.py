"""The mean stride of a bout over that of the free walk."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Sequence

import numpy as np

from imucarry.basics.records import BoutResult, FloatArray, SessionScores, Side
from imucarry.basics.units import DEG_PER_RAD
from imucarry.report.figures.chart import Chart, Mark, Panel, band, line, rule, span_of
from imucarry.report.lookup import arm_share_of, baseline_bouts, bout_named, counted_swings
from imucarry.report.wording import say, texts
from imucarry.report.wording.numbers import number

PANEL_HEIGHT = 84.0
EVERY = 2  # of 101 points: a line of 51 is as smooth on paper
PERCENT = np.arange(0.0, 101.0, EVERY)
Curves = Callable[[BoutResult], FloatArray]


def stride_chart(scores: SessionScores, bout: BoutResult) -> Chart | None:
    """Sternum, left and right arm over the mean stride; None when no stride counts."""
    walks = [walk for walk in baseline_bouts(scores, bout) if walk is not bout]
    panels: list[Panel] = []
    any_like = ""
    for key, curves in (("yaw", _yaw), ("left", _arm("left")), ("right", _arm("right"))):
        like = _of_like_pace(scores, bout, key)
        any_like = texts.FIGURE_FINDINGS["curves_like"] if like else any_like
        panel = _panel(bout, like or walks, key, curves, labelled=not panels, is_like=bool(like))
        if panel is not None:
            panels.append(panel)
    if not panels:
        return None
    words = texts.FIGURES["curves"]
    return Chart(
        key=f"curves-{bout.data.ordinal}",
        title=words["title"].format(bout=say.bout_name(bout.data.row)),
        finding=_finding(bout, walks) + any_like,
        caption=words["caption"],
        panels=tuple(panels),
        x_label=words["x"],
        x_range=(0.0, 100.0),
    )


def _of_like_pace(scores: SessionScores, bout: BoutResult, key: str) -> list[BoutResult]:
    """The free walks of like pace, where an arm is read against these alone; else []."""
    if key == "yaw" or not arm_share_of(bout, "left" if key == "left" else "right")[1]:
        return []
    found = (bout_named(scores, name) for name in bout.comparison.like_bouts)
    return [walk for walk in found if walk is not None]


def _yaw(bout: BoutResult) -> FloatArray:
    yaw = bout.data.yaw
    return np.empty((0, 101)) if yaw is None else yaw.curve_rad[bout.data.strides.kept_yaw]


def _arm(side: Side) -> Curves:
    def curves(bout: BoutResult) -> FloatArray:
        swing = bout.data.swing.get(side)
        if swing is None:
            return np.empty((0, 101))
        return swing.angle_curve_rad[counted_swings(bout, side)]

    return curves


def mean_curve(curves: FloatArray) -> FloatArray:
    """Mean over strides [deg], shape (101,); NaN without strides."""
    good = _whole(curves)
    return np.asarray(good.mean(axis=0)) if len(good) else np.full(101, np.nan)


def sd_curve(curves: FloatArray) -> FloatArray:
    """Standard deviation over strides [deg], shape (101,); NaN with fewer than two."""
    good = _whole(curves)
    return np.asarray(good.std(axis=0, ddof=1)) if len(good) > 1 else np.full(101, np.nan)


def _whole(curves: FloatArray) -> FloatArray:
    return curves[np.isfinite(curves).all(axis=1)] * DEG_PER_RAD


def mean_of_walks(walks: Sequence[BoutResult], curves: Curves) -> FloatArray:
    """The mean stride of the free walks [deg], one weight a walk."""
    means = np.array([mean_curve(curves(walk)) for walk in walks])
    if not means.size:
        return np.full(101, np.nan)
    with warnings.catch_warnings():
        # All walks without strides leave NaN, which is what is wanted.
        warnings.simplefilter("ignore", category=RuntimeWarning)
        return np.asarray(np.nanmean(means, axis=0))


def _panel(
    bout: BoutResult,
    walks: Sequence[BoutResult],
    key: str,
    curves: Curves,
    *,
    labelled: bool,
    is_like: bool,
) -> Panel | None:
    """One quantity over the mean stride; what all panels share is named in the first alone."""
    mean, sd = mean_curve(curves(bout)), sd_curve(curves(bout))
    if not np.isfinite(mean).any():
        return None
    base = mean_of_walks(walks, curves)
    style = "torso" if key == "yaw" else key
    mean, sd, base = mean[::EVERY], sd[::EVERY], base[::EVERY]
    words = texts.LEGEND if labelled else dict.fromkeys(texts.LEGEND, "")
    marks: list[Mark] = [
        band(f"{style}_band", PERCENT, mean - sd, mean + sd, words["carry_sd"]),
        line("free", PERCENT, base, _of_walks(words, is_like=is_like) if walks else ""),
        line(style, PERCENT, mean, _whose(key)),
    ]
    right = _right_contact(bout)
    if np.isfinite(right):
        marks.insert(1, rule("x", "between", right, words["right_contact"]))
    low, high = span_of([mean - sd, mean + sd, mean, base])
    reach = max(abs(low), abs(high), 1.0)
    return Panel(tuple(marks), texts.FIGURES["curves"][key], (-reach, reach), PANEL_HEIGHT)


def _of_walks(words: texts.Words, *, is_like: bool) -> str:
    """What the legend calls the free walks' line: that of some walks alone in every panel."""
    return texts.LEGEND["like_mean"] if is_like else words["free_mean"]


def _whose(key: str) -> str:
    """What the legend calls the line of a panel: their dashes differ."""
    what = texts.FIGURES["curves"][key].split(" (")[0]
    return texts.LEGEND["carry_of"].format(what=what)


def _right_contact(bout: BoutResult) -> float:
    """When in the stride the right foot meets the ground [%]."""
    strides = bout.data.strides
    kept = strides.kept_timing
    share = (strides.right_contact_s - strides.start_s) / (strides.end_s - strides.start_s)
    share = share[kept & np.isfinite(share)]
    return 100.0 * float(share.mean()) if share.size else float("nan")


def _finding(bout: BoutResult, walks: Sequence[BoutResult]) -> str:
    value = _height(mean_curve(_yaw(bout)))
    base = _height(mean_of_walks(walks, _yaw))
    said = texts.FIGURE_FINDINGS
    if np.isfinite(value):
        key = "curves" if np.isfinite(base) else "curves_alone"
        return said[key].format(value=number(value), base=number(base))
    for side in ("left", "right"):
        height = _height(mean_curve(_arm("left" if side == "left" else "right")(bout)))
        if np.isfinite(height):
            return said["curves_arms"].format(side=texts.SIDES[side], value=number(height))
    return said["curves_none"]


def _height(curve: FloatArray) -> float:
    return float(np.ptp(curve)) if np.isfinite(curve).all() else float("nan")
