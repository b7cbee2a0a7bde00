"""Which visit of a participant came first: by date, by number, or by name."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from imucarry.basics.dates import moment_of
from imucarry.basics.records import Notice
from imucarry.basics.words import counted
from imucarry.carry.visits import Row, number, word

NUMBERED = ("visit", "session")
"""Columns of a manifest that may number the visits."""
NAME = "name"
MOST_NAMED = 5
"""Participants whose order a notice tells."""
WHERE = "order of visits"
Order = dict[tuple[str, str], int]
"""Place of each visit among its participant's, by participant and session, from 0."""


@dataclass(frozen=True, slots=True)
class StudyVisit:
    """One visit of a study: the date that its session states, and its cells in the manifest."""

    participant: str
    session: str
    date: str = ""
    manifest: Row = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Rule:
    """How visits may be ordered: a key for each visit, None where it has none."""

    name: str
    key: Callable[[StudyVisit], str | float | None]


def order_visits(visits: Sequence[StudyVisit], manifest: str = "") -> tuple[Order, list[Notice]]:
    """Order each participant's visits in time.

    Parameters
    ----------
    visits : sequence of StudyVisit
    manifest : str, optional
        Name of the manifest's file, for the notices.

    Returns
    -------
    order : dict
        Place of each visit by participant and session, from 0.
    notices : list of Notice
        Where a column that numbers the visits decided, and where names did.

    Notes
    -----
    1. By date where every visit of the participant has one: that of ``session.toml``,
       else the column ``date`` of the manifest.
    2. Where dates are missing or equal, by the manifest's column ``visit``, else
       ``session``, if that is a number in every row of the participant.
    3. Else by the session's name, numbers in it as numbers.
    """
    by_person: dict[str, list[StudyVisit]] = {}
    for visit in visits:
        by_person.setdefault(visit.participant, []).append(visit)
    order: Order = {}
    decided: dict[str, list[list[StudyVisit]]] = {}
    for person in sorted(by_person):
        placed, rule = _in_order(by_person[person])
        order |= {(visit.participant, visit.session): k for k, visit in enumerate(placed)}
        decided.setdefault(rule, []).append(placed)
    return order, _notices(decided, manifest)


def among_failed(order: Order, scored: Sequence[StudyVisit], failed: Sequence[StudyVisit]) -> Order:
    """Return the places of the scored visits among all, those that failed to score too.

    Parameters
    ----------
    order : dict
        Of the scored visits, from `order_visits`.
    scored, failed : sequence of StudyVisit
        Failed ones without a participant count for nobody.

    Returns
    -------
    dict
        As `order`. A participant whose scored visits would change their order, because a
        failed one has no date, keeps the places that they have.
    """
    lost = [visit for visit in failed if (visit.participant, visit.session) not in order]
    places, _ = order_visits([*scored, *lost])
    by_person: dict[str, list[tuple[str, str]]] = {}
    for who in sorted(order, key=order.__getitem__):
        by_person.setdefault(who[0], []).append(who)
    return order | {
        who: places[who]
        for own in by_person.values()
        if own == sorted(own, key=places.__getitem__)
        for who in own
    }


def natural(name: str) -> tuple[tuple[int, int, str], ...]:
    """Return a sort key that takes the numbers in a name as numbers."""
    parts = re.split(r"(\d+)", name)
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in parts)


def _date(visit: StudyVisit) -> str | None:
    return moment_of(visit.date) or moment_of(word(visit.manifest, "date")) or None


def _numbered(column: str) -> Callable[[StudyVisit], float | None]:
    def key(visit: StudyVisit) -> float | None:
        value = number(visit.manifest, column)
        return value if math.isfinite(value) else None

    return key


RULES = (_Rule("date", _date), *(_Rule(column, _numbered(column)) for column in NUMBERED))


def _in_order(visits: list[StudyVisit]) -> tuple[list[StudyVisit], str]:
    """Return a participant's visits in order, and the rule that told the last of them apart."""
    by_name = sorted(visits, key=lambda visit: natural(visit.session))
    if len(visits) < 2:
        return by_name, ""
    keys: list[list[str | float]] = [[] for _ in visits]
    for rule in RULES:
        more = [rule.key(visit) for visit in by_name]
        if None in more:
            continue
        keys = [[*key, one] for key, one in zip(keys, more, strict=True) if one is not None]
        ranked = sorted(range(len(keys)), key=lambda k: keys[k])
        if all(keys[one] != keys[two] for one, two in pairwise(ranked)):
            return [by_name[k] for k in ranked], rule.name
    ranked = sorted(range(len(keys)), key=lambda k: keys[k])
    return [by_name[k] for k in ranked], NAME


def _notices(decided: dict[str, list[list[StudyVisit]]], manifest: str) -> list[Notice]:
    """Tell where no dates decided, with the order of the participants."""
    found = []
    for rule in (*NUMBERED, NAME):
        people = decided.get(rule, [])
        if not people:
            continue
        many = counted(len(people), "participant")
        named = [
            f"{visits[0].participant}: {', '.join(visit.session for visit in visits)}"
            for visits in people[:MOST_NAMED]
        ]
        orders = "; ".join([*named, *(["..."] if len(people) > MOST_NAMED else [])])
        if rule == NAME:
            message = (
                f"visits of {many} lack a date or share one, so they are ordered by "
                f"the session's name ({orders}); write the dates into session.toml or into the "
                "manifest's column date"
            )
            found.append(Notice("visits_by_name", message, manifest, WHERE, "check"))
        else:
            message = (
                f"visits of {many} lack a date or share one, so they are ordered by "
                f"the manifest's column {rule} ({orders})"
            )
            found.append(Notice("visits_by_number", message, manifest, WHERE))
    return found
