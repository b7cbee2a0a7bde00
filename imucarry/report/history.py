"""Earlier visits beside this one: a table for each measure and shoulder test."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from imucarry.carry.earlier import History, HistoryRow, change_finding
from imucarry.carry.visits import Condition, Row, Visit, condition_of, number
from imucarry.report.definitions import BY_ID, RANK
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import say, say_heaviest, say_pains, say_visits, texts, words_visits
from imucarry.report.wording.numbers import (
    NONE,
    beside,
    decimals,
    kilograms,
    quantity,
    signed,
    unit_name,
)
from imucarry.report.wording.numbers import number as written
from imucarry.report.wording.same_load import lie_apart
from imucarry.report.wording.visit_names import carry_in_full

Carry = tuple[Condition, float]

UNTOLD = ("not_decidable", "in_doubt")
"""Findings of a change that no error is set beside."""
UNBROKEN_HYPHEN = "\u2011"
"""Keeps a date in one line."""


def history_tables(history: History) -> tuple[Table, ...]:
    """The ladder's answers, pain, then one table a measure and side.

    A row is a hold and load, a column a visit.
    """
    groups: dict[tuple[str, str, str], list[HistoryRow]] = {}
    for row in history.rows:
        groups.setdefault((row.measure, row.side, row.unit), []).append(row)
    keys = sorted(groups, key=lambda key: RANK.get(key[0], len(RANK)))
    labels = visit_labels(history.visits)
    ladder = _ladder_table(history.visits, labels)
    pain = _pain_table(history.visits, labels)
    return (*ladder, *pain, *(_table(key, groups[key], labels) for key in keys))


def history_notes(history: History) -> tuple[str, ...]:
    """What holds for all of the tables, once."""
    notes = [] if say_visits.repeated(history) else [words_visits.HISTORY_NONE]
    if any(row.finding == "not_decidable" for row in history.rows):
        notes.append(words_visits.HISTORY_WHY)
    measures = {row.measure for row in history.rows}
    if {"yaw_kept", "sternum_yaw_range"} <= measures:
        notes.append(words_visits.HISTORY_BOTH_UNITS)
    return tuple(notes)


def visit_labels(visits: Sequence[Visit]) -> tuple[str, ...]:
    """The head of each visit's column; visits of one name are counted."""
    labels: list[str] = []
    for visit in visits:
        kind = "dated" if visit.date else "visit"
        date = str(visit.date).replace("-", UNBROKEN_HYPHEN)
        label = words_visits.HISTORY_COLUMN[kind].format(session=visit.session, date=date)
        name, n = label, 1
        while name in labels:
            n += 1
            name = words_visits.HISTORY_COLUMN["again"].format(label=label, n=n)
        labels.append(name)
    return tuple(labels)


def _table(key: tuple[str, str, str], rows: Sequence[HistoryRow], labels: Sequence[str]) -> Table:
    measure, side, unit = key
    meaning = BY_ID.get(measure)
    label = meaning.label if meaning else measure.replace("_", " ")
    name = ", ".join(part for part in (label, texts.SIDES.get(side, side)) if part)
    places = sorted({row.place for row in rows})
    heads = texts.HISTORY
    conditions = _by_condition(rows)
    told = any(found[max(found)].finding not in UNTOLD for found in conditions.values())
    judged = (heads["error"], heads["finding"]) if told else ()
    before = (words_visits.HISTORY_SINCE_LAST,) if len(places) > 2 else ()
    columns = (*(labels[place] for place in places), heads["change"], *judged, *before)
    body = tuple(_row(condition, found, places, told) for condition, found in conditions.items())
    corner = heads["condition"] if rows[0].hold else words_visits.HISTORY_TEST_CORNER
    caption = say.sentence_case(f"{name} ({unit_name(unit)})" if unit_name(unit) else name)
    notes = (words_visits.HISTORY_OF_ROWS,) if measure == "arm_swing_kept" else ()
    return Table(caption, corner, columns, body, notes)


def _by_condition(rows: Sequence[HistoryRow]) -> dict[Carry, dict[int, HistoryRow]]:
    """Rows by condition, then by the place of their visit."""
    conditions: dict[Carry, dict[int, HistoryRow]] = {}
    for row in rows:
        # A load that is not given equals no other number, not even itself: -1 stands for it.
        load = row.load_kg if math.isfinite(row.load_kg) else -1.0
        conditions.setdefault((row.condition, load), {})[row.place] = row
    return conditions


