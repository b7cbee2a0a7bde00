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
    groups: dict[tuple[str, str, str], list[HistoryRow]] = {}
    for row in rows:
        groups.setdefault((row.measure, row.side, row.unit), []).append(row)
    return tuple(_table(key, found) for key, found in groups.items())


def _table(key: tuple[str, str, str], rows: Sequence[HistoryRow]) -> Table:
    measure, side, unit = key
    meaning = meanings().get(measure)
    label = meaning.label if meaning else measure.replace("_", " ")
    name = ", ".join(part for part in (label, texts.SIDES.get(side, side)) if part)
    visits = tuple(dict.fromkeys(row.session for row in rows))
    conditions: dict[Condition, list[HistoryRow]] = {}
    for row in rows:
        # A load that is not given equals no other number, not even itself: -1 stands for it.
        load = row.load_kg if math.isfinite(row.load_kg) else -1.0
        conditions.setdefault((row.hold, row.loaded_side, load, row.implement), []).append(row)
    heads = texts.HISTORY
    columns = (
        *(heads["visit"].format(session=visit) for visit in visits),
        heads["change"],
        heads["error"],
        heads["finding"],
    )
    body = tuple(_row(condition, found, visits) for condition, found in conditions.items())
    caption = f"{name} ({unit_name(unit)})" if unit_name(unit) else name
    return Table(caption, heads["condition"], columns, body)


def _row(condition: Condition, rows: Sequence[HistoryRow], visits: tuple[str, ...]) -> TableRow:
    by_visit = {row.session: row for row in rows}
    cells = tuple(_cell(by_visit.get(visit)) for visit in visits)
    last = rows[-1]
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
