"""The short summary that a command prints at its end: under 80 columns, plain ASCII."""

from __future__ import annotations

import math
import textwrap
import unicodedata
from typing import Final

from imucarry.basics.records import BoutResult, Notice, SessionScores
from imucarry.report.lookup import estimate_of
from imucarry.report.notices import checks
from imucarry.report.wording import say, texts
from imucarry.report.wording.numbers import number

COLUMNS: Final = 79
BOUT_WIDTH: Final = 14
MARK_WIDTH: Final = 18


def terminal_lines(scores: SessionScores) -> list[str]:
    """Return the summary: who, one line a bout, the ladder's answers, what to check.

    Every line is plain ASCII and under 80 columns, whatever the session's texts hold.
    """
    lines = [_who(scores)]
    lines += [_bout_line(bout) for bout in scores.bouts] or [texts.TERMINAL["none"]]
    for rung in scores.ladder:
        lines += _wrapped(say.ladder(rung))
    for _, notice in checks(scores):
        lines += _wrapped(_check(notice))
    return [plain(line)[:COLUMNS] for line in lines]


def plain(words: str) -> str:
    """Text without anything that a narrow console cannot show."""
    decomposed = unicodedata.normalize("NFKD", words.replace("–", "-"))  # noqa: RUF001
    ascii_only = decomposed.encode("ascii", "ignore").decode("ascii")
    return "".join(letter if letter.isprintable() else " " for letter in ascii_only)


def _who(scores: SessionScores) -> str:
    session = scores.session
    date = f", {session.date.isoformat()}" if session.date else ""
    return texts.TERMINAL["who"].format(
        participant=session.participant, session=session.session, date=date
    )


def _bout_line(bout: BoutResult) -> str:
    finding = texts.FINDING_MARK.get(bout.comparison.rotation_finding, "")
    name = plain(bout.data.row.bout)[: BOUT_WIDTH - 1]
    return f"  {name:<{BOUT_WIDTH}}{finding:<{MARK_WIDTH}} {_rotation(bout)}"


def _rotation(bout: BoutResult) -> str:
    swung, kept = estimate_of(bout, "sternum_yaw_range"), estimate_of(bout, "yaw_kept")
    if not math.isfinite(swung.value):
        return texts.TERMINAL["rotation_none"]
    key = "rotation" if math.isfinite(kept.value) else "rotation_alone"
    return texts.TERMINAL[key].format(
        value=number(swung.value),
        kept=number(kept.value, 0),
        low=number(kept.ci_low, 0),
        high=number(kept.ci_high, 0),
    )


def _check(notice: Notice) -> str:
    place = ", ".join(part for part in (notice.file, notice.where) if part)
    message = f"{place}: {notice.message}" if place else notice.message
    return texts.TERMINAL["check"].format(message=message)


def _wrapped(words: str) -> list[str]:
    return textwrap.wrap(plain(words), COLUMNS, initial_indent="  ", subsequent_indent="    ")
