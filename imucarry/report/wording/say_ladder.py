"""The load ladder's answer in words: never more certain, nor less, than its bouts."""

from __future__ import annotations

import math
from collections.abc import Iterable

from imucarry.basics.records import LadderRung
from imucarry.carry.ladder import kept_more
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import kilograms, number
from imucarry.report.wording.say import sentence_case

CLIMBED = ("kept_up_to", "not_yet_reached", "no_tested_load")


def ladder_hold(rung: LadderRung) -> str:
    """ "weight at the side, right, kettlebell"."""
    parts = (
        texts.HOLDS.get(rung.hold, rung.hold),
        texts.LOADED_SIDES.get(rung.loaded_side, rung.loaded_side),
        rung.implement,
    )
    return ", ".join(part for part in parts if part)


def ladder(rung: LadderRung) -> str:
    """The ladder's answer, and what it rests on."""
    hold = sentence_case(ladder_hold(rung))
    template = texts.LADDER.get(_template(rung))
    if template is None:
        return texts.LADDER_OTHER.format(hold=hold, answer=rung.answer.replace("_", " "))
    said = template.format(
        hold=hold,
        threshold=number(rung.threshold_pct, 0),
        heaviest=kilograms(rung.heaviest_kept_kg),
    )
    if rung.answer in CLIMBED:
        said += _next(rung) + _carried(rung) + _contradiction(rung) + _likely(rung)
    if rung.answer in (*CLIMBED, "one_load_only"):
        said += _not_counted(rung)
    return said


def _template(rung: LadderRung) -> str:
    """Return which sentence says the answer."""
    if rung.answer == "one_load_only" and len(rung.loads_kg) > 1:
        return "one_load_counts"
    highs = [high for high in rung.ci_high_pct if math.isfinite(high)]
    if rung.answer == "no_tested_load" and highs and max(highs) < rung.threshold_pct:
        return "every_load_less"
    return rung.answer


def _next(rung: LadderRung) -> str:
    """Return what is known of the next load tested; "" without one, and where none is kept."""
    if rung.answer != "kept_up_to":
        return ""
    k = rung.loads_kg.index(rung.next_kg)
    if rung.next_kg in rung.stopped_kg:
        known = "stopped"
    elif not math.isfinite(rung.kept_pct[k]):
        known = "missing"
    else:
        known = "less" if rung.ci_high_pct[k] < rung.threshold_pct else "unsure"
    return texts.LADDER_NEXT[known].format(next=kilograms(rung.next_kg))


def _carried(rung: LadderRung) -> str:
    """Name the loads that count as kept for a heavier one's sake alone."""
    return _loads(
        texts.LADDER_CARRIED,
        (
            load
            for load, low in zip(rung.loads_kg, rung.ci_low_pct, strict=True)
            if load < rung.heaviest_kept_kg and low <= rung.threshold_pct
        ),
    )


def _contradiction(rung: LadderRung) -> str:
    pair = kept_more(rung)
    if pair is None:
        return ""
    heavier, lighter = pair
    return texts.LADDER_KEPT_MORE.format(heavier=kilograms(heavier), lighter=kilograms(lighter))


def _likely(rung: LadderRung) -> str:
    """The best estimate, where it goes beyond what is certain."""
    likely, sure = rung.likely_kept_kg, rung.heaviest_kept_kg
    if not math.isfinite(likely) or likely == sure:
        return ""
    return texts.LADDER_LIKELY.format(likely=kilograms(likely))


def _not_counted(rung: LadderRung) -> str:
    """Name the loads that do not count, but for the next one, which is told above."""
    told = rung.next_kg if rung.answer == "kept_up_to" else math.nan
    missing = (
        load
        for load, kept in zip(rung.loads_kg, rung.kept_pct, strict=True)
        if not math.isfinite(kept) and load not in (*rung.stopped_kg, told)
    )
    stopped = (load for load in rung.stopped_kg if load != told)
    return _loads(texts.LADDER_STOPPED, stopped) + _loads(texts.LADDER_MISSING, missing)


def _loads(template: str, loads: Iterable[float]) -> str:
    words = ", ".join(kilograms(load) for load in loads)
    return template.format(loads=words) if words else ""
