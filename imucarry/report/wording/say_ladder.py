"""The load ladder's answer in words: never more certain, nor less, than its bouts."""

from __future__ import annotations

import math
from collections.abc import Iterable

from imucarry.basics.records import LadderRung, StoppedLoad
from imucarry.carry.ladder_doubts import kept_more
from imucarry.report.wording import texts
from imucarry.report.wording import words_ladder as words
from imucarry.report.wording.numbers import kilograms, number
from imucarry.report.wording.say import sentence_case

CLIMBED = ("kept_up_to", "not_yet_reached", "no_tested_load")


def ladder_hold(rung: LadderRung) -> str:
    """ "weight at the side, right, kettlebell", or "left rack, right side" of two holds."""
    if rung.hold == "mixed" and rung.left_hold and rung.right_hold:
        held = {"left": rung.left_hold, "right": rung.right_hold}
        hands = [f"{side} {texts.HOLDS_SHORT.get(hold, hold)}" for side, hold in held.items()]
        return ", ".join([*hands, *filter(None, [rung.implement])])
    parts = (
        texts.HOLDS.get(rung.hold, rung.hold),
        texts.LOADED_SIDES.get(rung.loaded_side, rung.loaded_side),
        rung.implement,
    )
    return ", ".join(part for part in parts if part)


def ladder(rung: LadderRung) -> str:
    """The ladder's answer, and what it rests on."""
    hold = sentence_case(ladder_hold(rung))
    template = words.LADDER.get(_template(rung))
    if template is None:
        return words.OTHER.format(hold=hold, answer=rung.answer.replace("_", " "))
    said = template.format(
        hold=hold,
        threshold=number(rung.threshold_pct, 0),
        heaviest=kilograms(rung.heaviest_kept_kg),
        tested=words.TESTED["all" if all(map(math.isfinite, rung.kept_pct)) else "some"],
    )
    if rung.answer in CLIMBED:
        said += _next(rung) + _carried(rung) + _doubts(rung)
    if rung.answer in (*CLIMBED, "one_load_only", "pain_or_early_stop"):
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
    stopped = next((item for item in rung.stopped if item.load_kg == rung.next_kg), None)
    if stopped is not None:
        known = "stopped"
    elif not math.isfinite(rung.kept_pct[k]):
        known = "missing"
    else:
        known = "less" if rung.ci_high_pct[k] < rung.threshold_pct else "unsure"
    why = "" if stopped is None else why_stopped(stopped)
    return words.NEXT[known].format(next=kilograms(rung.next_kg), why=why)


def why_stopped(stopped: StoppedLoad) -> str:
    """ "stopped: grip, pain 6 of 10"."""
    parts = []
    has_pain = math.isfinite(stopped.pain_0_10)
    if stopped.stop_reason and not (has_pain and stopped.stop_reason.lower() == "pain"):
        parts.append(words.WHY_STOPPED["stop"].format(reason=stopped.stop_reason))
    if has_pain:
        parts.append(words.WHY_STOPPED["pain"].format(pain=kilograms(stopped.pain_0_10)))
    return ", ".join(parts)


def load_name(rung: LadderRung, load_kg: float) -> str:
    """ "16 kg", or "16 kg (pain 6 of 10)" where it does not count."""
    for item in rung.stopped:
        if item.load_kg == load_kg:
            return words.STOPPED_LOAD.format(load=kilograms(load_kg), why=why_stopped(item))
    return words.LOAD.format(load=kilograms(load_kg))


def _carried(rung: LadderRung) -> str:
    """Name the loads that count as kept for a heavier one's sake alone."""
    return _loads(
        words.CARRIED,
        (
            load
            for load, low in zip(rung.loads_kg, rung.ci_low_pct, strict=True)
            if load < rung.heaviest_kept_kg and low <= rung.threshold_pct
        ),
    )


def _doubts(rung: LadderRung) -> str:
    """Say what speaks against load alone; else the best estimate, where it goes further."""
    said = "".join(
        words.REPEATS.format(load=kilograms(load), first=number(first, 0), last=number(last, 0))
        for load, first, last in rung.repeats
    )
    if (pair := kept_more(rung)) is not None:
        heavier, lighter = pair
        said += words.KEPT_MORE.format(heavier=kilograms(heavier), lighter=kilograms(lighter))
    likely = rung.likely_kept_kg
    if not said and math.isfinite(likely) and likely != rung.heaviest_kept_kg:
        said = words.LIKELY.format(likely=kilograms(likely))
    with_order = any(item.code == "load_and_order_rise_together" for item in rung.notices)
    falls = rung.answer != "not_yet_reached"
    return said + (words.WITH_ORDER if with_order and falls else "")


def _not_counted(rung: LadderRung) -> str:
    """Name the loads that do not count, but for the next one, which is told above."""
    told = rung.next_kg if rung.answer == "kept_up_to" else math.nan
    loads = {item.load_kg for item in rung.stopped}
    stopped = ", ".join(
        words.STOPPED_LOAD.format(load=kilograms(item.load_kg), why=why_stopped(item))
        for item in rung.stopped
        if item.load_kg != told
    )
    missing = (
        load
        for load, kept in zip(rung.loads_kg, rung.kept_pct, strict=True)
        if not math.isfinite(kept) and load not in loads and load != told
    )
    said = words.STOPPED.format(loads=stopped) if stopped else ""
    return said + _loads(words.MISSING, missing)


def _loads(template: str, loads: Iterable[float]) -> str:
    listed = ", ".join(kilograms(load) for load in loads)
    return template.format(loads=listed) if listed else ""
