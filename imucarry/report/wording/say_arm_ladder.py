"""Without a chest sensor: how much of its free swing the free arm kept, by load."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from imucarry.basics.records import SIDES, BoutResult, LadderRung, SessionScores, Side
from imucarry.carry.baseline_moved import ARMS_APART
from imucarry.carry.bout_checks import early_stop
from imucarry.carry.ladder_step import implement_key
from imucarry.report.lookup import arm_share_of, role_of
from imucarry.report.wording import say_arms, say_ladder, texts
from imucarry.report.wording.numbers import kilograms, number
from imucarry.report.wording.say import sentence_case
from imucarry.report.wording.say_lighter import noted_with


def arms_only(scores: SessionScores) -> bool:
    """Whether no chest sensor was worn and the swing of an arm was measured."""
    bouts = scores.bouts
    chest = any(bout.data.trunk is not None for bout in bouts)
    return not chest and any(bout.data.swing for bout in bouts)


def arm_ladder(scores: SessionScores) -> list[str]:
    """One sentence a hold, side and free arm; [] where the swing of none is known.

    Bouts with pain or an early stop do not count; a load without any other is named so, and
    beside any other load stands what its other bouts were like.
    """
    said = (
        _sentence(scores, rung, side)
        for rung in scores.ladder
        for side in SIDES
        if arms_only(scores)
    )
    return [words for words in said if words]


def _sentence(scores: SessionScores, rung: LadderRung, side: Side) -> str:
    words = texts.ARM_LADDER
    carries = _free_arm(_carries(scores.bouts, rung), side)
    bouts = [bout for bout in carries if _counts(bout, rung, side)]
    unlike = {b.data.row.load_kg for b in bouts if say_arms.moved_unlike_strides(b)}
    bouts = [bout for bout in bouts if not say_arms.moved_unlike_strides(bout)]
    if not bouts and not unlike:
        return ""
    kept: dict[float, list[float]] = {}
    for bout in bouts:
        kept.setdefault(bout.data.row.load_kg, []).append(arm_share_of(bout, side)[0].value)
    loads = ", ".join(
        words["load"].format(
            load=kilograms(load), kept=words["and"].join(number(share, 0) for share in shares)
        )
        + noted_with(rung, load)
        for load, shares in sorted(kept.items())
    )
    hold = sentence_case(say_ladder.ladder_hold(rung))
    said = words["kept" if kept else "none_counts"].format(hold=hold, side=side, loads=loads)
    said += words["unfair"] if any(yardstick_in_doubt(bout, side) for bout in bouts) else ""
    out = [say_ladder.load_name(rung, item.load_kg) for item in rung.stopped]
    if unlike:
        out.append(words["unlike_load"].format(load=", ".join(map(kilograms, sorted(unlike)))))
    return said + (words["not_counted"].format(loads=", ".join(out)) if out else "")


def _counts(bout: BoutResult, rung: LadderRung, side: Side) -> bool:
    """Whether the share that an arm kept in a bout is known, without pain or an early stop."""
    row = bout.data.row
    hurt = early_stop(row) or row.pain_0_10 > rung.pain_limit_0_10
    stopped = row.load_kg in {item.load_kg for item in rung.stopped}
    known = math.isfinite(arm_share_of(bout, side)[0].value + row.load_kg)
    return known and not (hurt or stopped)


def yardstick_in_doubt(bout: BoutResult, side: Side) -> bool:
    """Whether an arm is read against free walks that differ too much, as a check says."""
    checked = any(n.code == ARMS_APART and n.severity == "check" for n in bout.comparison.notices)
    return checked and not arm_share_of(bout, side)[1]


def on_ladder(rung: LadderRung, bout: BoutResult) -> bool:
    """Whether a bout is one of a ladder's."""
    row = bout.data.row
    same = (row.hold, row.loaded_side, row.left_hold, row.right_hold, row.perturbed)
    wanted = (rung.hold, rung.loaded_side, rung.left_hold, rung.right_hold, "none")
    return same == wanted and implement_key(row.implement) == implement_key(rung.implement)


def _carries(bouts: Sequence[BoutResult], rung: LadderRung) -> Iterable[BoutResult]:
    return (bout for bout in bouts if on_ladder(rung, bout))


def _free_arm(bouts: Iterable[BoutResult], side: Side) -> Iterable[BoutResult]:
    return (bout for bout in bouts if role_of(bout, side) == "free")
