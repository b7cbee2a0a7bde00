"""How well the measures repeat, as the cohort page shows it: main results first."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd

from imucarry.basics.evidence import cohort as evidence
from imucarry.carry.cohort_reliability import GROUPS_POOLED, SHARED_ERROR
from imucarry.report.cohort.chosen import GIVEN, MAIN, label
from imucarry.report.cohort.conditions import CONDITION, ConditionNames
from imucarry.report.cohort.data import CohortData, records
from imucarry.report.definitions import RANK
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording.numbers import MOST_DIGITS, decimals, number, unit_name
from imucarry.report.wording.say import sentence_case
from imucarry.report.wording.words_cohort import (
    COHORT,
    DESIGNS,
    RELIABILITY_HEADS,
)

ICC_DIGITS = 2
ADVISED = evidence.RELIABILITY_ADVISED_PARTICIPANTS.value
FEW_PARTICIPANTS = f"fewer_than_{ADVISED}_participants"
TOLD_ONCE = (FEW_PARTICIPANTS, SHARED_ERROR, GROUPS_POOLED)
"""Warnings that are told once, below the table."""


def reliability_tables(data: CohortData) -> tuple[Table | None, Table | None]:
    """Return the main columns of ``reliability.csv``: of the main results, and of the others.

    Notes
    -----
    What was set for a bout, such as its load, is left out. Measures stand in the order of
    the registry.
    """
    if data.reliability.empty:
        return None, None
    rows = data.reliability[~data.reliability["measure"].isin(GIVEN)]
    rows = rows.assign(rank=rows["measure"].map(RANK).fillna(len(RANK)))
    rows = rows.sort_values("rank", kind="stable")
    is_main = rows["measure"].isin(MAIN)
    names = ConditionNames(data.bouts)
    return (
        _table(rows[is_main], names, COHORT["reliability_main"]),
        _table(rows[~is_main], names, COHORT["reliability_others"]),
    )


def _table(rows: pd.DataFrame, names: ConditionNames, caption: str) -> Table | None:
    if rows.empty:
        return None
    shown = tuple(_row(row, names) for row in records(rows))
    return Table(caption, "measure", RELIABILITY_HEADS, shown, _notes(rows))


def _notes(rows: pd.DataFrame) -> tuple[str, ...]:
    """Return what holds for several rows: how many changes are told of how many, few people."""
    n_systematic = int(rows["systematic"].sum())
    n_compared = int(rows["order_effect_low"].notna().sum())
    many = COHORT["systematic_many"].format(
        systematic=sentence_case(COHORT["systematic"]), k=n_systematic, n=n_compared
    )
    few = COHORT["few_participants"].format(
        least=ADVISED, least_icc=evidence.ICC_LEAST_PARTICIPANTS.value
    )
    warned = {code for warning in rows["warning"] for code in codes(warning)}
    notes = {
        many: n_systematic > 0,
        few: FEW_PARTICIPANTS in warned,
        COHORT["shared_walks"]: SHARED_ERROR in warned,
        COHORT["groups_pooled"]: GROUPS_POOLED in warned,
    }
    return tuple(note for note, told in notes.items() if told)


def _row(row: dict[str, Any], names: ConditionNames) -> TableRow:
    unit = str(row["unit"])
    where = (
        unit_name(unit),
        names([row[name] for name in CONDITION]),
        DESIGNS.get(row["design"], str(row["design"])),
    )
    cells = (
        Cell(str(row["n_participants"])),
        *(_with_interval(row, name, ICC_DIGITS) for name in ("icc_2_1", "icc_3_1")),
        *(Cell(error(row[name], unit)) for name in ("sem", "mdc95")),
        _with_interval(row, "order_effect", _digits(row["sem"], unit)),
        Cell(_mind(row)),
    )
    return TableRow(
        label(row["measure"], row["side"]), cells, unit=" | ".join(part for part in where if part)
    )


def _mind(row: dict[str, Any]) -> str:
    """Return what to mind of a row; what holds for most of them is told once below."""
    warnings = [code for code in codes(row["warning"]) if code not in TOLD_ONCE]
    systematic = [COHORT["systematic"]] if row["systematic"] else []
    said = [*codes(row["missing_because"]), *warnings, *systematic]
    return "; ".join(word.replace("_", " ") for word in said)


def codes(cell: Any) -> list[str]:
    """Return the codes of a cell that holds several with ";" between."""
    return [code for code in cell.split(";") if code] if isinstance(cell, str) else []


def error(value: float, unit: str) -> str:
    """Return an error in the digits of its unit, with at least two that are not 0."""
    return number(value, _digits(value, unit))


def _digits(value: float, unit: str) -> int:
    """Return as many decimals as the unit deserves, and at least so many as show two digits."""
    if not math.isfinite(value) or value == 0.0:
        return decimals(unit)
    return min(MOST_DIGITS, max(decimals(unit), 1 - math.floor(math.log10(abs(value)))))


def _with_interval(row: dict[str, Any], name: str, digits: int) -> Cell:
    value, low, high = row[name], row[f"{name}_low"], row[f"{name}_high"]
    below = f"{number(low, digits)} to {number(high, digits)}" if math.isfinite(low) else ""
    return Cell(number(value, digits), below)
