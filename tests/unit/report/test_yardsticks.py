"""Arms of one visit that are compared with different free walks: each says with which."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from drawn import swing_charts
from scores_builder import build_scores

from imucarry.basics.records import (
    BoutResult,
    Estimate,
    FloatArray,
    Notice,
    Score,
    SessionScores,
    Side,
)
from imucarry.report.figures.stride import stride_chart
from imucarry.report.lookup import counted_swings
from imucarry.report.pictures import curve_table
from imucarry.report.wording import say_arms
from imucarry.report.wording.terminal_table import bout_lines

APART = Notice("arm_swing_apart", "the arms swung very differently", severity="check")


def told(
    bout: BoutResult, like_pct: float = float("nan"), like_bouts: tuple[str, ...] = ()
) -> BoutResult:
    """A bout whose free walks' arms differ, with or without a share of those of like pace."""
    like = Score(bout.data.row.bout, "arm_swing_kept_matched", "left", "free", "%",
                 Estimate(like_pct, like_pct - 10.0, like_pct + 10.0, 20))  # fmt: skip
    found = replace(
        bout.comparison,
        scores=(*bout.comparison.scores, *((like,) if like_pct > 0.0 else ())),
        notices=(APART,),
        like_bouts=like_bouts,
    )
    return replace(bout, comparison=found)


def mixed_visit() -> SessionScores:
    """The second carry is read against the walks of like pace, the third against all."""
    scores = build_scores()
    walk, first, second, *_ = scores.bouts
    return replace(scores, bouts=(walk, told(first, 58.0), told(second)))


def test_shares_of_all_free_walks_have_a_star_beside_those_of_like_pace() -> None:
    _, walk, like, pooled, star = bout_lines(mixed_visit().bouts)
    assert walk.endswith("  L 100 R 100")
    assert like.endswith("  L 58")
    assert pooled.endswith("  L 77*")
    assert star == "  * of all free walks, since none was of like pace"


def test_without_a_chest_sensor_too() -> None:
    bare = build_scores(chest=False)
    walk, first, second, *_ = bare.bouts
    _, _, like, pooled, star = bout_lines((walk, told(first, 58.0), told(second)))
    assert "58 (48-68)" in like
    assert ")*" not in like
    assert ")*" in pooled
    assert star.startswith("  * of all free walks")


def test_a_visit_of_one_yardstick_has_no_star() -> None:
    walk, first, second, *_ = build_scores().bouts
    for bouts in ((walk, first, second), (told(first), told(second)), (told(first, 58.0),)):
        assert not any("*" in line for line in bout_lines(bouts))


def test_arms_that_one_walk_of_another_pace_may_flatter_have_a_star_and_a_reserve() -> None:
    walk, first, second, *_ = build_scores().bouts
    unlike = Notice("arm_walks_unlike", "no free walk of like pace", severity="check")
    noted = replace(unlike, severity="note")
    bouts = [
        replace(bout, comparison=replace(bout.comparison, notices=(notice,)))
        for bout, notice in ((first, unlike), (second, noted))
    ]
    _, _, doubtful, sure, star = bout_lines((walk, *bouts))
    assert doubtful.endswith("*")
    assert not sure.endswith("*")
    assert star.startswith("  * of all free walks")
    assert "of its swing in free walks of another pace" in say_arms.arms(bouts[0])


def test_a_row_says_that_its_free_walks_differ() -> None:
    bout = mixed_visit().bouts[2]
    assert "77 % of its mean swing in free walks that differ widely" in say_arms.arms(bout)


def test_the_mean_stride_shows_an_arm_over_the_free_walks_that_it_is_read_against() -> None:
    scores = build_scores()
    first, carry, *_, last = scores.bouts
    free = [bout.data.row.bout for bout in (first, last)]
    assert free == list(carry.comparison.baseline_bouts)
    scores = replace(scores, bouts=(first, told(carry, 58.0, (free[1],)), last))
    chart = stride_chart(scores, scores.bouts[1])
    assert chart is not None
    drawn = {
        panel.y_label.split(" (")[0]: mark
        for panel in chart.panels
        for mark in panel.marks
        if mark.style == "free"
    }
    walks = [first, last]
    for name, side, of in (("left forearm", "left", walks[1:]), ("right forearm", "right", walks)):
        expected = np.mean([_mean_arm(walk, side) for walk in of], axis=0)
        np.testing.assert_allclose(drawn[name].y, expected[::2])
    assert drawn["left forearm"].label == "forearm, free walks of like pace, mean"
    assert chart.finding.endswith(" The arms are drawn over the free walks of like pace.")
    heads = [row.head for row in curve_table(chart).rows]
    assert any(head.endswith(": forearm, free walks of like pace, mean") for head in heads)


def _mean_arm(walk: BoutResult, side: Side) -> FloatArray:
    curves = walk.data.swing[side].angle_curve_rad[counted_swings(walk, side)]
    return np.asarray(np.rad2deg(curves).mean(axis=0))


def test_the_stripe_of_the_arm_swing_says_whose_findings_are_against_other_walks() -> None:
    (chart,) = swing_charts(mixed_visit())
    assert chart.caption.endswith(
        "Stripe and line are of all free walks; the findings of suitcase 8 are against those of "
        "like pace alone."
    )
    (plain,) = swing_charts(build_scores())
    assert "like pace" not in plain.caption
