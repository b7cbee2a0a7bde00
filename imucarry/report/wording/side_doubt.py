"""Bouts whose loaded side in the sheet is doubtful, because the held arm swings more."""

from __future__ import annotations

from typing import Final

from imucarry.basics.records import SessionScores

WRONG_SIDE: Final = "loaded_arm_swings_more"
"""Code of carries whose loaded side is doubtful; it turns what is said of their arms."""


def side_in_doubt(scores: SessionScores, bout: str) -> bool:
    """Whether the loaded side of a bout, or of all carries, is to be checked."""
    bouts = {item.data.row.bout for item in scores.bouts}
    doubtful = [notice.where for notice in scores.notices if notice.code == WRONG_SIDE]
    return any(where == bout or where not in bouts for where in doubtful)
