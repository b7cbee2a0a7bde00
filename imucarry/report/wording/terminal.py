"""The short summary that a command prints at its end, in plain ASCII."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from imucarry.basics.records import Notice, RetestFinding, SessionScores
from imucarry.carry.bout_checks import SAFETY
from imucarry.carry.earlier import History
from imucarry.report.notices import checks
from imucarry.report.wording import (
    say_arm_ladder,
    say_checks,
    say_ladder,
    say_retest,
    say_retest_short,
    texts,
    words_ladder,
    words_visits,
)
from imucarry.report.wording.numbers import unbroken
from imucarry.report.wording.side_doubt import arms_in_doubt, arms_withheld
from imucarry.report.wording.terminal_table import COLUMNS, bout_lines, plain
from imucarry.report.wording.terminal_visits import history_lines


def terminal_lines(
    scores: SessionScores, history: History | None = None, columns: int = COLUMNS
) -> list[str]:
    """Return the summary: who, a line a bout, the ladder, tests, earlier visits, what to check.

    Pain, early stops and symptoms stand directly below the bouts.

    Every line is plain ASCII and has at most so many `columns`, whatever the session's texts
    hold. Without a chest sensor a line above the bouts says so.
    """
    lines = [_who(scores)]
    if say_arm_ladder.arms_only(scores):
        lines += _wrapped(texts.TERMINAL["no_chest"], columns)
    lines += bout_lines(arms_withheld(scores), _doubted(scores), columns)
    found = checks(scores)
    for about, notice in (item for item in found if item[1].code in SAFETY):
        lines += _wrapped(_check(about, notice), columns)
    if say_checks.pointer(scores):
        lines += _wrapped(texts.TERMINAL["pointer"], columns)
    arms = say_arm_ladder.arm_ladder(scores)
    for words in arms or say_ladder.lines_of(scores):
        lines += _wrapped(words.replace(words_ladder.WITH_ORDER, ""), columns)  # a check says it
    tests = say_retest_short.retest_short(scores.retest, brief=history is not None)
    lines += history_lines(history, columns) if history else []
    lines += _wrapped(tests, columns)
    for about, notice in (item for item in found if item[1].code not in SAFETY):
        lines += _wrapped(_check(about, notice), columns)
    return [plain(line)[:columns].rstrip() for line in lines]


def _doubted(scores: SessionScores) -> list[str]:
    """The carries of which it is not known which arm was free."""
    return [bout.data.row.bout for bout in scores.bouts if arms_in_doubt(scores, bout)]


def retest_lines(findings: Sequence[RetestFinding], notices: Sequence[Notice] = ()) -> list[str]:
    """Return the shoulder tests' findings and what to check as plain lines, under 80 columns."""
    lines: list[str] = []
    said = say_retest.retest_lines(findings)
    unknown = any(item.finding == "not_decidable" and item.explanation.startswith("no published")
                  for item in findings)  # fmt: skip
    for words in (*said, *([words_visits.RETEST_MDC] if unknown else [])):
        lines += _wrapped(words)
    for notice in notices:
        lines += _wrapped(_check("", notice))
    return [plain(line)[:COLUMNS].rstrip() for line in lines]


def _who(scores: SessionScores) -> str:
    session = scores.session
    date = f", {session.date.isoformat()}" if session.date else ""
    return texts.TERMINAL["who"].format(
        participant=session.participant, session=session.session, date=date
    )


def _check(about: str, notice: Notice) -> str:
    if notice.code in SAFETY:
        return texts.TERMINAL["check_first"].format(message=notice.message)
    place, said = say_checks.as_sentence(about, notice)
    return texts.TERMINAL["check"].format(message=f"{place}: {said}" if place else said)


def _wrapped(words: str, columns: int = COLUMNS) -> list[str]:
    # The space before a unit becomes a plain one where the lines are printed.
    return textwrap.wrap(
        unbroken(plain(words)), columns, initial_indent="  ", subsequent_indent="    "
    )
