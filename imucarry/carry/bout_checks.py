"""What a person should know of a bout before its swing: pain, early stops, a free arm's doing."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from functools import cache
from typing import Final

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import SIDES, BoutRow, Comparison, Notice, Score
from imucarry.basics.settings import CarrySettings
from imucarry.carry.baseline_moved import ARMS_APART
from imucarry.carry.kept import find_score, rotation_finding
from imucarry.measures.notices import moved_unlike_strides

STOPPED = "stopped_early"
PAIN = "pain"
NOTED = "symptom_in_note"
FREE_ARM = "free_arm_swung_less"
UNLIKE_STRIDES = "arm_unlike_strides"
SAFETY: Final = (STOPPED, PAIN, NOTED)
"""Codes of what stands first among the checks."""

AROUND: Final = " .-\u2013\u2014"
"""What may stand around a reason, or instead of one."""

OF_THE_SENSOR: Final = r"(?!\s+(?:sensor|strap|belt|band))"
PAIN_FREE: Final = re.compile(r"\bpain[- ]?free\b")
FOLLOWS: Final = r"tightness|tight|discomfort|symptoms?"
PLACES: Final = r"any|shoulder|neck|back|arm|elbow|wrist|hand"
AIR_AND_SIGHT: Final = ("breath", "breathing", "vision")
"""Alarm words of which it is the want that alarms: "no breath left"."""

AMOUNT_DONE: Final = re.compile(
    r"[0-9]+(?:\.[0-9]+)?\s*(?:m|metres?|meters?|s|sec|seconds?|min|minutes?|laps?|lanes?|"
    r"lengths?|steps?)\s+(?:done|completed?)(?=\s*(?:$|[,.;:(\u2013-]))"
)
"""A planned end that begins with what was walked: "20 m done"."""

SWUNG = {"reduced": "swung less", "minimal": "hardly swung"}
"""What is said of a free arm whose share of its free swing lies below a threshold."""

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
        All of them checks.
    """
    stopped = _stopped(row, settings)
    arms = () if row.hold == "free" else _arms(row, comparison, settings)
    unlike = _unlike_strides(row, comparison, settings, scores)
    return (*(n for n in (stopped, _noted(row)) if n is not None), *arms, *unlike)


def early_stop(row: BoutRow) -> str:
    """Return why a bout ended early, in the sheet's own words; "" where it ended as planned."""
    return unplanned(row.stop_reason)


def unplanned(stop_reason: str) -> str:
    """Return a reason for stopping without what stands around it; "" for a planned end."""
    reason = stop_reason.strip(AROUND)
    return "" if _is_planned(reason.lower()) else reason


def _is_planned(reason: str) -> bool:
    """Whether a reason, in lower case, says that a bout ended as planned."""
    if reason in evidence.PLANNED_STOPS.value:
        return True
    starts = "|".join(map(re.escape, evidence.PLANNED_STARTS.value))
    if not (re.match(rf"(?:{starts})\b", reason) or AMOUNT_DONE.match(reason)):
        return False
    failed = _holds_word(reason, evidence.FAILURE_WORDS.value)
    return not (failed or names_pain(reason) or names_alarm(reason))


def stop_rank(reason: str) -> int:
    """Return what sorts reasons of early stops worst first, 0 for the worst."""
    held = _words_held(without_denied(reason), evidence.ALARM_WORDS.value, OF_THE_SENSOR)
    if held:
        return 1 if set(held) <= set(evidence.NERVE_WORDS.value) else 0
    return 2 if names_pain(reason) else 3


def names_alarm(reason: str) -> bool:
    """Whether a reason names something for which a carry is stopped at once, but pain."""
    return _holds_word(without_denied(reason), evidence.ALARM_WORDS.value, OF_THE_SENSOR)


def names_pain(reason: str) -> bool:
    """Whether a reason names pain, and not its absence."""
    return _holds_word(PAIN_FREE.sub("", without_denied(reason)), evidence.PAIN_WORDS.value)


