"""Charts as data, and every way of drawing them."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ElementTree
from dataclasses import fields, replace

import numpy as np
import pytest
from drawn import rotation_charts, swing_charts
from scores_builder import VISIT, build_scores

from imucarry.basics.records import RetestFinding, SessionScores, Strides
from imucarry.basics.settings import Settings
from imucarry.report.assemble import assemble
from imucarry.report.figures import chart as charts
from imucarry.report.figures.chart import Chart, Panel
from imucarry.report.figures.interactive import to_interactive, to_json
from imucarry.report.figures.ladder import ladder_chart
from imucarry.report.figures.retest import retest_chart
from imucarry.report.figures.shapes import SHAPES, line_path, path_data
from imucarry.report.figures.sketch import sketch_svg, sketch_words
from imucarry.report.figures.stride import stride_chart
from imucarry.report.figures.strip import strip_chart
from imucarry.report.figures.style import DARK, LIGHT, STYLES, css_rules
from imucarry.report.figures.svg import swatch, to_svg
from imucarry.report.figures.trace import points_for, thin, trace_chart

BOUT_CHARTS = (stride_chart, strip_chart, trace_chart)


def all_charts(scores: SessionScores) -> list[Chart]:
    found = [
        *rotation_charts(scores),
        *swing_charts(scores),
        retest_chart(scores.retest),
        *(ladder_chart(rung, k) for k, rung in enumerate(scores.ladder)),
        *(build(scores, bout) for bout in scores.bouts for build in BOUT_CHARTS),
    ]
    return [chart for chart in found if chart is not None]


def test_every_picture_of_a_full_visit_is_there(scores: SessionScores) -> None:
    n_bouts = len(scores.bouts)
    assert len(all_charts(scores)) == 3 + len(scores.ladder) + 3 * n_bouts


def test_every_chart_draws_as_well_formed_svg(scores: SessionScores) -> None:
    for chart in all_charts(scores):
        tree = ElementTree.fromstring(to_svg(chart, label_id=f"t-{chart.key}"))
        assert tree.attrib["role"] == "img"
        assert "nan" not in to_svg(chart)
        assert chart.finding
        assert chart.caption


def test_the_name_of_an_axis_keeps_clear_of_the_number_at_the_top(scores: SessionScores) -> None:
    chart = stride_chart(scores, scores.bouts[0])
    assert chart is not None
    panel = replace(chart.panels[0], y_range=(-5.0, 5.0))
    tree = ElementTree.fromstring(to_svg(replace(chart, panels=(panel,))))
    texts = [(item.attrib["class"], float(item.attrib["y"]), item.text) for item in tree.iter()
             if item.tag.endswith("text")]  # fmt: skip
    (name,) = (y for css, y, words in texts if words == panel.y_label)
    (top,) = (y for css, y, words in texts if css == "tick" and words == "5")
    # 12 px type on paper: digits rise 9 px above their line, letters reach 2.5 px below theirs.
    assert top - 9.0 > name + 2.5


def test_every_chart_is_strict_json(scores: SessionScores) -> None:
    for chart in all_charts(scores):
        figure = json.loads(to_json(to_interactive(chart)))
        assert figure["data"]
        n_axes = sum(key.startswith("yaxis") for key in figure["layout"])
        assert n_axes == len(chart.panels)


def test_json_cannot_end_its_script_element() -> None:
    hostile = "</script><!--\u2028\u2029&<img src=x>"
    raw = to_json({"a": hostile})
    assert not set("<>&\u2028\u2029") & set(raw)
    assert json.loads(raw) == {"a": hostile}


def test_interactive_labels_are_shown_as_they_stand() -> None:
    mark = charts.dots("torso", np.array([1.0]), np.array([1.0]), "<b>x</b>", ["<a href=x>y</a>"])
    panel = Panel((mark,), "<i>", (0.0, 2.0), 50.0)
    figure = to_interactive(Chart("k", "t", "f", "c", (panel,), "x", (0.0, 2.0)))
    assert figure["data"][0]["name"] == "&lt;b&gt;x&lt;/b&gt;"
    assert figure["data"][0]["text"] == ["&lt;a href=x&gt;y&lt;/a&gt;"]
    assert figure["layout"]["annotations"][0]["text"] == "&lt;i&gt;"


def test_svg_text_is_escaped() -> None:
    panel = Panel((), "<b>", (0.0, 1.0), 40.0, ((0.5, "<img src=x onerror=alert(1)>"),))
    drawn = to_svg(Chart("k", "t", "f", "c", (panel,), "</svg>", (0.0, 1.0)))
    assert "<img" not in drawn
    assert drawn.count("</svg>") == 1


def test_without_a_chest_sensor_only_the_arms_are_drawn() -> None:
    scores = build_scores(chest=False)
    assert rotation_charts(scores) == ()
    assert swing_charts(scores)
    trace = trace_chart(scores, scores.bouts[0])
    assert trace is not None
    assert [panel.y_label.split(":")[0] for panel in trace.panels] == ["left wrist", "right wrist"]


def test_an_arm_without_chest_shows_its_own_cycles() -> None:
    """No stride exists then: the arrays of strides are empty, those of the swing are not."""
    scores = build_scores(chest=False)
    bout = scores.bouts[0]
    empty = {f.name: getattr(bout.data.strides, f.name)[:0] for f in fields(Strides)
             if f.name not in ("drop", "arm_drop")}  # fmt: skip
    drop = {reason: flags[:0] for reason, flags in bout.data.strides.drop.items()}
    data = replace(bout.data, strides=Strides(drop=drop, **empty), columns={})
    alone = replace(scores, bouts=(replace(bout, data=data),))
    (chart,) = swing_charts(alone)
    dots = next(mark for mark in chart.panels[0].marks if mark.style == "left")
    assert dots.x.size == bout.data.swing["left"].range_rad.size
    assert stride_chart(alone, alone.bouts[0]) is not None


def test_without_wrists_only_the_sternum_is_drawn() -> None:
    scores = build_scores(wrists=())
    assert swing_charts(scores) == ()
    chart = stride_chart(scores, scores.bouts[0])
    assert chart is not None
    assert len(chart.panels) == 1


def test_the_arms_of_a_long_visit_have_a_chart_each(scores: SessionScores) -> None:
    (both,) = swing_charts(scores)
    long_visit = replace(scores, bouts=scores.bouts * 2)
    left, right = swing_charts(long_visit)
    assert len(both.panels) == 2
    assert [len(chart.panels) for chart in (left, right)] == [1, 1]
    assert "left" in left.title
    assert "right" in right.title


def test_a_visit_too_long_for_one_picture_is_spread_over_several() -> None:
    (one,) = rotation_charts(build_scores(visit=(VISIT * 4)[:27]))
    assert (one.key, one.title) == ("rotation", "Trunk rotation, stride by stride")
    long_visit = build_scores(visit=(VISIT * 4)[:30])
    first, second = rotation_charts(long_visit)
    assert [len(chart.panels[0].row_labels) for chart in (first, second)] == [15, 15]
    assert (first.key, second.key) == ("rotation-1", "rotation-2")
    assert second.title == "Trunk rotation, stride by stride, free 2 to rack 10"
    assert first.x_range == second.x_range
    swings = swing_charts(long_visit)
    assert [chart.key for chart in swings] == [
        "swing-left-1", "swing-left-2", "swing-right-1", "swing-right-2",
    ]  # fmt: skip
    tables = [
        view.table for view in assemble(long_visit, Settings(), title="", earlier=None).figures
    ]
    assert [len(table.rows) for table in tables] == [15] * 6


def test_the_least_swing_named_is_of_an_arm_that_held_no_load(scores: SessionScores) -> None:
    (chart,) = swing_charts(scores)
    assert chart.finding == (
        "Where it was free, the left arm swung farthest in free 1, free 2 (26.0 deg) and least "
        "in suitcase 24 (12.0 deg). Where it was free, the right arm swung farthest in free 1, "
        "free 2 (27.0 deg) and least in rack 10 (11.0 deg)."
    )
    alike = replace(scores, bouts=(scores.bouts[0], scores.bouts[7]))
    assert swing_charts(alike)[0].finding.startswith("The free left arm swung 26.0 deg in free 1, ")
    one = replace(scores, bouts=scores.bouts[:2])
    assert swing_charts(one)[0].finding.endswith("The free right arm swung 27.0 deg in free 1.")
    near = build_scores(visit=(VISIT[0], replace(VISIT[7], left_deg=26.04)))
    assert swing_charts(near)[0].finding.startswith("The free left arm swung 26.0 deg in free 1, ")
    far = build_scores(visit=(VISIT[0], replace(VISIT[7], left_deg=26.1)))
    assert swing_charts(far)[0].finding.startswith("The left arm swung farthest in free 2 (26.1 ")
    held = replace(scores, bouts=scores.bouts[1:2])
    assert swing_charts(held)[0].finding.endswith("No swing of a free right arm was measured.")


def test_rotation_dots_are_the_strides_that_count(scores: SessionScores) -> None:
    (chart,) = rotation_charts(scores)
    dots = [mark for mark in chart.panels[0].marks if mark.style == "torso"]
    assert [mark.x.size for mark in dots] == [
        int(bout.data.strides.kept_yaw.sum()) for bout in scores.bouts
    ]


def test_the_free_walks_mean_is_the_only_line_of_the_stride_picture(scores: SessionScores) -> None:
    # Its bars do not hold how much the free walks differ, so that beside a line at 75 % they
    # would contradict the finding.
    (chart,) = rotation_charts(scores)
    rules: dict[str, list[float]] = {}
    for mark in chart.panels[0].marks:
        if mark.kind == "rule_x":
            rules.setdefault(mark.style, []).append(float(mark.x[0]))
    dots = [mark.x for mark in chart.panels[0].marks if mark.style == "torso"]
    walks = [x.mean() for x, b in zip(dots, scores.bouts, strict=True) if b.data.row.hold == "free"]
    assert rules == {"free": [pytest.approx(np.mean(walks))]}


def test_left_out_strides_are_crosses_with_their_reason(scores: SessionScores) -> None:
    bout = scores.bouts[2]
    chart = strip_chart(scores, bout)
    assert chart is not None
    crosses = next(m for m in chart.panels[0].marks if m.style == "left_out")
    assert crosses.x.size == int((~bout.data.strides.kept_yaw).sum())
    assert any("samples missing" in words for words in crosses.hover)
    rows = [label for _, label in chart.panels[1].row_labels]
    assert rows == ["first stride of a pass", "last stride of a pass", "samples missing"]


def test_the_mean_stride_has_the_free_walk_under_it(scores: SessionScores) -> None:
    chart = stride_chart(scores, scores.bouts[3])
    assert chart is not None
    heights = {
        mark.style: float(np.ptp(mark.y)) for mark in chart.panels[0].marks if mark.kind == "line"
    }
    # The curves of the invented bouts are 4.1 and about 10 deg high, give or take their jitter.
    assert heights["torso"] == pytest.approx(4.1, rel=0.15)
    assert heights["free"] == pytest.approx(10.0, rel=0.15)


def test_ladder_points_are_the_tested_loads(scores: SessionScores) -> None:
    chart = ladder_chart(scores.ladder[0], 1)
    assert chart is not None
    points = next(mark for mark in chart.panels[0].marks if mark.kind == "dots")
    assert points.x.tolist() == [8.0, 16.0, 24.0]
    assert points.y.tolist() == [91.0, 70.0, 41.0]
    assert chart.x_range[1] < 30.0


def test_shoulder_tests_show_both_errors_and_hollow_diamonds_without_one() -> None:
    known = RetestFinding("er", "right", 82.0, 85.0, 3.0, 1.9, "x", "increased_more_than_error",
                          "", 6.0)  # fmt: skip
    bare = replace(known, error_deg=np.nan, positioning_deg=np.nan, finding="not_decidable")
    chart = retest_chart([bare, known, known])
    assert chart is not None
    marks = chart.panels[0].marks
    assert list(dict.fromkeys(m.label for m in marks)) == [
        "no change", "change, error not known", "published error of a new positioning",
        "within the error of the test", "change",
    ]  # fmt: skip
    assert [STYLES[m.style].hollow for m in marks if m.kind == "dots"] == [True, False, False]
    bands = [m for m in marks if m.kind == "band"]
    assert [m.x.tolist() for m in bands] == [[-6.0, 6.0], [-1.9, 1.9]] * 2
    wide, narrow = (float(m.high[0] - m.low[0]) for m in bands[:2])
    assert narrow > 2.0 * wide, "told apart without colour"
    assert not any(m.kind.startswith("whisker") for m in marks)
    assert chart.finding == (
        "0 of 2 tests that can be judged changed by more than the error; 1 cannot be judged."
    )
    assert "longer band" in chart.caption
    alone = retest_chart([bare])
    assert alone is not None
    assert "longer band" not in alone.caption


@pytest.mark.parametrize(("change", "reach"), [(0.0, 5.0), (3.0, 5.0), (-13.0, 16.9)])
def test_changes_lie_about_no_change_and_none_at_the_frame(change: float, reach: float) -> None:
    bare = RetestFinding("er", "right", 82.0, 82.0 + change, change, np.nan, "", "not_decidable")
    known = RetestFinding("ir", "right", 60.0, 61.0, 1.0, 2.3, "x", "within_error")
    chart = retest_chart([bare, known])
    assert chart is not None
    assert chart.x_range == pytest.approx((-reach, reach))


def test_thinning_keeps_the_peaks() -> None:
    signal = np.zeros(10_000)
    signal[4321], signal[777] = 5.0, -3.0
    thinned = thin(signal, 600)
    assert thinned.size <= 600
    assert thinned.max() == 5.0
    assert thinned.min() == -3.0
    assert thin(signal[:100], 600) is not None
    assert thin(signal[:100], 600).size == 100


@pytest.mark.parametrize("n_bouts", [1, 8, 40, 400])
def test_the_points_of_all_traces_stay_bounded(n_bouts: int) -> None:
    assert 120 <= points_for(n_bouts) <= 600


def test_sketch_says_both_swings(scores: SessionScores) -> None:
    bout = scores.bouts[3]
    assert sketch_words(scores, bout) == "suitcase 24, side right: 4.1 deg; free walk 10.0 deg."
    ElementTree.fromstring(sketch_svg(scores, bout))


def test_path_breaks_where_a_value_is_missing() -> None:
    x = np.arange(5.0)
    y = np.array([0.0, 1.0, np.nan, 3.0, 4.0])
    assert path_data(x, y).count("M") == 2
    assert path_data(x, np.full(5, np.nan)) == ""


def test_path_steps_do_not_drift() -> None:
    rng = np.random.default_rng(1)
    x, y = np.cumsum(rng.random(400)), rng.normal(0.0, 30.0, 400)
    ends = _end_of(path_data(x, y))
    # Steps are differences of rounded places, so the last place is right to its rounding.
    assert ends == pytest.approx((x[-1], y[-1]), abs=0.051)


def _end_of(data: str) -> tuple[float, float]:
    start, steps = data.removeprefix("M").split("l")
    place = np.array([float(v) for v in start.split()])
    values = [float(v) for v in steps.replace("-", " -").split()]
    total = place + np.array(values).reshape(-1, 2).sum(axis=0)
    return float(total[0]), float(total[1])


def test_every_style_has_a_known_shape_colour_and_rule() -> None:
    rules = css_rules()
    for name, style in STYLES.items():
        assert style.marker in SHAPES
        assert style.colour in LIGHT
        assert f".l-{name}{{" in rules
    assert set(LIGHT) == set(DARK)


# What must be seen against the sheet it lies on; areas are pale and have an edge instead.
SEEN = ("ink", "soft", "edge", "torso", "left", "right", "free", "mark", "link")


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("name", SEEN)
def test_contrast_is_at_least_three_to_one(palette: dict[str, str], name: str) -> None:
    """WCAG 2.2, success criterion 1.4.11: 3:1 for graphical objects; 1.4.3: 4.5:1 for text."""
    least = 4.5 if name in ("ink", "soft", "link") else 3.0
    for ground in ("paper", "sheet"):
        assert contrast(palette[name], palette[ground]) >= least


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("name", ["torso", "left", "right", "free"])
def test_lines_are_seen_on_their_own_band(palette: dict[str, str], name: str) -> None:
    assert contrast(palette[name], palette[f"{name}_area"]) >= 3.0


def test_arms_and_sternum_differ_without_colour() -> None:
    lines = [(STYLES[k].dash, STYLES[k].marker) for k in ("torso", "left", "right", "free")]
    assert len({dash for dash, _ in lines}) == 4
    assert len({STYLES[k].marker for k in ("torso", "left", "right")}) == 3


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, relative luminance)."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def luminance(colour: str) -> float:
    parts = np.array([int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)])
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    return float(linear @ np.array([0.2126, 0.7152, 0.0722]))


def test_contrast_of_black_on_white_is_twenty_one() -> None:
    """WCAG 2.2: the ratio runs from 1 to 21."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("low", [-3.2, 0.0, 12.0])
