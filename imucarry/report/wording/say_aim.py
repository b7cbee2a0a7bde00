"""The number that an aim asks for: change over the bout (endurance), spread (control)."""

from __future__ import annotations

import math

from imucarry.basics.records import BoutResult, Estimate, SessionScores
from imucarry.report.lookup import baseline_value, estimate_of
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import number


def aim_number(scores: SessionScores, bout: BoutResult) -> str:
    """The change over the bout of an endurance carry, the spread of a control carry; else ""."""
    if bout.data.row.aim == "endurance":
        return _trend(estimate_of(bout, "sternum_yaw_trend"))
    if bout.data.row.aim == "control":
        base = baseline_value(scores, bout, "sternum_yaw_sd")
        return _spread(estimate_of(bout, "sternum_yaw_sd"), base)
    return ""


def _trend(found: Estimate) -> str:
    if not math.isfinite(found.value + found.ci_low + found.ci_high):
        return ""
    key = "faded" if found.ci_high < 0 else "grew" if found.ci_low > 0 else "even"
    return texts.AIM_NUMBERS[key].format(**_numbers(found))


def _spread(found: Estimate, base: float) -> str:
    if not math.isfinite(found.value):
        return ""
    key = "spread_base" if math.isfinite(base) else "spread"
    return texts.AIM_NUMBERS[key].format(**_numbers(found), base=number(base))


def _numbers(found: Estimate) -> dict[str, str]:
    return {
        "value": number(found.value),
        "low": number(found.ci_low),
        "high": number(found.ci_high),
    }
