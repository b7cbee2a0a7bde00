"""The answers of many load ladders as one small table: a row a hold and side."""

from __future__ import annotations

import math

from imucarry.basics.records import LadderRung, SessionScores
from imucarry.carry.kept import BASELINE_SMALL
from imucarry.carry.ladder_doubts import LEFT_OUT, kept_more
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import (
    not_certain,
    say_arm_card,
    say_each_load,
    say_ladder,
    say_lighter,
    texts,
)
from imucarry.report.wording.ladder_names import (
    as_carried,
    for_words,
    ladder_hold,
    load_name,
)
from imucarry.report.wording.numbers import kilograms, number
from imucarry.report.wording.say import percent, sentence_case
from imucarry.report.wording.words_ladder import FREE_ARM

MOST_SENTENCES = 1
"""Ladders that are answered in a sentence; more are put into the table."""

ONE_LOAD = {"above": "kept", "across": "across", "below": "less"}
"""Where the one load lies against the threshold, and how its cell is called."""


def ladder_answers(scores: SessionScores) -> Table | None:
    """Return the table of a visit with more ladders than `MOST_SENTENCES`, else None.

    Its rows are in the order in which the holds were carried, without an implement that is
    the same in all.
    What speaks against load alone stands below the table, once for all ladders that it
    is true of, unless it is a check: those have their own box. A column without anything
    in it is left out.
    """
    if len(scores.ladder) <= MOST_SENTENCES:
        return None
    words, rungs = texts.LADDER_TABLE, as_carried(scores)
    threshold = number(scores.ladder[0].threshold_pct, 0)
    columns = {
        words["kept"]: [_kept(rung) for rung in rungs],
        words["next"]: [_next(rung) for rung in rungs],
        FREE_ARM["head"]: [say_arm_card.arm_cell(scores, rung) for rung in rungs],
        words["not_counted"]: [_not_counted(rung) for rung in rungs],
    }
    filled = {head: cells for head, cells in columns.items() if any(cells)}
    rows = tuple(
        TableRow(
            sentence_case(ladder_hold(for_words(scores, rung))),
            tuple(Cell(cells[k]) for cells in filled.values()),
        )
        for k, rung in enumerate(rungs)
    )
    caption = words["caption"].format(threshold=threshold)
    return Table(caption, words["corner"], tuple(filled), rows, _doubts(scores))


def _kept(rung: LadderRung) -> str:
    """Return the heaviest load that kept it, or why there is none."""
    words = texts.LADDER_TABLE
    if say_ladder.no_heaviest(rung):
        heavier, lighter = kept_more(rung) or (math.nan, math.nan)
        return words["kept_more"].format(heavier=kilograms(heavier), lighter=kilograms(lighter))
    counted = [k for k, kept in enumerate(rung.kept_pct) if math.isfinite(kept)]
    if rung.answer == "one_load_only" and counted:
        return _one_load(rung, counted[0])
    heaviest = rung.heaviest_kept_kg
    if say_lighter.has_gap(rung):
        return say_lighter.loads_cell(rung)
    said = words.get(say_ladder.answer_key(rung), rung.answer.replace("_", " "))
    said = said.format(
        heaviest=kilograms(heaviest),
        lightest=kilograms(say_ladder.lightest(rung)),
        tested=say_ladder.tested(rung),
    )
    return said + say_lighter.noted_with(rung, heaviest)


def _one_load(rung: LadderRung, k: int) -> str:
    kept = (rung.kept_pct[k], rung.ci_low_pct[k], rung.ci_high_pct[k])
    value, low, high = (percent(part, (rung.threshold_pct,)) for part in kept)
    load = rung.loads_kg[k]
    key = "one_load" if len(rung.loads_kg) == 1 else "one_load_counts"
    return texts.LADDER_TABLE[f"{key}_{ONE_LOAD[say_each_load.where_it_lies(rung, k)]}"].format(
        load=kilograms(load),
        kept=value,
        low=low,
        high=high,
        pain=say_lighter.noted_with(rung, load),
    )


def _next(rung: LadderRung) -> str:
    """Return the next load tested and what is known of it; all, where none is kept for certain."""
    if say_ladder.answer_key(rung) == "no_tested_load":
        return _none_certain(rung)
    if rung.answer != "kept_up_to" or say_ladder.no_heaviest(rung):
        return ""
    k = rung.loads_kg.index(rung.next_kg)
    if any(item.load_kg == rung.next_kg for item in rung.stopped):
        known = "next_stopped"
    elif not math.isfinite(rung.kept_pct[k]):
        known = f"next_{say_each_load.why_missing(rung, rung.next_kg)}"
    else:
        known = f"next_{not_certain.kind_of(rung, k)}"
    between = texts.LADDER_TABLE["between"] if known == "next_less" else ""
    return _loads(rung, known, [k]) + between


def _none_certain(rung: LadderRung) -> str:
    """ "8 kg: not certain (72 %); 16 and 24 kg: kept less", of the loads that count."""
    found = not_certain.of_kind(rung).items()
    return "; ".join(_loads(rung, f"next_{kind}", places) for kind, places in found)


def _loads(rung: LadderRung, known: str, places: list[int]) -> str:
    shares = not_certain.loads_and_shares(rung, places, said=False)
    return texts.LADDER_TABLE[known].format(next=shares["loads"], kept=shares["kept"])


def _not_counted(rung: LadderRung) -> str:
    """Return the loads that do not count or could not be measured, rising, and why."""
    stopped = {item.load_kg: load_name(rung, item.load_kg) for item in rung.stopped}
    missing = {
        load: texts.LADDER_TABLE[say_each_load.why_missing(rung, load)].format(load=kilograms(load))
        for load, kept in zip(rung.loads_kg, rung.kept_pct, strict=True)
        if not math.isfinite(kept)
        and not (rung.answer == BASELINE_SMALL and load in rung.not_compared_kg)  # told once
    }
    return ", ".join(said for _, said in sorted((missing | stopped).items()))


def _doubts(scores: SessionScores) -> tuple[str, ...]:
    """Return what speaks against load alone, each with the holds that it is true of."""
    found: dict[str, list[str]] = {}
    for rung in as_carried(scores):
        for notice in rung.notices if rung.answer in say_ladder.CLIMBED else ():
            if notice.code != LEFT_OUT and notice.severity != "check":
                found.setdefault(notice.message, []).append(ladder_hold(for_words(scores, rung)))
    said = [
        texts.LADDER_TABLE["doubt"].format(holds=sentence_case("; ".join(holds)), message=message)
        for message, holds in found.items()
    ]
    hurt = [rung for rung in as_carried(scores)
            if any(math.isfinite(item.pain_0_10) for item in rung.stopped)]  # fmt: skip
    limits = dict.fromkeys(rung.pain_limit_0_10 for rung in hurt)
    pain = (say_ladder.pain_limit(limit).strip() for limit in limits)
    return (*said, *pain, *say_ladder.left_out(scores))
