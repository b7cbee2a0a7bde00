"""The load ladder's answer in words: never more certain, nor less, than its bouts."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from imucarry.basics.records import LadderRung, SessionScores
from imucarry.carry.ladder_doubts import ORDER_RISES, kept_more
from imucarry.report.wording import say_arm_card, words_checks
from imucarry.report.wording import words_ladder as words
from imucarry.report.wording.ladder_names import (
    as_carried,
    for_words,
    ladder_hold,
    load_name,
    why_stopped,
)
from imucarry.report.wording.not_certain import kept_said, kind_of, loads_and_shares, of_kind
from imucarry.report.wording.numbers import kilograms, number
from imucarry.report.wording.say import bout_name, hold_and_load, sentence_case
from imucarry.report.wording.say_each_load import each_load, one_load, together, why_missing
from imucarry.report.wording.say_lighter import (
    alarm_or_pain,
    anded,
    has_gap,
    lighter_stopped,
    loads_named,
    noted_with,
    symptom_with_kept,
)
from imucarry.report.wording.side_doubt import side_said

ONE_LOAD = ("one_load_only", "one_load_counts")
NO_CARRY = ("free", "unknown")
CLIMBED = ("kept_up_to", "not_yet_reached", "no_tested_load")


def lines_of(scores: SessionScores) -> tuple[str, ...]:
    """The answers of all ladders as they were carried, each with a line of the free arm.

    Bouts that no ladder has for their elastic are named last. Where the limit of pain is set
    is said once, at the first. That nothing stops yet is not said where the free arm swung less.
    """
    lines: list[str] = []
    for rung in as_carried(scores):
        limit = _pain_limit(rung)
        said = ladder(for_words(scores, rung))
        is_told = bool(limit) and any(limit in line for line in lines)
        said = said.removesuffix(limit) if is_told else said
        if say_arm_card.arm_fell(scores, rung):
            said = said.replace(words.NOT_REACHED, "")
        lines += [said + side_said(scores, rung), *say_arm_card.arm_said(scores, rung)]
    return (*lines, *left_out(scores))


def left_out(scores: SessionScores) -> tuple[str, ...]:
    """ "Not in the load ladder, because ...": the carries on elastic; () without any."""
    rows = (bout.data.row for bout in scores.bouts)
    on_elastic = [row for row in rows if row.perturbed != "none" and row.hold not in NO_CARRY]
    named = (
        f"{hold_and_load(replace(row, perturbed='none'))} ({bout_name(row)})" for row in on_elastic
    )
    said = words_checks.LEFT_OUT_OF_LADDER.format(bouts="; ".join(named))
    return (said,) if on_elastic else ()


def ladder(rung: LadderRung) -> str:
    """The ladder's answer, and what it rests on."""
    hold = sentence_case(ladder_hold(rung))
    key = answer_key(rung)
    template = words.LADDER.get(key)
    if template is None:
        return words.OTHER.format(hold=hold, answer=rung.answer.replace("_", " "))
    said = template.format(**_fields(rung, key))
    said += _none_kept(rung) if key == "no_tested_load" else ""
    if rung.answer in CLIMBED and key != "kept_more":
        said += _lighter(rung)
        said += _next(rung) + _carried(rung) + together(rung)
    if rung.answer in CLIMBED:
        said += _doubts(rung)
    if rung.answer in (*CLIMBED, *ONE_LOAD, "pain_or_early_stop", "too_few_strides"):
        said += _not_counted(rung) + _pain_limit(rung)
    return said


def answers_of(scores: SessionScores) -> tuple[str, ...]:
    """The words of each of `lines_of` that are its answer, "" for those without one."""
    answers: list[str] = []
    for rung in as_carried(scores):
        answers += [answer(rung), *("" for _ in say_arm_card.arm_said(scores, rung))]
    return (*answers, *("" for _ in left_out(scores)))


