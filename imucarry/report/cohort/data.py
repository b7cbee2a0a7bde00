"""What the cohort page is made from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

from imucarry.basics.records import Notice
from imucarry.basics.settings import Settings
from imucarry.carry.angle_measures import CIRCULAR
from imucarry.carry.places import ended_early_or_hurt
from imucarry.report.cohort.conditions import CONDITION

WHO = ("participant", "session")
ENDED = "ended_early_or_hurt"


@dataclass(frozen=True, slots=True)
class SessionLink:
    """One scored session and where its page and its sensors' facts are."""

    participant: str
    session: str
    page: str  # relative to the cohort page
    sensors: tuple[dict[str, Any], ...]  # as in its run.json
    notices: tuple[Notice, ...] = ()
    date: str = ""

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
    manifest : str
        Name of its file.
    """

    bouts: pd.DataFrame
    scores: pd.DataFrame
    failures: tuple[tuple[str, str, str], ...]
    sessions: tuple[SessionLink, ...]
    reliability: pd.DataFrame
    notices: tuple[Notice, ...] = ()
    settings: Settings = field(default_factory=Settings)
    manifest: str = ""


def with_ended(data: CohortData) -> pd.DataFrame:
    """Return the bouts with a column `ENDED`: whether one had pain above the limit or a stop."""
    bouts, limit_0_10 = data.bouts, data.settings.carry.pain_limit_0_10
    ended = [
        ended_early_or_hurt(pain_0_10, reason, limit_0_10)
        for pain_0_10, reason in zip(bouts["pain_0_10"], bouts["stop_reason"], strict=True)
    ]
    return bouts.assign(**{ENDED: np.array(ended, dtype=bool)})


def with_condition(scores: pd.DataFrame, bouts: pd.DataFrame, *more: str) -> pd.DataFrame:
    """Return the scores that have a value, with the condition of their bout.

    Further columns of the bouts may be named.

    Angles of the stride are turned by whole circles as `near_each_other` does.
    """
    key = [*WHO, "bout"]
    words = scores.dropna(subset=["value"]).astype(dict.fromkeys(key, str))
    return near_each_other(words.merge(bouts[[*key, *CONDITION, *more]], on=key, how="left"))


def near_each_other(rows: pd.DataFrame) -> pd.DataFrame:
    """Turn angles of the stride by whole circles so that near ones are near as numbers.

    The angles of a condition lie within half a circle of their mean direction, and that
    within half a circle of the measure's over all conditions, which is -180 to 180 deg.

    Parameters
    ----------
    rows : DataFrame
        As of `with_condition`: measure, side, value, the columns of `CONDITION`.
    """
    angles = rows[rows["measure"].isin(CIRCULAR)]
    if angles.empty:
        return rows
    study = _mean_direction(angles, ["measure", "side"])
    own = _around(_mean_direction(angles, ["measure", "side", *CONDITION]), study)
    rows = rows.copy()
    rows.loc[angles.index, "value"] = _around(angles["value"], own)
    return rows


def _mean_direction(angles: pd.DataFrame, by: list[str]) -> pd.Series[float]:
    """Return the mean direction [deg] of each angle's group."""
    radians = np.radians(angles["value"])
    keys = [angles[name] for name in by]
    parts = [
        part.groupby(keys, observed=True, dropna=False).transform("mean")
        for part in (np.sin(radians), np.cos(radians))
    ]
    return pd.Series(np.degrees(np.arctan2(*parts)), index=angles.index)


def _around(angles_deg: pd.Series[float], middle_deg: pd.Series[float]) -> pd.Series[float]:
    """Return angles within half a circle of their middle."""
    return middle_deg + np.mod(angles_deg - middle_deg + 180.0, 360.0) - 180.0


def grouped(rows: pd.DataFrame, names: Sequence[str]) -> list[tuple[tuple[Any, ...], pd.DataFrame]]:
    """Return the groups of rows with their keys, sorted; an undefined key is a group too."""
    return list(rows.groupby(list(names), observed=True, dropna=False))


def records(rows: pd.DataFrame) -> list[dict[str, Any]]:
    """Return rows as plain dictionaries."""
    return [dict(zip(rows.columns, row, strict=True)) for row in rows.itertuples(index=False)]
