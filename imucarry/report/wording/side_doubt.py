"""Bouts whose loaded side in the sheet is doubtful, because the held arm swings more."""

from __future__ import annotations

from dataclasses import replace

from imucarry.basics.records import BoutResult, LadderRung, SessionScores
from imucarry.carry.bout_checks import FREE_ARM
from imucarry.report.wording import words_checks as words
from imucarry.report.wording.free_arms import on_ladder
from imucarry.walk.worn import WRONG_SIDE


def side_in_doubt(scores: SessionScores, bout: str) -> bool:
    """Whether the loaded side of a bout, or of all carries, is to be checked."""
    bouts = {item.data.row.bout for item in scores.bouts}
    doubtful = [notice.where for notice in scores.notices if notice.code == WRONG_SIDE]
    return any(where == bout or where not in bouts for where in doubtful)


def arms_in_doubt(scores: SessionScores, bout: BoutResult) -> bool:
    """Whether it is not known which arm was free in a carry."""
    return bout.data.row.hold != "free" and side_in_doubt(scores, bout.data.row.bout)


def arms_withheld(scores: SessionScores) -> tuple[BoutResult, ...]:
    """The bouts of a visit, those whose loaded side is doubtful without what is said of arms."""
    return tuple(
        without_arms(bout) if side_in_doubt(scores, bout.data.row.bout) else bout
        for bout in scores.bouts
    )


def without_arms(bout: BoutResult) -> BoutResult:
    """A bout without the shares of its arms and what is told of them."""
    compared = bout.comparison
    kept = tuple(s for s in compared.scores if not s.measure.startswith("arm_swing_kept"))
    notices = tuple(notice for notice in bout.notices if notice.code != FREE_ARM)
    return replace(bout, comparison=replace(compared, scores=kept), notices=notices)


def side_said(scores: SessionScores, rung: LadderRung) -> str:
    """Name the bouts of a ladder that may belong to the other side; "" without any."""
    names = [bout.data.row.bout for bout in scores.bouts if on_ladder(rung, bout)]
    doubtful = [name for name in names if side_in_doubt(scores, name)]
    if not doubtful:
        return ""
    key = "one" if len(doubtful) == 1 else "more"
    return words.SIDE_IN_DOUBT[key].format(bouts=", ".join(doubtful))
