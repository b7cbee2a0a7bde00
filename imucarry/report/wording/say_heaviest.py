"""Over weeks: the heaviest load kept, visit by visit, in words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from imucarry.carry.earlier import HistoryRow
from imucarry.carry.symptoms import alarms_in_note, stop_rank, unplanned
from imucarry.carry.visits import Condition, Row, Visit, condition_of, number, word
from imucarry.report.views import Cell
from imucarry.report.wording import words_visits
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.numbers import number as written
from imucarry.report.wording.same_load import clear_change
from imucarry.report.wording.visit_names import ToldVisits, VisitRow, carry_name

NOT_KEPT: Final = ("no_tested_load", "pain_or_early_stop")
"""Answers of a ladder that names no load, though there were bouts to answer from."""


# --- the heaviest load kept -----------------------------------------------------------


def answers(visit: Visit) -> dict[Condition, Row]:
    """The rows of a visit's ladder with a load, without any, or with pain or an early stop."""
    return {condition_of(row): row for row in visit.ladder if answered(row) or _noted(row, visit)}


def answered(row: Row) -> bool:
    """Whether a row of the ladder names a load, or says that there was none."""
    return math.isfinite(number(row, "heaviest_kept_kg")) or word(row, "answer") in NOT_KEPT


def heaviest(row: Row, visit: Visit) -> str:
    """ "16 kg (next tested 24 kg)", with any pain or early stop; or that there was none.

    A lighter load with pain or an early stop is named too.
    """
    said, further = heaviest_parts(row, visit)
    return f"{said} ({further})" if further else said


def heaviest_parts(row: Row, visit: Visit, *, brief: bool = False) -> tuple[str, str]:
    """ "16 kg" and "next tested 24 kg", as in `heaviest`; in `brief` without the next load."""
    words = words_visits.HISTORY_LADDER
    load, after = number(row, "heaviest_kept_kg"), number(row, "next_kg")
    noted = _noted(row, visit)
    if not math.isfinite(load):
        said = words[_none(row, visit, noted)].format(load=kilograms(_only_load(row, visit)))
        return said, "; ".join(_load(hurt, noted) for hurt in noted)
    further = []
    if load in noted:
        # A bout with a stop or an alarm does not count, so it was another that kept the load.
        uncounted = noted[load].stops or noted[load].alarms
        told = words["other_bout"] if uncounted else "{noted}"
        further.append(told.format(noted=noted[load].words))
    lighter = [_load(hurt, noted) for hurt in noted if hurt < load]
    further += [words["but"].format(loads=", ".join(lighter))] if lighter else []
    if not brief:
        tested = words["next" if math.isfinite(after) else "most"]
        further.append(tested.format(next=_load(after, noted)))
    return words["kept"].format(heaviest=kilograms(load)), "; ".join(further)


def _none(row: Row, visit: Visit, noted: Mapping[float, Noted]) -> str:
    """Why a row of the ladder names no load."""
    kept = [found for load, found in noted.items() if _kept(row, visit, load)]
    if not answered(row):
        return "one_load" if math.isfinite(_only_load(row, visit)) else "none"
    if not kept:
        return word(row, "answer")
    uncounted = any(found.stops or found.alarms for found in kept)
    return "none_that_counts" if uncounted else "none_without_pain"


def _only_load(row: Row, visit: Visit) -> float:
    """The load [kg] that alone counts of a hold, measured and with nothing noted; else NaN."""
    if word(row, "answer") != "one_load_only":
        return math.nan
    loads = {
        number(bout, "load_kg")
        for bout in _of_hold(row, visit)
        if math.isfinite(number(bout, "yaw_kept_ci_low_pct")) and not any(_noted_of(bout))
    }
    return loads.pop() if len(loads) == 1 else math.nan


def _load(load: float, noted: Mapping[float, Noted]) -> str:
    """ "8 kg: pain 5 of 10", or the load alone."""
    words = words_visits.HISTORY_LADDER
    said = words["kept"].format(heaviest=kilograms(load))
    return words["load_noted"].format(load=said, noted=noted[load].words) if load in noted else said


def _of_hold(row: Row, visit: Visit) -> list[Row]:
    """The bouts of a visit that a row of its ladder stands for."""
    return [
        bout
        for bout in visit.bouts
        if condition_of(bout) == condition_of(row) and word(bout, "perturbed") in ("", "none")
    ]


@dataclass(frozen=True, slots=True)
class Noted:
    """The most pain with a load (0: none), why its bouts were stopped early, and alarm symptoms."""

    pain: float
    stops: tuple[str, ...]
    alarms: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """ "stopped, chest tightness, pain 2 of 10, dizzy noted"."""
        words = words_visits.HISTORY_LADDER
        reasons = sorted((s for s in self.stops if s.lower() != "pain"), key=stop_rank)
        parts = [words["stopped"].format(reasons=", ".join(reasons))] if reasons else []
        if self.pain > 0.0:
            parts.append(words["pain"].format(pain=kilograms(self.pain)))
        elif len(reasons) < len(self.stops):
            parts.append(words["stopped_for_pain"])
        if self.alarms:
            parts.append(words["alarms"].format(alarms=", ".join(self.alarms)))
        return ", ".join(parts)