def _row(
    condition: Carry, found: Mapping[int, HistoryRow], places: Sequence[int], told: bool
) -> TableRow:
    """One condition at each visit; without `told` no error and no finding."""
    cells = tuple(_cell(found.get(place)) for place in places)
    first, last = found[min(found)], found[max(found)]
    is_compared = not (first.in_doubt or last.in_doubt)
    shown = signed(last.change, decimals(last.unit)) if is_compared else NONE
    change = Cell(shown, _beside_change(first, last))
    before = (_since_last(found),) if len(places) > 2 else ()
    if not told:
        return TableRow(_condition(condition), (*cells, change, *before))
    error = quantity(last.error, last.unit)
    source = Cell(error, last.error_source) if math.isfinite(last.error) else Cell(NONE)
    words = texts.HISTORY_FINDINGS.get(last.finding, last.finding.replace("_", " "))
    return TableRow(_condition(condition), (*cells, change, source, Cell(words), *before))


def _beside_change(first: HistoryRow, last: HistoryRow) -> str:
    """What stands below a change whose error is not known."""
    if first.in_doubt or last.in_doubt:
        return texts.HISTORY_FINDINGS["in_doubt"]
    apart = last.finding == "not_decidable" and lie_apart(first, last)
    return words_visits.HISTORY_APART if apart else ""


def _since_last(found: Mapping[int, HistoryRow]) -> Cell:
    """The change since the visit before the last, and whether it is beyond the error."""
    *_, before, last = (found[place] for place in sorted(found))
    change = last.value - before.value
    finding = change_finding(change, last.error)
    if before.in_doubt or last.in_doubt:
        return Cell(NONE, texts.HISTORY_FINDINGS["in_doubt"])
    if finding == "not_decidable":
        below = words_visits.HISTORY_APART if lie_apart(before, last) else ""
    else:
        below = texts.HISTORY_FINDINGS[finding]
    return Cell(signed(change, decimals(last.unit)), below)


def _condition(condition: Carry) -> str:
    held, load = condition
    if not held.hold:
        return texts.HISTORY["test"]
    return carry_in_full(held, math.nan if load < 0 or held.hold == "free" else load)


def _cell(row: HistoryRow | None) -> Cell:
    if row is None:
        return Cell("")
    marks = texts.HISTORY_FINDINGS["in_doubt"] if row.in_doubt else ""
    known = math.isfinite(row.ci_low) and math.isfinite(row.ci_high)
    within = say.interval(row.ci_low, row.ci_high, row.unit) if known else ""
    lines = say.USUAL_LIMITS if row.unit == "%" else ()
    shown = beside(row.value, lines, decimals(row.unit))
    return Cell(shown, ", ".join(filter(None, (within, marks))))


# --- the ladder's answers -------------------------------------------------------------


def _ladder_table(visits: Sequence[Visit], labels: Sequence[str]) -> tuple[Table, ...]:
    """The ladder's answer for each hold at each visit, for holds that two visits answered."""
    rungs: dict[Condition, dict[int, Row]] = {}
    for place, visit in enumerate(visits):
        for condition, row in say_heaviest.answers(visit).items():
            rungs.setdefault(condition, {})[place] = row
    body = tuple(
        TableRow(
            carry_in_full(condition_of(found[min(found)])),
            tuple(_answer(found.get(place), visit) for place, visit in enumerate(visits)),
        )
        for _, found in sorted(rungs.items())
        if len(found) > 1 and any(map(say_heaviest.answered, found.values()))
    )
    words = words_visits.HISTORY_LADDER
    return (Table(words["caption"], words["corner"], tuple(labels), body),) if body else ()


def _answer(row: Row | None, visit: Visit) -> Cell:
    if row is None:
        return Cell(words_visits.HISTORY_LADDER["none"])
    threshold = written(number(row, "threshold_pct"), 0)
    below = words_visits.HISTORY_LADDER["threshold"].format(threshold=threshold)
    return Cell(say_heaviest.heaviest(row, visit), below)


# --- pain -----------------------------------------------------------------------------


def _pain_table(visits: Sequence[Visit], labels: Sequence[str]) -> tuple[Table, ...]:
    """The most pain at each visit of each carry that two visits had and that hurt."""
    body = tuple(
        TableRow(item.name, tuple(_pain(item.worst.get(place)) for place in range(len(visits))))
        for item in say_pains.pains_over_weeks(visits)
    )
    caption = words_visits.PAIN["caption"]
    return (Table(caption, texts.HISTORY["condition"], tuple(labels), body),) if body else ()


def _pain(found: tuple[float, bool] | None) -> Cell:
    """The pain noted; a dash where none was, nothing where it was not carried."""
    if found is None:
        return Cell("")
    pain, stopped = found
    return Cell(kilograms(pain), words_visits.PAIN["cell_stopped"] if stopped else "")
