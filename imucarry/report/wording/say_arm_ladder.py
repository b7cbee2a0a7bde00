"""Without a chest sensor: how much of its free swing the free arm kept, by load."""

from __future__ import annotations

from collections.abc import Sequence

from imucarry.basics.records import SIDES, BoutResult, LadderRung, SessionScores, Side
from imucarry.carry.bout_checks import yardstick_in_doubt
from imucarry.report.lookup import arm_share_of
from imucarry.report.wording import say_arms, texts
from imucarry.report.wording.by_walk import by_walk
from imucarry.report.wording.free_arms import counts, free_arm_bouts
from imucarry.report.wording.ladder_names import (
    as_carried,
    for_words,
    ladder_hold,
    load_name,
)
from imucarry.report.wording.numbers import kilograms, number
from imucarry.report.wording.say import percent_said, sentence_case
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
        for rung in as_carried(scores)
        for side in SIDES
        if arms_only(scores)
    )
    return [words for words in said if words]


def walks_differ(scores: SessionScores) -> str:
    """Say, for a check, by how much the arms of the free walks differ; "" where they do not.

    It stands for what is said of each carry's own arm.
    """
    found = {
        side: walks.walks_deg
        for bout in scores.bouts
        for side in SIDES
        if (walks := by_walk(scores.bouts, bout, side)) is not None
    }
    words = texts.ARM_LADDER
    rounded = {side: tuple(number(swing, 0) for swing in found[side]) for side in sorted(found)}
    swings = ", ".join(
        words["of_side"].format(side=side, least=least, most=most)
        for side, (least, most) in rounded.items()
        if least != most
    )
    return words["walks_differ"].format(swings=swings) if swings else ""


def _sentence(scores: SessionScores, rung: LadderRung, side: Side) -> str:
    words = texts.ARM_LADDER
    carries = free_arm_bouts(scores.bouts, rung, side)
    bouts = [bout for bout in carries if counts(bout, rung, side)]
    unlike = {b.data.row.load_kg for b in bouts if say_arms.moved_unlike_strides(b)}
    bouts = [bout for bout in bouts if not say_arms.moved_unlike_strides(bout)]
    if not bouts and not unlike:
        return ""
    kept: dict[float, list[BoutResult]] = {}
    for bout in bouts:
        kept.setdefault(bout.data.row.load_kg, []).append(bout)
    loads = ", ".join(_load(scores, rung, load, same, side) for load, same in sorted(kept.items()))
    hold = sentence_case(ladder_hold(for_words(scores, rung)))
    said = words["kept" if kept else "none_counts"].format(hold=hold, side=side, loads=loads)
    unfair = (
        b
        for b in bouts
        if yardstick_in_doubt(b.comparison, side) and by_walk(scores.bouts, b, side) is None
    )
    said += words["unfair"] if any(unfair) else ""
    out = [load_name(rung, item.load_kg) for item in rung.stopped]
    if unlike:
        out.append(words["unlike_load"].format(load=", ".join(map(kilograms, sorted(unlike)))))
    return said + (words["not_counted"].format(loads=", ".join(out)) if out else "")


def _load(
    scores: SessionScores, rung: LadderRung, load_kg: float, bouts: Sequence[BoutResult], side: Side
) -> str:
    """ "34 % at 20 kg (less than 75 %, whichever free walk it is compared with)"."""
    words = texts.ARM_LADDER
    line = (rung.threshold_pct,)
    shares = (percent_said(arm_share_of(bout, side)[0].value, line) for bout in bouts)
    said = words["load"].format(load=kilograms(load_kg), kept=words["and"].join(shares))
    walks = [by_walk(scores.bouts, bout, side) for bout in bouts]
    found = {item.answer(rung.threshold_pct) if item else "" for item in walks}
    key = {"less": "less", "kept": "at_least"}.get(found.pop(), "") if len(found) == 1 else ""
    told = words[key].format(threshold=number(rung.threshold_pct, 0)) if key else ""
    return said + told + noted_with(rung, load_kg)
