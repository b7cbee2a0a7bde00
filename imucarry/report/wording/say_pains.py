"""Over weeks: the pain at each load, visit by visit, in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from imucarry.carry.symptoms import names_pain, unplanned
from imucarry.carry.visits import NAN, Row, Visit, number, word
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.say_heaviest import (
    Condition,
    condition_of,
    few_of,
    hold_words,
    more_or_less,
)
from imucarry.report.wording.visit_names import ToldVisits


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
    stopped = any(names_pain(unplanned(word(bout, "stop_reason"))) for bout in bouts)
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
