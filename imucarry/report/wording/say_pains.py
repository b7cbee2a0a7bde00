"""Over weeks: the pain at each load, visit by visit, in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from imucarry.carry.symptoms import names_pain, unplanned
from imucarry.carry.visits import NAN, Condition, Row, Visit, condition_of, number, word
from imucarry.report.views import Cell
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.visit_names import (
    ToldVisits,
    VisitRow,
    carry_in_full,
    carry_name,
)


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
        elastic = texts.PERTURBED.get(word(self.carry, "perturbed"), "")
        return carry_in_full(condition_of(self.carry), number(self.carry, "load_kg"), elastic)

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
    carries: dict[tuple[Condition, str, float], dict[int, list[Row]]] = {}
    for place, visit in enumerate(visits):
        for bout in visit.bouts:
            if word(bout, "hold") != "free":
                key = (condition_of(bout), word(bout, "perturbed"), number(bout, "load_kg"))
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
    stopped = any(names_pain(unplanned(word(bout, "stop_reason"))) for bout in bouts)
    return max((pain for pain in noted if math.isfinite(pain)), default=NAN), stopped


def pain_rows(told: ToldVisits, *, implement: bool) -> list[VisitRow]:
    """A row a carry of this visit that hurt at any, the worst first.

    A visit that has no column and at which it hurt is named beside the change.
    """
    return [
        _pain_row(told, item, implement=implement)
        for item in pains_over_weeks(told.visits)
        if told.now in item.worst and told.against(item.worst)
    ]


def _pain_row(told: ToldVisits, item: CarryPain, *, implement: bool) -> VisitRow:
    kinds = {k: _kind(*(item.worst[p] for p in sorted((k, told.now))))
             for k in told.against(item.worst)}  # fmt: skip
    words = words_visits.OVER_WEEKS
    unseen = [
        words["at"].format(value=_shown(item.worst[k]).value, visit=told.names[k])
        for k in sorted(item.hurt - set(told.places))
    ]
    held, load = condition_of(item.carry), number(item.carry, "load_kg")
    elastic = texts.PERTURBED.get(word(item.carry, "perturbed"), "")
    name = carry_name(held, load, implement=implement, more=elastic)
    return VisitRow(
        words["pain"].format(carry=name),
        {k: _shown(item.worst[k]) for k in item.worst if k in told.places},
        "; ".join(filter(None, (told.change(kinds), *unseen))),
        not {"more", "now_stopped"}.isdisjoint(kinds.values()),
        (*held, load),
    )


def _shown(worst: tuple[float, bool]) -> Cell:
    """The pain noted, and whether a bout was stopped for it."""
    pain, stop = worst
    words = words_visits.PAIN
    noted = kilograms(pain) if math.isfinite(pain) else words["not_noted"]
    return Cell(noted, words["cell_stopped"] if stop else "")


def _kind(first: tuple[float, bool], last: tuple[float, bool]) -> str:
    """Whether there was more pain at the later visit, or a stop for it; "unknown" if not noted."""
    (pain, stop), (now, stop_now) = first, last
    if now > pain or now < pain:
        return "more" if now > pain else "less"
    if stop != stop_now:
        return "now_stopped" if stop_now else "not_stopped"
    return "same" if now == pain else "unknown"
