"""Visits in order: dates first, then a number in the manifest, then names, which is told."""

from __future__ import annotations

import pytest

from imucarry.basics.records import Notice
from imucarry.carry.visit_order import StudyVisit, among_failed, natural, order_visits


def ordered(*visits: StudyVisit) -> tuple[list[str], list[Notice]]:
    """Return the names of one participant's sessions in their order, and the notices."""
    order, notices = order_visits(visits, "study.csv")
    return [session for _, session in sorted(order, key=lambda who: order[who])], notices


def visit(session: str, date: str = "", /, **manifest: str) -> StudyVisit:
    return StudyVisit("A", session, date, manifest)


def test_signs_that_look_like_digits_are_words() -> None:
    assert ordered(visit("²"), visit("1"))[0] == ["1", "²"]


def test_dates_of_the_sessions_come_first() -> None:
    """ "post" stands before "pre" in the alphabet; its date does not."""
    pre = visit("pre", "2026-01-01", date="2026-01-20", visit="2")
    post = visit("post", "2026-01-09", date="2026-01-10", visit="1")
    assert ordered(post, pre) == (["pre", "post"], [])


def test_a_session_without_a_date_has_the_manifests() -> None:
    pre, post = visit("pre", "2026-01-09"), visit("post", date="2026-01-01T08:00")
    assert ordered(pre, post) == (["post", "pre"], [])


@pytest.mark.parametrize("date", ["", "03/04/2026"])
def test_a_date_that_is_missing_leaves_the_order_to_a_number_in_the_manifest(date: str) -> None:
    visits = visit("pre", "2026-01-09", visit="1"), visit("post", date=date, visit="2.0")
    names, (notice,) = ordered(*visits)
    assert names == ["pre", "post"]
    assert (notice.code, notice.file, notice.severity) == ("visits_by_number", "study.csv", "note")
    assert "visits of 1 participant lack a date or share one" in notice.message
    assert "the manifest's column visit (A: pre, post)" in notice.message


def test_a_session_number_of_the_manifest_counts_where_visits_are_words() -> None:
    visits = visit("b", session="1", visit="baseline"), visit("a", session="2", visit="12wk")
    names, (notice,) = ordered(*visits)
    assert names == ["b", "a"]
    assert "column session (A: b, a)" in notice.message


@pytest.mark.parametrize("cells", [{}, {"visit": "baseline"}, {"visit": "1"}])
def test_names_decide_last_and_that_is_to_be_checked(cells: dict[str, str]) -> None:
    names, (notice,) = ordered(visit("10wk", **cells), visit("2wk", **cells))
    assert names == ["2wk", "10wk"]
    assert (notice.code, notice.where, notice.severity) == (
        "visits_by_name", "order of visits", "check",
    )  # fmt: skip
    assert "(A: 2wk, 10wk)" in notice.message
    assert "session.toml" in notice.message


def test_two_visits_of_one_day_are_told_apart_by_the_number() -> None:
    day = "2026-01-01"
    names, (notice,) = ordered(visit("noon", day, visit="2"), visit("pre", day, visit="1"))
    assert names == ["pre", "noon"]
    assert notice.code == "visits_by_number"


def test_each_participant_has_an_order_and_one_visit_needs_none() -> None:
    visits = [StudyVisit("B", "x", "2026-01-02"), StudyVisit("B", "y", "2026-01-01"),
              visit("a"), StudyVisit("C", "2"), StudyVisit("C", "10"), StudyVisit("D", "q"),
              StudyVisit("D", "p")]  # fmt: skip
    order, notices = order_visits(visits)
    assert order == {("B", "y"): 0, ("B", "x"): 1, ("A", "a"): 0, ("C", "2"): 0, ("C", "10"): 1,
                     ("D", "p"): 0, ("D", "q"): 1}  # fmt: skip
    (notice,) = notices
    assert notice.message.startswith(
        "visits of 2 participants lack a date or share one, so they are ordered by the session's "
        "name (C: 2, 10; D: p, q)"
    )
    many = [StudyVisit(who, name) for who in "ABCDEF" for name in "12"]
    assert "E: 1, 2; ...)" in order_visits(many)[1][0].message


def test_numbers_in_names_are_numbers() -> None:
    assert sorted(["10", "2", "1b", "1"], key=natural) == ["1", "1b", "2", "10"]


def test_a_visit_that_failed_keeps_its_place_among_the_others() -> None:
    scored = [visit("1", "2026-01-01"), visit("3", "2026-03-01"), StudyVisit("B", "1")]
    order, _ = order_visits(scored)
    for lost in (visit("2", "2026-02-01"), visit("2")):  # without a date its name tells its place
        found = among_failed(order, scored, [lost, StudyVisit("", "0"), StudyVisit("C", "1")])
        assert found == {("A", "1"): 0, ("A", "3"): 2, ("B", "1"): 0}


def test_a_failed_visit_without_a_date_does_not_turn_the_order_of_the_others() -> None:
    scored = [visit("b", "2026-01-01"), visit("a", "2026-03-01")]
    order, _ = order_visits(scored)
    assert among_failed(order, scored, [visit("c")]) == order == {("A", "b"): 0, ("A", "a"): 1}
