"""With a chest sensor: at which loads of a ladder the free arm kept swinging, in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from imucarry.basics.records import SIDES, BoutResult, LadderRung, SessionScores, Side
from imucarry.carry.bout_checks import yardstick_in_doubt
from imucarry.report.lookup import arm_share_of
from imucarry.report.wording import say_arms
from imucarry.report.wording import words_ladder as words
from imucarry.report.wording.bout_runs import numbers_in_short
from imucarry.report.wording.free_arms import (
    counts,
    free_arm_bouts,
    not_recorded,
)
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.say import percent, percent_said
from imucarry.report.wording.say_lighter import anded
from imucarry.report.wording.side_doubt import side_in_doubt

Shown = Callable[[float], str]
"""How a share [%] is written: "<75" in a table, "just under 75" in a sentence."""


@dataclass(frozen=True, slots=True)
class ArmAt:
    """What the free arm did at a load.

    ``kept``, ``less``, ``unsure``, ``doubt``, ``differ`` (kept in one bout, less in another),
    ``mixed`` (not clear or in doubt in some) or ``missing``.
    """

    load_kg: float
    kind: str
    shares_pct: tuple[float, ...]
    kinds: tuple[str, ...] = ()
    """The same of each bout."""
    bouts: tuple[str, ...] = ()
    """Names of the bouts that lack the arm, of a load that is missing."""


def arm_said(scores: SessionScores, rung: LadderRung) -> list[str]:
    """Say at which loads each free arm kept swinging, a line each; [] where it is not known."""
    said, between = list[str](), words.FREE_ARM["between"]
    for side in SIDES:
        found = arm_at_loads(scores, rung, side)
        if found:
            every = _every(scores, rung, side, found)
            share = partial(percent_said, limits_pct=(rung.threshold_pct,))
            parts = [_part(kind, group, len(found), every, share) for kind, group in _runs(found)]
            said.append(words.FREE_ARM["said"].format(side=side, parts=between.join(parts)))
    return said


def arm_cell(scores: SessionScores, rung: LadderRung) -> str:
    """The same for a cell of a table."""
    share = partial(percent, limits_pct=(rung.threshold_pct,))
    return "; ".join(
        _part(kind, group, len(found), _every(scores, rung, side, found), share)
        for side in SIDES
        if (found := arm_at_loads(scores, rung, side))
        for kind, group in _runs(found)
    )


def arm_fell(scores: SessionScores, rung: LadderRung) -> bool:
    """Whether a free arm clearly swung less at a load that the trunk kept turning with."""
    return any(
        item.kind == "less" and item.load_kg <= rung.heaviest_kept_kg
        for side in SIDES
        for item in arm_at_loads(scores, rung, side)
    )


def arm_at_loads(scores: SessionScores, rung: LadderRung, side: Side) -> list[ArmAt]:
    """What a free arm did at each load that counts, by rising load.

    Bouts whose loaded side is doubtful, and those in which the arm moved but not with the
    strides, are left out. A load is missing where the arm was recorded in no bout that counts.
    """
    at: dict[float, list[BoutResult]] = {}
    lacking: dict[float, list[str]] = {}
    for bout in free_arm_bouts(scores.bouts, rung, side):
        load = bout.data.row.load_kg
        unfit = side_in_doubt(scores, bout.data.row.bout) or say_arms.moved_unlike_strides(bout)
        if counts(bout, rung, side) and not unfit:
            at.setdefault(load, []).append(bout)
        elif not_recorded(bout, rung, side):
            lacking.setdefault(load, []).append(bout.data.row.bout)
    known = [_at(load, bouts, side, rung.threshold_pct) for load, bouts in at.items()]
    missing = [
        ArmAt(load, "missing", (), bouts=tuple(bouts))
        for load, bouts in lacking.items()
        if load not in at
    ]
    return sorted([*known, *missing], key=lambda item: item.load_kg)


def _at(load_kg: float, bouts: Sequence[BoutResult], side: Side, threshold_pct: float) -> ArmAt:
    shares = [arm_share_of(bout, side)[0].value for bout in bouts]
    kinds = [_kind(bout, side, threshold_pct) for bout in bouts]
    kind = kinds[0] if len(set(kinds)) == 1 else "mixed"
    kind = "differ" if {"kept", "less"} <= set(kinds) else kind
    return ArmAt(load_kg, kind, tuple(shares), tuple(kinds))


def _kind(bout: BoutResult, side: Side, threshold_pct: float) -> str:
    """What a free arm did in one bout, as its row says."""
    share = arm_share_of(bout, side)[0]
    if yardstick_in_doubt(bout.comparison, side):
        return "doubt"
    if share.ci_low > threshold_pct:
        return "kept"
    return "less" if share.ci_high < threshold_pct else "unsure"


def _every(scores: SessionScores, rung: LadderRung, side: Side, found: Sequence[ArmAt]) -> str:
    """The word for all loads of a free arm; "" where one that counts is not among those found."""
    carried = {bout.data.row.load_kg for bout in free_arm_bouts(scores.bouts, rung, side)}
    left_out = carried - {item.load_kg for item in found}
    if not left_out:
        return "every"
    return "every_counted" if left_out <= {item.load_kg for item in rung.stopped} else ""


def _runs(found: Sequence[ArmAt]) -> list[tuple[str, list[ArmAt]]]:
    """The loads of each kind, in the order in which the kinds first come."""
    kinds = dict.fromkeys(item.kind for item in found)
    return [(kind, [item for item in found if item.kind == kind]) for kind in kinds]


def _part(kind: str, group: Sequence[ArmAt], n_loads: int, every: str, share: Shown) -> str:
    """ "swung less at 16 kg (58 %) and 24 kg (32 %)"."""
    if kind == "mixed":
        return words.FREE_ARM["between"].join(_mixed(item, share) for item in group)
    loads = anded([_load(item, share) for item in group])
    if every and len(group) == n_loads > 1:
        loads = words.FREE_ARM[every].format(loads=loads)
    return words.FREE_ARM[kind].format(loads=loads)


def _mixed(item: ArmAt, shown: Shown) -> str:
    """ "at 8 kg kept swinging in one bout (91 %), not clear in the other (85 %)"."""
    each = list[str]()
    for kind in dict.fromkeys(item.kinds):
        pairs = zip(item.shares_pct, item.kinds, strict=True)
        shares = [shown(share) for share, own in pairs if own == kind]
        key = "mixed_one" if len(shares) == 1 else "mixed_more"
        key = "mixed_other" if each and len(item.kinds) == 2 else key
        told = [words.FREE_ARM["share"].format(share=share) for share in shares]
        found = words.FREE_ARM_FOUND[kind]
        each.append(words.FREE_ARM[key].format(found=found, n=len(shares), shares=anded(told)))
    return words.FREE_ARM["mixed_load"].format(load=kilograms(item.load_kg), each=", ".join(each))


def _load(item: ArmAt, shown: Shown) -> str:
    """ "8 kg (88 % and 83 %)": a load with what each of its bouts kept, in their order."""
    load = kilograms(item.load_kg)
    if not item.shares_pct:
        key = "load_missing" if len(item.bouts) == 1 else "load_missing_more"
        return words.FREE_ARM[key].format(load=load, bouts=anded(numbers_in_short(item.bouts)))
    if item.kind == "differ":
        found = dict.fromkeys(
            words.FREE_ARM["share_found"].format(
                share=shown(share), found=words.FREE_ARM_FOUND[kind]
            )
            for share, kind in zip(item.shares_pct, item.kinds, strict=True)
        )
        each = words.FREE_ARM["between"].join(found)
        return words.FREE_ARM["load"].format(load=load, shares=each)
    shares = dict.fromkeys(shown(share) for share in item.shares_pct)
    told = [words.FREE_ARM["share"].format(share=share) for share in shares]
    return words.FREE_ARM["load"].format(load=load, shares=anded(told))
