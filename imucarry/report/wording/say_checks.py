"""Pain, early stops, notes and missing comparisons of a visit, in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from imucarry.basics.records import SIDES, BoutResult, BoutRow, Notice, SessionScores
from imucarry.carry.bout_checks import (
    NOTED,
    PAIN,
    PAIN_NOTED,
    SAFETY,
    STOPPED,
    alarms_noted,
    early_stop,
    noted_words,
)
from imucarry.carry.kept import BASELINE_SMALL
from imucarry.carry.symptoms import names_alarm, stop_rank
from imucarry.readers.near_columns import is_meant
from imucarry.report.lookup import estimate_of, free_bouts, role_of
from imucarry.report.wording import say, texts, words_reasons
from imucarry.report.wording import words_checks as words
from imucarry.report.wording.bout_runs import bouts_named
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.say_lighter import anded

LONGEST_NOTE: Final = 160
LONGEST_BESIDE: Final = 24
NO_LOAD: Final = ("free", "unknown")


# --- pain and early stops ---------------------------------------------------------


def safety(scores: SessionScores) -> tuple[Notice, ...]:
    """Pain and early stops, worst first, each with hold, side and load.

    Alarm words come first, then symptoms in a note, pain in words or by its number, other stops.
    Bouts of which the same is said stand together.
    """
    found = [
        (bout.data.row, notice)
        for bout in scores.bouts
        for notice in bout.notices
        if notice.code in SAFETY
    ]
    alike: dict[tuple[str, str], list[tuple[BoutRow, Notice]]] = {}
    for row, notice in sorted(found, key=lambda item: _rank(*item)):
        alike.setdefault((notice.message, say.hold_and_load(row)), []).append((row, notice))
    return tuple(_safety(items) for items in alike.values())


def pointer(scores: SessionScores) -> str:
    """Point to the cautions where a stop or a note names an alarm; "" without one."""
    alarm = any(
        notice.code == NOTED or (notice.code == STOPPED and names_alarm(early_stop(bout.data.row)))
        for bout in scores.bouts
        for notice in bout.notices
    )
    return words.SAFETY_POINTER if alarm else ""


def _rank(row: BoutRow, notice: Notice) -> tuple[int, float]:
    return worst_first(notice.code, early_stop(row), row.pain_0_10)


def worst_first(code: str, stop: str, pain_0_10: float) -> tuple[int, float]:
    """Return what sorts notices of pain, stops and symptoms; below 2 they name an alarm.

    Parameters
    ----------
    code : str
        One of `SAFETY`.
    stop : str
        Why the bout ended early, as `early_stop` returns it.
    pain_0_10 : float
        Of the same bout; NaN where it was not asked.
    """
    rank = stop_rank(stop)
    if code == NOTED:
        return 1, 1.0
    if rank < 2:
        return rank, 0.0
    if pain_0_10 > 0:
        return 2, -pain_0_10
    return (2, -math.inf) if rank == 2 or code == PAIN_NOTED else (3, 0.0)


def _safety(items: Sequence[tuple[BoutRow, Notice]]) -> Notice:
    """Return the notice of bouts that were stopped or hurt alike."""
    row, notice = items[0]
    said = words.SAFETY["reason" if ":" in notice.message else "plain"].format(
        said=say.sentence_case(notice.message),
        load=say.hold_and_load(row),
        bouts=bouts_named([row for row, _ in items]),
    )
    said += words.SAFETY["free"] if row.hold == "free" and notice.code == PAIN else ""
    return Notice(notice.code, said, severity="check")


def beside(mark: str, row: BoutRow) -> str:
    """ "kept turning, pain 6": the finding, with pain, an early stop or an alarm beside it.

    A line may end after a comma, not inside "pain 6" or "dizzy noted".
    """
    noted = in_short(row, words.BESIDE["alarm"]).replace(" ", "\u00a0").replace(",\u00a0", ", ")
    return ", ".join(filter(None, (mark, noted)))


def in_short(row: BoutRow, alarm: str = "{alarms}") -> str:
    """ "pain 6", "stopped", "dizzy", "see note", or "".

    "stopped, dizzy, pain 3" of all; `alarm` says how alarm symptoms are written.
    """
    stopped = words.BESIDE["stopped"] if early_stop(row) else ""
    pain = words.BESIDE["pain"].format(pain=kilograms(row.pain_0_10)) if row.pain_0_10 > 0 else ""
    alarms = alarms_noted(row)
    named = alarm.format(alarms=_alarms(alarms)) if alarms else ""
    note = words.BESIDE["note"] if any(noted_words(row)) and not alarms else ""
    return ", ".join(filter(None, (stopped, named, pain, note)))


def _alarms(alarms: Sequence[str]) -> str:
    """ "dizzy and numb"; the first alone where all would be too long."""
    told = anded(list(alarms))
    return told if len(told) <= LONGEST_BESIDE else alarms[0][:LONGEST_BESIDE].rstrip()


def pain_within(row: BoutRow, limit_0_10: float) -> str:
    """Return pain that counts as none by the settings; "" without any, and where it is told."""
    if early_stop(row) or not 0 < row.pain_0_10 <= limit_0_10:
        return ""
    return words.PAIN_WITHIN.format(
        pain=kilograms(row.pain_0_10), limit=kilograms(limit_0_10)
    )  # fmt: skip


def note_first(row: BoutRow) -> bool:
    """Whether a bout's note names an alarm, so that it stands before what was measured."""
    return bool(noted_words(row)[0])


