"""Over weeks: the heaviest load kept and the pain at each load, visit by visit, in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from imucarry.carry.visits import CONDITION, NAN, Row, Visit, number, word
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.say import BOTH_SIDES
from imucarry.report.wording.visit_names import ToldVisits

Condition = tuple[str, ...]

MOST_NAMED: Final = 4
"""Carries, tests or holds that the short lines name."""
NOT_KEPT: Final = ("no_tested_load", "pain_or_early_stop")
"""Answers of a ladder that names no load, though there were bouts to answer from."""


def condition_of(row: Row) -> Condition:
    """The hold, side and implement of a row of ``ladder.csv`` or ``bout_summary.csv``."""
    return tuple(word(row, name) for name in CONDITION)


def hold_words(row: Row) -> str:
    """ "weight at the side, right, kettlebell"."""
    hold, side = word(row, "hold"), word(row, "loaded_side")
    parts = (
        texts.HOLDS.get(hold, hold),
        "" if (hold, side) == BOTH_SIDES else texts.LOADED_SIDES.get(side, side),
        word(row, "implement"),
    )
    return ", ".join(part for part in parts if part)


def more_or_less(first: float, last: float) -> str:
    """ " (more)", " (less)", or "" where it is the same or not known."""
    kind = "more" if last > first else "less" if last < first else "same"
    return words_visits.SINCE_CHANGE[kind]


def few_of(lines: list[str], more: str) -> list[str]:
    """The first few, and how many more there are, in the words of `more`."""
    if len(lines) <= MOST_NAMED:
        return lines
    return [*lines[:MOST_NAMED], words_visits.SINCE[more].format(n=len(lines) - MOST_NAMED)]


# --- the heaviest load kept -----------------------------------------------------------


def answers(visit: Visit) -> dict[Condition, Row]:
    """The rows of a visit's ladder that name a load, say that there was none, or had pain."""
    return {
        condition_of(row): row for row in visit.ladder if answered(row) or _pain_by_load(row, visit)
    }


def answered(row: Row) -> bool:
    """Whether a row of the ladder names a load, or says that there was none."""
    return math.isfinite(number(row, "heaviest_kept_kg")) or word(row, "answer") in NOT_KEPT


def heaviest(row: Row, visit: Visit, *, brief: bool = False) -> str:
    """ "16 kg (next tested 24 kg)", with any pain; or that there was none, none without pain.

    In `brief` the next load is left out.
    """
    words = words_visits.HISTORY_LADDER
    load, after = number(row, "heaviest_kept_kg"), number(row, "next_kg")
    pains = _pain_by_load(row, visit)
    if not math.isfinite(load):
        kept = any(_kept(row, visit, hurt) for hurt in pains)
        kind = word(row, "answer") if answered(row) else "none"
        none = words["none_without_pain" if kept and answered(row) else kind]
        return _with(none, [_load(hurt, pains) for hurt in pains])
    further = [] if load not in pains else [words["pain"].format(pain=kilograms(pains[load]))]
    if not brief:
        tested = words["next" if math.isfinite(after) else "most"]
        further.append(tested.format(next=_load(after, pains)))
    return _with(words["kept"].format(heaviest=kilograms(load)), further)


def _load(load: float, pains: dict[float, float]) -> str:
    """ "8 kg: pain 5 of 10", or the load alone."""
    words = words_visits.HISTORY_LADDER
    said = words["kept"].format(heaviest=kilograms(load))
    pain = words["pain"].format(pain=kilograms(pains[load])) if load in pains else ""
    return words["load_pain"].format(load=said, pain=pain) if pain else said


def _with(said: str, further: Sequence[str]) -> str:
    return f"{said} ({'; '.join(further)})" if further else said


def _of_hold(row: Row, visit: Visit) -> list[Row]:
    """The bouts of a visit that a row of its ladder stands for."""
    return [
        bout
        for bout in visit.bouts
        if condition_of(bout) == condition_of(row) and word(bout, "perturbed") in ("", "none")
    ]


def _pain_by_load(row: Row, visit: Visit) -> dict[float, float]:
    """The most pain at each load of a hold that had any, by rising load."""
    pains: dict[float, float] = {}
    for bout in _of_hold(row, visit):
        load, pain = number(bout, "load_kg"), number(bout, "pain_0_10")
        if pain > 0.0:
            pains[load] = max(pain, pains.get(load, 0.0))
    return dict(sorted(pains.items()))


def _kept(row: Row, visit: Visit, load: float) -> bool:
    """Whether every bout with a load certainly kept the free walk's swing."""
    threshold = number(row, "threshold_pct")
    return all(
        number(bout, "yaw_kept_ci_low_pct") > threshold
        for bout in _of_hold(row, visit)
        if number(bout, "load_kg") == load
    )