@pytest.mark.parametrize("span", [0.03, 1.0, 7.0, 130.0])
def test_ticks_are_round_and_inside(low: float, span: float) -> None:
    ticks = charts.nice_ticks(low, low + span, 5)
    assert 1 <= len(ticks) <= 6
    assert all(low - 1e-9 <= value <= low + span + 1e-9 for value, _ in ticks)
    read = [float(words.replace("\u2212", "-")) for _, words in ticks]
    assert read == pytest.approx([value for value, _ in ticks])
    assert not any("-" in words for _, words in ticks)


def test_no_ticks_on_an_empty_axis() -> None:
    assert charts.nice_ticks(1.0, 1.0, 5) == ()
    assert charts.nice_ticks(float("nan"), 1.0, 5) == ()


def test_a_span_of_nothing_is_still_an_axis() -> None:
    assert charts.span_of([np.array([np.nan])]) == (0.0, 1.0)
    low, high = charts.span_of([np.array([2.0])])
    assert low < 2.0 < high
    assert charts.span_of([np.array([0.0])], include=0.0) == (0.0, 1.0)


def test_swatches_show_the_mark(scores: SessionScores) -> None:
    for chart in all_charts(scores):
        for panel in chart.panels:
            for mark in panel.marks:
                drawn = ElementTree.fromstring(swatch(mark))
                classes = [part.get("class", "") for part in drawn.iter() if part is not drawn]
                assert any(mark.style in name.replace(" ", "-").split("-") for name in classes), (
                    classes
                )


def test_lines_draw_their_own_class() -> None:
    mark = charts.line("left", np.array([0.0, 1.0]), np.array([0.0, 1.0]))
    panel = Panel((mark,), "", (0.0, 1.0), 10.0)
    assert 'class="l-left"' in to_svg(Chart("k", "", "", "", (panel,), "", (0.0, 1.0)))
    assert callable(line_path)


def test_the_last_number_of_an_axis_ends_at_the_pictures_edge() -> None:
    panel = Panel(
        (charts.dots("mean", np.array([50.0]), np.array([1.0])),), "deg", (0.0, 2.0), 84.0
    )
    drawn = to_svg(Chart("k", "t", "f", "c", (panel,), "stride (%)", (0.0, 100.0)))
    assert re.search(r'x="399.0" y="[0-9.]+" text-anchor="end">100<', drawn)
    assert re.search(r'text-anchor="middle">80<', drawn)
