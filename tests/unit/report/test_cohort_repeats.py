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
    assert "each participant's first two visits, by date" in page.replace("&#39;", "'")
