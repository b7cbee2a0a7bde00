"""Shoulder tests around several bouts: what is compared, what lies between, what is told."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import numpy as np
import pytest

from imucarry.basics.records import BoutRow, RomReading
from imucarry.basics.settings import CarrySettings
from imucarry.carry.retest import compare_tests
from imucarry.carry.rom_sittings import (
    SEVERAL_BOUTS,
    bouts_between,
    first_and_last,
    sitting_notices,
)
from imucarry.carry.rom_spread import sets_of

When = Literal["before", "after"]


def sitting(when: When, bout: str, *values: float) -> list[RomReading]:
    return [RomReading("er", "right", when, value, bout=bout) for value in values]


AROUND_4 = [*sitting("before", "4", 60, 61, 60), *sitting("after", "4", 66, 67, 66)]
AROUND_7 = [*sitting("before", "7", 66, 66, 67), *sitting("after", "7", 66, 67, 66)]
ROWS = [BoutRow(name, k, k + 1.0, hold="suitcase", loaded_side="right")
        for k, name in enumerate(("2", "4", "5", "7", "9"))]  # fmt: skip


def test_sittings_around_two_bouts_are_not_one() -> None:
    """By hand: four sets, each with squares 2/3, over 8 df; t(0.975, 8) = 2.306004 (tables)."""
    (found,) = compare_tests([*AROUND_4, *AROUND_7], CarrySettings())
    assert found.before_deg == pytest.approx(181 / 3)
    assert found.after_deg == pytest.approx(199 / 3)
    assert found.error_deg == pytest.approx(2.306004 * np.sqrt(8 / 3 / 8) * np.sqrt(2 / 3))
    assert found.finding == "increased_more_than_error"
    assert len(sets_of([*AROUND_4, *AROUND_7])) == 4


def test_what_is_compared_of_several_bouts_is_a_check() -> None:
    (notice,) = sitting_notices([*AROUND_7, *AROUND_4])
    assert (notice.code, notice.severity) == (SEVERAL_BOUTS, "check")
    assert notice.message == (
        "er right: tests before or after name several bouts: those before bout 4 are compared "
        "with those after bout 7 (around bout 4: 60.3 to 66.3 deg; around bout 7: 66.3 to 66.3 deg)"
    )
    unnamed = [*sitting("before", "", 60), *AROUND_7]
    assert "those before that name no bout are compared" in sitting_notices(unnamed)[0].message
    assert sitting_notices(AROUND_4) == ()
    other_side = [replace(item, side="left") for item in AROUND_7]
    assert sitting_notices([*AROUND_4, *other_side]) == ()
    assert sitting_notices([*sitting("before", "2", 60), *sitting("after", "9", 66)]) == ()


def test_the_sessions_bouts_tell_which_sitting_is_first() -> None:
    given = [replace(item, bout=f"suit_{item.bout}") for item in (*AROUND_4, *AROUND_7)]
    before, after = first_and_last(given, ["suit_7", "suit_4"])
    assert {item.bout for item in before} == {"suit_7"}
    assert {item.bout for item in after} == {"suit_4"}
    before, after = first_and_last(given)
    assert (before[0].bout, after[0].bout) == ("suit_4", "suit_7")
    ten = [*sitting("before", "10", 60), *sitting("before", "9", 60), *sitting("after", "10", 60)]
    assert first_and_last(ten)[0][0].bout == "9"


def test_a_test_after_an_earlier_bout_is_not_compared_with_one_before_a_later() -> None:
    given = [*sitting("after", "4", 66, 67, 66), *sitting("before", "7", 60, 61, 60)]
    (found,) = compare_tests(given, CarrySettings(), mdc_deg=2.0)
    assert (found.finding, found.explanation) == ("not_decidable", "there is no reading after")
    (notice,) = sitting_notices(given)
    assert notice.message == (
        "er right: the tests after are around earlier bouts than those before: they are not "
        "compared"
    )


@pytest.mark.parametrize(
    ("before", "after", "between"),
    [
        ("2", "7", "2 4 5 7"), ("4", "4", "4"), ("", "", "2 4 5 7 9"), ("", "5", "2 4 5"),
        ("5", "", "5 7 9"),
    ],
)  # fmt: skip
def test_bouts_between_run_from_the_one_before_to_the_one_after(
    before: str, after: str, between: str
) -> None:
    given = [*sitting("before", before, 60), *sitting("after", after, 66)]
    (found,) = compare_tests(given, CarrySettings(), bouts=[row.bout for row in ROWS])
    assert [row.bout for row in bouts_between(found, given, ROWS)] == between.split()


def test_sittings_done_otherwise_leave_those_compared_their_own_repeats() -> None:
    between = [replace(item, method="tape") for item in sitting("after", "5", 80, 90, 85)]
    more = [*sitting("before", "4", 60, 60), *sitting("after", "7", 66, 67)]
    (found,) = compare_tests([*AROUND_4, *between, *AROUND_7, *more], CarrySettings())
    assert found.error_source.endswith("(this side, 8 df)")
