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
