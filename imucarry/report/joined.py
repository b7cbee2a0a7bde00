"""Notices of several bouts that say the same, put into one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from imucarry.basics.records import Notice
from imucarry.carry.ladder_doubts import LEFT_OUT, ORDER_RISES
from imucarry.report.wording.bout_runs import numbers_in_short
from imucarry.report.wording.words_reasons import BOUTS, SPAN

OF_THE_VISIT: Final = (
    "one_free_walk",
    "free_walk_arm_unlike_strides",
    "free_walk_arm_still",
    "baseline_moved",
    "baseline_moved_with_pace",
    "baseline_small",
)
"""Codes of the free walks: no bout's own, though every carry's comparison has them."""

OF_BOUTS: Final = (
    "speed_not_checked",
    "speed_differs",
    "cadence_differs",
    "arm_swing_apart",
    "arm_walks_unlike",
    "arm_unlike_strides",
    "free_arm_swung_less",
    "phase_unusual",
    "turned_more_than_free",
    "yaw_near_floor",
    "side_unclear",
    "pitch_departs",
    "chest_loose",
    "two_to_one",
    "few_strides_for_variability",
)
"""Codes whose messages name no bout, so that they may speak of several at once."""

OF_LADDERS: Final = (ORDER_RISES, LEFT_OUT)
"""Codes of which the same may be said of several ladders, each named by its hold."""

NUMBER: Final = re.compile(r"([0-9]+(?:\.[0-9]+)?)")

About = tuple[str, Notice]


def joined(found: Iterable[About]) -> tuple[About, ...]:
    """Put notices of several bouts that differ in their numbers alone into one.

    Parameters
    ----------
    found : iterable of (str, Notice)
        What each is about (a bout's name, a sensor, or "") and the notice.

    Returns
    -------
    tuple of (str, Notice)
        In the order of the first of each; where numbers differ their range is told.
    """
    alike: dict[object, list[About]] = {}
    for place, (about, notice) in enumerate(found):
        if notice.code in OF_THE_VISIT:
            about, notice = "", replace(notice, where="")
        alike.setdefault(_key(notice) or place, []).append((about, notice))
    return tuple(_one(items) for items in alike.values())


def _key(notice: Notice) -> tuple[str, ...]:
    """Return what notices that are put into one have in common; () for one that stands alone."""
    if notice.code in OF_LADDERS:
        return notice.code, notice.severity, notice.message
    if notice.code in OF_BOUTS:
        return notice.code, notice.severity, NUMBER.sub("", notice.message)
    return ()


def _one(items: Sequence[About]) -> About:
    """Return the notice that stands for several."""
    about, first = items[0]
    if first.code in OF_LADDERS:
        holds = dict.fromkeys(notice.where for _, notice in items)
        return about, replace(first, where="; ".join(holds))
    bouts = list(dict.fromkeys(name for name, _ in items))
    if len(bouts) == 1:
        return about, first
    message = _ranges([notice.message for _, notice in items])
    named = BOUTS.format(bouts=", ".join(numbers_in_short(bouts)))
    return named, replace(first, message=message, where="")


def _ranges(messages: Sequence[str]) -> str:
    """Messages that differ in their numbers alone, with the range of each number."""
    parts = zip(*(NUMBER.split(message) for message in messages), strict=True)
    return "".join(_range(list(part)) if k % 2 else part[0] for k, part in enumerate(parts))


def _range(numbers: Sequence[str]) -> str:
    least, most = min(numbers, key=float), max(numbers, key=float)
    return least if least == most else SPAN.format(least=least, most=most)