def answer(rung: LadderRung) -> str:
    """ "up to 16 kg": the words of a ladder's sentence that are its answer.

    "" where a load that it calls kept has a symptom noted: that is not to stand out as safe.
    """
    key = answer_key(rung)
    if key != "kept_more" and symptom_with_kept(rung):
        return ""
    return words.ANSWER.get(key, words.NO_ANSWER).format(**_fields(rung, key))


def _fields(rung: LadderRung, key: str) -> dict[str, str]:
    """What the sentence of a ladder is filled with."""
    fields = {
        "hold": sentence_case(ladder_hold(rung)),
        "threshold": number(rung.threshold_pct, 0),
        "heaviest": kilograms(rung.heaviest_kept_kg),
        "lightest": kilograms(lightest(rung)),
        "tested": tested(rung),
        "pain": noted_with(rung, rung.heaviest_kept_kg),
        "each": each_load(rung),
        "loads": loads_named(rung),
        "open": "" if alarm_or_pain(rung) else words.NOT_REACHED,
        **_pair(rung),
    }
    return fields | (one_load(rung) if key in ONE_LOAD else {})


def lightest(rung: LadderRung) -> float:
    """The lightest load that was measured and counts [kg], NaN without one."""
    pairs = zip(rung.loads_kg, rung.kept_pct, strict=True)
    return min((load for load, kept in pairs if math.isfinite(kept)), default=math.nan)


def tested(rung: LadderRung) -> str:
    """ "tested", or "that counts" where some do not."""
    return words.TESTED["all" if all(map(math.isfinite, rung.kept_pct)) else "some"]


def answer_key(rung: LadderRung) -> str:
    """Return which of the sentences says the answer."""
    if no_heaviest(rung):
        return "kept_more"
    if rung.answer == "one_load_only":
        if not any(map(math.isfinite, rung.kept_pct)):
            return "one_load_not_measured"
        return "one_load_counts" if len(rung.loads_kg) > 1 else rung.answer
    if has_gap(rung):
        return f"{rung.answer}_apart"
    highs = [high for high in rung.ci_high_pct if math.isfinite(high)]
    if rung.answer == "no_tested_load" and highs and max(highs) < rung.threshold_pct:
        return "every_load_less"
    return rung.answer


def no_heaviest(rung: LadderRung) -> bool:
    """Whether a heavier load kept more, so that no load is the heaviest that kept it.

    Not so where that load is itself among those that the answer names as kept.
    """
    pair = kept_more(rung) if rung.answer in CLIMBED else None
    return pair is not None and not pair[0] <= rung.heaviest_kept_kg


def _pair(rung: LadderRung) -> dict[str, str]:
    heavier, lighter = kept_more(rung) or (math.nan, math.nan)
    return {"heavier": kilograms(heavier), "lighter": kilograms(lighter)}


def _pain_limit(rung: LadderRung) -> str:
    """Say the limit of pain where a load does not count for it."""
    if not any(math.isfinite(item.pain_0_10) for item in rung.stopped):
        return ""
    return pain_limit(rung.pain_limit_0_10)


def pain_limit(limit_0_10: float) -> str:
    """Say which loads are not counted as kept for pain."""
    key = "above" if limit_0_10 > 0 else "any"
    return words.PAIN_LIMIT[key].format(limit=kilograms(limit_0_10))


def _next(rung: LadderRung) -> str:
    """Return what is known of the next load tested; "" without one, and where none is kept."""
    if rung.answer != "kept_up_to":
        return ""
    k = rung.loads_kg.index(rung.next_kg)
    stopped = next((item for item in rung.stopped if item.load_kg == rung.next_kg), None)
    if stopped is not None:
        known = "stopped"
    elif not math.isfinite(rung.kept_pct[k]):
        known = why_missing(rung, rung.next_kg)
    else:
        kind = kind_of(rung, k)
        known = kind if kind in ("less", "probably_less") else "unsure"
    why = "" if stopped is None else why_stopped(stopped)
    kept = "" if rung.next_kg == rung.likely_kept_kg else f" ({kept_said(rung, k)} %)"
    return words.NEXT[known].format(
        next=kilograms(rung.next_kg), why=why, kept=kept, limit=_limit(rung)
    )


