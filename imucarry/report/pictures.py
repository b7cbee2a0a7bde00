"""Charts with all that stands around them: still picture, legend, table of numbers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from markupsafe import Markup

from imucarry.basics.evidence import report as evidence
from imucarry.basics.records import BoutResult, LadderRung, SessionScores, Side
from imucarry.report.figures.chart import Chart
from imucarry.report.figures.sketch import sketch_svg, sketch_words
from imucarry.report.figures.svg import swatch, to_svg
from imucarry.report.lookup import column_of, estimate_of
from imucarry.report.views import Cell, FigureView, SketchView, Table, TableRow
from imucarry.report.wording import ladder_names, say, texts, words_checks
from imucarry.report.wording.implements import several_implements
from imucarry.report.wording.numbers import number, quantity
from imucarry.report.wording.side_doubt import arms_in_doubt

CURVE_STEP_PCT = 10


def view(chart: Chart, table: Table) -> FigureView:
    """A chart as the page shows it."""
    marked: dict[str, Markup] = {}
    for panel in chart.panels:
        for mark in panel.marks:
            if mark.label and mark.label not in marked:
                marked[mark.label] = Markup(swatch(mark))
    return FigureView(
        key=chart.key,
        title=chart.title,
        finding=chart.finding,
        caption=chart.caption,
        svg=Markup(to_svg(chart, label_id=_named_by(chart))),
        legend=tuple((sample, label) for label, sample in marked.items()),
        table=table,
    )


def _named_by(chart: Chart) -> str:
    """The elements that name a picture: its finding alone where that begins as its title ends."""
    subject = chart.title.rpartition(": ")[2].casefold()
    title = "" if chart.finding.casefold().startswith(subject) else f"t-{chart.key} "
    return f"{title}f-{chart.key}"


def sketches(scores: SessionScores) -> tuple[SketchView, ...]:
    """One sketch a bout; none without a chest sensor."""
    if not any(bout.data.trunk is not None for bout in scores.bouts):
        return ()
    return tuple(
        SketchView(Markup(sketch_svg(scores, bout)), sketch_words(scores, bout))
        for bout in scores.bouts
    )


def sketch_caption() -> str:
    """How to read the sketches."""
    times = f"{evidence.SKETCH_WIDENING.value:g}"
    return texts.FIGURES["sketch"]["caption"].format(times=times)


def rows_table(
    scores: SessionScores,
    bouts: Sequence[BoutResult],
    measure: str,
    sides: tuple[str, ...],
    caption: str,
) -> Table:
    """Mean, interval and strides of a measure, for some bouts of a visit."""
    heads = texts.TABLE
    rows = []
    named_for = several_implements(scores.bouts)
    for bout in bouts:
        for side in sides:
            found = estimate_of(bout, measure, side)
            name = say.bout_label(bout.data.row, named_for)
            arm = f", {_role(scores, bout, side)}, {side}" if side != "none" else ""
            rows.append(
                TableRow(
                    name + arm,
                    (
                        Cell(number(found.value)),
                        Cell(number(found.ci_low)),
                        Cell(number(found.ci_high)),
                        Cell(str(found.n_used)),
                        Cell(say.reason(found.missing_because) if found.missing_because else ""),
                    ),
                )
            )
    columns = (heads["mean"], heads["low"], heads["high"], heads["strides"], heads["missing"])
    return Table(caption, heads["bout"], columns, tuple(rows))


def _role(scores: SessionScores, bout: BoutResult, side: str) -> str:
    """ "free arm", or that it is not known which was."""
    if arms_in_doubt(scores, bout):
        return words_checks.SIDE_IN_DOUBT["short"]
    return say.arm_role(bout, _side(side))


def _side(side: str) -> Side:
    return "left" if side == "left" else "right"


def ladder_table(rung: LadderRung, caption: str) -> Table:
    """The tested loads with what they kept."""
    columns = (rung.kept_pct, rung.ci_low_pct, rung.ci_high_pct, rung.fit_pct)
    rows = tuple(
        TableRow(
            ladder_names.load_name(rung, load),
            tuple(Cell(number(column[k], 0) if k < len(column) else "") for column in columns),
        )
        for k, load in enumerate(rung.loads_kg)
    )
    heads = texts.TABLE
    return Table(
        caption, heads["load"], (heads["kept"], heads["low"], heads["high"], heads["fit"]), rows
    )


def curve_table(chart: Chart) -> Table:
    """The mean stride at every tenth of it."""
    heads = tuple(f"{pct} %" for pct in range(0, 101, CURVE_STEP_PCT))
    rows = []
    for panel in chart.panels:
        for mark in panel.marks:
            if mark.kind == "line" and np.isfinite(mark.y).any():
                at_tenths = mark.y[np.isin(mark.x, np.arange(0.0, 101.0, CURVE_STEP_PCT))]
                cells = tuple(Cell(number(float(v))) for v in at_tenths)
                free = mark.label or texts.LEGEND["free_mean"]
                whose = free if mark.style == "free" else texts.LEGEND["carry"]
                rows.append(TableRow(f"{panel.y_label}: {whose}", cells))
    return Table(chart.title, texts.TABLE["curve"], heads, tuple(rows))


STRIDE_COLUMNS: tuple[tuple[str, str], ...] = (
    ("stride_time_s", "s"),
    ("sternum_yaw_range_deg", "deg"),
    ("left_arm_swing_deg", "deg"),
    ("right_arm_swing_deg", "deg"),
)


def stride_table(bout: BoutResult) -> Table:
    """Every stride: its pass, its values, whether it counts and why not."""
    strides = bout.data.strides
    columns = [(strides.start_s, "s")]
    columns += [(column_of(bout, name), unit) for name, unit in STRIDE_COLUMNS]

    def show(k: int) -> tuple[Cell, ...]:
        return (
            Cell(str(int(strides.pass_number[k])) if strides.pass_number[k] else ""),
            *(Cell(quantity(float(values[k]), unit)) for values, unit in columns),
            Cell(texts.TABLE["yes"] if strides.kept_yaw[k] else texts.TABLE["no"]),
            Cell("" if strides.kept_yaw[k] else say.drop_list(strides, k)),
        )

    rows = tuple(TableRow(str(k + 1), show(k)) for k in range(strides.start_s.size))
    heads = texts.TABLE
    names = (
        heads["pass"],
        heads["start_s"],
        *(heads[name] for name, _ in STRIDE_COLUMNS),
        heads["counts"],
        heads["why"],
    )
    caption = texts.FIGURES["strip"]["title"].format(bout=say.bout_name(bout.data.row))
    return Table(caption, heads["stride"], names, rows)


def trace_table(chart: Chart) -> Table:
    """The least and greatest value of each signal."""
    rows = tuple(
        TableRow(
            f"{panel.y_label}{': ' if mark.label else ''}{mark.label}",
            (Cell(number(float(np.nanmin(mark.y)))), Cell(number(float(np.nanmax(mark.y))))),
        )
        for panel in chart.panels
        for mark in panel.marks
        if mark.kind == "line" and mark.y.size
    )
    heads = texts.TABLE
    return Table(chart.title, heads["signal"], (heads["least"], heads["greatest"]), rows)
