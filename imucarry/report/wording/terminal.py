"""The short summary that a command prints at its end: under 80 columns, plain ASCII."""

from __future__ import annotations

import math
import textwrap
import unicodedata
from collections.abc import Sequence
from typing import Final

from imucarry.basics.records import BoutResult, Notice, RetestFinding, SessionScores
from imucarry.report.lookup import estimate_of
from imucarry.report.notices import checks
from imucarry.report.wording import say, say_ladder, texts
from imucarry.report.wording.numbers import number

COLUMNS: Final = 79
INDENT: Final = 2
WIDEST: Final = (14, 24, 18)
"""Letters at most of a bout's name, its hold and load, and what was found."""
LAST_COLUMN: Final = 27


def terminal_lines(scores: SessionScores) -> list[str]:
    """Return the summary: who, one line a bout, the ladder's answers, what to check.

    Every line is plain ASCII and under 80 columns, whatever the session's texts hold.
    """
    lines = [_who(scores), *_bout_lines(scores.bouts)]
    for rung in scores.ladder:
        lines += _wrapped(say_ladder.ladder(rung))
    for about, notice in checks(scores):
        lines += _wrapped(_check(about, notice))
    return [plain(line)[:COLUMNS].rstrip() for line in lines]


def retest_lines(findings: Sequence[RetestFinding]) -> list[str]:
    """Return the shoulder tests' findings as plain lines, under 80 columns."""
    lines: list[str] = []
    for found in findings:
        lines += _wrapped(say.retest(found))
    return [plain(line)[:COLUMNS].rstrip() for line in lines]


def plain(words: str) -> str:
    """Text without anything that a narrow console cannot show."""
    decomposed = unicodedata.normalize("NFKD", words.replace("–", "-"))  # noqa: RUF001 - the dash is meant
    ascii_only = decomposed.encode("ascii", "ignore").decode("ascii")
    return "".join(letter if letter.isprintable() else " " for letter in ascii_only)


def _who(scores: SessionScores) -> str:
    session = scores.session
    date = f", {session.date.isoformat()}" if session.date else ""
    return texts.TERMINAL["who"].format(
        participant=session.participant, session=session.session, date=date
    )


def _bout_lines(bouts: Sequence[BoutResult]) -> list[str]:
    """One line a bout under a heading, in columns as wide as they need to be."""
    if not bouts:
        return [texts.TERMINAL["none"]]
    rows = [texts.TERMINAL_HEAD, *(_cells(bout) for bout in bouts)]
    widths = [max(len(row[k]) for row in rows) for k in range(len(WIDEST))]
    spare = COLUMNS - INDENT - sum(width + 2 for width in widths) - LAST_COLUMN
    if spare < 0:
        widths[1] = max(widths[1] + spare, 0)
    return [_line(row, widths) for row in rows]


def _line(row: Sequence[str], widths: Sequence[int]) -> str:
    cells = (f"{cell[:width]:<{width}}" for cell, width in zip(row, widths, strict=False))
    return " " * INDENT + "  ".join((*cells, row[-1]))


def _cells(bout: BoutResult) -> tuple[str, str, str, str]:
    row = bout.data.row
    finding = texts.FINDING_MARK.get(bout.comparison.rotation_finding, "")
    words = (plain(row.bout), plain(say.hold_in_short(row)), finding)
    name, hold, mark = (word[:width] for word, width in zip(words, WIDEST, strict=True))
    return name, hold, mark, _rotation(bout)


def _rotation(bout: BoutResult) -> str:
    swung, kept = estimate_of(bout, "sternum_yaw_range"), estimate_of(bout, "yaw_kept")
    if not math.isfinite(swung.value):
        return texts.TERMINAL["rotation_none"]
    key = "rotation" if math.isfinite(kept.value) else "rotation_alone"
    return texts.TERMINAL[key].format(
        value=number(swung.value),
        kept=say.percent(kept.value, say.USUAL_LIMITS),
        low=say.percent(kept.ci_low, say.USUAL_LIMITS),
        high=say.percent(kept.ci_high, say.USUAL_LIMITS),
    )


def _check(about: str, notice: Notice) -> str:
    place = say.place(about, notice)
    message = f"{place}: {notice.message}" if place else notice.message
    return texts.TERMINAL["check"].format(message=message)


def _wrapped(words: str) -> list[str]:
    return textwrap.wrap(plain(words), COLUMNS, initial_indent="  ", subsequent_indent="    ")