def noted(row: BoutRow) -> str:
    """ "Noted: client felt dizzy after."; a long note is cut, the table has all of it."""
    note = " ".join(row.note.split())
    if len(note) > LONGEST_NOTE:
        note = f"{note[:LONGEST_NOTE].rstrip()} ..."
    end = "" if note.endswith((".", "!", "?")) else "."
    return words.NOTED.format(note=note) + end if note else ""


# --- checks and notes as sentences -------------------------------------------------


def as_sentence(about: str, notice: Notice) -> tuple[str, str]:
    """Return what a check is about, and its message with a capital and a full stop.

    A bout's own name stays as it was written, as does a message that begins with a name.
    """
    place, message = say.place(about, notice), notice.message.strip()
    is_bout = bool(about) and about not in texts.PLACEMENTS and not _names_several(about)
    end = "" if message.endswith((".", "!", "?")) else "."
    return place if is_bout else _capital(place), f"{_capital(message)}{end}"


def _names_several(about: str) -> bool:
    return about.isdecimal() or about.startswith(words_reasons.BOUTS.format(bouts=""))


def _capital(said: str) -> str:
    """Sentence case, but for words that begin with the name of a column, a file or a bout."""
    first = said.partition(" ")[0].rstrip(":,;.!?").replace("-", "").replace("'", "")
    return say.sentence_case(said) if first.isalpha() else said


# --- what was not noted, and what could not be compared ---------------------------


def not_noted(scores: SessionScores) -> tuple[Notice, ...]:
    """Tell of carries for which pain was not asked; not where a check of a column says it."""
    carries = [b.data.row for b in scores.bouts if b.data.row.hold not in NO_LOAD]
    missing = [row for row in carries if not math.isfinite(row.pain_0_10)]
    if not missing or is_meant(scores.session.notices, "pain_0_10"):
        return ()
    key = "all" if len(missing) == len(carries) else "one"
    said = words.PAIN_NOT_NOTED[key].format(bouts=bouts_named(missing))
    return (Notice("pain_not_noted", said, severity="check"),)


def not_compared(scores: SessionScores) -> tuple[Notice, ...]:
    """Tell why no carry could be compared with a free walk; () where any could."""
    carries = [bout for bout in scores.bouts if bout.data.row.hold != "free"]
    if not carries or any(_is_compared(bout) for bout in carries):
        return ()
    if all(bout.data.row.hold == "unknown" for bout in scores.bouts):
        key = "no_hold"
    elif not free_bouts(scores):
        key = "no_free_walk"
    elif any(bout.comparison.finding_because == BASELINE_SMALL for bout in carries):
        return ()
    else:
        key = "not_measured"
    return (Notice("nothing_compared", words.NOT_COMPARED[key], severity="check"),)


def _is_compared(bout: BoutResult) -> bool:
    """Whether the share of the sternum's swing or of a free arm's is known."""
    arms = (
        estimate_of(bout, "arm_swing_kept", side) for side in SIDES if role_of(bout, side) == "free"
    )
    return any(math.isfinite(kept.value) for kept in (estimate_of(bout, "yaw_kept"), *arms))
