"""The change since an earlier visit in one short sentence, for page and terminal."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from imucarry.carry.earlier import History, HistoryRow
from imucarry.carry.earlier_notices import FREE_WALK_DIFFERS
from imucarry.carry.visits import CONDITION, Row, Visit, number, word
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.numbers import number as written

MOST_NAMED: Final = 4
"""Carries and tests that the short sentence names."""


def repeated(history: History) -> bool:
    """Whether any loaded carry of this visit stands at another visit too."""
    now = _now(history)
    return any(row.place == now and row.hold not in ("", "free") for row in history.rows)


def history_lines(history: History) -> list[str]:
    """What changed from the first visit to this one, or from this one where it is the first.

    The rotation kept of each repeated carry and each shoulder test; where no carry was
    repeated, the ladder's answers.
    """
    now = _now(history)
    there = {row.place for row in history.rows} - {now}
    lines = [_since(history, other, now) for other in sorted(there)[:1]]
    if not repeated(history):
        lines += [words_visits.HISTORY_NONE, *_ladder_lines(history.visits, now)]
    return [line for line in lines if line]


def _now(history: History) -> int:
    return next(
        (k for k, visit in enumerate(history.visits) if visit.current), len(history.visits) - 1
    )


def _pairs(rows: Sequence[HistoryRow], other: int, now: int) -> list[tuple[HistoryRow, HistoryRow]]:
    """Rows of two visits that are alike, free walks left out; the earlier visit first."""
    found: dict[tuple[object, ...], dict[int, HistoryRow]] = {}
    for row in rows:
        if row.hold != "free":
            load = row.load_kg if math.isfinite(row.load_kg) else -1.0
            key = (row.measure, row.side, row.hold, row.loaded_side, load, row.implement)
            found.setdefault(key, {})[row.place] = row
    early, late = sorted((other, now))
    return [(pair[early], pair[late]) for pair in found.values() if {early, late} <= set(pair)]


def _since(history: History, other: int, now: int) -> str:
    """The shoulder tests, then the carries; "" where the visits share neither.

    The carries in degrees where the visits' free walks differ, else in shares of them.
    """
    pairs = _pairs(history.rows, other, now)
    differ = any(notice.code == FREE_WALK_DIFFERS for notice in history.notices)
    measure, kind = ("sternum_yaw_range", "deg") if differ else ("yaw_kept", "kept")
    carries = [pair for pair in pairs if pair[0].measure == measure]
    changes = _named([_test(*pair) for pair in pairs if not pair[0].hold])
    if carries:
        unknown = any(last.finding == "not_decidable" for _, last in carries)
        changes.append(
            words_visits.SINCE[kind].format(
                carries=", ".join(_named([_carry(*pair) for pair in carries])),
                unknown=words_visits.SINCE["unknown"] if unknown else "",
            )
        )
    template = words_visits.SINCE["since" if other < now else "from_this"]
    visit = history.visits[other].name
    return template.format(visit=visit, changes="; ".join(changes)) if changes else ""


def _named(words: list[str]) -> list[str]:
    """The first few, and how many more there are."""
    if len(words) <= MOST_NAMED:
        return words
    return [*words[:MOST_NAMED], words_visits.SINCE["more"].format(n=len(words) - MOST_NAMED)]


def _carry(first: HistoryRow, last: HistoryRow) -> str:
    hold = texts.HOLDS_SHORT.get(first.hold, first.hold)
    side = texts.LOADED_SIDES_SHORT.get(first.loaded_side, first.loaded_side)
    load = f"{kilograms(first.load_kg)} kg" if math.isfinite(first.load_kg) else ""
    digits = 0 if first.unit == "%" else 1
    return words_visits.SINCE["carry"].format(
        hold=" ".join(part for part in (hold, side, load) if part),
        low=written(first.value, digits),
        high=written(last.value, digits),
        unit=first.unit,
    )


def _test(first: HistoryRow, last: HistoryRow) -> str:
    return words_visits.SINCE["test"].format(
        name=" ".join(part for part in (first.measure.replace("_", " "), first.side) if part),
        low=written(first.value),
        high=written(last.value),
        finding=words_visits.SINCE_FINDING.get(last.finding, ""),
    )


# --- the ladder's answers -------------------------------------------------------------


def climbed(row: Row) -> bool:
    """Whether a row of ``ladder.csv`` says how much was kept at two loads or more."""
    return math.isfinite(number(row, "heaviest_kept_kg")) or word(row, "answer") == "no_tested_load"


def heaviest(row: Row) -> str:
    """ "16 kg (next tested 24 kg)", or that no tested load kept it."""
    load, after = number(row, "heaviest_kept_kg"), number(row, "next_kg")
    if not math.isfinite(load):
        return words_visits.HISTORY_LADDER["no_tested_load"]
    kind = "next" if math.isfinite(after) else "kept"
    return words_visits.HISTORY_LADDER[kind].format(heaviest=kilograms(load), next=kilograms(after))


def hold_words(row: Row) -> str:
    """ "weight at the side, right, kettlebell"."""
    hold, side = word(row, "hold"), word(row, "loaded_side")
    parts = (
        texts.HOLDS.get(hold, hold),
        texts.LOADED_SIDES.get(side, side),
        word(row, "implement"),
    )
    return ", ".join(part for part in parts if part)


def _ladder_lines(visits: Sequence[Visit], now: int) -> list[str]:
    """The latest other visit's answer beside this one's, for each hold that both climbed."""
    lines = []
    for row in visits[now].ladder:
        key = [word(row, name) for name in CONDITION]
        others = [
            (visit, other)
            for visit in visits
            if not visit.current
            for other in visit.ladder
            if climbed(row) and climbed(other) and [word(other, n) for n in CONDITION] == key
        ]
        if others:
            visit, other = others[-1]
            said = words_visits.SINCE["ladder"].format(
                hold=hold_words(row), low=heaviest(other), high=heaviest(row), visit=visit.name
            )
            lines.append(f"{said[0].upper()}{said[1:]}.")
    return lines
