"""What the cohort page is made from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import pandas as pd

from imucarry.basics.records import Notice

CONDITION = ("hold", "loaded_side", "load_kg")
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
    """

    bouts: pd.DataFrame
    scores: pd.DataFrame
    failures: tuple[tuple[str, str, str], ...]
    sessions: tuple[SessionLink, ...]
    reliability: pd.DataFrame
    notices: tuple[Notice, ...] = ()


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


def condition_name(hold: str, loaded_side: str, load_kg: float) -> str:
    """Return a condition in a few words: hold, side and load."""
    side = "" if loaded_side in ("none", "both", "") else f", {loaded_side}"
    load = "" if pd.isna(load_kg) or load_kg == 0 else f", {load_kg:g} kg"
    return f"{hold.replace('_', '-')}{side}{load}"
