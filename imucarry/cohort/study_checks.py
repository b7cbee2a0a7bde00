"""What contradicts itself between a study's sessions, or between them and the manifest."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median_low

from imucarry.basics.dates import moment_of
from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import Notice
from imucarry.basics.words import listed
from imucarry.cohort.gather import Scored, as_written
from imucarry.readers.cells import NUMBER

WHO = ("participant", "session")
DAY = len("2026-03-14")


@dataclass(frozen=True, slots=True)
class StudyCheck:
    """One thing to check of a study, and the sessions that it is about; () for all of it."""

    notice: Notice
    sessions: tuple[Scored, ...] = ()


def contradictions(scored: Sequence[Scored], manifest: str) -> tuple[StudyCheck, ...]:
    """Return what of the sessions' names, dates and body masses cannot all be right.

    Parameters
    ----------
    scored : sequence of Scored
    manifest : str
        Name of its file.
    """
    ordered = sorted(scored, key=as_written)
    return (
        *_against_manifest(ordered, manifest),
        *_codes_alike(ordered),
        *_far_dates(ordered),
        *_dates_against_numbers(ordered),
        *_body_masses(ordered),
    )


def _check(
    code: str, message: str, sessions: Iterable[Scored], file: str = "", where: str = ""
) -> StudyCheck:
    return StudyCheck(Notice(code, message, file, where, "check"), tuple(sessions))


# --- the manifest and the sessions -------------------------------------------


def _against_manifest(scored: Sequence[Scored], manifest: str) -> Iterator[StudyCheck]:
    """Yield a check for each row whose cells are not what its session says."""
    stated = {id(item): _stated(item) for item in scored}
    coded = {name for name in WHO if _other_codes(name, scored, stated)}
    for item in scored:
        own = stated[id(item)]
        differ = [
            name
            for name, said in own.items()
            if name not in coded and not _agrees(name, item.carried.get(name, ""), said)
        ]
        if differ:
            told = ", ".join(f"{name} {item.carried[name]}" for name in differ)
            says = ", ".join(f"{name} {own[name]}" for name in differ)
            message = (
                f"the manifest says {told}, the session itself {says}: is it another session's "
                "folder, or is one of them wrong?"
            )
            where = f"line {item.line}, column {', '.join(differ)}"
            yield _check("manifest_contradicts_session", message, [item], manifest, where)


def _stated(item: Scored) -> dict[str, str]:
    """Return what a session says of itself, as text; "" where it says nothing."""
    mass_kg = item.run.get("body_mass_kg")
    return {
        "participant": item.participant,
        "session": item.session,
        "date": item.date,
        "body_mass_kg": "" if mass_kg is None else f"{mass_kg:g}",
    }


def _other_codes(
    name: str, scored: Sequence[Scored], stated: Mapping[int, Mapping[str, str]]
) -> bool:
    """Whether a column holds no name that any session has: it codes them in another way."""
    own = {_plain(stated[id(item)][name]) for item in scored}
    return not any(_plain(item.carried.get(name, "")) in own for item in scored)


def _agrees(name: str, cell: str, said: str) -> bool:
    """Whether a cell is what a session says; so is one that is empty or cannot be read."""
    if not cell.strip() or not said:
        return True
    if name == "date":
        day = moment_of(cell)[:DAY]
        return day in ("", moment_of(said)[:DAY])
    if name == "body_mass_kg":
        mass_kg = _number(cell)
        apart = abs(mass_kg - float(said)) > evidence.SHEET_BODY_MASS_APART_KG.value
        return math.isnan(mass_kg) or not apart
    return _plain(cell) == _plain(said)


def _plain(code: str) -> str:
    """Return a code without what people write in several ways: case, spaces, leading zeros."""
    return re.sub(r"(?<!\d)0+(?=\d)", "", "".join(code.casefold().split()))


def _number(cell: str) -> float:
    text = cell.strip().replace(",", ".")
    return float(text) if NUMBER.fullmatch(text) else math.nan


def _codes_alike(scored: Sequence[Scored]) -> Iterator[StudyCheck]:
    """Yield a check for codes of participants that may be one."""
    counts = Counter(item.participant for item in scored)
    alike: dict[str, list[str]] = {}
    for code in sorted(counts):
        alike.setdefault(_plain(code), []).append(code)
    for codes in alike.values():
        if len(codes) > 1:
            usual = max(codes, key=lambda code: counts[code])
            message = (
                f"{listed([repr(code) for code in codes])} count as different participants: if "
                "they are one, write one code in each session.toml"
            )
            others = [item for item in scored if item.participant in codes]
            yield _check(
                "participants_alike", message,
                [item for item in others if item.participant != usual], where="participant",
            )  # fmt: skip


# --- dates -------------------------------------------------------------------


def _moment(item: Scored) -> str:
    return moment_of(item.date) or moment_of(item.carried.get("date", ""))


def _is_far(item: Scored, year: int) -> bool:
    moment = _moment(item)
    return bool(moment) and abs(int(moment[:4]) - year) > evidence.DATES_APART_YEARS.value


def _usual_year(scored: Iterable[Scored]) -> int | None:
    """Return the year of most of a study; None with fewer than three dates."""
    years = [int(moment[:4]) for item in scored if (moment := _moment(item))]
    return median_low(years) if len(years) > 2 else None


def _far_dates(scored: Sequence[Scored]) -> Iterator[StudyCheck]:
    """Yield a check for dates many years from the others."""
    year = _usual_year(scored)
    for item in scored:
        if year is not None and _is_far(item, year):
            day = _moment(item)[:DAY]
            message = (
                f"{item.name} is dated {day}, the study's other visits about {year}: is the "
                "year right?"
            )
            yield _check("date_far", message, [item], where="date")


def _dates_against_numbers(scored: Sequence[Scored]) -> Iterator[StudyCheck]:
    """Yield a check for a participant whose visits are numbered against their dates."""
    year = _usual_year(scored)
    for visits in _by_person(scored).values():
        dated = [item for item in visits if _moment(item)]
        near = [item for item in dated if year is None or not _is_far(item, year)]
        numbers = {id(item): _visit_number(item) for item in near}
        near.sort(key=_moment)
        wrong = [
            (one, two)
            for one, two in pairwise(near)
            if _moment(one) < _moment(two) and numbers[id(one)] > numbers[id(two)]
        ]
        if wrong:
            one, two = wrong[0]
            message = (
                f"{one.name} ({_moment(one)[:DAY]}) has the greater number and the earlier date "
                f"than {two.name} ({_moment(two)[:DAY]}); visits are taken by date: is a date "
                "wrong?"
            )
            yield _check("dates_against_numbers", message, wrong[0], where="order of visits")


def _visit_number(item: Scored) -> float:
    """Return the number of a visit, by the manifest or by its name; NaN without one."""
    cells = (item.carried.get("visit", ""), item.carried.get("session", ""), item.session)
    known = (number for cell in cells if not math.isnan(number := _number(cell)))
    return next(known, math.nan)


# --- body mass ---------------------------------------------------------------


def _body_masses(scored: Sequence[Scored]) -> Iterator[StudyCheck]:
    """Yield a check for a participant whose body mass differs much between visits."""
    for visits in _by_person(scored).values():
        known = [item for item in visits if item.run.get("body_mass_kg")]
        known.sort(key=_mass_kg)
        if known and _mass_kg(known[-1]) > evidence.BODY_MASS_RATIO.value * _mass_kg(known[0]):
            least, most = known[0], known[-1]
            message = (
                f"body mass of {_mass_kg(least):g} kg in {least.name}, of {_mass_kg(most):g} kg "
                f"in {most.name}: is one of them wrong?"
            )
            yield _check("body_mass_differs", message, (least, most), where="body_mass_kg")


def _mass_kg(item: Scored) -> float:
    return float(item.run["body_mass_kg"])


def _by_person(scored: Iterable[Scored]) -> dict[str, list[Scored]]:
    people: dict[str, list[Scored]] = {}
    for item in scored:
        people.setdefault(item.participant, []).append(item)
    return people
