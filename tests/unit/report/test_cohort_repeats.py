"""What the cohort page says of repeats where too few participants repeated anything."""

from __future__ import annotations

from cohort_builder import cohort

from imucarry.report.cohort import render


def test_one_or_two_who_repeated_are_not_called_none() -> None:
    page = render(cohort([({}, {})]))
    assert "No condition was repeated by 3 participants or more" in page
    assert "No participant repeated" not in page


def test_which_visits_are_compared_is_said() -> None:
    page = render(cohort([({}, {})]))
    words = page.replace("&#39;", "'")
    assert "each participant's first two visits that have a value of the measure" in words
    assert "Participants of all groups are pooled" in words
    assert "pain above the limit or an early stop count here like the others" in words