def _limit(rung: LadderRung) -> str:
    """ ": the limit lies between 8 and 16 kg"; "" where a symptom or other loads speak against."""
    if kept_more(rung) is not None or rung.repeats or alarm_or_pain(rung):
        return ""
    ends = {"heaviest": kilograms(rung.heaviest_kept_kg), "next": kilograms(rung.next_kg)}
    return words.LIMIT.format(**ends)


def _none_kept(rung: LadderRung) -> str:
    """Of each load that counts, where no load is kept for certain: less, probably, not certain."""
    found = of_kind(rung)
    less = [kilograms(rung.loads_kg[k]) for k in found.get("less", [])]
    said = words.EACH_LOAD["below"].format(loads=anded(less)) if less else ""
    open_ = [k for kind in ("perhaps", "unsure") for k in found.get(kind, [])]
    if _likely_told(rung):
        open_ = [k for k in open_ if rung.loads_kg[k] != rung.likely_kept_kg]
    for key, places in (("probably_less", found.get("probably_less", [])),
                        ("unsure", sorted(open_))):  # fmt: skip
        if places:
            said += words.NOT_CERTAIN[key].format(**loads_and_shares(rung, places, said=True))
    return said


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
        words.REPEATS.format(
            load=kilograms(load),
            first=number(first, 0),
            last=number(last, 0),
            cause=words.CAUSE["less" if last < first else "more"],
        )
        for load, first, last in rung.repeats
    )
    if no_heaviest(rung):
        return said
    if kept_more(rung) is not None:
        said += words.KEPT_MORE.format(**_pair(rung))
    if _likely_told(rung):
        likely = rung.likely_kept_kg
        said = words.LIKELY.format(
            likely=kilograms(likely),
            kept=kept_said(rung, rung.loads_kg.index(likely)),
            threshold=number(rung.threshold_pct, 0),
            too=words.TOO if math.isfinite(rung.heaviest_kept_kg) else "",
        )
    with_order = any(item.code == ORDER_RISES for item in rung.notices)
    falls = rung.answer != "not_yet_reached"
    return said + (words.WITH_ORDER if with_order and falls else "")


def _likely_told(rung: LadderRung) -> bool:
    """Whether a best estimate goes further than what is certain, and nothing speaks against it."""
    likely = rung.likely_kept_kg
    further = math.isfinite(likely) and likely != rung.heaviest_kept_kg
    doubted = rung.repeats or kept_more(rung) is not None or likely in rung.overstated_kg
    return further and not doubted


def _lighter(rung: LadderRung) -> str:
    """Name the loads lighter than the one that kept it that do not count, and why."""
    lighter = [load_name(rung, item.load_kg) for item in lighter_stopped(rung)]
    key = "one" if len(lighter) == 1 else "more"
    return words.LIGHTER[key].format(loads=", ".join(lighter)) if lighter else ""


def _not_counted(rung: LadderRung) -> str:
    """Name the loads that do not count, but for those that are told above."""
    lighter = () if no_heaviest(rung) else lighter_stopped(rung)
    told = {item.load_kg for item in lighter}
    told |= {rung.next_kg} if rung.answer == "kept_up_to" else set()
    loads = {item.load_kg for item in rung.stopped}
    stopped = ", ".join(
        words.STOPPED_LOAD.format(load=kilograms(item.load_kg), why=why_stopped(item))
        for item in rung.stopped
        if item.load_kg not in told
    )
    missing = [
        load
        for load, kept in zip(rung.loads_kg, rung.kept_pct, strict=True)
        if not math.isfinite(kept) and load not in loads | told
    ]
    said = "".join(
        _loads(template, (load for load in missing if why_missing(rung, load) == key))
        for key, template in words.MISSING.items()
    )
    return said + (words.STOPPED.format(loads=stopped) if stopped else "")


def _loads(template: str, loads: Iterable[float]) -> str:
    listed = anded([kilograms(load) for load in loads])
    return template.format(loads=listed) if listed else ""
