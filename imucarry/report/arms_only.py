"""The findings of a visit without a chest sensor: the arms' swing stands in the trunk's place."""

from __future__ import annotations

import math
from dataclasses import replace

from imucarry.basics.records import SIDES, BoutResult, Estimate, SessionScores, Side
from imucarry.basics.settings import Settings
from imucarry.carry.baseline_moved import ARMS_APART, ARMS_UNLIKE
from imucarry.carry.bout_checks import yardstick_in_doubt
from imucarry.report.glyphs import glyph, kept_strip
from imucarry.report.lookup import arm_share_of, role_of
from imucarry.report.views import FindingView
from imucarry.report.wording import say, say_arms, texts
from imucarry.report.wording.by_walk import by_walk

FOUND = {"above": "rotates", "below": "reduced", "below_minimal": "minimal", "across": "unclear"}


def as_arms(
    found: FindingView, scores: SessionScores, bout: BoutResult, settings: Settings
) -> FindingView:
    """Return a bout's finding with the arms' sentence first; as it was without one."""
    if not found.arms:
        return found
    limits = settings.carry.reduced_pct, settings.carry.minimal_pct
    walks = {
        side: each for side in SIDES if (each := by_walk(scores.bouts, bout, side)) is not None
    }
    said = say_arms.arms(bout, limits, walks) if walks else found.arms
    rotation = found.rotation.replace(texts.ROTATION["not_measured"], said)
    found = replace(found, rotation=rotation, arms="", reading="")
    known = _known(bout)
    if not known:
        return found
    kept, side = min(known, key=lambda arm: arm[0].value)
    whichever = side in walks and walks[side].answer(limits[0]) != "unsure"
    if side in walks:
        kept = replace(kept, ci_low=walks[side].ci_low_pct, ci_high=walks[side].ci_high_pct)
    code = FOUND[say.where_it_lies(kept, *limits)]
    apart = _free_walks_apart(scores, bout)
    unfair = yardstick_in_doubt(bout.comparison, side) and not whichever
    unlike = code == "rotates" and say_arms.moved_unlike_strides(bout)
    because = "free_walks_apart" if apart else _unfair(bout) if unfair else "unlike"
    is_doubtful = apart or unfair or unlike
    code = "unclear" if is_doubtful else code
    is_free = bout.data.row.hold == "free" and code in ("rotates", "unclear")
    word = texts.HOLDS["free"] if is_free else texts.ARM_MARK[code]
    mark = found.mark.replace(texts.FINDING_MARK["not_measured"], word)
    lines = () if is_free else limits
    certain = texts.ARM_LADDER["whichever"] if whichever else ""
    why = texts.ARM_LADDER[because] if is_doubtful and not is_free else certain
    key = "arm_interval" if len(known) == 1 else "arm_interval_least"
    interval = texts.CERTAINTY[key].format(
        side=texts.SIDES[side],
        low=say.percent(kept.ci_low, lines),
        high=say.percent(kept.ci_high, lines),
    )
    return replace(
        found,
        mark=mark,
        glyph=glyph("dash" if is_free else texts.FINDING_GLYPH[code]),
        certainty=interval + why,
        strip=kept_strip(kept, lines),
    )


def _unfair(bout: BoutResult) -> str:
    """Why the free walks are no fair yardstick for a carry's arms."""
    codes = {notice.code for notice in bout.comparison.notices}
    return "no_like_walk" if ARMS_UNLIKE in codes else "free_walks_apart"


def _free_walks_apart(scores: SessionScores, bout: BoutResult) -> bool:
    """Whether a free walk is compared with others whose arms swung very differently."""
    notices = (notice for other in scores.bouts for notice in other.comparison.notices)
    return bout.data.row.hold == "free" and any(n.code == ARMS_APART for n in notices)


def _known(bout: BoutResult) -> list[tuple[Estimate, Side]]:
    """What each arm without a load kept, where it is known with its interval."""
    found = [(arm_share_of(bout, side)[0], side) for side in SIDES if role_of(bout, side) != "held"]
    return [arm for arm in found if math.isfinite(arm[0].value + arm[0].ci_low + arm[0].ci_high)]
