"""The number that an aim asks for: change over the bout (endurance), spread (control)."""

from __future__ import annotations

import math

from imucarry.basics.records import BoutResult, Estimate, SessionScores
from imucarry.basics.units import TIME_UNITS_S
from imucarry.report.lookup import baseline_value, estimate_of
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import beside, number, with_minus


def aim_number(scores: SessionScores, bout: BoutResult, reduced_pct: float) -> str:
    """The change over the bout of an endurance carry, the spread of a control carry; else ""."""
    if bout.data.row.aim == "endurance":
        return _trend(bout, reduced_pct)
    if bout.data.row.aim == "control":
        base = baseline_value(scores, bout, "sternum_yaw_sd")
        return _spread(estimate_of(bout, "sternum_yaw_sd"), base)
    return ""


def _trend(bout: BoutResult, reduced_pct: float) -> str:
    """Whether rotation faded; "no fading" only where the interval excludes what counts as reduced.

    With the line at 75 %: a loss, over the bout, of a quarter of the bout's own mean.
    """
    found = estimate_of(bout, "sternum_yaw_trend")
    if not math.isfinite(found.value + found.ci_low + found.ci_high):
        return ""
    minutes = _minutes(bout)
    value, low, high = (x * minutes for x in (found.value, found.ci_low, found.ci_high))
    most_lost = (1.0 - reduced_pct / 100.0) * estimate_of(bout, "sternum_yaw_range").value
    even = "even" if -low < most_lost else "unclear"
    key = "faded" if high < 0 else "grew" if low > 0 else even
    shown = {"low": beside(low, (0.0,), 1), "high": beside(high, (0.0,), 1)}
    shown = {end: with_minus(words) for end, words in shown.items()}
    return texts.AIM_NUMBERS[key].format(value=with_minus(number(value)), **shown)


def _minutes(bout: BoutResult) -> float:
    """Return the time from the first to the last stride that counts for rotation [min]."""
    strides = bout.data.strides
    start_s, end_s = strides.start_s[strides.kept_yaw], strides.end_s[strides.kept_yaw]
    return float(end_s[-1] - start_s[0]) / TIME_UNITS_S["min"]


def _spread(found: Estimate, base: float) -> str:
    if not math.isfinite(found.value):
        return ""
    key = "spread_base" if math.isfinite(base) else "spread"
    return texts.AIM_NUMBERS[key].format(value=number(found.value), base=number(base))
