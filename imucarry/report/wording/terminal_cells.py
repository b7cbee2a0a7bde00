"""What the terminal's table tells of a bout: the sternum and the free arms, cell by cell."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from imucarry.basics.records import SIDES, BoutResult, Estimate, Side
from imucarry.carry.baseline_moved import ARMS_UNLIKE
from imucarry.report.lookup import arm_share_of, estimate_of, finding_shown, role_of
from imucarry.report.wording import say, say_arms, texts
from imucarry.report.wording.by_walk import by_walk
from imucarry.report.wording.numbers import number

Starred = frozenset[tuple[str, Side]]
"""Bouts by name and arms."""


def starred(bouts: Sequence[BoutResult]) -> Starred:
    """The bouts and arms of all free walks, where others are of those of like pace alone.

    Where none is, those that a check doubts.
    """
    like = {
        (bout.data.row.bout, side): found
        for bout in bouts
        for side in SIDES
        if (found := say_arms.of_like_pace(bout, side)) is not None
    }
    pooled = frozenset(arm for arm, found in like.items() if not found)
    if len(pooled) < len(like):
        return pooled
    doubtful = {
        bout.data.row.bout
        for bout in bouts
        if any(n.code == ARMS_UNLIKE and n.severity == "check" for n in bout.comparison.notices)
    }
    return frozenset(arm for arm in pooled if arm[0] in doubtful)


def of_sternum(
    bout: BoutResult, sides: Sequence[Side], starred: Starred, noted: str, *, short: bool
) -> tuple[str, ...]:
    """What was found (in `short` words) and noted, the swing, its share, the free arms' shares."""
    code, words = finding_shown(bout), texts.FINDING_SHORT if short else texts.FINDING_MARK
    swung, kept = estimate_of(bout, "sternum_yaw_range"), estimate_of(bout, "yaw_kept")
    shares = (_arm_share(bout, side, starred) for side in sides)
    arms = " ".join(share for share in shares if share) or texts.TERMINAL["missing"]
    verdict = "" if say.shown_as_free(bout, code) else words.get(code, code)
    lines = () if say.free_without_verdict(bout) else say.USUAL_LIMITS
    return (
        ", ".join(filter(None, (verdict, noted))) or texts.TERMINAL["missing"],
        _degrees(swung),
        _share(kept, lines),
        *((arms,) if sides else ()),
    )


def _arm_share(bout: BoutResult, side: Side, starred: Starred) -> str:
    """ "L 92" or "L 92*"; "" for a held arm and one that nothing is known of."""
    kept, _ = arm_share_of(bout, side)
    if role_of(bout, side) == "held" or not math.isfinite(kept.value):
        return ""
    limits = () if bout.data.row.hold == "free" else say.USUAL_LIMITS
    share = say.percent(kept.value, limits)
    return texts.TERMINAL[side].format(kept=share) + _star(bout, side, starred)


def _star(bout: BoutResult, side: Side, starred: Starred) -> str:
    return texts.TERMINAL["star"] if (bout.data.row.bout, side) in starred else ""


def of_arms(
    bout: BoutResult, sides: Sequence[Side], starred: Starred, bouts: Sequence[BoutResult]
) -> tuple[str, ...]:
    """The swing of each arm and its share of the free walk's; a held arm is only named.

    Where the arms of the free walks differ widely the interval spans them, as on the page.
    """
    cells: list[str] = []
    for side in sides:
        if role_of(bout, side) == "held":
            cells += (texts.ARM_ROLE["held"], "")
            continue
        swung = estimate_of(bout, "arm_swing", side)
        unit = texts.TERMINAL["deg"] if math.isfinite(swung.value) else "{value}"
        kept, _ = arm_share_of(bout, side)
        walks = by_walk(bouts, bout, side)
        if walks is not None:
            kept = replace(kept, ci_low=walks.ci_low_pct, ci_high=walks.ci_high_pct)
        limits = () if bout.data.row.hold == "free" else say.USUAL_LIMITS
        share = _share(kept, limits) + _star(bout, side, starred)
        cells += (unit.format(value=_degrees(swung)), share)
    return tuple(cells)


def _degrees(swung: Estimate) -> str:
    return number(swung.value) if math.isfinite(swung.value) else texts.TERMINAL["missing"]


def _share(kept: Estimate, limits_pct: tuple[float, ...]) -> str:
    """ "92 (81-103)", or "64 (54 to >75)" where a limit has a sign."""
    if not math.isfinite(kept.value):
        return texts.TERMINAL["missing"]
    value, low, high = (
        say.percent(part, limits_pct) for part in (kept.value, kept.ci_low, kept.ci_high)
    )
    key = "kept" if (low + high).isdecimal() else "kept_at_a_line"
    return texts.TERMINAL[key].format(kept=value, low=low, high=high)
