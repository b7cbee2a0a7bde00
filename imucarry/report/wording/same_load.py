"""Over weeks: whether the same carry differs clearly between two visits."""

from __future__ import annotations

from imucarry.carry.earlier import HistoryRow, change_finding


def lie_apart(first: HistoryRow, last: HistoryRow) -> bool:
    """Whether the intervals of two visits have nothing in common; not where one has none.

    Of repeated carries none of one visit's may reach any of the other's.
    """
    return first.span_high < last.span_low or last.span_high < first.span_low


def clear_change(first: HistoryRow, last: HistoryRow) -> str:
    """ "more" or "less" at the later visit, "" where that cannot be said.

    A change is clear beyond the error between visits; where that is not known, where the
    intervals lie apart.
    """
    finding = change_finding(last.value - first.value, last.error)
    if finding == "within_error" or (finding == "not_decidable" and not lie_apart(first, last)):
        return ""
    return "more" if last.value > first.value else "less"
