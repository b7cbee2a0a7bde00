"""What a person should know of a bout before its swing: pain, early stops, a free arm's doing."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import Final

from imucarry.basics.records import SIDES, BoutRow, Comparison, Notice, Score, Side
from imucarry.basics.settings import CarrySettings
from imucarry.carry.baseline_arms import STILL_BESIDE
from imucarry.carry.baseline_moved import ARMS_APART, ARMS_UNLIKE
from imucarry.carry.denials import without_denied
from imucarry.carry.kept import find_score, rotation_finding
from imucarry.carry.symptoms import (
    alarm_of_column,
    alarms_in_note,
    is_effort,
    names_pain,
    pain_in_note,
    uncounts,
    unplanned,
)
from imucarry.measures.notices import moved_unlike_strides

STOPPED = "stopped_early"
PAIN = "pain"
NOTED = "symptom_in_note"
FREE_ARM = "free_arm_swung_less"
UNLIKE_STRIDES = "arm_unlike_strides"
PAIN_NOTED = "pain_in_note"
SAFETY: Final = (STOPPED, PAIN, NOTED, PAIN_NOTED)
"""Codes of what stands first among the checks."""

PAIN_OR_NOT: Final = " (but the pain noted is 0 of 10: which is right?)"

LONGEST_CELL: Final = 80
"""Characters of a cell that are told."""

FELL: Final = ("reduced", "minimal")
"""Where the share of its free swing that a free arm kept lies below a threshold."""

FREE_SWING = {
    "arm_swing_kept": "its free swing",
    "arm_swing_kept_matched": "its swing in the free walks of like pace",
}
TRUNK = {"rotates": " while the trunk kept turning", "not_measured": ""}
"""The findings of the trunk with which a still free arm is a check, and what is said of them."""


def bout_checks(
    row: BoutRow, comparison: Comparison, settings: CarrySettings, scores: Sequence[Score] = ()
) -> tuple[Notice, ...]:
    """Tell of pain, early stops, symptoms in the note, and what a free arm did by itself.

    Parameters
    ----------
    row : BoutRow
    comparison : Comparison
        Of the same bout.
    settings : CarrySettings
        ``pain_limit_0_10``, ``reduced_pct`` and ``minimal_pct`` are used.
    scores : sequence of Score
        Of the same bout, with the arms' swing and regularity where wrists were worn.

    Returns
    -------
    tuple of Notice
        Checks, but for what the arms of a free walk did.
    """
    stopped = _stopped(row, settings)
    arms = () if row.hold == "free" else _arms(row, comparison, settings)
    unlike = _unlike_strides(row, comparison, settings, scores)
    said = (*(n for n in (stopped, _noted(row)) if n is not None), *_in_own_columns(row))
    return (*said, *arms, *unlike)


def early_stop(row: BoutRow) -> str:
    """Return why a bout ended early, in the sheet's own words; "" where it ended as planned."""
    return unplanned(row.stop_reason)


def has_pain(row: BoutRow, settings: CarrySettings) -> bool:
    """Whether a bout had more pain than the limit."""
    return row.pain_0_10 > settings.pain_limit_0_10


def _stopped(row: BoutRow, settings: CarrySettings) -> Notice | None:
    """Return what is told of pain and an early stop, None without either."""
    reason, pain = early_stop(row), f"{row.pain_0_10:g} of 10"
    if not reason:
        has = has_pain(row, settings)
        return Notice(PAIN, f"pain {pain}", where=row.bout, severity="check") if has else None
    said = "stopped for pain" if reason.lower() == "pain" else f"stopped: {reason}"
    if row.pain_0_10 > 0:
        said += f" ({pain})" if reason.lower() == "pain" else f" (pain {pain})"
    elif row.pain_0_10 == 0 and names_pain(reason):
        said += PAIN_OR_NOT
    return Notice(STOPPED, said, where=row.bout, severity="check")


def _noted(row: BoutRow) -> Notice | None:
    """Return what is told of symptoms in a bout's note; None where there are none."""
    alarms, pain = noted_words(row)
    if not alarms and not pain:
        return None
    said = in_note((*alarms, *pain))
    if pain and row.pain_0_10 == 0:
        said += PAIN_OR_NOT
    return Notice(NOTED if alarms else PAIN_NOTED, said, where=row.bout, severity="check")


def _in_own_columns(row: BoutRow) -> tuple[Notice, ...]:
    """Return what is told of alarms in columns of the sheet that are not read."""
    return tuple(
        Notice(
            NOTED, f"the column {column} says {_quoted(words)}", where=row.bout, severity="check"
        )
        for column, words in _column_alarms(row)
    )


