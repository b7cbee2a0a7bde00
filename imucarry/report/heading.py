"""Whose visit a page shows: its heading, its name in the browser, the foot of each sheet."""

from __future__ import annotations

import re
from typing import Final

from imucarry.basics.records import Session
from imucarry.report.wording.words_page import MONTHS, PAGE

FIRST_VISIT: Final = re.compile(r"\D*0*1|\D*first\D*", re.IGNORECASE)
SAYS_VISIT: Final = re.compile(r"(visit|session)\b", re.IGNORECASE)
PLAIN: Final = re.compile(r"[^\w ,.\-]")
"""What a string of a style sheet and the page around it might read as their own signs."""


def heading(session: Session) -> str:
    """The person, the visit and its date in full, as ``C11, visit 3, 26 October 2026``."""
    day = session.date
    named = f"{day.day} {MONTHS[day.month - 1]} {day.year}" if day else ""
    return _visit(session, named)


def short_heading(session: Session) -> str:
    """The person, the visit and its date in figures, as ``C11, visit 3, 2026-10-26``."""
    return _visit(session, session.date.isoformat() if session.date else "")


def window_title(session: Session) -> str:
    """What the browser calls the page, and the file that it is printed to."""
    about = PAGE["title"]
    return f"{short_heading(session)}: {about[0].lower()}{about[1:]}"


def is_first_visit(session: Session) -> bool:
    """Whether the visit is called the first: ``1``, ``visit 1``, ``first``."""
    return FIRST_VISIT.fullmatch(session.session.strip()) is not None


def sheet_foot(words: str) -> str:
    """Return the rule of a style sheet for the foot of each printed sheet.

    Parameters
    ----------
    words : str
        Whose page it is, left of the number of the sheet; "" for the number alone.
    """
    whose = f"@bottom-left{{content:{css_string(words)}}}" if words else ""
    of = css_string(PAGE["sheet_of"])
    number = f"@bottom-right{{content:counter(page) {of} counter(pages)}}"
    return f"@media print{{@page{{{whose}{number}}}}}"


def css_string(words: str) -> str:
    """Words as a quoted string of a style sheet, in which every sign is harmless."""
    return '"' + PLAIN.sub(lambda sign: f"\\{ord(sign[0]):x} ", words) + '"'


def _visit(session: Session, date: str) -> str:
    named = session.session
    if not SAYS_VISIT.match(named):
        named = PAGE["visit"].format(visit=named)
    return ", ".join(part for part in (session.participant, named, date) if part)
