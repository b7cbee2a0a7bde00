"""One tested bout of a ladder, and whether it counts: not with pain, an early stop, an alarm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.records import BoutData, BoutRow, Comparison
from imucarry.basics.settings import CarrySettings
from imucarry.carry.baseline_notices import may_overstate
from imucarry.carry.bout_checks import alarms_noted, early_stop, has_pain, noted_words
from imucarry.carry.kept import find_score
from imucarry.carry.visit_bouts import started_at


@dataclass(frozen=True, slots=True)
class Step:
    """One tested bout of a ladder: its load and its kept rotation."""

    load_kg: float
    order: float
    log_kept: float  # NaN where it is missing
    missing_because: str  # "" where it is known
    var_bout: float
    var_baseline: float
    df: float
    finding: str
    because: str
    pain_0_10: float  # NaN where it is within its limit
    stop_reason: str  # "" where it is planned
    noted_pain_0_10: float  # as in the sheet, NaN where it is empty
    bout: str
    alarms: tuple[str, ...]  # symptoms noted for which a carry is stopped at once
    noted: tuple[str, ...]  # words of pain in its note
    is_overstated: bool  # the pace may have turned the trunk more

    @property
    def eligible(self) -> bool:
        """Whether the bout had neither pain nor an early stop, and no alarm was noted."""
        return not (math.isfinite(self.pain_0_10) or self.stop_reason or self.alarms)


def _pain(row: BoutRow, settings: CarrySettings) -> float:
    """Return the pain above its limit, else NaN."""
    return row.pain_0_10 if has_pain(row, settings) else math.nan


def in_order(bouts: Sequence[BoutData]) -> tuple[float, ...]:
    """Return each bout's place in the visit: its ``order`` where all have one, else its start."""
    given = tuple(data.row.order for data in bouts)
    if all(map(math.isfinite, given)):
        return given
    return tuple(map(started_at, bouts))  # ranks and seconds do not compare


def step_of(data: BoutData, comparison: Comparison, settings: CarrySettings, order: float) -> Step:
    kept = find_score(comparison.scores, "yaw_kept")
    value = kept.estimate.value if kept is not None else float("nan")
    return Step(
        load_kg=round(data.row.load_kg, 6),
        order=order,
        log_kept=float(np.log(value / 100.0)) if value > 0 else float("nan"),
        missing_because=kept.estimate.missing_because if kept is not None else "",
        var_bout=comparison.yaw_log_se_bout**2,
        var_baseline=comparison.yaw_log_se_baseline**2,
        df=comparison.yaw_log_df,
        finding=comparison.rotation_finding,
        because=comparison.finding_because,
        pain_0_10=_pain(data.row, settings),
        stop_reason=early_stop(data.row),
        noted_pain_0_10=data.row.pain_0_10,
        bout=data.row.bout,
        alarms=alarms_noted(data.row),
        noted=tuple(noted_words(data.row)[1]),
        is_overstated=any(may_overstate(notice) for notice in comparison.notices),
    )
