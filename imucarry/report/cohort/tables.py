"""The cohort page's tables: failures, findings, sensors."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
import pandas as pd

from imucarry.basics.units import DEG_PER_RAD
from imucarry.report.cohort.conditions import CONDITION, ConditionNames
from imucarry.report.cohort.data import ENDED, CohortData, SessionLink, grouped, with_ended
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import number
from imucarry.report.wording.words_cohort import (
    COHORT,
    CONDITION_HEAD,
    FAILURE_HEADS,
    FINDING_HEADS,
    FINDINGS,
    QUALITY_HEADS,
)

PERCENT = 100.0


def failures_table(data: CohortData) -> Table | None:
    """Return every session that failed, and why; None when none did."""
    if not data.failures:
        return None
    rows = tuple(TableRow(folder, (Cell(message),)) for folder, _, message in data.failures)
    return Table(COHORT["failed_caption"], "folder", FAILURE_HEADS, rows)


def findings_table(data: CohortData) -> Table | None:
    """Return how often each finding came up, by condition; bouts with pain or a stop apart."""
    if data.bouts.empty:
        return None
    names, rows = ConditionNames(data.bouts), []
    for key, group in grouped(with_ended(data), CONDITION):
        ended = group[ENDED]
        free_of_pain = group.loc[~ended, "rotation_finding"]
        counts = [int((free_of_pain == word).sum()) for word in FINDINGS]
        n_ended = int(ended.sum())
        cells = (len(group), n_ended, *counts, len(group) - sum(counts) - n_ended)
        rows.append(TableRow(names(key), tuple(Cell(str(n)) for n in cells)))
    return Table(COHORT["findings_caption"], CONDITION_HEAD, FINDING_HEADS, tuple(rows))


# --- sensors -----------------------------------------------------------------


def quality_table(data: CohortData) -> Table | None:
    """Return the sensors' facts by placement; below each worst value, whose it is."""
    facts = pd.DataFrame(
        [fact for link in data.sessions for fact in _sensor_facts(link)],
        columns=["placement", "who", *_FACTS],
    )
    if facts.empty:
        return None
    rows = []
    for key, group in grouped(facts, ["placement"]):
        rates = group["rate_hz"]
        cells = (
            Cell(str(len(group))),
            Cell(f"{number(rates.min())} to {number(rates.max())}"),
            Cell(str(int(group["n_gaps_bridged"].sum()))),
            Cell(str(int(group["n_gaps"].sum()))),
            *(_most(group, name) for name in ("longest_gap_s", "clipped_pct", "bias_degps")),
        )
        rows.append(TableRow(texts.PLACEMENTS.get(key[0], key[0]), cells))
    return Table(COHORT["quality_caption"], "placement", QUALITY_HEADS, tuple(rows))


def _most(group: pd.DataFrame, name: str) -> Cell:
    """Return the greatest value and whose it is; nobody's where there is none."""
    values = group[name].to_numpy(float)
    at = int(values.argmax())
    return Cell(number(values[at], 2), str(group["who"].iloc[at]) if values[at] > 0 else "")


_FACTS = ("rate_hz", "n_gaps_bridged", "n_gaps", "longest_gap_s", "clipped_pct", "bias_degps")


def _sensor_facts(link: SessionLink) -> Iterable[tuple[Any, ...]]:
    who = f"{link.participant}, {link.session}"
    for sensor in link.sensors:
        readings = sensor["understood"] or [{}]
        bias = np.abs(np.asarray(sensor["gyroscope_bias_radps"], float)).max() * DEG_PER_RAD
        yield (
            *(sensor["placement"], who, sensor["rate_hz"], _worst(readings, "n_gaps_bridged")),
            *(_worst(readings, "n_gaps"), _worst(readings, "longest_gap_s")),
            *(PERCENT * _worst(readings, "clipped_frac"), bias),
        )


def _worst(readings: list[dict[str, Any]], name: str) -> float:
    return max(float(reading.get(name) or 0.0) for reading in readings)
