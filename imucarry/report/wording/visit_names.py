"""Which visits the short lines over weeks speak of, and how each is called."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from imucarry.carry.earlier import History
from imucarry.carry.visits import Visit
from imucarry.report.wording import words_visits


@dataclass(frozen=True, slots=True)
class ToldVisits:
    """This visit (``now``), and the first and the last of the others (``places``, sorted)."""

    visits: tuple[Visit, ...]
    now: int
    places: tuple[int, ...]
    names: tuple[str, ...]

    @property
    def others(self) -> tuple[int, ...]:
        """The places without this visit's."""
        return tuple(place for place in self.places if place != self.now)

    def beside(self, values: Mapping[int, str]) -> str:
        """ "8 kg at visit 1, 16 kg now"."""
        words = words_visits.SINCE
        return ", ".join(
            words["now" if place == self.now else "at"].format(
                value=values[place], visit=self.names[place]
            )
            for place in sorted(values)
        )

    def changes(self, kinds: Mapping[int, str]) -> str:
        """ " (more)"; where the other visits do not agree, what holds against each."""
        if len(set(kinds.values())) == 1:
            return words_visits.SINCE_CHANGE[next(iter(kinds.values()))]
        each = [
            (words_visits.SINCE_LATER if place > self.now else words_visits.SINCE_EACH)[
                kind
            ].format(visit=self.names[place])
            for place, kind in kinds.items()
        ]
        return words_visits.SINCE_EACH["all"].format(changes=", ".join(each))


def told_visits(history: History) -> ToldVisits:
    """The visits to speak of; without a current one the last is taken for it."""
    visits = history.visits
    now = next((k for k, visit in enumerate(visits) if visit.current), len(visits) - 1)
    others = [k for k in range(len(visits)) if k != now]
    places = sorted({now, *others[:1], *others[-1:]})
    return ToldVisits(visits, now, tuple(places), _names(visits))


def _names(visits: Sequence[Visit]) -> tuple[str, ...]:
    """ "visit 1", with its date where two visits have one name."""
    short = [words_visits.HISTORY_COLUMN["visit"].format(session=v.session) for v in visits]
    same = len(set(short)) < len(short)
    return tuple(v.name if same else name for v, name in zip(visits, short, strict=True))
