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


def pace_told(links: Sequence[SessionLink], bouts: pd.DataFrame) -> str:
    """Return the words for a study in most of whose sessions carries had a pace of their own.

    Parameters
    ----------
    links : sequence of SessionLink
    bouts : DataFrame
        Rows of ``cohort_bouts.csv`` with participant, session, bout, rotation_finding.
    """
    n = _n_with_pace(links)
    if not _is_common(n, len(links)):
        return ""
    fell = bouts[bouts["rotation_finding"].isin(FELL)]
    keys = set(zip(*(fell[name].map(str) for name in (*WHO, "bout")), strict=True))
    n_fell = sum(
        any(
            notice.code == PACE
            and tuple(map(safe_text, (link.participant, link.session, notice.where))) in keys
            for notice in link.notices
        )
        for link in links
    )
    return COHORT["other_pace"].format(n=n, all=len(links), fell=n_fell)


def without_common(links: Sequence[SessionLink]) -> tuple[SessionLink, ...]:
    """Return the sessions without the checks that are told once of all of them.

    No finding rests on them: they are cautions on how to read the shares.
    """
    if not _is_common(_n_with_pace(links), len(links)):
        return tuple(links)
    return tuple(
        replace(link, notices=tuple(n for n in link.notices if n.code != PACE)) for link in links
    )


def _n_with_pace(links: Sequence[SessionLink]) -> int:
    return sum(any(notice.code == PACE for notice in link.notices) for link in links)


def _is_common(n: int, n_all: int) -> bool:
    return (
        n_all >= evidence.COMMON_CHECK_LEAST_SESSIONS.value
        and n > evidence.COMMON_CHECK_FRAC.value * n_all
    )
