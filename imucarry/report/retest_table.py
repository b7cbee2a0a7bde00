"""Shoulder tests before and after as one table, a row a test."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from imucarry.basics.records import RetestFinding
from imucarry.carry.retest import counts_as_changed
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import say_retest, say_retest_short, words_visits
from imucarry.report.wording.degrees import degrees, tests_whole
from imucarry.report.wording.say import sentence_case


def retest_table(findings: Sequence[RetestFinding]) -> Table | None:
    """A row a test: before, after, change, the error it has to pass, and the finding.

    Those that changed stand first; what would give an error, and that one visit shows no lasting
    change, is said below. None without tests.
    """
    if not findings:
        return None
    words = words_visits.RETEST_TABLE
    whole = tests_whole(findings)
    star = any(map(_is_of_positioning, findings))
    rows = sorted(findings, key=lambda found: not counts_as_changed(found))
    return Table(
        words["caption"],
        words["test"],
        tuple(words[key] for key in ("before", "after", "change", "error", "finding")),
        tuple(_row(found, whole=whole) for found in rows),
        (*([words["star"]] if star else []), *say_retest_short.retest_notes(findings)),
    )


def on_top(tests: Table) -> Table:
    """The same table under a caption of its own: each table of a page is named once."""
    return replace(tests, caption=words_visits.RETEST_TABLE["caption_on_top"])


def _row(found: RetestFinding, *, whole: bool) -> TableRow:
    error = say_retest.larger_error(found)
    digits = say_retest.retest_digits(found)
    is_told = found.finding != "not_decidable"
    cells = (
        Cell(degrees(found.before_deg, whole=whole)),
        Cell(degrees(found.after_deg, whole=whole)),
        Cell(say_retest.signed_change(found, whole=whole)),
        Cell(degrees(error, digits, whole=whole), marks="*" if _is_of_positioning(found) else ""),
        Cell(
            say_retest.retest_finding(found), "" if is_told else say_retest_short.why_unknown(found)
        ),
    )
    return TableRow(sentence_case(say_retest.short_name(found)), cells)


def _is_of_positioning(found: RetestFinding) -> bool:
    """Whether the error that a change has to pass is that of a new positioning."""
    return found.positioning_deg > found.error_deg
