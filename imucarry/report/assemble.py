"""From scores to everything that the page shows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup

from imucarry.basics.records import BoutResult, SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.cautions import caution_groups
from imucarry.carry.earlier import History
from imucarry.carry.ladder_doubts import ORDER_RISES
from imucarry.report import pictures, summary, tabulate
from imucarry.report.arms_only import as_arms
from imucarry.report.definitions import BY_ID
from imucarry.report.figures.chart import Chart
from imucarry.report.figures.interactive import to_interactive, to_json
from imucarry.report.figures.ladder import ladder_charts
from imucarry.report.figures.retest import retest_chart
from imucarry.report.figures.rows import rows_charts
from imucarry.report.figures.stride import stride_chart
from imucarry.report.figures.strip import strip_chart
from imucarry.report.figures.trace import trace_chart
from imucarry.report.glyphs import strip_head
from imucarry.report.heading import heading, is_first_visit
from imucarry.report.history import history_notes, history_tables
from imucarry.report.ladder_table import ladder_answers
from imucarry.report.lookup import all_scores, free_bouts
from imucarry.report.quality import quality_table
from imucarry.report.retest_table import on_top, retest_table
from imucarry.report.views import BoutView, DefinitionView, FigureView, FindingView, PageView, Table
from imucarry.report.wording import (
    say_arm_ladder,
    say_checks,
    say_ladder,
    say_retest,
    say_retest_short,
    say_visits,
    texts,
    words_ladder,
)
from imucarry.report.wording.numbers import unit_name


def assemble(
    scores: SessionScores, settings: Settings, *, title: str, earlier: History | None
) -> PageView:
    """Gather sentences, pictures and tables of a visit."""
    arms = say_arm_ladder.arm_ladder(scores)
    words, said = _first_box(scores, arms)
    charts: dict[str, Chart] = {}
    checks = summary.check_views(scores)
    shown = checks[: summary.n_checks_shown(len(checks))]
    more = checks[len(shown) :]
    # That check says of a ladder what its sentence would say again.
    if any(check.code == ORDER_RISES for check in shown):
        said = tuple(words.replace(words_ladder.WITH_ORDER, "") for words in said)
    figures = _figures(scores, charts)
    ladders = _ladders(scores, charts)
    bouts = tuple(_bout(scores, bout, settings, charts) for bout in scores.bouts)
    over_weeks = say_visits.history_table(earlier) if earlier else None
    tests = retest_table(scores.retest)
    # The table of tests stands on top, or below where the top has that of earlier visits.
    tests_on_top = on_top(tests) if tests and over_weeks is None else None
    followed = _followed(scores, earlier, in_table=tests_on_top is not None)
    answers = None if say_arm_ladder.arms_only(scores) else ladder_answers(scores)
    return PageView(
        title=title or heading(scores.session),
        who=summary.who(scores),
        findings=_carries_first(scores, bouts),
        strip_head=_strip_head(bouts, settings),
        strip_words=words["strip_head"].format(**_limits(settings)),
        strip_how=texts.PAGE["strip_how"].format(**_limits(settings)),
        ladder_head=words["head"],
        ladder=_with_answers(scores, said),
        ladder_answers=answers,
        alarms=summary.alarm_views(scores),
        alarm_pointer=say_checks.pointer(scores),
        checks=shown,
        more_checks=more,
        checks_across=tests_on_top is not None
        or summary.checks_across(
            shown, _letters(answers, said), _letters(over_weeks, ()) + followed
        ),
        figures=figures,
        ladders=ladders,
        sketches=pictures.sketches(scores),
        sketch_caption=pictures.sketch_caption(),
        bouts=bouts,
        tables=tabulate.measure_tables(
            scores, (settings.carry.reduced_pct, settings.carry.minimal_pct)
        ),
        retest=tests,
        tests_on_top=tests_on_top,
        retest_figure=_retest(scores, tests, charts),
        retest_said=tuple(say_retest.retest_paragraphs(scores)),
        earlier=history_tables(earlier) if earlier else (),
        earlier_notes=history_notes(earlier) if earlier else (),
        over_weeks=over_weeks,
        followed=followed,
        dose=tabulate.dose_table(scores),
        quality=quality_table(scores),
        understood=tabulate.understood_tables(scores),
        notes=(*more, *summary.note_views(scores)),
        settings=tabulate.settings_tables(settings),
        definitions=_definitions(scores),
        cautions=caution_groups(),
        interactive=_interactive(charts.values()),
        engine=Markup(),
    )


def _first_box(scores: SessionScores, arms: Sequence[str]) -> tuple[texts.Words, tuple[str, ...]]:
    """Head and sentences of the ladders, of the arms' where no chest sensor was worn."""
    if say_arm_ladder.arms_only(scores):
        none = (texts.ARM_LADDER["no_free_arm"],) if scores.ladder else ()
        return texts.ARM_LADDER, (texts.ARM_LADDER["no_chest"], *(arms or none))
    words = {"head": texts.PAGE["ladder"], "strip_head": texts.PAGE["strip_head"]}
    return words, say_ladder.lines_of(scores)


