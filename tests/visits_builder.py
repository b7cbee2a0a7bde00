"""Earlier visits of one person, built by hand: rows, answers of ladders, carries."""

from __future__ import annotations

import datetime as dt

from imucarry.carry.earlier import History, HistoryRow
from imucarry.carry.visits import Visit

NAN = float("nan")
ROWS = (
    HistoryRow("yaw_kept", "none", "%", "suitcase", "right", 16.0, "", "1", 52.0, 44.0, 60.0, 1,
               error=11.0, error_source="between visits, 20 participants", span_low=44.0,
               span_high=60.0),
    HistoryRow("yaw_kept", "none", "%", "suitcase", "right", 16.0, "", "2", 70.0, NAN, NAN, 2,
               18.0, 11.0, "between visits, 20 participants", "increased_more_than_error", 1),
    HistoryRow("yaw_kept", "none", "%", "unknown", "none", NAN, "", "1", 80.0),
    HistoryRow("yaw_kept", "none", "%", "unknown", "none", NAN, "", "2", 81.0, change=1.0,
               finding="not_decidable", place=1),
    HistoryRow("flexion", "left", "deg", "", "", NAN, "", "1", 150.0),
    HistoryRow("flexion", "left", "deg", "", "", NAN, "", "2", 149.0, change=-1.0, error=7.0,
               error_source="x", finding="within_error", place=1),
)  # fmt: skip
FIRST = Visit("1", (), date=dt.date(2026, 1, 10))
NOW = Visit("2", (), date=dt.date(2026, 2, 10), current=True)
HISTORY = History((FIRST, NOW), ROWS)


def rung(
    heaviest: float, answer: str = "kept_up_to", following: float = 24.0
) -> dict[str, str | float]:
    return {"hold": "suitcase", "loaded_side": "right", "implement": "", "threshold_pct": 75.0,
            "heaviest_kept_kg": heaviest, "next_kg": following, "answer": answer}  # fmt: skip


def carried(load: float, pain: float, low: float = 80.0, stop: str = "") -> dict[str, str | float]:
    return {"hold": "suitcase", "loaded_side": "right", "implement": "", "load_kg": load,
            "pain_0_10": pain, "yaw_kept_ci_low_pct": low, "stop_reason": stop}  # fmt: skip


def kept(place: int, load: float, value: float, reach: float = 5.0) -> HistoryRow:
    """A carry at the side, right, with its interval."""
    return HistoryRow("yaw_kept", "none", "%", "suitcase", "right", load, "", str(place + 1), value,
                      value - reach, value + reach, 1, place=place,
                      span_low=value - reach, span_high=value + reach)  # fmt: skip
