"""Sessions to look at before their results are believed, the worst first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from imucarry.basics.evidence import cohort as evidence
from imucarry.carry.bout_checks import SAFETY
from imucarry.report.cohort.data import SessionLink
from imucarry.report.joined import joined
from imucarry.report.notices import FAULTS
from imucarry.report.views import CheckView
from imucarry.report.wording import say


@dataclass(frozen=True, slots=True)
class Doubtful:
    """One session with what to check; ``rank`` 0 is a fault of its recording, 1 pain or a stop."""

    who: str
    page: str
    rank: int
    checks: tuple[CheckView, ...]


def sessions_to_look_at(links: Iterable[SessionLink]) -> tuple[Doubtful, ...]:
    """Return the sessions with checks: faults first, then pain and stops, then most checks.

    Checks of several bouts of a session that say the same are told once.
    """
    found = [item for item in map(_doubtful, links) if item.checks]
    return tuple(sorted(found, key=lambda item: (item.rank, -len(item.checks))))


def shown_and_more(found: Sequence[Doubtful]) -> tuple[Sequence[Doubtful], int]:
    """Return the sessions that the page names, and how many more have checks."""
    n_faulty = sum(item.rank == 0 for item in found)
    n_shown = max(evidence.CHECKED_SESSIONS_SHOWN.value, n_faulty)
    return found[:n_shown], len(found[n_shown:])


def _doubtful(link: SessionLink) -> Doubtful:
    checks = [notice for notice in link.notices if notice.severity == "check"]
    ranked = sorted(checks, key=lambda notice: _rank(notice.code))
    return Doubtful(
        who=link.who,
        page=link.page,
        rank=min((_rank(notice.code) for notice in checks), default=2),
        checks=tuple(
            CheckView(say.place(about, notice), say.sentence_case(notice.message))
            for about, notice in joined((notice.where, notice) for notice in ranked)
        ),
    )


def _rank(code: str) -> int:
    """Return what sorts checks, the worst first."""
    return 0 if code in FAULTS else 1 if code in SAFETY else 2
