"""What the pictures say of their marks: legends, hollow loads, names of rows."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from drawn import rotation_charts, swing_charts
from scores_builder import VISIT, build_scores

from imucarry.basics.records import LadderRung, SessionScores, StoppedLoad
from imucarry.report.figures.chart import Chart
from imucarry.report.figures.interactive import to_interactive
from imucarry.report.figures.ladder import ladder_chart, ladder_charts
from imucarry.report.figures.sketch import sketch_svg, sketch_words
from imucarry.report.figures.stride import stride_chart
from imucarry.report.figures.style import STYLES


def legend(chart: Chart) -> dict[str, str]:
    """The style that stands beside each label, as the page shows it."""
    found: dict[str, str] = {}
    for panel in chart.panels:
        for mark in panel.marks:
            if mark.label:
                found.setdefault(mark.label, mark.style)
    return found


def test_the_arms_legend_shows_both_arms_and_the_held_one(scores: SessionScores) -> None:
    (chart,) = swing_charts(scores)
    shown = legend(chart)
    for side, marker in (("left", "square"), ("right", "triangle")):
        assert STYLES[shown[f"{side} arm, one stride"]].marker == marker
        mean = f"{side} arm, mean and where it very likely lies (95 %)"
        assert STYLES[shown[mean]].marker == marker
        assert STYLES[shown[f"{side} arm, holding the load"]].hollow


def test_the_stride_picture_names_no_threshold(scores: SessionScores) -> None:
    (chart,) = rotation_charts(scores)
    assert list(legend(chart)) == [
        "free walks, 9 of 10 strides", "free walks, mean", "one stride",
        "mean and where it very likely lies (95 %)",
    ]  # fmt: skip
    assert "75" not in chart.caption


def test_each_line_of_the_mean_stride_is_named(scores: SessionScores) -> None:
    chart = stride_chart(scores, scores.bouts[3])
    assert chart is not None
    shown = legend(chart)
    lines = [shown[f"{what}, this bout, mean"] for what in
             ("trunk rotation", "left forearm", "right forearm")]  # fmt: skip
    assert lines == ["torso", "left", "right"]
    assert shown["right contact"] not in lines


def with_pain(scores: SessionScores) -> SessionScores:
    """The load of 8 kg does not count."""
    rung = replace(
        scores.ladder[0], stopped=(StoppedLoad(8.0, 7.0, ""),), kept_pct=(np.nan, 70.0, 41.0),
        ci_low_pct=(np.nan, 60.0, 35.0), ci_high_pct=(np.nan, 80.0, 48.0),
    )  # fmt: skip
    return replace(scores, ladder=(rung,))


def test_a_load_that_does_not_count_is_drawn_hollow(scores: SessionScores) -> None:
    hurt = with_pain(scores)
    chart = ladder_chart(hurt.ladder[0], 1, hurt.bouts)
    assert chart is not None
    hollow = [mark for mark in chart.panels[0].marks if mark.style == "mean_open"]
    assert [mark.x.tolist() for mark in hollow] == [[8.0]]
    assert np.isfinite(hollow[0].y).all()
    assert "A hollow diamond does not count: 8 kg (pain 7 of 10)." in chart.caption
    assert "does not count: pain, symptom or early stop" in legend(chart)


def test_no_falling_line_where_a_heavier_load_kept_more(scores: SessionScores) -> None:
    rung = scores.ladder[0]
    assert "trend over the loads" in legend(ladder_of(rung))
    heavier = replace(
        rung, kept_pct=(50.0, 90.0, 90.0), ci_low_pct=(40.0, 80.0, 80.0),
        ci_high_pct=(60.0, 99.0, 99.0),
    )  # fmt: skip
    shown = legend(ladder_of(heavier))
    assert "trend over the loads" not in shown
    assert "where the trend very likely lies" not in shown


def test_the_caption_of_a_ladder_speaks_of_the_line_and_band_that_are_drawn(
    scores: SessionScores,
) -> None:
    rung = replace(
        scores.ladder[0], fit_low_pct=(60.0, 50.0, 30.0), fit_high_pct=(99.0, 90.0, 60.0)
    )
    band = "the shaded area is where the trend very likely lies (95 %). The dashed"
    assert band in ladder_of(rung).caption
    bare = ladder_of(replace(rung, fit_low_pct=(), fit_high_pct=())).caption
    assert "the trend over the loads and cannot rise with load. The dashed" in bare
    none = ladder_of(replace(rung, fit_pct=())).caption
    assert "the bar where its share very likely lies (95 %). The dashed" in none
    heavier = replace(
        rung, kept_pct=(50.0, 90.0, 90.0), ci_low_pct=(40.0, 80.0, 80.0),
        ci_high_pct=(60.0, 99.0, 99.0),
    )  # fmt: skip
    assert "cannot rise" not in ladder_of(heavier).caption


def test_one_load_that_counts_has_no_line_and_no_band(scores: SessionScores) -> None:
    nan = np.nan
    alone = replace(
        scores.ladder[0], kept_pct=(nan, 70.0, nan), ci_low_pct=(nan, 60.0, nan),
        ci_high_pct=(nan, 80.0, nan), fit_pct=(nan, 70.0, nan), fit_low_pct=(nan, 60.0, nan),
        fit_high_pct=(nan, 80.0, nan),
    )  # fmt: skip
    chart = ladder_of(alone)
    assert not {"line", "band"} & {mark.kind for mark in chart.panels[0].marks}
    assert not [words for words in legend(chart) if "trend" in words]
    assert "cannot rise" not in chart.caption


def test_the_trend_goes_on_past_a_load_that_does_not_count(scores: SessionScores) -> None:
    nan = np.nan
    rung = replace(
        scores.ladder[0], kept_pct=(92.0, nan, 46.0), ci_low_pct=(80.0, nan, 40.0),
        ci_high_pct=(99.0, nan, 52.0), fit_pct=(92.0, nan, 46.0), fit_low_pct=(80.0, nan, 40.0),
        fit_high_pct=(99.0, nan, 52.0),
    )  # fmt: skip
    first, _, last = rung.loads_kg
    marks = {mark.kind: mark for mark in ladder_of(rung).panels[0].marks}
    assert marks["line"].x.tolist() == marks["band"].x.tolist() == [first, last]
    assert marks["line"].y.tolist() == [92.0, 46.0]


def test_a_ladder_of_which_nothing_was_measured_is_not_drawn(scores: SessionScores) -> None:
    none = (np.nan,) * 3
    rung = replace(scores.ladder[0], kept_pct=none, ci_low_pct=none, ci_high_pct=none, stopped=())
    assert ladder_chart(rung, 1, scores.bouts) is None
    hurt = replace(rung, stopped=(StoppedLoad(8.0, 7.0, ""),))
    assert ladder_chart(hurt, 1, scores.bouts) is not None


def test_pictures_of_ladders_have_the_order_and_the_names_of_their_answers() -> None:
    scores = build_scores()
    side = replace(scores.ladder[0], implement="kettlebell")
    rack = replace(side, hold="rack", loaded_side="left")
    told = replace(scores, ladder=(rack, side))
    drawn = ladder_charts(told)
    assert [rung.hold for rung, _ in drawn] == ["suitcase", "rack"]
    assert [chart.key for _, chart in drawn] == ["ladder-1", "ladder-2"]
    titles = [chart.title for _, chart in drawn]
    assert titles == ["Load ladder: weight at the side, right", "Load ladder: rack, left"]
    assert all("kettlebell" not in chart.finding for _, chart in drawn)
    other = replace(told, ladder=(replace(rack, implement="sandbag"), side))
    assert ladder_charts(other)[1][1].title == "Load ladder: rack, left, sandbag"


def ladder_of(rung: LadderRung) -> Chart:
    chart = ladder_chart(rung, 1)
    assert chart is not None
    return chart


@pytest.mark.parametrize(("hold", "held"), [("suitcase", "side"), ("rack", "rack"),
                                            ("overhead", "overhead")])  # fmt: skip
def test_a_sketch_shows_and_says_the_hold(hold: str, held: str) -> None:
    scores = build_scores(visit=(VISIT[0], replace(VISIT[1], hold=hold)))
    bout = scores.bouts[1]
    assert sketch_words(scores, bout).startswith(f"suitcase 8, {held} right: ")
    others = [build_scores(visit=(VISIT[0], replace(VISIT[1], hold=name)))
              for name in ("suitcase", "rack", "overhead") if name != hold]  # fmt: skip
    drawn = [sketch_svg(other, other.bouts[1]) for other in others]
    assert sketch_svg(scores, bout) not in drawn


def test_a_closer_look_writes_the_rows_names_over_the_rows(scores: SessionScores) -> None:
    (chart,) = rotation_charts(scores)
    layout = to_interactive(chart)["layout"]
    assert layout["yaxis"]["showticklabels"] is False
    names = [item["text"] for item in layout["annotations"] if item["yref"] == "y"]
    assert names == [words for _, words in chart.panels[0].row_labels]