def without_denied(text: str) -> str:
    """Return a text in lower case without what it denies: "no dizziness", "without pain"."""
    return _denied().sub("", text.lower())


@cache
def _denied() -> re.Pattern[str]:
    """What finds "no chest pain", "not dizzy or numb"."""
    listed = (*evidence.ALARM_WORDS.value, *evidence.PAIN_WORDS.value)
    named = "|".join(re.escape(w) for w in sorted(listed, reverse=True) if w not in AIR_AND_SIGHT)
    pain = "|".join(map(re.escape, evidence.PAIN_WORDS.value))
    one = rf"(?:(?:{PLACES})\s+)*(?:{named})(?:\s+(?:{pain}|{FOLLOWS}))*"
    return re.compile(rf"\b(?:no|not|without)\s+{one}(?:\s+(?:or|nor)\s+{one})*\b")


def _words_held(text: str, words: Sequence[str], not_before: str = "") -> list[str]:
    """Return those of some words that a text holds, whole and in any case."""
    listed = "|".join(map(re.escape, words))
    return re.findall(rf"\b(?:{listed})\b{not_before}", text.lower())


def _holds_word(text: str, words: Sequence[str], not_before: str = "") -> bool:
    return bool(_words_held(text, words, not_before))


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
        said += " (but the pain noted is 0 of 10: which is right?)"
    return Notice(STOPPED, said, where=row.bout, severity="check")


def _noted(row: BoutRow) -> Notice | None:
    """Return what is told of a symptom in a bout's note; None without, or with such a stop."""
    held = _words_held(without_denied(row.note), evidence.NOTE_WORDS.value)
    if not held or names_alarm(early_stop(row)):
        return None
    said = f'the note says "{held[0]}"'
    return Notice(NOTED, said, where=row.bout, severity="check")


def _arms(row: BoutRow, comparison: Comparison, settings: CarrySettings) -> tuple[Notice, ...]:
    """Return what is told of the free arms, nothing where the trunk itself turned less."""
    trunk = TRUNK.get(comparison.rotation_finding)
    if trunk is None:
        return ()
    free = (s for side in SIDES if (s := arm_share(comparison, side)) and s.role == "free")
    return tuple(
        Notice(FREE_ARM, _of_arm(score, trunk, swung), where=row.bout, severity="check")
        for score in free
        if (swung := SWUNG.get(rotation_finding(score.estimate, settings)))
    )


def _unlike_strides(
    row: BoutRow, comparison: Comparison, settings: CarrySettings, scores: Sequence[Score]
) -> tuple[Notice, ...]:
    """Return what is told of free arms that moved, but not with the strides.

    Nothing of an arm that swung less even so: what of it went with the strides is less still.
    """
    so = (
        "its swing in this walk is no fair yardstick for a carry"
        if row.hold == "free"
        else "its swing does not show that it kept swinging"
    )
    return tuple(
        Notice(
            UNLIKE_STRIDES,
            f"the free {side} arm moved, but not with the strides (a gesture, a scratch?): {so}",
            where=row.bout,
            severity="check",
        )
        for side in SIDES
        if (swing := find_score(scores, "arm_swing", side)) and swing.role == "free"
        if moved_unlike_strides(scores, side)
        if not ((share := arm_share(comparison, side)) and _fell(share, settings))
    )


def _fell(share: Score, settings: CarrySettings) -> bool:
    return rotation_finding(share.estimate, settings) in SWUNG


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


def _of_arm(score: Score, trunk: str, swung: str) -> str:
    kept = score.estimate
    of = FREE_SWING[score.measure]
    return (
        f"the free {score.side} arm {swung}{trunk}: {kept.value:.0f} % of {of} "
        f"({kept.ci_low:.0f} to {kept.ci_high:.0f})"
    )