def ladder_lines(told: ToldVisits) -> list[str]:
    """One line a hold that changed between this visit and another, one for all that did not."""
    by_place = {place: answers(told.visits[place]) for place in told.places}
    lines, same = [], []
    for condition in by_place[told.now]:
        rows = {k: found[condition] for k, found in by_place.items() if condition in found}
        if len(rows) < 2 or not any(map(answered, rows.values())):
            continue
        brief = {heaviest(row, told.visits[k], brief=True) for k, row in rows.items()}
        if len(brief) == 1 and len({number(row, "threshold_pct") for row in rows.values()}) == 1:
            same.append(f"{hold_words(rows[told.now])} {brief.pop()}")
        else:
            lines.append(_ladder_line(told, rows))
    few = few_of(lines, "more_holds")
    if same:
        holds = "; ".join(few_of(same, "more"))
        few.append(words_visits.SINCE["ladder_same"].format(holds=holds))
    return few


def _ladder_line(told: ToldVisits, rows: dict[int, Row]) -> str:
    """The heaviest load kept at each visit; the loads tested, where they forbid to compare."""
    first, last = (_heaviest_kg(rows[place]) for place in (min(rows), max(rows)))
    less, more = sorted((rows[min(rows)], rows[max(rows)]), key=_heaviest_kg)
    alike = number(less, "threshold_pct") == number(more, "threshold_pct")
    compared = alike and (first == last or number(less, "next_kg") <= _heaviest_kg(more))
    values = {k: heaviest(row, told.visits[k], brief=compared) for k, row in rows.items()}
    return words_visits.SINCE["ladder"].format(
        hold=hold_words(rows[told.now]),
        values=told.beside(values),
        change=more_or_less(first, last) if compared else "",
    )


def _heaviest_kg(row: Row) -> float:
    """The heaviest load kept [kg], 0 without one."""
    load = number(row, "heaviest_kept_kg")
    return load if math.isfinite(load) else 0.0


# --- pain -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class CarryPain:
    """A carry that two visits or more had and that hurt at any of them.

    ``worst`` holds for each visit's place the most pain noted (NaN: none was), and whether
    a bout was stopped for pain.
    """

    carry: Row
    worst: dict[int, tuple[float, bool]]

    @property
    def name(self) -> str:
        """ "weight at the side, right, 8 kg"."""
        load = number(self.carry, "load_kg")
        parts = (
            hold_words(self.carry),
            f"{kilograms(load)}\u00a0kg" if math.isfinite(load) else "",
            texts.PERTURBED.get(word(self.carry, "perturbed"), ""),
        )
        return ", ".join(part for part in parts if part)

    @property
    def hurt(self) -> set[int]:
        """The places of the visits at which it hurt."""
        return {place for place, (pain, stop) in self.worst.items() if pain > 0.0 or stop}

    @property
    def most(self) -> float:
        """The most pain of any visit; a stop for pain counts as 10."""
        return max(10.0 if stop else pain for pain, stop in (self.worst[k] for k in self.hurt))


def pains_over_weeks(visits: Sequence[Visit]) -> list[CarryPain]:
    """The carries that hurt, the worst first."""
    carries: dict[tuple[Condition, float], dict[int, list[Row]]] = {}
    for place, visit in enumerate(visits):
        for bout in visit.bouts:
            if word(bout, "hold") != "free":
                key = ((*condition_of(bout), word(bout, "perturbed")), number(bout, "load_kg"))
                carries.setdefault(key, {}).setdefault(place, []).append(bout)
    found = [
        CarryPain(places[min(places)][0], {place: _worst(bouts) for place, bouts in places.items()})
        for places in carries.values()
        if len(places) > 1
    ]
    return sorted((item for item in found if item.hurt), key=lambda item: -item.most)


def _worst(bouts: Sequence[Row]) -> tuple[float, bool]:
    """The most pain noted (NaN: none was), and whether a bout was stopped for pain."""
    noted = [number(bout, "pain_0_10") for bout in bouts]
    stopped = any("pain" in word(bout, "stop_reason").lower().split() for bout in bouts)
    return max((pain for pain in noted if math.isfinite(pain)), default=NAN), stopped


def pain_lines(told: ToldVisits) -> list[str]:
    """One line a carry of this visit that hurt at any; a visit between that hurt is named too."""
    lines = []
    for item in pains_over_weeks(told.visits):
        if told.now in item.worst:
            shown = {k: item.worst[k] for k in item.worst if k in item.hurt | set(told.places)}
            if len(shown) > 1:
                lines.append(_pain_line(told, item, shown))
    return few_of(lines, "more_pain")


def _pain_line(told: ToldVisits, item: CarryPain, shown: dict[int, tuple[float, bool]]) -> str:
    words = words_visits.PAIN
    values = {
        place: words["of_10" if math.isfinite(pain) else "not_noted"].format(pain=kilograms(pain))
        + (words["stopped"] if stop else "")
        for place, (pain, stop) in shown.items()
    }
    first, last = (shown[place][0] for place in (min(shown), max(shown)))
    return words["line"].format(
        carry=item.name.replace("\u00a0", " "),
        values=told.beside(values),
        change=more_or_less(first, last),
    )
