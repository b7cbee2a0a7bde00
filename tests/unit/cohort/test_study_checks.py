"""What contradicts itself between a study's sessions, or between them and the manifest."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from imucarry.cohort.gather import Scored
from imucarry.cohort.study_checks import contradictions

LINES = iter(range(2, 100_000))


def visit(
    participant: str, session: str, date: str = "", mass_kg: float | None = None, /, **cells: str
) -> Scored:
    run = {"body_mass_kg": mass_kg, "notices": []}
    return Scored(participant, session, Path(participant), cells, date, run, "", line=next(LINES))


def told(*scored: Scored) -> Iterator[tuple[str, str, list[str]]]:
    """Yield code, message and the sessions of each check."""
    for one in contradictions(scored, "study.csv"):
        assert one.notice.severity == "check"
        yield one.notice.code, one.notice.message, [item.name for item in one.sessions]


def test_a_row_that_is_not_its_session_is_told() -> None:
    one = visit("P1", "1", "2026-03-02", 60.0,
                participant="P1", session="1", date="2026-03-02", body_mass_kg="60.4")  # fmt: skip
    two = visit("P2", "2", "2026-03-10", 63.5,
                participant="P1", session="9", date="2027-03-10", body_mass_kg="90")  # fmt: skip
    ((code, message, sessions),) = told(one, two)
    assert (code, sessions) == ("manifest_contradicts_session", ["P2, visit 2"])
    assert message.startswith(
        "the manifest says participant P1, session 9, date 2027-03-10, body_mass_kg 90, the "
        "session itself participant P2, session 2, date 2026-03-10, body_mass_kg 63.5"
    )
    (check,) = contradictions([one, two], "study.csv")
    assert check.notice.file == "study.csv"
    assert check.notice.where.startswith(f"line {two.line}, column participant, session")


@pytest.mark.parametrize(
    "cells",
    [
        {"participant": "p1", "session": "02", "date": "2026-03-02T09:30", "body_mass_kg": "60,4"},
        {"participant": "", "session": " ", "date": "", "body_mass_kg": ""},
        {"date": "2 March", "body_mass_kg": "sixty"},
        {"participant": "subject 17", "session": "post"},  # other codes, not one as in the sessions
    ],
)
def test_other_ways_of_writing_are_no_contradiction(cells: dict[str, str]) -> None:
    assert list(told(visit("P1", "2", "2026-03-02", 60.0, **cells))) == []


def test_two_rows_that_were_swapped_are_told_both() -> None:
    found = list(told(visit("P1", "1", participant="P2"), visit("P2", "1", participant="P1")))
    assert [sessions for _, _, sessions in found] == [["P1, visit 1"], ["P2, visit 1"]]


def test_codes_that_differ_in_case_spaces_or_zeros_are_told() -> None:
    scored = [visit("P11", "1"), visit("P11", "3"), visit("p 11", "2"), visit("P12", "1")]
    ((code, message, sessions),) = told(*scored)
    assert (code, sessions) == ("participants_alike", ["p 11, visit 2"])
    assert message.startswith("'P11' and 'p 11' count as different participants")
    assert [code for code, *_ in told(visit("P01", "1"), visit("P1", "2"))] == [
        "participants_alike"
    ]
    assert list(told(visit("P10", "1"), visit("P1", "2"), visit("P100", "1"))) == []


def test_numbers_against_dates_are_told() -> None:
    first, second = visit("P1", "1", "2026-03-11"), visit("P1", "2", "2026-02-01")
    ((code, message, sessions),) = told(first, second)
    assert (code, sessions) == ("dates_against_numbers", ["P1, visit 2", "P1, visit 1"])
    assert message.startswith("P1, visit 2 (2026-02-01) has the greater number and the earlier")
    by_manifest = [
        visit("P1", "a", date="2026-03-11", visit="1"),
        visit("P1", "b", date="2026-02-01", visit="2"),
    ]  # fmt: skip
    assert [code for code, *_ in told(*by_manifest)] == ["dates_against_numbers"]


@pytest.mark.parametrize(
    "visits",
    [
        [("1", "2026-03-11"), ("2", "2026-03-18"), ("10", "2026-03-25")],
        [("1", "2026-03-11"), ("2", "2026-03-11")],
        [("2", "2026-03-11"), ("1", "")],
        [("post", "2026-03-11"), ("pre", "2026-03-18")],
    ],
)
def test_numbers_that_do_not_contradict_the_dates_are_not_told(
    visits: list[tuple[str, str]],
) -> None:
    assert list(told(*(visit("P1", name, date) for name, date in visits))) == []


def test_a_year_far_from_the_others_is_told_once() -> None:
    dates = ("2026-03-02", "2206-03-09", "2026-03-16")
    ((code, message, sessions),) = told(
        *(visit("P1", str(k), date) for k, date in enumerate(dates, start=1))
    )
    assert (code, sessions) == ("date_far", ["P1, visit 2"])
    assert message.startswith(
        "P1, visit 2 is dated 2206-03-09, the study's other visits about 2026"
    )
    assert (
        list(told(visit("P1", "1", "2016-01-01"), *(visit("P2", n, "2026-01-01") for n in "12")))
        == []
    )


def test_a_body_mass_that_changes_much_is_told() -> None:
    ((code, message, sessions),) = told(
        visit("P7", "1", "", 78.0),
        visit("P7", "2", "", 180.0),
        visit("P8", "1", "", 50.0),
    )
    assert (code, sessions) == ("body_mass_differs", ["P7, visit 1", "P7, visit 2"])
    assert message.startswith("body mass of 78 kg in P7, visit 1, of 180 kg in P7, visit 2")
    assert list(told(visit("P7", "1", "", 78.0), visit("P7", "2", "", 85.0))) == []
    assert list(told(visit("P7", "1", "", 78.0), visit("P7", "2"))) == []