def _column_alarms(row: BoutRow) -> list[tuple[str, list[str]]]:
    """Return the columns of the sheet that are not read and name alarms, each with its words."""
    found = (
        (column, [named[:LONGEST_CELL]] if (named := alarm_of_column(column, text)) else words)
        for column, text in row.extra.items()
        for words in (alarms_in_note(text),)
    )
    return [(column, words) for column, words in found if words]


def alarms_noted(row: BoutRow) -> tuple[str, ...]:
    """Return the alarms noted of a bout that keep it from counting, in its note or such columns.

    What stands in a column that is itself called after an alarm is named with it:
    "numbness: left hand". What the reason of an early stop names is not told again.
    Being out of breath is a check, and no reason not to count a load.
    """
    alarms, _ = noted_words(row)
    for column, words in _column_alarms(row):
        cell = row.extra[column]
        if not alarm_of_column(column, cell):
            alarms += words
        elif uncounts(column, cell):
            alarms += [f"{column}: {word}" for word in words]
        else:
            alarms += alarms_in_note(cell)
    return tuple(dict.fromkeys(word for word in alarms if not is_effort(word)))


def noted_words(row: BoutRow) -> tuple[list[str], list[str]]:
    """Return the alarms and the pain that a note names and the sheet does not tell otherwise."""
    stop = early_stop(row)
    told = without_denied(stop)
    alarms = [
        word for word in alarms_in_note(row.note) if not re.search(rf"\b{re.escape(word)}\b", told)
    ]
    pain = [] if row.pain_0_10 > 0 or names_pain(stop) else pain_in_note(row.note)
    return alarms, [word for word in pain if not any(word in alarm for alarm in alarms)]


def in_note(words: Sequence[str]) -> str:
    """ "the note says "dizzy", "short of breath"."""
    return f"the note says {_quoted(words)}"


def _quoted(words: Sequence[str]) -> str:
    return ", ".join(f'"{word}"' for word in words)


def _arms(row: BoutRow, comparison: Comparison, settings: CarrySettings) -> tuple[Notice, ...]:
    """Return what is told of the free arms, nothing where the trunk itself turned less."""
    trunk = TRUNK.get(comparison.rotation_finding)
    if trunk is None:
        return ()
    free = (s for side in SIDES if (s := arm_share(comparison, side)) and s.role == "free")
    return tuple(
        Notice(FREE_ARM, _of_arm(score, trunk, comparison), where=row.bout, severity="check")
        for score in free
        if _fell(score, settings)
    )


def _unlike_strides(
    row: BoutRow, comparison: Comparison, settings: CarrySettings, scores: Sequence[Score]
) -> tuple[Notice, ...]:
    """Return what is told of free arms that moved, but not with the strides.

    Nothing of an arm that swung less even so: what of it went with the strides is less still.
    Of a free walk it is only noted: the carries that it is a yardstick for tell of it.
    """
    is_walk = row.hold == "free"
    so = "" if is_walk else ": its swing does not show that it kept swinging"
    return tuple(
        Notice(
            UNLIKE_STRIDES,
            f"the free {side} arm moved, but not with the strides (a gesture, a scratch?){so}",
            where=row.bout,
            severity="note" if is_walk else "check",
        )
        for side in SIDES
        if (swing := find_score(scores, "arm_swing", side)) and swing.role == "free"
        if moved_unlike_strides(scores, side)
        if not ((share := arm_share(comparison, side)) and _fell(share, settings))
    )


def _fell(share: Score, settings: CarrySettings) -> bool:
    return rotation_finding(share.estimate, settings) in FELL


def arm_share(comparison: Comparison, side: str) -> Score | None:
    """Return the share of its free swing that an arm is read by, or None.

    It is the one against the free walks of like pace where the arms of the free walks
    differ too much to be averaged, and there is one.
    """
    if any(notice.code == ARMS_APART for notice in comparison.notices):
        like = find_score(comparison.scores, "arm_swing_kept_matched", side)
        if like is not None and math.isfinite(like.estimate.value):
            return like
    return find_score(comparison.scores, "arm_swing_kept", side)


def yardstick_in_doubt(comparison: Comparison, side: Side) -> bool:
    """Whether a check says that an arm has no fair free walk to be read against."""
    codes = (ARMS_APART, ARMS_UNLIKE, STILL_BESIDE)
    checked = any(n.code in codes and n.severity == "check" for n in comparison.notices)
    share = arm_share(comparison, side)
    return checked and not (share is not None and share.measure == "arm_swing_kept_matched")


def _of_arm(score: Score, trunk: str, comparison: Comparison) -> str:
    of = FREE_SWING[score.measure]
    doubt = score.side != "none" and yardstick_in_doubt(comparison, score.side)
    swung = "may have swung less" if doubt else "swung less"
    return f"the free {score.side} arm {swung}{trunk}: {score.estimate.value:.0f} % of {of}"
