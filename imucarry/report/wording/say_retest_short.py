"""Shoulder tests before and after in short: a sentence or two for all of them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from imucarry.basics.records import RetestFinding
from imucarry.carry.retest import (
    DONE_OTHERWISE,
    NO_READING,
    ONE_VISIT,
    OTHER_RATERS,
    counts_as_changed,
)
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.degrees import degrees, tests_whole
from imucarry.report.wording.say import sentence_case
from imucarry.report.wording.say_retest import (
    beyond_repeats,
    larger_error,
    only_beyond_repeats,
    retest_digits,
    short_name,
    signed_change,
)

MOST_NAMED: Final = 4
"""Tests that the short sentence names."""


def retest_short(findings: Sequence[RetestFinding], *, brief: bool = False) -> str:
    """How many tests changed by more than their error, which, and which cannot be judged.

    "" without tests. A single test that can be judged has its value in place of a count. A
    change that only the scatter of its repeats is smaller than is told with both errors, and
    not counted. Where it is `brief`, changes within the error are not listed.
    """
    whole = tests_whole(findings)
    judged = [found for found in findings if found.finding != "not_decidable"]
    unknown = [found for found in findings if found.finding == "not_decidable"]
    changed = any(map(counts_as_changed, judged))
    parts = (
        *(
            [_one(judged[0], whole)]
            if len(judged) == 1
            else _several(judged, unknown, whole=whole, brief=brief)
        ),
        *_not_judged(unknown, whole, of_all=len(findings)),
        *([sentence_case(ONE_VISIT)] if changed else []),
    )
    return " ".join(f"{part}." for part in parts)


def retest_notes(findings: Sequence[RetestFinding]) -> list[str]:
    """What stands below the table of all tests: what would give an error, what one visit shows."""
    words = words_visits.RETEST_SHORT
    changed = any(map(counts_as_changed, findings))
    said = [
        words["take_three"] if _error_unknown(findings) else "",
        sentence_case(ONE_VISIT) if changed else "",
    ]
    return [f"{part}." for part in said if part]


def _one(found: RetestFinding, whole: bool) -> str:
    """The only test that can be judged: its change beside its error."""
    name = sentence_case(short_name(found))
    if only_beyond_repeats(found):
        return beyond_repeats(found, name, whole=whole)
    kind = "one" if counts_as_changed(found) else "one_within" if found.change_deg else "one_same"
    return words_visits.RETEST_SHORT[kind].format(
        name=name,
        signed=signed_change(found, whole=whole),
        error=degrees(larger_error(found), retest_digits(found), whole=whole),
        before=degrees(found.before_deg, whole=whole),
    )


def _several(
    judged: Sequence[RetestFinding], unknown: Sequence[RetestFinding], *, whole: bool, brief: bool
) -> list[str]:
    """How many of the tests that can be judged changed, and by how much the others did."""
    if not judged:
        return []
    words = words_visits.RETEST_SHORT
    beyond = [found for found in judged if counts_as_changed(found)]
    said = words["some" if beyond else "none"].format(
        n=len(beyond),
        all=len(judged),
        judged=words["judged"] if unknown else "",
        changes=_few([_change(found, whole) for found in beyond]),
    )
    repeats = [
        beyond_repeats(found, sentence_case(short_name(found)), whole=whole)
        for found in judged
        if only_beyond_repeats(found)
    ]
    return [said, *repeats, *([] if brief else _within(judged, whole))]


def _not_judged(unknown: Sequence[RetestFinding], whole: bool, *, of_all: int) -> list[str]:
    """The tests that cannot be judged, the largest change first, and what would give an error."""
    if not unknown:
        return []
    words = words_visits.RETEST_SHORT
    by_size = sorted(
        unknown,
        key=lambda found: -abs(found.change_deg) if math.isfinite(found.change_deg) else 0.0,
    )
    if of_all == 1:
        said = _alone(unknown[0], whole)
    else:
        kind = "all_unknown" if len(unknown) == of_all else "unknown"
        said = words[kind].format(
            n=len(unknown), all=of_all, names=_few([_unknown(found, whole) for found in by_size])
        )
    return [said, *([words["take_three"]] if _error_unknown(unknown) else [])]


def _error_unknown(findings: Sequence[RetestFinding]) -> bool:
    """Whether a test cannot be judged for want of an error."""
    unknown = [found for found in findings if found.finding == "not_decidable"]
    return any(why_unknown(found) == words_visits.RETEST_SHORT["why_error"] for found in unknown)


def _alone(found: RetestFinding, whole: bool) -> str:
    """The one test of a visit that cannot be judged, with what was read."""
    words = words_visits.RETEST_SHORT
    if not math.isfinite(found.change_deg):
        kind = "alone_half"
    else:
        kind = "alone" if found.change_deg else "alone_same"
    return words[kind].format(
        name=sentence_case(short_name(found)),
        before=degrees(found.before_deg, whole=whole),
        after=degrees(found.after_deg, whole=whole),
        signed=signed_change(found, whole=whole),
        why=why_unknown(found),
    )


def _within(findings: Sequence[RetestFinding], whole: bool) -> list[str]:
    """The tests that changed within their error, the largest change first; [] without any."""
    words = words_visits.RETEST_SHORT
    found = [f for f in findings if f.finding == "within_error" and f.change_deg]
    found.sort(key=lambda f: -abs(f.change_deg))
    said = [
        words["within_change"].format(
            name=short_name(f),
            signed=signed_change(f, whole=whole),
            error=degrees(larger_error(f), retest_digits(f), whole=whole),
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


def _change(found: RetestFinding, whole: bool) -> str:
    """ "external rotation right fell by 10.0 deg (error 6.0)"."""
    digits = retest_digits(found)
    return words_visits.RETEST_SHORT["rose" if found.change_deg > 0 else "fell"].format(
        name=short_name(found),
        change=degrees(abs(found.change_deg), digits, whole=whole),
        error=degrees(larger_error(found), digits, whole=whole),
    )


def _unknown(found: RetestFinding, whole: bool) -> str:
    """ "flexion right +13.0 deg (passive before, active after)"."""
    compared = math.isfinite(found.change_deg)
    words = words_visits.RETEST_SHORT
    return words["unknown_change" if compared else "unknown_name"].format(
        name=short_name(found), signed=signed_change(found, whole=whole), why=why_unknown(found)
    )


def why_unknown(found: RetestFinding) -> str:
    """Why a test cannot be judged, in a few words."""
    if found.explanation.startswith(NO_READING):
        return found.explanation.removeprefix(NO_READING[: -len("no reading")])
    if found.explanation.startswith(DONE_OTHERWISE):
        return found.explanation.removeprefix(DONE_OTHERWISE).split(")")[0].removeprefix(" (")
    if found.explanation.startswith(OTHER_RATERS):
        return OTHER_RATERS
    return words_visits.RETEST_SHORT["why_error"]


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
