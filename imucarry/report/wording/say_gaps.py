"""Samples that a sensor lacks within bouts, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from imucarry.basics.records import BoutData, BoutRow, Notice, SensorResult
from imucarry.report.recorded import Spans, chest_gaps, gaps_in_bouts
from imucarry.report.wording import say
from imucarry.report.wording import words_checks as words
from imucarry.report.wording.numbers import number

GAPS: Final = "gaps"
MOST_BOUTS: Final = 4


def gaps_told(notice: Notice, sensor: SensorResult, rows: Sequence[BoutRow]) -> Notice:
    """Return a notice of gaps with the bouts that they lie in; as it is where they lie in none."""
    found = gaps_in_bouts(sensor, rows) if notice.code == GAPS else ()
    if not found:
        return notice
    parts = [_in_bout(row, spans) for row, spans in found[:MOST_BOUTS]]
    if len(found) > MOST_BOUTS:
        parts.append(words.GAPS["more"].format(n=len(found) - MOST_BOUTS))
    _, semicolon, then = notice.message.partition("; ")
    return replace(notice, message=", ".join(parts) + semicolon + then)


def _in_bout(row: BoutRow, spans: Spans) -> str:
    """ "15 s missing in bout 4 (200 to 215 s)", or with the number of gaps."""
    start_s, end_s = spans[0]
    key = "one" if len(spans) == 1 else "more_gaps"
    return words.GAPS[key].format(
        missing=_seconds(spans),
        bout=say.bout_name(row),
        start=number(start_s, 0),
        end=number(end_s, 0),
        n=len(spans),
    )


def without_chest(data: BoutData, *, sentence: bool = False) -> str:
    """ "15 s without chest data", or when, as a sentence; "" where none is missing."""
    spans = chest_gaps(data)
    if not spans:
        return ""
    (start_s, end_s), single = spans[0], len(spans) == 1
    key = "short" if not sentence else "when" if single else "when_more"
    return words.NO_CHEST_DATA[key].format(
        missing=_seconds(spans), start=number(start_s, 0), end=number(end_s, 0), n=len(spans)
    )


def _seconds(spans: Spans) -> str:
    total_s = sum(end - start for start, end in spans)
    return number(total_s, 0 if total_s >= 10.0 else 1)
