"""Arms of one visit that are compared with different free walks: each says with which."""

from __future__ import annotations

from dataclasses import replace

from scores_builder import build_scores

from imucarry.basics.records import BoutResult, Estimate, Notice, Score, SessionScores
from imucarry.report.wording import say_arms
from imucarry.report.wording.terminal_table import bout_lines

APART = Notice("arm_swing_apart", "the arms swung very differently", severity="check")


def told(bout: BoutResult, like_pct: float = float("nan")) -> BoutResult:
    """A bout whose free walks' arms differ, with or without a share of those of like pace."""
    like = Score(bout.data.row.bout, "arm_swing_kept_matched", "left", "free", "%",
                 Estimate(like_pct, like_pct - 10.0, like_pct + 10.0, 20))  # fmt: skip
    found = replace(
        bout.comparison,
        scores=(*bout.comparison.scores, *((like,) if like_pct > 0.0 else ())),
        notices=(APART,),
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


def test_a_row_says_that_its_free_walks_differ() -> None:
    bout = mixed_visit().bouts[2]
    assert "77 % of its mean swing in free walks that differ widely" in say_arms.arms(bout)
