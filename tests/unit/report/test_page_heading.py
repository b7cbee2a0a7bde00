"""Whose visit the page is: its heading, its name in the browser, the foot of its sheets."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest
from scores_builder import build_scores, with_participant

from imucarry.basics.records import Session, SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.anonymous import person_code
from imucarry.report.assemble import assemble
from imucarry.report.heading import (
    css_string,
    heading,
    is_first_visit,
    short_heading,
    window_title,
)
from imucarry.report.page import render


@pytest.fixture(scope="module")
def session() -> Session:
    return replace(build_scores(visit=()).session, participant="C11", session="3",
                   date=date(2026, 10, 26))  # fmt: skip


def test_the_heading_is_person_visit_and_date(session: Session) -> None:
    assert heading(session) == "C11, visit 3, 26 October 2026"
    assert short_heading(session) == "C11, visit 3, 2026-10-26"
    assert window_title(session) == (
        "C11, visit 3, 2026-10-26: trunk rotation and arm swing under load"
    )


def test_a_visit_that_is_called_so_is_not_called_so_twice(session: Session) -> None:
    named = replace(session, session="Visit 3", date=None)
    assert heading(named) == short_heading(named) == "C11, Visit 3"


@pytest.mark.parametrize(
    ("name", "first"),
    [("1", True), ("01", True), ("visit 1", True), ("first", True), ("S1", True), ("2", False),
     ("11", False), ("21", False), ("visit 10", False), ("March", False)],
)  # fmt: skip
def test_which_visit_is_the_first(session: Session, name: str, first: bool) -> None:
    assert is_first_visit(replace(session, session=name)) == first


@pytest.mark.parametrize("words", ['"}*{display:none}', "</style><b>", "\\22 ", "a\nb\x0c"])
def test_no_sign_of_a_name_leaves_its_string(words: str) -> None:
    held = css_string(words)[1:-1]
    assert not set('"<>{}\n\x0c') & set(held)
    said = re.sub(r"\\([0-9a-f]+) ", lambda sign: chr(int(sign[1], 16)), held)
    assert said == words


def test_the_foot_and_the_names_of_an_anonymous_page_hold_the_code() -> None:
    page = render(with_participant(build_scores(), "Ada Quill"), Settings(), anonymous=True)
    code = person_code("Ada Quill")
    for part in ("@bottom-left{content:", "<title>", "<h1>"):
        assert page.partition(part)[2].lstrip('"').startswith(code)


def test_a_title_is_the_heading_and_the_person_stands_above() -> None:
    page = render(build_scores(), Settings(), title="Spring")
    assert "<title>Spring</title>" in page
    assert "<h1>Spring</h1>" in page
    assert '<p class="eyebrow">P07, visit 2, 14 March 2026</p>' in page.replace("\u00a0", " ")


@pytest.mark.parametrize(("name", "asked"), [("1", False), ("2", True)])
def test_a_first_visit_is_not_asked_for_an_earlier_one(name: str, asked: bool) -> None:
    scores: SessionScores = build_scores()
    scores = replace(scores, session=replace(scores.session, session=name))
    followed = assemble(scores, Settings(), title="", earlier=None).followed
    assert ("No earlier visit was given." in followed) == asked
    head = "Shoulder tests and earlier visits" if asked else "Shoulder tests"
    assert f'<h2 id="h-followed">{head}</h2>' in render(scores, Settings())


def test_a_ladder_is_named_by_its_finding_alone(page: str, scores: SessionScores) -> None:
    """The finding begins with the hold that the title ends with: it is heard once."""
    assert scores.ladder
    assert 'aria-labelledby="f-ladder-1"' in page
    assert 'aria-labelledby="t-rotation f-rotation"' in page


def test_the_scale_over_the_strips_has_its_unit_and_names_its_lines(page: str) -> None:
    head = page.partition('class="f-head"')[2].partition("</svg>")[0].replace("\u00a0", " ")
    assert "rotation, % of the free walk" in head
    how = page.partition('class="how">')[2].partition("<")[0].replace("\u00a0", " ")
    assert how.endswith("Not clear: it crosses 75 %.")
