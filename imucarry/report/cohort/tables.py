"""The cohort page's tables: failures, findings, sensors, reliability."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
import pandas as pd

from imucarry.basics.units import DEG_PER_RAD
from imucarry.carry.bout_checks import unplanned
from imucarry.report.cohort.conditions import CONDITION, ConditionNames
from imucarry.report.cohort.data import CohortData, SessionLink, grouped, records
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording.numbers import number, unit_name
from imucarry.report.wording.words_cohort import (
    COHORT,
    CONDITION_HEAD,
    FAILURE_HEADS,
    FINDING_HEADS,
    QUALITY_HEADS,
    RELIABILITY_HEADS,
)

PERCENT = 100.0


def failures_table(data: CohortData) -> Table | None:
    """Return every session that failed, with what and why; None when none did."""
    if not data.failures:
        return None
    rows = tuple(
        TableRow(folder, (Cell(error), Cell(message))) for folder, error, message in data.failures
    )
    return Table(COHORT["failed_caption"], "folder", FAILURE_HEADS, rows)


def findings_table(data: CohortData) -> Table | None:
    """Return how often each finding came up, by condition; bouts with pain or a stop apart."""
    if data.bouts.empty:
        return None
    names, limit = ConditionNames(data.bouts), data.settings.carry.pain_limit_0_10
    rows = []
    words = ("rotates", "reduced", "minimal", "unclear")
    for key, group in grouped(data.bouts, CONDITION):
        ended = has_pain_or_stop(group, limit)
        free_of_pain = group.loc[~ended, "rotation_finding"]
        counts = [int((free_of_pain == word).sum()) for word in words]
        n_ended = int(ended.sum())
        cells = (len(group), *counts, len(group) - sum(counts) - n_ended, n_ended)
        rows.append(TableRow(names(key), tuple(Cell(str(n)) for n in cells)))
    return Table(COHORT["findings_caption"], CONDITION_HEAD, FINDING_HEADS, tuple(rows))


def has_pain_or_stop(bouts: pd.DataFrame, limit_0_10: float) -> pd.Series[bool]:
    """Return for each bout whether it had pain above the limit or ended early."""
    stopped = bouts["stop_reason"].map(lambda reason: bool(unplanned(reason)))
    return (bouts["pain_0_10"] > limit_0_10) | stopped.astype(bool)


# --- sensors -----------------------------------------------------------------


def quality_table(data: CohortData) -> Table | None:
    """Return the sensors' facts by placement, with the session that is worst off."""
    facts = pd.DataFrame(
        [fact for link in data.sessions for fact in _sensor_facts(link)],
        columns=["placement", "who", *_FACTS],
    )
    if facts.empty:
        return None
    rows = []
    for key, group in grouped(facts, ["placement"]):
        gaps = group["longest_gap_s"]
        worst = group["who"].iloc[int(gaps.to_numpy().argmax())] if gaps.max() > 0 else ""
        rates = group["rate_hz"]
        spread = f"{number(rates.min())} to {number(rates.max())}"
        cells = (
            *(str(len(group)), spread, str(int(group["n_gaps_bridged"].sum()))),
            *(str(int(group["n_gaps"].sum())), number(float(gaps.max()), 2)),
            number(float(group["clipped_pct"].max()), 2),
            *(number(float(group["bias_degps"].max()), 2), str(worst)),
        )
        rows.append(TableRow(str(key[0]).replace("_", " "), tuple(map(Cell, cells))))
    return Table(COHORT["quality_caption"], "placement", QUALITY_HEADS, tuple(rows))


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


# --- reliability -------------------------------------------------------------


def reliability_table(data: CohortData) -> Table | None:
    """Return the main columns of ``reliability.csv``."""
    if data.reliability.empty:
        return None
    rows, names = [], ConditionNames(data.bouts)
    for row in records(data.reliability):
        side = "" if row["side"] == "none" else f", {row['side']}"
        said = (row["missing_because"], row["warning"])
        mind = "; ".join(word for word in said if isinstance(word, str) and word)
        cells = (
            names([row[name] for name in CONDITION]),
            *(str(row["design"]).replace("_", " "), str(row["n_participants"])),
            _with_interval(row["icc_2_1"], row["icc_2_1_low"], row["icc_2_1_high"]),
            _with_interval(row["icc_3_1"], row["icc_3_1_low"], row["icc_3_1_high"]),
            *(number(row["sem"], 2), number(row["mdc95"], 2)),
            _with_interval(row["order_effect"], row["order_effect_low"], row["order_effect_high"]),
            mind.replace("_", " "),
        )
        rows.append(
            TableRow(
                f"{row['measure']}{side}", tuple(map(Cell, cells)), unit=unit_name(str(row["unit"]))
            )
        )
    return Table(COHORT["reliability_caption"], "measure", RELIABILITY_HEADS, tuple(rows))


def _with_interval(value: float, low: float, high: float) -> str:
    shown = number(value, 2)
    return f"{shown} ({number(low, 2)} to {number(high, 2)})" if np.isfinite(low) else shown
