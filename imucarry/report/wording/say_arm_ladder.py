"""Without a chest sensor: how much of its free swing the free arm kept, by load."""

from __future__ import annotations

from imucarry.basics.records import SIDES, LadderRung, SessionScores, Side
from imucarry.report.lookup import arm_share_of
from imucarry.report.wording import say_arms, texts
from imucarry.report.wording.free_arms import (
    counts,
    free_arm_bouts,
    yardstick_in_doubt,
)
from imucarry.report.wording.ladder_names import (
    as_carried,
    for_words,
    ladder_hold,
    load_name,
)
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
        for rung in as_carried(scores)
        for side in SIDES
        if arms_only(scores)
    )
    return [words for words in said if words]


def _sentence(scores: SessionScores, rung: LadderRung, side: Side) -> str:
    words = texts.ARM_LADDER
    carries = free_arm_bouts(scores.bouts, rung, side)
    bouts = [bout for bout in carries if counts(bout, rung, side)]
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
    hold = sentence_case(ladder_hold(for_words(scores, rung)))
    said = words["kept" if kept else "none_counts"].format(hold=hold, side=side, loads=loads)
    said += words["unfair"] if any(yardstick_in_doubt(bout, side) for bout in bouts) else ""
    out = [load_name(rung, item.load_kg) for item in rung.stopped]
    if unlike:
        out.append(words["unlike_load"].format(load=", ".join(map(kilograms, sorted(unlike)))))
    return said + (words["not_counted"].format(loads=", ".join(out)) if out else "")
