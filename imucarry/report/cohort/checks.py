"""Sessions to look at before their results are believed, the worst first."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import pandas as pd

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import Notice
from imucarry.carry.bout_checks import SAFETY
from imucarry.carry.symptoms import unplanned
from imucarry.report.cohort.common import without_common
from imucarry.report.cohort.data import WHO, SessionLink
from imucarry.report.joined import joined
from imucarry.report.notices import FAULTS
from imucarry.report.views import CheckView
from imucarry.report.wording import say
from imucarry.report.wording.say_checks import worst_first
from imucarry.tables.text import safe_text

ALARM, FAULT, COMPLAINT, OTHER = range(4)
"""What sorts sessions: an alarm, a fault of the recording, other pain or stops, other doubts."""

BELOW_ALARM: Final = 2
"""First rank of `worst_first` that is no alarm."""

Ends = Mapping[tuple[str, ...], tuple[str, float]]
"""Why each bout ended early and its pain, by participant, session and bout."""

Rank = tuple[int, int, float]


@dataclass(frozen=True, slots=True)
class Doubtful:
    """One session with what to check.

    Attributes
    ----------
    rank : int
        `ALARM`, `FAULT`, `COMPLAINT` or `OTHER`, by the worst of its checks.
    checks : tuple of CheckView
        What is always shown: the worst check, every alarm, every fault of the recording.
    folded : tuple of CheckView
        The others.
    """

    who: str
    page: str
    rank: int
    checks: tuple[CheckView, ...]
    folded: tuple[CheckView, ...] = ()


def sessions_to_look_at(links: Sequence[SessionLink], bouts: pd.DataFrame) -> tuple[Doubtful, ...]:
    """Return the sessions with checks: alarms first, then faults, pain and stops, most checks.

    The checks of a session stand as on its own page: pain and stops first, worst first. Those
    of several bouts that say the same are told once. What most sessions have is left out, see
    `pace_told`.

    Parameters
    ----------
    links : sequence of SessionLink
    bouts : DataFrame
        Rows of ``cohort_bouts.csv`` with participant, session, bout, stop_reason, pain_0_10.
    """
    names = [*WHO, "bout"]
    columns = (bouts[name] for name in (*names, "stop_reason", "pain_0_10"))
    ends = {
        tuple(map(str, key)): (unplanned(stop), pain)
        for *key, stop, pain in zip(*columns, strict=True)
    }
    found = [item for link in without_common(links) if (item := _doubtful(link, ends))]
    return tuple(one for _, one in sorted(found, key=lambda item: item[0]))


def shown_and_more(found: Sequence[Doubtful]) -> tuple[Sequence[Doubtful], int]:
    """Return the sessions that the page names, and how many more have checks."""
    n_always = sum(item.rank <= FAULT for item in found)
    n_shown = max(evidence.CHECKED_SESSIONS_SHOWN.value, n_always)
    return found[:n_shown], len(found[n_shown:])


def _doubtful(link: SessionLink, ends: Ends) -> tuple[tuple[int, Rank, int], Doubtful] | None:
    """Return a session with what sorts it; None without checks."""
    ranked = sorted(
        ((_rank(link, notice, ends), notice) for notice in link.notices
         if notice.severity == "check"),
        key=lambda item: item[0],
    )  # fmt: skip
    if not ranked:
        return None
    told = joined((notice.where, notice) for _, notice in ranked)
    views = [CheckView(say.place(at, n), say.sentence_case(n.message)) for at, n in told]
    always = [not k or _kind(_rank(link, n, ends), n) <= FAULT for k, (_, n) in enumerate(told)]
    item = Doubtful(
        who=link.who,
        page=link.page,
        rank=min(_kind(rank, notice) for rank, notice in ranked),
        checks=tuple(view for view, shown in zip(views, always, strict=True) if shown),
        folded=tuple(view for view, shown in zip(views, always, strict=True) if not shown),
    )
    return (item.rank, ranked[0][0], -len(views)), item


def _rank(link: SessionLink, notice: Notice, ends: Ends) -> Rank:
    """Return what sorts the checks of a session: as on its own page."""
    if notice.code not in SAFETY:
        return (1 if notice.code in FAULTS else 2), 0, 0.0
    key = tuple(safe_text(name) for name in (link.participant, link.session, notice.where))
    return 0, *worst_first(notice.code, *ends.get(key, ("", math.nan)))


def _kind(rank: Rank, notice: Notice) -> int:
    if notice.code in SAFETY:
        return ALARM if rank[1] < BELOW_ALARM else COMPLAINT
    return FAULT if notice.code in FAULTS else OTHER
