"""Shoulder tests before and after in words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

from imucarry.basics.records import BoutRow, RetestFinding, SessionScores
from imucarry.carry.retest import (
    DONE_OTHERWISE,
    NO_READING,
    ONE_VISIT,
    OTHER_RATERS,
    ROUNDING_DEG,
    counts_as_changed,
)
from imucarry.carry.rom_sittings import bouts_between
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.numbers import number, signed
from imucarry.report.wording.say import sentence_case

BEYOND_ERROR: Final = ("increased_more_than_error", "decreased_more_than_error")
MOST_DIGITS: Final = 6
MOST_NAMED: Final = 4
"""Tests that the short sentence names."""


def retest_finding(found: RetestFinding) -> str:
    """Whether a shoulder test changed by more than its own error, in a few words."""
    if _only_beyond_repeats(found):
        return words_visits.RETEST_POSITIONING["word"]
    return texts.RETEST_WORDS.get(found.finding, found.finding.replace("_", " "))


def retest_name(found: RetestFinding) -> str:
    """ "Internal rotation, right"."""
    return sentence_case(", ".join(p for p in (found.test.replace("_", " "), found.side) if p))


def positioning(found: RetestFinding) -> str:
    """The larger published error of a new positioning; "" without one."""
    if not math.isfinite(found.positioning_deg):
        return ""
    return words_visits.RETEST_POSITIONING["cell"].format(
        positioning=number(found.positioning_deg, retest_digits(found))
    )


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


def _only_beyond_repeats(found: RetestFinding) -> bool:
    """Whether a change passes the scatter of its repeats, but no error of a new positioning."""
    return found.finding in BEYOND_ERROR and not counts_as_changed(found)


def _as_large_as_positioning(found: RetestFinding) -> bool:
    return abs(abs(found.change_deg) - found.positioning_deg) <= ROUNDING_DEG


def retest(found: RetestFinding) -> str:
    """Whether it changed by more than its own error as a sentence, and what that rests on."""
    if _only_beyond_repeats(found):
        return f"{_beyond_repeats(found, retest_name(found))}."
    said = _template(found).format(
        name=retest_name(found),
        before=number(found.before_deg),
        after=number(found.after_deg),
        change=number(abs(found.change_deg), retest_digits(found)),
        signed=_signed(found),
        error=number(found.error_deg, retest_digits(found)),
    )
    return f"{said} {sentence_case(found.explanation)}." if found.explanation else said


def _template(found: RetestFinding) -> str:
    if not math.isfinite(found.change_deg):
        return words_visits.RETEST_NOT_COMPARED
    if found.finding not in BEYOND_ERROR and not found.change_deg:
        return words_visits.RETEST_NO_CHANGE
    return texts.RETEST.get(found.finding, "{name}: " + retest_finding(found))


def _signed(found: RetestFinding) -> str:
    return signed(found.change_deg, retest_digits(found))


def retest_lines(findings: Sequence[RetestFinding]) -> list[str]:
    """Each test's sentence, and once that one visit shows no lasting change."""
    said = [retest(found) for found in findings]
    compared = any(math.isfinite(found.change_deg) for found in findings)
    return [*said, *([f"{sentence_case(ONE_VISIT)}."] if compared else [])]


def retest_paragraphs(scores: SessionScores) -> list[str]:
    """Each test's sentence, once a side the bouts between the tests, and what one visit shows."""
    *said, last = retest_lines(scores.retest) or [""]
    return [part for part in (*said, *_between(scores), last) if part]


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
        template = words_visits.RETEST_BETWEEN["between" if bouts else "none"]
        lines.append(template.format(what=what, bouts=bouts))
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
    return ", ".join(_short_name(found) for found in tests)


def _short_name(found: RetestFinding) -> str:
    return " ".join(part for part in (found.test.replace("_", " "), found.side) if part)


# --- in short -------------------------------------------------------------------------


def retest_short(findings: Sequence[RetestFinding]) -> str:
    """How many tests changed by more than their error, which, and which cannot be judged.

    "" without tests. A single test that can be judged has its value in place of a count. A
    change that only the scatter of its repeats is smaller than is told with both errors, and
    not counted.
    """
    judged = [found for found in findings if found.finding != "not_decidable"]
    unknown = [found for found in findings if found.finding == "not_decidable"]
    changed = any(map(counts_as_changed, judged))
    parts = (
        *([_one(judged[0])] if len(judged) == 1 else _several(judged, unknown)),
        *_not_judged(unknown, of_all=len(findings)),
        *([sentence_case(ONE_VISIT)] if changed else []),
    )
    return " ".join(f"{part}." for part in parts)


def _one(found: RetestFinding) -> str:
    """The only test that can be judged: its change beside its error."""
    name = sentence_case(_short_name(found))
    if _only_beyond_repeats(found):
        return _beyond_repeats(found, name)
    kind = "one" if counts_as_changed(found) else "one_within" if found.change_deg else "one_same"
    return words_visits.RETEST_SHORT[kind].format(
        name=name,
        signed=_signed(found),
        error=number(_larger_error(found), retest_digits(found)),
        before=number(found.before_deg),
    )