def _with_answers(scores: SessionScores, said: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """The sentences of the first box, each with the words of it that answer; "" without any."""
    if say_arm_ladder.arms_only(scores):
        return tuple((words, "") for words in said)
    return tuple(zip(said, say_ladder.answers_of(scores), strict=True))


def _letters(answers: Table | None, said: tuple[str, ...]) -> tuple[str, ...]:
    """What a box says: the cells of its table, or its sentences."""
    if answers is None:
        return said
    rows = ((row.head, *(cell.value for cell in row.cells)) for row in answers.rows)
    return (*(words for row in rows for words in row), *answers.notes)


def _carries_first(scores: SessionScores, bouts: Sequence[BoutView]) -> tuple[FindingView, ...]:
    """The findings of the carries in their order, those of the free walks after them."""
    free = {f"bout-{bout.data.ordinal}" for bout in free_bouts(scores)}
    found = [bout.finding for bout in bouts]
    return tuple(sorted(found, key=lambda finding: finding.anchor in free))


def _limits(settings: Settings) -> dict[str, str]:
    """The two lines in the strips, as words."""
    carry = settings.carry
    return {"reduced": f"{carry.reduced_pct:g}", "minimal": f"{carry.minimal_pct:g}"}


def _strip_head(bouts: Sequence[BoutView], settings: Settings) -> Markup:
    """The scale over the strips; "" when there is none."""
    if not any(bout.finding.strip for bout in bouts):
        return Markup()
    return strip_head(settings.carry.reduced_pct, settings.carry.minimal_pct)


def _figures(scores: SessionScores, charts: dict[str, Chart]) -> tuple[FigureView, ...]:
    views = []
    for found in rows_charts(scores):
        table = pictures.rows_table(
            scores, found.bouts, found.measure, found.sides, found.chart.title
        )
        views.append(_keep(charts, found.chart, pictures.view(found.chart, table)))
    return tuple(views)


def _keep(charts: dict[str, Chart], chart: Chart, view: FigureView) -> FigureView:
    charts[chart.key] = chart
    return view


def _ladders(scores: SessionScores, charts: dict[str, Chart]) -> tuple[FigureView, ...]:
    views = []
    for rung, chart in ladder_charts(scores):
        if len(rung.loads_kg) > 1:
            table = pictures.ladder_table(rung, chart.title)
            views.append(_keep(charts, chart, pictures.view(chart, table)))
    return tuple(views)


def _bout(
    scores: SessionScores, bout: BoutResult, settings: Settings, charts: dict[str, Chart]
) -> BoutView:
    curves, strip = stride_chart(scores, bout), strip_chart(scores, bout)
    trace = trace_chart(scores, bout)
    views = []
    if curves is not None:
        views.append(_keep(charts, curves, pictures.view(curves, pictures.curve_table(curves))))
    if strip is not None:
        views.append(_keep(charts, strip, pictures.view(strip, pictures.stride_table(bout))))
    trace_view = None
    if trace is not None:
        trace_view = _keep(charts, trace, pictures.view(trace, pictures.trace_table(trace)))
    return BoutView(
        finding=_finding(scores, bout, settings),
        figures=tuple(views),
        trace=trace_view,
    )


def _finding(scores: SessionScores, bout: BoutResult, settings: Settings) -> FindingView:
    """What was found in a bout."""
    found = summary.finding(scores, bout, settings)
    if say_arm_ladder.arms_only(scores):
        found = as_arms(found, scores, bout, settings)
    return found


def _retest(
    scores: SessionScores, table: Table | None, charts: dict[str, Chart]
) -> FigureView | None:
    chart = retest_chart(scores.retest)
    if chart is None or table is None:
        return None
    return _keep(charts, chart, pictures.view(chart, table))


def _followed(scores: SessionScores, earlier: History | None, *, in_table: bool) -> tuple[str, ...]:
    """What cannot be compared with earlier visits, and the tests that changed within this one.

    The sentence of the tests is left out where they stand `in_table`.
    """
    tests = "" if in_table else say_retest_short.retest_short(scores.retest, brief=True)
    since = say_visits.history_doubts(earlier) if earlier else []
    asked = scores.retest and earlier is None and not is_first_visit(scores.session)
    none = texts.PAGE["no_earlier"] if asked else ""
    return tuple(words for words in (*since, tests, none) if words)


def _definitions(scores: SessionScores) -> tuple[DefinitionView, ...]:
    """The meanings of the measures that the page shows."""
    used = {score.measure for bout in scores.bouts for score in all_scores(bout)}
    return tuple(
        DefinitionView(key, m.label, unit_name(m.unit), m.definition, m.source)
        for key, m in BY_ID.items()
        if key in used
    )


def _interactive(charts: Iterable[Chart]) -> Markup:
    tree = {chart.key: to_interactive(chart) for chart in charts}
    return Markup(to_json(tree))
