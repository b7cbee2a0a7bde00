"""Which visits the table over weeks shows, how each is called, and its rows."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from imucarry.carry.earlier import History
from imucarry.carry.visits import Condition, Visit
from imucarry.report.views import Cell
from imucarry.report.wording import words_visits
from imucarry.report.wording.holds import hold_named, two_holds
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.say import sentence_case

MOST_SHOWN: Final = 4
"""Visits that the table has a column for: the first, the last ones and this one."""
CLEAR: Final = ("more", "less")


@dataclass(frozen=True, slots=True)
class VisitRow:
    """One row of the table over weeks: a cell a visit (by its place), and the change in words.

    ``is_certain`` marks a change that must not be left out for want of room; ``of`` is the
    hold, side, implement and, of a single carry, load that the row tells of.
    """

    name: str
    cells: Mapping[int, Cell]
    change: str
    is_certain: bool = False
    of: tuple[str | float, ...] = ()


@dataclass(frozen=True, slots=True)
class ToldVisits:
    """This visit (``now``) and the others that are shown (``places``, sorted)."""

    visits: tuple[Visit, ...]
    now: int
    places: tuple[int, ...]
    names: tuple[str, ...]

    @property
    def others(self) -> tuple[int, ...]:
        """The places without this visit's."""
        return tuple(place for place in self.places if place != self.now)

    @property
    def compared(self) -> tuple[int, ...]:
        """The first and the last of the others: this visit is compared with these."""
        return tuple(sorted({*self.others[:1], *self.others[-1:]}))

    def against(self, found: Collection[int]) -> tuple[int, ...]:
        """The first and the last other visit of those `found`, which are compared with."""
        others = [place for place in self.others if place in found]
        return tuple(sorted({*others[:1], *others[-1:]}))

    def heads(self) -> tuple[str, ...]:
        """The head of each column: "visit 1", "now"."""
        now = words_visits.OVER_WEEKS["now"]
        return tuple(now if place == self.now else self.names[place] for place in self.places)

    def change(self, kinds: Mapping[int, str]) -> str:
        """ "more"; where this visit clearly differs otherwise from the last other, that too.

        A visit after this one is always named.
        """
        words = words_visits.OVER_WEEKS_CHANGE
        said: list[str] = []
        for place, kind in sorted(kinds.items()):
            name = self.names[place]
            if place > self.now:
                said.append(words_visits.OVER_WEEKS["later"].format(change=words[kind], visit=name))
            elif not said:
                said.append(words[kind])
            elif kind in CLEAR and words[kind] not in said:
                said.append(words_visits.OVER_WEEKS["than"].format(change=words[kind], visit=name))
        return "; ".join(part for part in said if part)


def told_visits(history: History) -> ToldVisits:
    """The visits to speak of; without a current one the last is taken for it."""
    visits = history.visits
    now = next((k for k, visit in enumerate(visits) if visit.current), len(visits) - 1)
    others = [k for k in range(len(visits)) if k != now]
    if len(visits) > MOST_SHOWN:
        others = [*others[:1], *others[2 - MOST_SHOWN :]]
    return ToldVisits(visits, now, tuple(sorted({now, *others})), _names(visits))


def carry_name(
    held: Condition, load_kg: float = math.nan, *, implement: bool, more: str = ""
) -> str:
    """ "Rack right 6 kg", short enough for the head of a row."""
    parts = (_load(load_kg), held.implement if implement else "", more)
    said = " ".join(filter(None, parts))
    gap = ", " if two_holds(held) else " "
    return sentence_case(gap.join(filter(None, (hold_named(held, short=True), said))))


def carry_in_full(held: Condition, load_kg: float = math.nan, more: str = "") -> str:
    """ "weight at the side, right, 8 kg, kettlebell"."""
    parts = (hold_named(held), _load(load_kg), held.implement, more)
    return ", ".join(filter(None, parts))


def _load(load_kg: float) -> str:
    return f"{kilograms(load_kg)}\u00a0kg" if math.isfinite(load_kg) else ""


def _names(visits: Sequence[Visit]) -> tuple[str, ...]:
    """ "visit 1", with its date where two visits have one name."""
    short = [words_visits.HISTORY_COLUMN["visit"].format(session=v.session) for v in visits]
    same = len(set(short)) < len(short)
    return tuple(v.name if same else name for v, name in zip(visits, short, strict=True))
