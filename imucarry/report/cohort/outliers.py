"""Bouts that stand apart from their condition, with their session's page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pandas as pd

from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.statistics.spread import MAD_TO_SD
from imucarry.basics.words import counted
from imucarry.report.cohort.chosen import GIVEN, MAIN, NEAR_CEILING, label
from imucarry.report.cohort.conditions import CONDITION, ConditionNames
from imucarry.report.cohort.data import WHO, CohortData, grouped, records, with_condition
from imucarry.report.wording.numbers import quantity, unit_name
from imucarry.report.wording.words_cohort import COHORT


@dataclass(frozen=True, slots=True)
class Outlier:
    """One bout with the measures that stand apart most."""

    who: str
    page: str
    bout: str
    condition: str
    measures: tuple[str, ...]
    more: str
    is_main: bool  # apart in a main result


def outlier_rows(data: CohortData) -> pd.DataFrame:
    """Return the values far from the median of their own condition, with how far that is.

    Notes
    -----
    1. Within each measure, side and condition with enough bouts.
    2. Robust standard deviation: 1.4826 times the median absolute deviation.
    3. A value apart by more than the limit of ``evidence`` is named, if it shows in the
       digits of its unit.
    4. What was set for a bout and measures near their ceiling are passed over.
    """
    rows = with_condition(data.scores, data.bouts)
    rows = rows[~rows["measure"].isin((*GIVEN, *NEAR_CEILING))]
    by = ["measure", "side", *CONDITION]
    groups = rows.groupby(by, observed=True, dropna=False)["value"]
    rows = rows.assign(middle=groups.transform("median"), n=groups.transform("size"))
    away = (rows["value"] - rows["middle"]).abs()
    keys = [rows[name] for name in by]
    spread = MAD_TO_SD * away.groupby(keys, observed=True, dropna=False).transform("median")
    rows = rows.assign(sds=away / spread.where(spread > 0))
    enough = rows["n"] >= evidence.OUTLIER_LEAST_BOUTS.value
    apart = rows[enough & (rows["sds"] > evidence.OUTLIER_SDS.value)]
    return apart.loc[[_shows(row) for row in records(apart)], :]


def _shows(row: dict[str, Any]) -> bool:
    unit = str(row["unit"])
    return quantity(row["value"], unit) != quantity(row["middle"], unit)


def outliers(data: CohortData) -> tuple[tuple[Outlier, ...], int]:
    """Return the bouts that stand apart, and how many more there are.

    Those apart in a main measure come first, the farthest before the others; so do the
    measures of a bout.
    """
    pages = {(link.participant, link.session): link.page for link in data.sessions}
    found = outlier_rows(data)
    found = found.assign(main=found["measure"].isin(MAIN))
    found = found.sort_values(["main", "sds"], ascending=False, kind="stable")
    bouts = sorted(
        (group for _, group in grouped(found, [*WHO, "bout"])),
        key=lambda group: (not group["main"].iloc[0], -float(group["sds"].iloc[0])),
    )
    shown = bouts[: evidence.OUTLIERS_SHOWN.value]
    names = ConditionNames(data.bouts)
    return tuple(_outlier(group, pages, names) for group in shown), len(bouts) - len(shown)


def _outlier(
    group: pd.DataFrame, pages: dict[tuple[str, str], str], names: ConditionNames
) -> Outlier:
    named = records(group.head(evidence.OUTLIER_MEASURES_NAMED.value))
    first, n_more = named[0], len(group) - len(named)
    who = (str(first["participant"]), str(first["session"]))
    return Outlier(
        who=", ".join(who),
        page=pages.get(who, ""),
        bout=str(first["bout"]),
        condition=names([first[name] for name in CONDITION]),
        measures=tuple(_in_words(row) for row in named),
        is_main=bool(first["main"]),
        more=COHORT["outlier_more"].format(more=counted(n_more, "more measure")) if n_more else "",
    )


def _in_words(row: dict[str, Any]) -> str:
    unit = str(row["unit"])
    return COHORT["outlier"].format(
        measure=label(row["measure"], row["side"]),
        value=f"{quantity(row['value'], unit)} {unit_name(unit)}".rstrip(),
        middle=quantity(row["middle"], unit),
    )
