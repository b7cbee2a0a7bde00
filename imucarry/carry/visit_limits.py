"""Limits of an earlier visit's arm swing, which stand in ``scores.csv`` alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from imucarry.basics.records import SIDES

SWING = "arm_swing"

Cells = Mapping[str, str | float]


def swing_columns(side: str) -> tuple[str, str]:
    """The names that the lower and the upper limit of an arm's swing [deg] go by in a row."""
    return f"{side}_{SWING}_ci_low_deg", f"{side}_{SWING}_ci_high_deg"


def with_swing_limits(bouts: Sequence[Cells], scores: Sequence[Cells]) -> tuple[Cells, ...]:
    """Return rows of ``bout_summary.csv`` with the 95 % limits of each arm's swing.

    Parameters
    ----------
    bouts : sequence of mapping
        Rows of ``bout_summary.csv``.
    scores : sequence of mapping
        Rows of the same visit's ``scores.csv``, with ``ci_low`` and ``ci_high`` [deg].
    """
    swings = {
        (str(row.get("bout")), str(row.get("side"))): row
        for row in scores
        if row.get("measure") == SWING
    }
    return tuple({**row, **_limits(str(row.get("bout")), swings)} for row in bouts)


def _limits(bout: str, swings: Mapping[tuple[str, str], Cells]) -> dict[str, str | float]:
    """The limits of both arms in a bout, of those that were measured."""
    found: dict[str, str | float] = {}
    for side in SIDES:
        row = swings.get((bout, side), {})
        low, high = swing_columns(side)
        found |= {low: row.get("ci_low", ""), high: row.get("ci_high", "")}
    return found