def _several(judged: Sequence[RetestFinding], unknown: Sequence[RetestFinding]) -> list[str]:
    """How many of the tests that can be judged changed, and by how much the others did."""
    if not judged:
        return []
    words = words_visits.RETEST_SHORT
    beyond = [found for found in judged if counts_as_changed(found)]
    said = words["some" if beyond else "none"].format(
        n=len(beyond),
        all=len(judged),
        judged=words["judged"] if unknown else "",
        changes=_few([_change(found) for found in beyond]),
    )
    repeats = [
        _beyond_repeats(found, sentence_case(_short_name(found)))
        for found in judged
        if _only_beyond_repeats(found)
    ]
    return [said, *repeats, *_within(judged)]


def _not_judged(unknown: Sequence[RetestFinding], *, of_all: int) -> list[str]:
    """The tests that cannot be judged, the largest change first, and what would give an error."""
    if not unknown:
        return []
    words = words_visits.RETEST_SHORT
    by_size = sorted(
        unknown,
        key=lambda found: -abs(found.change_deg) if math.isfinite(found.change_deg) else 0.0,
    )
    if of_all == 1:
        said = _alone(unknown[0])
    else:
        kind = "all_unknown" if len(unknown) == of_all else "unknown"
        said = words[kind].format(
            n=len(unknown), all=of_all, names=_few([_unknown(found) for found in by_size])
        )
    no_error = any(_why(found) == words["why_error"] for found in unknown)
    return [said, *([words["take_three"]] if no_error else [])]


def _alone(found: RetestFinding) -> str:
    """The one test of a visit that cannot be judged, with what was read."""
    words = words_visits.RETEST_SHORT
    if not math.isfinite(found.change_deg):
        kind = "alone_half"
    else:
        kind = "alone" if found.change_deg else "alone_same"
    return words[kind].format(
        name=sentence_case(_short_name(found)),
        before=number(found.before_deg),
        after=number(found.after_deg),
        signed=_signed(found),
        why=_why(found),
    )


def _within(findings: Sequence[RetestFinding]) -> list[str]:
    """The tests that changed within their error, the largest change first; [] without any."""
    words = words_visits.RETEST_SHORT
    found = [f for f in findings if f.finding == "within_error" and f.change_deg]
    found.sort(key=lambda f: -abs(f.change_deg))
    said = [
        words["within_change"].format(
            name=_short_name(f), signed=_signed(f), error=number(f.error_deg, retest_digits(f))
        )
        for f in found
    ]
    return [words["within"].format(names=_few(said))] if said else []


def _few(parts: list[str]) -> str:
    """The first few, and how many more there are."""
    return ", ".join(_named(parts))


def _named(parts: list[str]) -> list[str]:
    more = words_visits.RETEST_SHORT["more"].format(n=len(parts) - MOST_NAMED)
    return parts if len(parts) <= MOST_NAMED else [*parts[:MOST_NAMED], more]


def _change(found: RetestFinding) -> str:
    """ "external rotation right fell by 10.0 deg (error 6.0)"."""
    digits = retest_digits(found)
    return words_visits.RETEST_SHORT["rose" if found.change_deg > 0 else "fell"].format(
        name=_short_name(found),
        change=number(abs(found.change_deg), digits),
        error=number(_larger_error(found), digits),
    )


def _larger_error(found: RetestFinding) -> float:
    """The error [deg] that a change has to pass: of the test, or of a new positioning."""
    return max(e for e in (found.error_deg, found.positioning_deg) if math.isfinite(e))


def _unknown(found: RetestFinding) -> str:
    """ "flexion right +13.0 deg (passive before, active after)"."""
    compared = math.isfinite(found.change_deg)
    words = words_visits.RETEST_SHORT
    return words["unknown_change" if compared else "unknown_name"].format(
        name=_short_name(found), signed=_signed(found), why=_why(found)
    )


def _why(found: RetestFinding) -> str:
    """Why a test cannot be judged, in a few words."""
    if found.explanation.startswith(NO_READING):
        return found.explanation.removeprefix(NO_READING[: -len("no reading")])
    if found.explanation.startswith(DONE_OTHERWISE):
        return found.explanation.removeprefix(DONE_OTHERWISE).split(")")[0].removeprefix(" (")
    if found.explanation.startswith(OTHER_RATERS):
        return OTHER_RATERS
    return words_visits.RETEST_SHORT["why_error"]


def _beyond_repeats(found: RetestFinding, name: str) -> str:
    digits = retest_digits(found)
    kind = "as_large" if _as_large_as_positioning(found) else "less"
    return words_visits.RETEST_POSITIONING[kind].format(
        name=name,
        signed=_signed(found),
        error=number(found.error_deg, digits),
        positioning=number(found.positioning_deg, digits),
    )


def retest_count(findings: Sequence[RetestFinding]) -> str:
    """The same for the picture, without names; a test that cannot be judged is no unchanged one."""
    beyond = sum(counts_as_changed(found) for found in findings)
    unknown = sum(found.finding == "not_decidable" for found in findings)
    judged = len(findings) - unknown
    if len(findings) == 1:
        return words_visits.RETEST_CHART["one" if beyond else "one_none" if judged else "unknown"]
    kind = "retest_judged" if unknown else "retest"
    if judged < 2:
        kind = "retest_unknown" if not judged else "retest_one" if beyond else "retest_one_none"
    return texts.FIGURE_FINDINGS[kind].format(
        beyond=beyond, judged=judged, unknown=unknown, all=len(findings)
    )
