"""Without a chest sensor: how much of its free swing the free arm kept, by load."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from imucarry.basics.records import SIDES, BoutResult, LadderRung, SessionScores, Side
from imucarry.carry.baseline_moved import ARMS_APART
from imucarry.carry.bout_checks import early_stop
from imucarry.carry.ladder_step import implement_key
from imucarry.report.lookup import arm_share_of, role_of
from imucarry.report.wording import say_ladder, texts
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
    out = {item.load_kg for item in rung.stopped}
    kept: dict[float, list[float]] = {}
    is_unfair = False
    for bout in _free_arm(_carries(scores.bouts, rung), side):
        share = arm_share_of(bout, side)[0].value
        row = bout.data.row
        counts = not (early_stop(row) or row.pain_0_10 > rung.pain_limit_0_10)
        if counts and row.load_kg not in out and math.isfinite(share + row.load_kg):
            kept.setdefault(row.load_kg, []).append(share)
            is_unfair |= yardstick_in_doubt(bout, side)
    if not kept:
        return ""
    loads = ", ".join(
        words["load"].format(
            load=kilograms(load), kept=words["and"].join(number(share, 0) for share in shares)
        )
        + noted_with(rung, load)
        for load, shares in sorted(kept.items())
    )
    stopped = ", ".join(say_ladder.load_name(rung, item.load_kg) for item in rung.stopped)
    hold = sentence_case(say_ladder.ladder_hold(rung))
    said = words["kept"].format(hold=hold, side=side, loads=loads)
    said += words["unfair"] if is_unfair else ""
    return said + (words["not_counted"].format(loads=stopped) if stopped else "")


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
