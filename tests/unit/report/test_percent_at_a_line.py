"""A share beside a line has the digits that show on which side of it it lies."""

from __future__ import annotations

import pytest

from imucarry.report.wording import say
from imucarry.report.wording.numbers import NONE


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (73.6, "74"),
        (74.6, "74.6"),
        (74.956, "74.96"),
        (74.992, "74.99"),
        (75.0, "75"),
        (75.004, "75.004"),
        (40.010, "40.01"),
        (39.96, "39.96"),
        (float("nan"), NONE),
    ],
)
def test_a_share_is_never_rounded_onto_a_line(value: float, shown: str) -> None:
    assert say.percent(value, (75.0, 40.0)) == shown
