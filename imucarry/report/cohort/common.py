"""A check that most sessions of a study have: it says little of any, and is told once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import pandas as pd

from imucarry.basics.evidence import cohort as evidence
from imucarry.report.cohort.data import WHO, SessionLink
from imucarry.report.wording.words_cohort import COHORT
from imucarry.tables.text import safe_text

PACE: Final = "cadence_differs"
FELL: Final = ("reduced", "minimal")


def pace_told(links: Sequence[SessionLink]) -> str:
    """Return the words for a study in most of whose sessions carries had a pace of their own."""
    n = _n_with_pace(links)
    return COHORT["other_pace"].format(n=n, all=len(links)) if _is_common(n, len(links)) else ""


def without_common(links: Sequence[SessionLink], bouts: pd.DataFrame) -> tuple[SessionLink, ...]:
    """Return the sessions without the checks that are told once of all of them.

    Those of bouts whose rotation fell stay: the pace may be why.

    Parameters
    ----------
    links : sequence of SessionLink
    bouts : DataFrame
        Rows of ``cohort_bouts.csv`` with participant, session, bout, rotation_finding.
    """
    if not _is_common(_n_with_pace(links), len(links)):
        return tuple(links)
    fell = bouts[bouts["rotation_finding"].isin(FELL)]
    keys = set(zip(*(fell[name].map(str) for name in (*WHO, "bout")), strict=True))

    def is_own(link: SessionLink, code: str, bout: str) -> bool:
        key = tuple(map(safe_text, (link.participant, link.session, bout)))
        return code != PACE or key in keys

    return tuple(
        replace(link, notices=tuple(n for n in link.notices if is_own(link, n.code, n.where)))
        for link in links
    )


def _n_with_pace(links: Sequence[SessionLink]) -> int:
    return sum(any(notice.code == PACE for notice in link.notices) for link in links)


def _is_common(n: int, n_all: int) -> bool:
    return (
        n_all >= evidence.COMMON_CHECK_LEAST_SESSIONS.value
        and n > evidence.COMMON_CHECK_FRAC.value * n_all
    )
