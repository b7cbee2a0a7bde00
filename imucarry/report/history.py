"""Earlier visits beside this one: a table for each measure and shoulder test."""

from __future__ import annotations

import math
from collections.abc import Sequence

from imucarry.carry.earlier import HistoryRow
from imucarry.report.definitions import meanings
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import say, texts
from imucarry.report.wording.numbers import NONE, kilograms, quantity, unit_name

Condition = tuple[str, str, float, str]


def history_tables(rows: Sequence[HistoryRow]) -> tuple[Table, ...]:
    """One table a measure and side: a row a hold and load, a column a visit."""
    order = {measure: place for place, measure in enumerate(meanings())}
    groups: dict[tuple[str, str, str], list[HistoryRow]] = {}
    for row in rows:
        groups.setdefault((row.measure, row.side, row.unit), []).append(row)
    keys = sorted(groups, key=lambda key: order.get(key[0], len(order)))
    return tuple(_table(key, groups[key]) for key in keys)


def _table(key: tuple[str, str, str], rows: Sequence[HistoryRow]) -> Table:
    measure, side, unit = key
    meaning = meanings().get(measure)
    label = meaning.label if meaning else measure.replace("_", " ")
    name = ", ".join(part for part in (label, texts.SIDES.get(side, side)) if part)
    conditions = _by_condition(rows)
    visits = tuple(dict.fromkeys(visit for found in conditions.values() for visit in found))
    heads = texts.HISTORY
    columns = (*visits, heads["change"], heads["error"], heads["finding"])
    body = tuple(_row(condition, found, visits) for condition, found in conditions.items())
    caption = f"{name} ({unit_name(unit)})" if unit_name(unit) else name
    undecided = any(row.finding == "not_decidable" for row in rows)
    return Table(caption, heads["condition"], columns, body, (heads["why"],) if undecided else ())


def _by_condition(rows: Sequence[HistoryRow]) -> dict[Condition, dict[str, HistoryRow]]:
    """Rows by condition, then by the name of their visit."""
    conditions: dict[Condition, dict[str, HistoryRow]] = {}
    for row in rows:
        # A load that is not given equals no other number, not even itself: -1 stands for it.
        load = row.load_kg if math.isfinite(row.load_kg) else -1.0
        found = conditions.setdefault((row.hold, row.loaded_side, load, row.implement), {})
        name, again = texts.HISTORY["visit"].format(session=row.session), 1
        # Two visits may have been given the same name; both are shown.
        while name in found:
            again += 1
            name = texts.HISTORY["visit_again"].format(session=row.session, n=again)
        found[name] = row
    return conditions


def _row(condition: Condition, found: dict[str, HistoryRow], visits: tuple[str, ...]) -> TableRow:
    cells = tuple(_cell(found.get(visit)) for visit in visits)
    last = list(found.values())[-1]
    error = quantity(last.error, last.unit)
    told = Cell(error, last.error_source) if math.isfinite(last.error) else Cell(NONE)
    change = Cell(quantity(last.change, last.unit))
    finding = Cell(texts.HISTORY_FINDINGS.get(last.finding, last.finding.replace("_", " ")))
    return TableRow(_condition(condition), (*cells, change, told, finding))


def _condition(condition: Condition) -> str:
    hold, side, load, implement = condition
    if not hold:
        return texts.HISTORY["test"]
    carried = "" if load < 0 or hold == "free" else f"{kilograms(load)}\u00a0kg"
    parts = (
        texts.HOLDS.get(hold, hold),
        texts.LOADED_SIDES.get(side, side),
        carried,
        implement,
    )
    return ", ".join(part for part in parts if part)


def _cell(row: HistoryRow | None) -> Cell:
    if row is None:
        return Cell("")
    value = quantity(row.value, row.unit)
    if not math.isfinite(row.ci_low) or not math.isfinite(row.ci_high):
        return Cell(value)
    return Cell(value, say.interval(row.ci_low, row.ci_high, row.unit))
