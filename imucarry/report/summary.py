"""The top of the page: who, what was found in each bout, the ladder, what to check."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from imucarry.basics.records import BoutResult, Notice, SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.bout_checks import FREE_ARM, SAFETY
from imucarry.report.glyphs import glyph, kept_strip
from imucarry.report.lookup import estimate_of, finding_shown
from imucarry.report.notices import checks, notes
from imucarry.report.views import CheckView, FindingView
from imucarry.report.wording import (
    say,
    say_aim,
    say_arms,
    say_checks,
    say_dose,
    say_gaps,
    texts,
    words_checks,
)
from imucarry.report.wording.free_arms import arm_in_doubt
from imucarry.report.wording.implements import several_implements
from imucarry.report.wording.side_doubt import side_in_doubt

DOUBTS_SHOWN: Final = 5
MUCH_LONGER: Final = 1.25


def who(scores: SessionScores) -> tuple[tuple[str, str], ...]:
    """Labelled facts of the visit, below the heading that names it."""
    session = scores.session
    worn = ", ".join(
        texts.PLACEMENTS.get(s.recording.placement, s.recording.placement) for s in scores.sensors
    )
    mass = f"{session.body_mass_kg:g} kg" if math.isfinite(session.body_mass_kg) else ""
    facts = (
        ("mass", mass),
        ("sensors", worn),
    )
    return tuple((texts.PAGE[key], value or texts.PAGE["not_given"]) for key, value in facts)


def finding(scores: SessionScores, bout: BoutResult, settings: Settings) -> FindingView:
    """What was found in one bout."""
    row, code = bout.data.row, finding_shown(bout)
    limits = settings.carry.reduced_pct, settings.carry.minimal_pct
    is_free = say.shown_as_free(bout, code)
    found = texts.HOLDS["free"] if is_free else texts.FINDING_MARK.get(code, code)
    mark = say_checks.beside(found, row)
    doubt = row.hold != "free" and side_in_doubt(scores, row.bout)
    return FindingView(
        anchor=f"bout-{bout.data.ordinal}",
        bout=say.bout_name(row),
        hold=say.hold_and_load(row, several_implements(scores.bouts)),
        mark=", ".join(filter(None, (mark, _arm_mark(bout, doubt=doubt)))),
        glyph=glyph("dash" if is_free else texts.FINDING_GLYPH.get(code, "dash")),
        rotation=_sentences(scores, bout, settings),
        arms=words_checks.SIDE_IN_DOUBT["arms"] if doubt else say_arms.arms(bout, limits),
        aim=_aim(bout),
        dose=say_dose.dose(bout),
        reading=_reading(scores, bout, settings.carry.reduced_pct),
        certainty=_certainty(bout, limits),
        strip=kept_strip(estimate_of(bout, "yaw_kept"), () if is_free else limits),
    )


def _sentences(scores: SessionScores, bout: BoutResult, settings: Settings) -> str:
    """What was noted of a bout and how the trunk turned; a note of an alarm comes first."""
    row, carry = bout.data.row, settings.carry
    note, first = say_checks.noted(row), say_checks.note_first(row)
    said = (
        note if first else "",
        say.stopped(bout),
        say_checks.pain_within(row, carry.pain_limit_0_10),
        say.rotation(scores, bout, (carry.reduced_pct, carry.minimal_pct)),
        "" if first else note,
    )
    return " ".join(filter(None, said))


def _arm_mark(bout: BoutResult, *, doubt: bool) -> str:
    """What the mark adds of the arms: a loaded side in `doubt`, or a free arm that swung less."""
    if doubt:
        return words_checks.SIDE_IN_DOUBT["mark"]
    fell = bout.data.trunk is not None and any(n.code == FREE_ARM for n in bout.notices)
    if not fell:
        return ""
    return words_checks.ARM_IN_DOUBT if arm_in_doubt(bout) else texts.ARM_MARK["reduced"]


def _reading(scores: SessionScores, bout: BoutResult, reduced_pct: float) -> str:
    """What the finding means for the aim, and the number that the aim asks for."""
    if side_in_doubt(scores, bout.data.row.bout) or arm_in_doubt(bout):
        bout = replace(bout, notices=tuple(n for n in bout.notices if n.code != FREE_ARM))
    reading = say.aim_reading(bout, several_implements(scores.bouts))
    number = say_aim.aim_number(scores, bout, reduced_pct) if reading else ""
    return " ".join(part for part in (reading, number) if part)


def _certainty(bout: BoutResult, limits: say.Limits) -> str:
    """How sure the finding is, and how much of the chest's data is missing."""
    sure = say.certainty(bout, *limits)
    return "; ".join(filter(None, (sure, say_gaps.without_chest(bout.data) if sure else "")))


def _aim(bout: BoutResult) -> str:
    aim = bout.data.row.aim
    if not aim:
        return "" if bout.data.row.hold in ("free", "unknown") else texts.AIMS[""]
    return texts.PAGE["aim_label"].format(aim=texts.AIMS.get(aim, aim))


def alarm_views(scores: SessionScores) -> tuple[CheckView, ...]:
    """Pain, early stops and symptoms, worst first."""
    return tuple(CheckView("", n.message, n.code) for n in say_checks.safety(scores))


def check_views(scores: SessionScores) -> tuple[CheckView, ...]:
    """What else to look at before believing the findings."""
    doubts = (item for item in checks(scores) if item[1].code not in SAFETY)
    return tuple(_view(about, notice) for about, notice in doubts)


def n_checks_shown(n_checks: int) -> int:
    """How many checks stand on the first screen; the others are among the notes."""
    return n_checks if n_checks <= DOUBTS_SHOWN else DOUBTS_SHOWN - 1


def checks_across(
    shown: Sequence[CheckView], ladder: Sequence[str], followed: Sequence[str]
) -> bool:
    """Whether the checks stand across the page, below the boxes, instead of beside the first.

    They do where the page would stay empty below the first box: where they, and what stands
    between, are much longer than what it says.
    """
    checks = (words for check in shown for words in (check.about, check.message))
    n_beside = sum(map(len, (*checks, *(followed if ladder else ()))))
    return n_beside > MUCH_LONGER * sum(map(len, ladder or followed))


def note_views(scores: SessionScores) -> tuple[CheckView, ...]:
    """What was noted on the way."""
    return tuple(_view(about, notice) for about, notice in notes(scores))


def _view(about: str, notice: Notice) -> CheckView:
    return CheckView(*say_checks.as_sentence(about, notice), notice.code)
