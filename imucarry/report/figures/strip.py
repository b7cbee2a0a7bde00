"""Every stride of a bout in order, those left out marked and why."""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import BoolArray, BoutResult, FloatArray, SessionScores
from imucarry.report.figures.chart import Chart, Mark, Panel, dots, rule, span_of, zone
from imucarry.report.lookup import baseline_value, column_of
from imucarry.report.recorded import chest_gaps
from imucarry.report.wording import say, texts
from imucarry.report.wording.say_gaps import without_chest

HEIGHT = 110.0
WHY_ROW = 34.0
GAP_WIDTH = 0.7
"""How wide missing samples are drawn between two strides, in strides."""


def strip_chart(scores: SessionScores, bout: BoutResult) -> Chart | None:
    """Sternum swing against stride number; None without a chest sensor or strides."""
    n_strides = bout.data.strides.start_s.size
    if bout.data.yaw is None or not n_strides:
        return None
    words = texts.FIGURES["strip"]
    counts = say.stride_counts(bout.data.strides)
    why = say.left_out(bout.data.strides)
    key = "strip_why" if why else "strip"
    return Chart(
        key=f"strip-{bout.data.ordinal}",
        title=words["title"].format(bout=say.bout_name(bout.data.row)),
        finding=texts.FIGURE_FINDINGS[key].format(**counts, why=why)
        + without_chest(bout.data, sentence=True),
        caption=words["caption"] + (words["gap"] if _gap_at(bout).any() else ""),
        panels=tuple(p for p in (_values(scores, bout), _reasons(bout)) if p is not None),
        x_label=words["x"],
        x_range=(0.0, n_strides + 1.0),
    )


def _values(scores: SessionScores, bout: BoutResult) -> Panel:
    values = column_of(bout, "sternum_yaw_range_deg")
    kept = bout.data.strides.kept_yaw
    number: FloatArray = np.arange(1.0, values.size + 1, dtype=np.float64)
    low, high = span_of([values], include=0.0)
    base = baseline_value(scores, bout, "sternum_yaw_range")
    top = max(high, base * 1.1) if np.isfinite(base) else high
    marks = _pass_marks(bout)
    if np.isfinite(base):
        marks.append(rule("y", "free", base, texts.LEGEND["free_mean"]))
    marks.append(
        dots("torso", number[kept], values[kept], texts.LEGEND["stride"], _hover(bout, kept))
    )
    # A stride without a value, such as a turn, stands in the rows below alone.
    out = ~kept & np.isfinite(values)
    if out.any():
        marks.append(
            dots("left_out", number[out], values[out], texts.LEGEND["left_out"], _hover(bout, out))
        )
    return Panel(tuple(marks), texts.FIGURES["strip"]["y"], (min(low, 0.0), top), HEIGHT)


def _hover(bout: BoutResult, which: BoolArray) -> list[str]:
    values = column_of(bout, "sternum_yaw_range_deg")
    texts_of = []
    for index in np.flatnonzero(which):
        why = say.drop_list(bout.data.strides, int(index))
        shown = f"{values[index]:.1f} deg" if np.isfinite(values[index]) else ""
        said = ", ".join(part for part in (shown, why) if part)
        texts_of.append(f"{texts.LEGEND['stride']} {index + 1}: {said}")
    return texts_of


def _pass_marks(bout: BoutResult) -> list[Mark]:
    passes = bout.data.strides.pass_number
    gap = _gap_at(bout)
    breaks = np.flatnonzero((np.diff(passes) != 0) & ~gap) + 1.5
    marks: list[Mark] = [rule("x", "between", float(at), texts.LEGEND["pass"]) for at in breaks]
    label = texts.DROP_REASONS["gap"]
    return marks + [
        zone("x", "gap", at - GAP_WIDTH / 2, at + GAP_WIDTH / 2, label)
        for at in (np.flatnonzero(gap) + 1.5).tolist()
    ]


def _gap_at(bout: BoutResult) -> BoolArray:
    """Whether samples are missing between a stride and the next, shape (S - 1,)."""
    ends, starts = bout.data.strides.end_s[:-1], bout.data.strides.start_s[1:]
    gap = np.zeros(ends.size, dtype=bool)
    for start_s, end_s in chest_gaps(bout.data):
        gap |= (start_s < starts) & (end_s > ends) & (starts > ends)
    return gap


def _reasons(bout: BoutResult) -> Panel | None:
    strides = bout.data.strides
    out = ~strides.kept_yaw
    used = [word for word, flags in strides.drop.items() if (flags & out).any()]
    if not used:
        return None
    marks = tuple(_crosses(strides.drop[word] & out, -float(row)) for row, word in enumerate(used))
    labels = tuple(
        (-float(row), texts.DROP_REASONS.get(word, word)) for row, word in enumerate(used)
    )
    return Panel(
        marks,
        texts.FIGURES["strip"]["why"],
        (-len(used) + 0.5, 0.8),
        WHY_ROW * len(used),
        labels,
    )


def _crosses(which: BoolArray, level: float) -> Mark:
    numbers = np.flatnonzero(which).astype(np.float64) + 1.0
    return dots("left_out", numbers, np.full(numbers.size, level), texts.LEGEND["left_out"])
