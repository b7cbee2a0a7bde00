"""Shoulder tests before and after in words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

from imucarry.basics.records import BoutRow, RetestFinding, SessionScores
from imucarry.carry.retest import (
    ONE_VISIT,
    ROUNDING_DEG,
    counts_as_changed,
)
from imucarry.carry.rom_sittings import bouts_between
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.degrees import degrees, signed_degrees, tests_whole
from imucarry.report.wording.numbers import number
from imucarry.report.wording.say import sentence_case

BEYOND_ERROR: Final = ("increased_more_than_error", "decreased_more_than_error")
MOST_DIGITS: Final = 6


def retest_finding(found: RetestFinding) -> str:
    """Whether a shoulder test changed by more than its own error, in a few words."""
    if only_beyond_repeats(found):
        return words_visits.RETEST_POSITIONING["word"]
    return texts.RETEST_WORDS.get(found.finding, found.finding.replace("_", " "))


def retest_name(found: RetestFinding) -> str:
    """ "Internal rotation, right"."""
    return sentence_case(", ".join(p for p in (found.test.replace("_", " "), found.side) if p))


def retest_digits(found: RetestFinding) -> int:
    """As many decimals as a change needs to be seen beyond the test's own error."""
    if found.finding not in BEYOND_ERROR:
        return 1
    change, apart = abs(found.change_deg), [found.error_deg]
    if not _as_large_as_positioning(found):
        apart.append(found.positioning_deg)
    enough = (
        n
        for n in range(1, MOST_DIGITS)
        if all(number(change, n) != number(error, n) for error in apart)
    )
    return next(enough, MOST_DIGITS)


def only_beyond_repeats(found: RetestFinding) -> bool:
    """Whether a change passes the scatter of its repeats, but no error of a new positioning."""
    return found.finding in BEYOND_ERROR and not counts_as_changed(found)


def _as_large_as_positioning(found: RetestFinding) -> bool:
    return abs(abs(found.change_deg) - found.positioning_deg) <= ROUNDING_DEG


def retest(found: RetestFinding, *, whole: bool = False) -> str:
    """Whether it changed by more than its own error as a sentence, and what that rests on."""
    if only_beyond_repeats(found):
        return f"{beyond_repeats(found, retest_name(found), whole=whole)}."
    digits = retest_digits(found)
    said = _template(found).format(
        name=retest_name(found),
        before=degrees(found.before_deg, whole=whole),
        after=degrees(found.after_deg, whole=whole),
        change=degrees(abs(found.change_deg), digits, whole=whole),
        signed=signed_change(found, whole=whole),
        error=degrees(found.error_deg, digits, whole=whole),
    )
    return f"{said} {sentence_case(found.explanation)}." if found.explanation else said


def _template(found: RetestFinding) -> str:
    if not math.isfinite(found.change_deg):
        return words_visits.RETEST_NOT_COMPARED
    if found.finding not in BEYOND_ERROR and not found.change_deg:
        return words_visits.RETEST_NO_CHANGE
    return texts.RETEST.get(found.finding, "{name}: " + retest_finding(found))


def signed_change(found: RetestFinding, *, whole: bool = False) -> str:
    """ "+5.0", with as many decimals as it needs."""
    return signed_degrees(found.change_deg, retest_digits(found), whole=whole)


def larger_error(found: RetestFinding) -> float:
    """The error [deg] that a change has to pass: of the test, or of a new positioning."""
    errors = (found.error_deg, found.positioning_deg)
    return max((error for error in errors if math.isfinite(error)), default=math.nan)


def retest_lines(findings: Sequence[RetestFinding]) -> list[str]:
    """Each test's sentence, and once that one visit shows no lasting change."""
    whole = tests_whole(findings)
    said = [retest(found, whole=whole) for found in findings]
    compared = any(math.isfinite(found.change_deg) for found in findings)
    return [*said, *([f"{sentence_case(ONE_VISIT)}."] if compared else [])]


def retest_paragraphs(scores: SessionScores) -> list[str]:
    """Where the errors are from, and once a side the bouts between the tests."""
    return [*_errors(scores.retest), *_between(scores)]


def _errors(findings: Sequence[RetestFinding]) -> list[str]:
    """Each error, where it is from and what it rests on, once for tests that share it."""
    whole = tests_whole(findings)
    alike: dict[str, list[RetestFinding]] = {}
    for found in findings:
        alike.setdefault(_error(found, whole=whole), []).append(found)
    return [f"{sentence_case(_names(tests))}: {said}" for said, tests in alike.items() if said]


def _error(found: RetestFinding, *, whole: bool) -> str:
    """ "error 4.8 deg, from a study. It was read in whole degrees."; "" where there is neither."""
    words, why = words_visits.RETEST_ERROR, found.explanation
    said = []
    if found.error_source:
        error = degrees(found.error_deg, retest_digits(found), whole=whole)
        said.append(words["from"].format(error=error, source=found.error_source))
    if why:
        said.append(f"{sentence_case(why) if said else why}.")
    if math.isfinite(found.positioning_deg) and "positioning" not in why:
        shown = degrees(found.positioning_deg, whole=whole)
        said.append(words["positioning"].format(positioning=shown))
    return " ".join(said)


def _between(scores: SessionScores) -> list[str]:
    """The bouts between the tests: once a side, or once a test where the tests differ in them."""
    rows = [bout.data.row for bout in scores.bouts]
    compared = [found for found in scores.retest if math.isfinite(found.change_deg)]
    groups: dict[tuple[str, str], list[RetestFinding]] = {}
    for found in compared if any(row.hold != "free" for row in rows) else ():
        between = bouts_between(found, scores.session.rom, rows)
        groups.setdefault((found.side, _by_shoulder_aim(between)), []).append(found)
    sides = [side for side, _ in groups]
    lines = []
    for (side, bouts), tests in groups.items():
        alone = sides.count(side) == 1 and side in ("left", "right")
        what = words_visits.RETEST_BETWEEN["side"].format(side=side) if alone else _names(tests)
        key = "between" if bouts else "none_side" if alone else "none"
        lines.append(words_visits.RETEST_BETWEEN[key].format(what=what, bouts=bouts, side=side))
    return lines


def _by_shoulder_aim(rows: Sequence[BoutRow]) -> str:
    """ "3, 4 (aimed at internal rotation); 6": bouts with the shoulder aim that they share."""
    aims: dict[str, list[str]] = {}
    for row in rows:
        aim = row.shoulder_rotation_aim
        aims.setdefault("" if aim == "none" else aim, []).append(row.bout)
    return "; ".join(
        words_visits.RETEST_BETWEEN["aimed" if aim else "bouts"].format(
            bouts=", ".join(bouts), aim=aim.replace("_", " ")
        )
        for aim, bouts in aims.items()
    )


def _names(tests: Iterable[RetestFinding]) -> str:
    return ", ".join(short_name(found) for found in tests)


def short_name(found: RetestFinding) -> str:
    """ "internal rotation right"."""
    return " ".join(part for part in (found.test.replace("_", " "), found.side) if part)


def beyond_repeats(found: RetestFinding, name: str, *, whole: bool = False) -> str:
    """A change that passes the scatter of its repeats, but no error of a new positioning."""
    digits = retest_digits(found)
    kind = "as_large" if _as_large_as_positioning(found) else "less"
    return words_visits.RETEST_POSITIONING[kind].format(
        name=name,
        signed=signed_change(found, whole=whole),
        error=degrees(found.error_deg, digits, whole=whole),
        positioning=degrees(found.positioning_deg, digits, whole=whole),
    )
