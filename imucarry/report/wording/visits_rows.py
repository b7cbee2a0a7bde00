"""Over weeks: the same carries and the shoulder tests, a row each."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Final

from imucarry.basics.records import SIDES
from imucarry.carry.earlier import IF_DONE_ALIKE, History, HistoryRow, change_finding
from imucarry.report.views import Cell
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.degrees import all_whole, degrees, signed_degrees
from imucarry.report.wording.numbers import number
from imucarry.report.wording.same_load import clear_change
from imucarry.report.wording.say import USUAL_LIMITS, percent, sentence_case
from imucarry.report.wording.visit_names import CLEAR, ToldVisits, VisitRow, carry_name

Places = dict[int, HistoryRow]

KINDS: Final = {
    False: {"kept": "yaw_kept", "arms_kept": "arm_swing_kept"},
    True: {"deg": "sternum_yaw_range", "arms_deg": "arm_swing"},
}
"""Trunk and arms as shares of the free walks, and in degrees where these differ."""
MOST_UNCLEAR: Final = 3
"""Carries that do not clearly differ and have a row all the same, where their hold has none."""


def followed(history: History, told: ToldVisits) -> list[Places]:
    """The rows of each measure and condition of this visit and another, by place; no free walks."""
    found: dict[tuple[object, ...], Places] = {}
    for row in history.rows:
        if row.hold != "free" and row.place in told.places:
            load = row.load_kg if math.isfinite(row.load_kg) else -1.0
            key = (row.measure, row.side, row.condition, load)
            found.setdefault(key, {})[row.place] = row
    return [rows for rows in found.values() if told.now in rows and len(rows) > 1]


# --- carries --------------------------------------------------------------------------


def same_carries(carries: Sequence[Places], told: ToldVisits, measure: str) -> list[Places]:
    """A measure of the carries that this visit and another have; none of an arm with a load."""
    now = told.now
    return [rows for rows in carries if rows[now].measure == measure and not _is_held(rows[now])]


def _is_held(row: HistoryRow) -> bool:
    """Whether a row is of an arm that held the load."""
    return row.side in SIDES and row.loaded_side in (row.side, "both")


def carry_rows(
    carries: Sequence[Places],
    told: ToldVisits,
    kind: str,
    others: Sequence[VisitRow],
    *,
    implement: bool,
) -> tuple[list[VisitRow], int]:
    """The carries that clearly differ, falls first, and how many others do not.

    Of a hold or load that no other row tells of (`others`: a heaviest load kept, or pain) the
    heaviest carries have a row too: the trunk's alone, for an arm has no such answer.
    """
    told_of = {row.of for row in others}
    judged = [(rows, _kinds(rows, told)) for rows in carries]
    judged = [item for item in judged if "doubt" not in item[1].values()]
    sure = [item for item in judged if not set(CLEAR).isdisjoint(item[1].values())]
    sure.sort(key=lambda item: "less" not in item[1].values())
    rest = [item for item in judged if item not in sure]
    alone = [
        item
        for item in sorted(rest, key=lambda item: -item[0][told.now].load_kg)
        if not kind.startswith("arms") and told_of.isdisjoint(_keys(item[0][told.now]))
    ][:MOST_UNCLEAR]
    shown = [
        _carry_row(rows, kinds, told, kind, implement=implement) for rows, kinds in (*sure, *alone)
    ]
    return shown, len(rest) - len(alone)


def _keys(row: HistoryRow) -> tuple[tuple[str | float, ...], ...]:
    """What tells of a carry: its hold, or its hold and load."""
    return row.condition, (*row.condition, row.load_kg)


def doubtful(carries: Sequence[Places], told: ToldVisits, *, implement: bool) -> list[str]:
    """The names of the carries that have no fair free walk at one of the visits."""
    names = [
        _name(rows[told.now], implement=implement)
        for rows in carries
        if "doubt" in _kinds(rows, told).values()
    ]
    return [f"{name[:1].lower()}{name[1:]}" for name in names]


def _kinds(rows: Places, told: ToldVisits) -> dict[int, str]:
    """How the later visit differs, by the place of the other: a key of the words, or "doubt"."""
    return {
        other: _kind(*(rows[place] for place in sorted((other, told.now))))
        for other in told.against(rows)
    }


def _kind(first: HistoryRow, last: HistoryRow) -> str:
    if first.in_doubt or last.in_doubt:
        return "doubt"
    clear = clear_change(first, last)
    if clear or _value(first) == _value(last):
        return clear or "same"
    if change_finding(last.value - first.value, last.error) == "within_error":
        return "within"
    return "maybe_more" if last.value > first.value else "maybe_less"


def _carry_row(
    rows: Places, kinds: Mapping[int, str], told: ToldVisits, kind: str, *, implement: bool
) -> VisitRow:
    words = words_visits.OVER_WEEKS
    change = told.change(kinds)
    is_sure = not set(CLEAR).isdisjoint(kinds.values())
    if is_sure and not math.isfinite(rows[max(rows)].error):
        change = words["unjudged"].format(change=change)
    return VisitRow(
        words[kind].format(carry=_name(rows[told.now], implement=implement)),
        {place: Cell(_value(row)) for place, row in rows.items()},
        change,
        "less" in kinds.values(),
    )


def _value(row: HistoryRow) -> str:
    """ "56 %", "8.9 deg"."""
    shown = percent(row.value, USUAL_LIMITS) if row.unit == "%" else number(row.value, 1)
    return words_visits.OVER_WEEKS["value"].format(value=shown, unit=row.unit)


def _name(row: HistoryRow, *, implement: bool) -> str:
    """ "Rack right 6 kg"; with the arm where the load does not say which one is free."""
    arm = texts.SIDES.get(row.side, "") if row.loaded_side not in SIDES else ""
    return carry_name(
        row.condition,
        row.load_kg,
        implement=implement,
        more=words_visits.OVER_WEEKS["arm"].format(side=arm) if arm else "",
    )


# --- shoulder tests -------------------------------------------------------------------


def rows_of_tests(tests: Sequence[Places], told: ToldVisits) -> list[VisitRow]:
    """A row a shoulder test: those that changed, those that cannot be judged, the others."""
    judged = [(rows, _findings(rows, told)) for rows in tests]
    judged.sort(key=lambda item: (min(map(_rank, item[1].values())), -_largest(item[0], told)))
    whole = all_whole(row.value for rows in tests for row in rows.values())
    return [_test(rows, found, told, whole=whole) for rows, found in judged]


def _rank(finding: str) -> int:
    return 0 if "more_than" in finding else 1 if finding == "not_decidable" else 2


def _largest(rows: Places, told: ToldVisits) -> float:
    """The largest change [deg] against a visit that is compared with."""
    return max(abs(rows[told.now].value - rows[place].value) for place in told.against(rows))


def alike_only(tests: Sequence[Places], told: ToldVisits) -> bool:
    """Whether an error holds only where a test was done the same way at every visit."""
    return any(rows[told.now].error_source.startswith(IF_DONE_ALIKE) for rows in tests)


def _findings(rows: Places, told: ToldVisits) -> dict[int, str]:
    """The finding of this visit against the first and the last other one."""
    now = rows[told.now]
    return {
        place: change_finding(now.value - rows[place].value, now.error)
        for place in told.against(rows)
    }


def _test(rows: Places, findings: Mapping[int, str], told: ToldVisits, *, whole: bool) -> VisitRow:
    now = rows[told.now]
    name = " ".join(part for part in (now.measure.replace("_", " "), now.side) if part)
    said: list[str] = []
    for place, finding in findings.items():
        # The change since the last visit is told where it is beyond the error, too.
        if not said or place > told.now or _rank(finding) == 0:
            change = _change(rows, place, told, is_first=not said, whole=whole)
            said.append(_beside_error(change, finding, now.error, whole=whole))
    return VisitRow(
        words_visits.OVER_WEEKS["test"].format(name=sentence_case(name), unit=now.unit),
        {place: Cell(degrees(row.value, whole=whole)) for place, row in rows.items()},
        "; ".join(said),
        0 in map(_rank, findings.values()),
    )


def _change(
    rows: Places, place: int, told: ToldVisits, *, is_first: bool, whole: bool
) -> tuple[str, bool]:
    """ "+12", and whether that is none; what it is against is named but for the first."""
    words, now = words_visits.OVER_WEEKS, rows[told.now]
    later = place > told.now
    change = rows[place].value - now.value if later else now.value - rows[place].value
    is_same = float(number(change)) == 0.0
    shown = signed_degrees(change, whole=whole)
    said = words_visits.OVER_WEEKS_CHANGE["same"] if is_same else shown
    if later or not is_first:
        said = words["until" if later else "since"].format(change=said, visit=told.names[place])
    return said, is_same


def _beside_error(change: tuple[str, bool], finding: str, error: float, *, whole: bool) -> str:
    """ "+12, beyond the error of 6"; a test that did not change has no error beside it."""
    said, is_same = change
    if is_same:
        return said
    kind = ("beyond", "no_error", "within")[_rank(finding)]
    return words_visits.OVER_WEEKS[kind].format(change=said, error=degrees(error, whole=whole))
