"""Several bouts named in short."""

from __future__ import annotations

import pytest

from imucarry.basics.records import BoutRow, Notice
from imucarry.report.joined import joined
from imucarry.report.wording.bout_runs import bouts_named, numbers_in_short


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (("3", "4", "6", "7", "8"), "bouts 3, 4, 6 to 8"),
        (("4",), "bout 4"),
        (("1", "3", "4", "5", "6", "9"), "bouts 1, 3 to 6, 9"),
        (("8", "7", "6"), "bouts 8, 7, 6"),
        (("rack 6", "7"), "rack 6, bout 7"),
        ((), ""),
    ],
)
def test_bouts_that_follow_one_another_are_told_as_a_run(
    names: tuple[str, ...], words: str
) -> None:
    assert bouts_named([BoutRow(name, 0.0, 1.0) for name in names]) == words


def test_bouts_of_a_check_that_follow_one_another_are_told_as_a_run() -> None:
    assert numbers_in_short(["3", "4", "5", "6", "8"]) == ["3 to 6", "8"]
    assert numbers_in_short(["3", "rack 6"]) == ["3", "rack 6"]
    found = [(name, Notice("speed_differs", "faster")) for name in ("3", "4", "5")]
    assert [about for about, _ in joined(found)] == ["bouts 3 to 5"]
