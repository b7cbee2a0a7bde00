"""The list of sessions to look at first, as the cohort page shows it."""

from __future__ import annotations

import re

from cohort_builder import cohort

from imucarry.basics.records import Notice
from imucarry.report.cohort import SessionLink, render


def listed(*checks: tuple[str, str, str]) -> tuple[str, str]:
    """Return what stands open in the list and what is folded; checks are (code, bout, words)."""
    notices = tuple(
        Notice(code, words, where=bout, severity="check") for code, bout, words in checks
    )
    bouts = [
        ({"bout": "3", "pain_0_10": 2.0}, {}),
        ({"bout": "5", "stop_reason": "dizzy", "pain_0_10": 7.0}, {}),
        ({"bout": "8", "stop_reason": "chest tightness"}, {}),
    ]
    links = (SessionLink("P1", "1", "page.html", (), notices),)
    page = render(cohort(bouts, sessions=links))
    (found,) = re.findall(r'<ul class="looked">(.*?)</section>', page, re.DOTALL)
    folded = "".join(re.findall(r"<details>(.*?)</details>", found, re.DOTALL))
    return re.sub(r"<details>.*?</details>", "", found, flags=re.DOTALL), folded


PAIN = ("pain", "3", "pain 2 of 10")
DIZZY = ("stopped_early", "5", "stopped: dizzy (pain 7 of 10)")
CHEST = ("stopped_early", "8", "stopped: chest tightness")


def test_every_alarm_stands_open_the_rest_is_folded_and_counted_on_paper() -> None:
    shown, folded = listed(PAIN, DIZZY, CHEST)
    assert shown.index("dizzy") < shown.index("chest tightness")
    assert "Pain 2 of 10" in folded
    assert '<span class="printed"> (1 more to check)</span>' in shown


def test_nothing_is_folded_where_there_are_alarms_alone() -> None:
    shown, folded = listed(DIZZY, CHEST)
    assert folded == ""
    assert "more to check" not in shown


def test_checks_of_the_study_lead_the_list_and_notes_stay_with_the_reliability() -> None:
    odd = [
        Notice("same_recording", f"said of pair {k}", "study.csv", "column folder", "check")
        for k in range(12)
    ]
    note = Notice("visits_by_number", "said of the order", "study.csv", "order of visits")
    own = (Notice("side_unclear", "said of P1", severity="check"),)
    links = (SessionLink("P1", "1", "page.html", (), own),)
    page = render(cohort([({}, {})], sessions=links, notices=(*odd, note)))
    checks, rest = page.split('id="reliability"')
    found = checks[checks.index('id="checks"') :]
    places = [found.index(f"Said of pair {k}<") for k in range(12)] + [found.index("Said of P1")]
    assert places == sorted(places)
    (folded,) = re.findall(r"<details>(.*?)</details>", found.split("Said of P1")[0], re.DOTALL)
    assert [f"pair {k}<" in folded for k in range(12)] == [False] * 10 + [True] * 2
    assert "Said of pair" not in rest
    assert "Said of the order" in rest
    assert "Said of the order" not in found