def _noted(row: Row, visit: Visit) -> dict[float, Noted]:
    """The pain, early stops and alarms at each load of a hold that had any, by rising load."""
    found: dict[float, Noted] = {}
    for bout in _of_hold(row, visit):
        load = number(bout, "load_kg")
        pain, stop, alarms = _noted_of(bout)
        if pain or stop or alarms:
            before = found.get(load, Noted(0.0, ()))
            stops = dict.fromkeys((*before.stops, *((stop,) if stop else ())))
            noted = dict.fromkeys((*before.alarms, *alarms))
            found[load] = Noted(max(pain, before.pain), tuple(stops), tuple(noted))
    return dict(sorted(found.items()))


def _noted_of(bout: Row) -> tuple[float, str, tuple[str, ...]]:
    """The pain of a bout (0: none), why it was stopped early, and alarm symptoms of its note."""
    pain = number(bout, "pain_0_10")
    stop, alarms = unplanned(word(bout, "stop_reason")), alarms_in_note(word(bout, "note"))
    return (pain if pain > 0.0 else 0.0), stop, tuple(alarms)


def _kept(row: Row, visit: Visit, load: float) -> bool:
    """Whether every bout with a load certainly kept the free walk's swing."""
    threshold = number(row, "threshold_pct")
    return all(
        number(bout, "yaw_kept_ci_low_pct") > threshold
        for bout in _of_hold(row, visit)
        if number(bout, "load_kg") == load
    )


def ladder_rows(
    told: ToldVisits, carries: Sequence[HistoryRow], *, implement: bool
) -> list[VisitRow]:
    """A row a hold that this visit and another answered, in the order in which it was carried."""
    by_place = {place: answers(told.visits[place]) for place in told.places}
    carried = list(dict.fromkeys(condition_of(bout) for bout in told.visits[told.now].bouts))
    found = []
    for condition in sorted(
        by_place[told.now], key=lambda c: carried.index(c) if c in carried else len(carried)
    ):
        rows = {k: answer[condition] for k, answer in by_place.items() if condition in answer}
        if len(rows) > 1 and any(map(answered, rows.values())):
            found.append(_ladder_row(told, rows, carries, implement=implement))
    return found


def _ladder_row(
    told: ToldVisits, rows: Mapping[int, Row], carries: Sequence[HistoryRow], *, implement: bool
) -> VisitRow:
    """The heaviest load kept at each visit; the next load, where the answers do not compare."""
    pairs = {k: tuple(sorted((k, told.now))) for k in told.against(rows)}
    compared = all(_comparable(told, rows, (pair[0], pair[1])) for pair in pairs.values())
    limits = {k: written(number(row, "threshold_pct"), 0) for k, row in rows.items()}
    several = len(set(limits.values())) > 1
    cells = {}
    for k, row in rows.items():
        said, further = heaviest_parts(row, told.visits[k], brief=compared)
        at = words_visits.HISTORY_LADDER["threshold"].format(threshold=limits[k])
        cells[k] = Cell(said, "; ".join(filter(None, (at if several else "", further))))
    words = words_visits.OVER_WEEKS
    kinds = {k: _kind(rows, (pair[0], pair[1]), carries) for k, pair in pairs.items()}
    return VisitRow(
        words["heaviest" if several else "heaviest_at"].format(
            carry=carry_name(condition_of(rows[told.now]), implement=implement),
            threshold=limits[told.now],
        ),
        cells,
        told.change(kinds if compared else dict.fromkeys(pairs, "not_compared")),
        compared and "less" in kinds.values(),
        condition_of(rows[told.now]),
    )


def _comparable(told: ToldVisits, rows: Mapping[int, Row], pair: tuple[int, int]) -> bool:
    """Whether two answers tell less from more.

    They need one threshold, neither visit may have lost a load below its answer to pain or a
    stop, and the visit with the lighter load must have tested beyond it and not have lost a
    heavier one either.
    """
    if any(load < _heaviest_kg(rows[k]) for k in pair for load in _noted(rows[k], told.visits[k])):
        return False
    less, more = sorted(pair, key=lambda place: _heaviest_kg(rows[place]))
    light, heavy = _heaviest_kg(rows[less]), _heaviest_kg(rows[more])
    if number(rows[less], "threshold_pct") != number(rows[more], "threshold_pct"):
        return False
    if light == heavy:
        return True
    lost = any(light < load <= heavy for load in _noted(rows[less], told.visits[less]))
    return not lost and number(rows[less], "next_kg") <= heavy


def _kind(rows: Mapping[int, Row], pair: tuple[int, int], carries: Sequence[HistoryRow]) -> str:
    """ "more" or "less" where the same load clearly kept so, else "maybe_more", or "same"."""
    then, now = (_heaviest_kg(rows[place]) for place in pair)
    if then == now:
        return "same"
    kind = "more" if now > then else "less"
    low, high = sorted((then, now))
    of_hold = [row for row in carries if _is_of(row, rows[pair[0]]) and low < row.load_kg <= high]
    found = [{row.load_kg: row for row in of_hold if row.place == place} for place in pair]
    both = found[0].keys() & found[1].keys()
    clear = any(clear_change(*(at[k] for at in found)) == kind for k in both)
    return kind if clear else f"maybe_{kind}"


def _is_of(carry: HistoryRow, row: Row) -> bool:
    """Whether a share of the free walk's rotation is of the hold of a row of the ladder."""
    return carry.measure == "yaw_kept" and carry.condition == condition_of(row)


def _heaviest_kg(row: Row) -> float:
    """The heaviest load kept [kg], 0 without one."""
    load = number(row, "heaviest_kept_kg")
    return load if math.isfinite(load) else 0.0
