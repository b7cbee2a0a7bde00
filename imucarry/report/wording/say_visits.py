"""What changed since earlier visits as one small table, for page and terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from imucarry.carry.earlier import History
from imucarry.carry.visits import word
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import words_visits
from imucarry.report.wording.say_heaviest import ladder_rows
from imucarry.report.wording.say_pains import pain_rows
from imucarry.report.wording.say_study import study_gaps
from imucarry.report.wording.visit_names import ToldVisits, VisitRow, told_visits
from imucarry.report.wording.visits_rows import (
    KINDS,
    Places,
    alike_only,
    carry_rows,
    doubtful,
    followed,
    rows_of_tests,
    same_carries,
)

MOST_ROWS: Final = 8
"""Rows of the table, but for changes that are certain: none of those is left out."""


def repeated(history: History) -> bool:
    """Whether any loaded carry of this visit stands at another visit too."""
    now = told_visits(history).now
    return any(row.place == now and row.hold not in ("", "free") for row in history.rows)


def history_head(history: History) -> str:
    """Which visits this one is compared with, with their dates; "" without any."""
    told = told_visits(history)
    names = [told.visits[place].name for place in told.others]
    between = len(told.visits) - len(told.places)
    words = words_visits.OVER_WEEKS
    return (
        words["head"].format(
            visits=words["and"].join(filter(None, (", ".join(names[:-1]), *names[-1:]))),
            between=words["between"].format(n=between) if between else "",
        )
        if names
        else ""
    )


def history_doubts(history: History) -> list[str]:
    """What cannot be compared between the visits, a sentence each."""
    told, words = told_visits(history), words_visits.OVER_WEEKS
    if not told.others:
        return []
    several = _several_implements(told)
    moved = _moved(history, told)
    said = [] if repeated(history) else [words_visits.HISTORY_NONE]
    if moved and ladder_rows(told, history.rows, implement=several):
        said.append(words["moved"])
    carries = followed(history, told)
    measures = KINDS[moved].values()
    names = [
        name
        for measure in measures
        for name in doubtful(same_carries(carries, told, measure), told, implement=several)
    ]
    said += [words["doubt"].format(carries=", ".join(names))] if names else []
    now = [rows[told.now] for measure in measures for rows in same_carries(carries, told, measure)]
    return [*said, *study_gaps(now, implement=several)]


def history_table(history: History) -> Table | None:
    """The heaviest load kept, the same loads, pain and shoulder tests; None without a row.

    A column a visit, of many the first, the last two and this one; the last column says in
    words what changed since the first visit that has the row, and against the last other visit
    where that differs. Where the visits' free walks differ, the carries are told in degrees and
    the heaviest loads kept, which are shares of it, are not compared.
    """
    told = told_visits(history)
    if not told.others:
        return None
    groups, unclear = _groups(history, told)
    shown = _within_room(groups)
    if not shown:
        return None
    words = words_visits.OVER_WEEKS
    left = sum(map(len, groups)) - len(shown)
    dates = tuple(str(told.visits[k].date or "").replace("-", "\u2011") for k in told.places)
    return Table(
        words["caption"],
        words["corner"],
        (*told.heads(), words["change"]),
        tuple(_table_row(row, told) for row in shown),
        (*_notes(history, told, shown, unclear), *_more_rows(left)),
        (*dates, "") if any(dates) else (),
    )


def _table_row(row: VisitRow, told: ToldVisits) -> TableRow:
    cells = (row.cells.get(place, Cell("")) for place in told.places)
    return TableRow(row.name, (*cells, Cell(row.change)))


def _groups(history: History, told: ToldVisits) -> tuple[list[list[VisitRow]], list[str]]:
    """The rows of each kind, and how many carries do not clearly differ, in words."""
    several, moved = _several_implements(told), _moved(history, told)
    ladders = [] if moved else ladder_rows(told, history.rows, implement=several)
    pains = pain_rows(told, implement=several)
    every = followed(history, told)
    carries: list[VisitRow] = []
    unclear: list[str] = []
    for kind, measure in KINDS[moved].items():
        of_kind = same_carries(every, told, measure)
        rows, others = carry_rows(of_kind, told, kind, [*ladders, *pains], implement=several)
        carries += rows
        if others:
            more = words_visits.OVER_WEEKS["one_carry" if others == 1 else "carries"]
            said = words_visits.OVER_WEEKS[f"unclear_{kind}"]
            unclear.append(said.format(n=others, carries=more.format(n=others)))
    return [ladders, carries, pains, rows_of_tests(_tests(every, told), told)], unclear


def _tests(every: Sequence[Places], told: ToldVisits) -> list[Places]:
    return [rows for rows in every if not rows[told.now].hold]


def _within_room(groups: Sequence[Sequence[VisitRow]]) -> list[VisitRow]:
    """The rows that are shown: every certain change, then the first of each kind in turn."""
    flat = [row for group in groups for row in group]
    chosen = [row for row in flat if row.is_certain]
    rest = [[row for row in group if not row.is_certain] for group in groups]
    for place in range(max(map(len, rest), default=0)):
        chosen += [group[place] for group in rest if place < len(group)]
    certain = sum(row.is_certain for row in flat)
    kept = {id(row) for row in chosen[: max(MOST_ROWS, certain)]}
    return [row for row in flat if id(row) in kept]


def _notes(
    history: History, told: ToldVisits, shown: Sequence[VisitRow], unclear: Sequence[str]
) -> list[str]:
    """What is said once below the table, a line each."""
    words = words_visits.OVER_WEEKS
    tests = _tests(followed(history, told), told)
    notes = [words["star"]] if any("*" in row.change for row in shown) else []
    if tests:
        notes.append(words["alike" if alike_only(tests, told) else "before"])
    return [*notes, *([words["unclear"].format(what="; ".join(unclear))] if unclear else [])]


def _more_rows(n: int) -> list[str]:
    words = words_visits.OVER_WEEKS
    return [words["one_row" if n == 1 else "more_rows"].format(n=n)] if n else []


def _several_implements(told: ToldVisits) -> bool:
    """Whether the carries of this visit differ in their implement."""
    loaded = [bout for bout in told.visits[told.now].bouts if word(bout, "hold") != "free"]
    return len({word(bout, "implement") for bout in loaded}) > 1


def _moved(history: History, told: ToldVisits) -> bool:
    """Whether the free walk changed between this visit and one that it is compared with."""
    return not set(history.moved).isdisjoint({told.now, *told.compared})
