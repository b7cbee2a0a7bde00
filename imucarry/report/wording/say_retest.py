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
from imucarry.report.wording.numbers import number
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
    sign = "+" if found.change_deg > 0 else ""
    return sign + number(found.change_deg, retest_digits(found))


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
    """How many tests changed by more than their error, which, and which cannot be told.

    "" without tests. A change that only the scatter of its repeats is smaller than is told
    with both errors, and not counted.
    """
    if not findings:
        return ""
    words = words_visits.RETEST_SHORT
    beyond = [found for found in findings if counts_as_changed(found)]
    unknown = sorted(
        (found for found in findings if found.finding == "not_decidable"),
        key=lambda found: -abs(found.change_deg) if math.isfinite(found.change_deg) else 0.0,
    )
    names = _few([_unknown(found) for found in unknown])
    kind = _kind(len(findings), len(beyond), len(unknown)) or ("some" if beyond else "none")
    if kind == "none" and len(unknown) == len(findings):
        kind = "all_unknown"
    is_one = kind in ("some", "none") and len(findings) - len(unknown) == 1
    said = words[f"{kind}_judged" if is_one else kind].format(
        n=len(beyond),
        all=len(findings) - (len(unknown) if kind != "all_unknown" else 0),
        judged=words["judged"] if unknown else "",
        changes=_few([_change(found) for found in beyond]),
        names=names,
    )
    apart = [words["unknown"].format(n=len(unknown), names=names)]
    repeats = [
        _beyond_repeats(found, sentence_case(_short_name(found)))
        for found in findings
        if _only_beyond_repeats(found)
    ]
    parts = (
        said,
        *repeats,
        *_within(findings),
        *(apart if unknown and kind in ("some", "none") else ()),
        *([sentence_case(ONE_VISIT)] if beyond else []),
    )
    return " ".join(f"{part}." for part in parts)


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
    errors = [e for e in (found.error_deg, found.positioning_deg) if math.isfinite(e)]
    return words_visits.RETEST_SHORT["rose" if found.change_deg > 0 else "fell"].format(
        name=_short_name(found),
        change=number(abs(found.change_deg), digits),
        error=number(max(errors), digits),
    )


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
    """The same for the picture, without names."""
    beyond = sum(counts_as_changed(found) for found in findings)
    unknown = sum(found.finding == "not_decidable" for found in findings)
    kind = _kind(len(findings), beyond, unknown)
    if kind:
        return words_visits.RETEST_CHART[kind]
    return texts.FIGURE_FINDINGS["retest"].format(beyond=beyond, all=len(findings))


def _kind(n_tests: int, beyond: int, unknown: int) -> str:
    """Which sentence says it of a single test; "" of several."""
    if n_tests != 1:
        return ""
    return "one" if beyond else "one_unknown" if unknown else "one_none"
