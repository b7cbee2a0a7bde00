"""What the cohort page is made from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from imucarry.basics.records import Notice
from imucarry.basics.settings import Settings
from imucarry.report.cohort.conditions import CONDITION

WHO = ("participant", "session")


@dataclass(frozen=True, slots=True)
class SessionLink:
    """One scored session and where its page and its sensors' facts are."""

    participant: str
    session: str
    page: str  # relative to the cohort page
    sensors: tuple[dict[str, Any], ...]  # as in its run.json
    notices: tuple[Notice, ...] = ()

    @property
    def who(self) -> str:
        """Participant and session."""
        return f"{self.participant}, {self.session}"


@dataclass(frozen=True, slots=True)
class CohortData:
    """Everything the cohort page shows.

    Attributes
    ----------
    bouts : DataFrame
        Rows of ``cohort_bouts.csv``.
    scores : DataFrame
        Rows of ``cohort_scores.csv``: participant, session, bout, measure, side,
        unit, value.
    failures : tuple of (folder, error, message)
    sessions : tuple of SessionLink
    reliability : DataFrame
        Rows of ``reliability.csv``.
    notices : tuple of Notice
        What was odd about the manifest.
    settings : Settings
    """

    bouts: pd.DataFrame
    scores: pd.DataFrame
    failures: tuple[tuple[str, str, str], ...]
    sessions: tuple[SessionLink, ...]
    reliability: pd.DataFrame
    notices: tuple[Notice, ...] = ()
    settings: Settings = field(default_factory=Settings)


def with_condition(scores: pd.DataFrame, bouts: pd.DataFrame) -> pd.DataFrame:
    """Return the scores that have a value, with the condition of their bout."""
    key = [*WHO, "bout"]
    words = scores.dropna(subset=["value"]).astype(dict.fromkeys(key, str))
    return words.merge(bouts[[*key, *CONDITION]], on=key, how="left")


def grouped(rows: pd.DataFrame, names: Sequence[str]) -> list[tuple[tuple[Any, ...], pd.DataFrame]]:
    """Return the groups of rows with their keys, sorted; an undefined key is a group too."""
    return list(rows.groupby(list(names), observed=True, dropna=False))


def records(rows: pd.DataFrame) -> list[dict[str, Any]]:
    """Return rows as plain dictionaries."""
    return [dict(zip(rows.columns, row, strict=True)) for row in rows.itertuples(index=False)]
