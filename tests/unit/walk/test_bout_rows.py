"""Rows of a sheet without times are matched with the walks in the order walked."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from scores_builder import build_scores

from imucarry.basics.errors import SessionError
from imucarry.basics.records import BoutRow, Window
from imucarry.basics.settings import WalkSettings
from imucarry.walk import bout_rows
from imucarry.walk.swung import Walk

WALKS = (Window(10.0, 40.0), Window(60.0, 90.0), Window(110.0, 140.0))


def told(walks: tuple[Window, ...], *, by_swing: tuple[int, ...] = ()) -> tuple[Walk, ...]:
    return tuple(Walk(window, k in by_swing) for k, window in enumerate(walks))


@pytest.mark.parametrize(
    ("order", "starts_s"),
    [
        ((1.0, 2.0, 3.0), [10.0, 60.0, 110.0]),
        ((3.0, 1.0, 2.0), [110.0, 10.0, 60.0]),
        ((20.0, 7.5, 9.0), [110.0, 10.0, 60.0]),
        ((math.nan,) * 3, [10.0, 60.0, 110.0]),
    ],
)
def test_rows_are_matched_by_their_order(
    order: tuple[float, ...], starts_s: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bout_rows, "find_walks", lambda *_: told(WALKS))
    nan = math.nan
    rows = tuple(BoutRow(name, nan, nan, order=k) for name, k in zip("abc", order, strict=True))
    session = replace(build_scores().session, bout_rows=rows)
    timed = bout_rows.timed_rows(session, [], [], WalkSettings())
    assert [row.bout for row in timed] == ["a", "b", "c"]
    assert [row.start_s for row in timed] == starts_s


@pytest.mark.parametrize(
    ("walks", "said"),
    [
        (WALKS[:1], "3 rows without times, but 1 walking bout was found (10.0 to 40.0 s); write"),
        (WALKS[:2], "3 rows without times, but 2 walking bouts were found (10.0 to 40.0 s, 60.0"),
        ((), "3 rows without times, but 0 walking bouts were found (none); write"),
    ],
)
def test_another_count_is_told(
    walks: tuple[Window, ...], said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bout_rows, "find_walks", lambda *_: told(walks))
    nan = math.nan
    rows = tuple(BoutRow(name, nan, nan) for name in "abc")
    session = replace(build_scores().session, bout_rows=rows)
    with pytest.raises(SessionError, match=re.escape(said)):
        bout_rows.timed_rows(session, (), (), WalkSettings())


def test_rows_are_not_placed_on_walks_that_only_the_swing_shows(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # The count is right, but one of the walks may be talk, and another not found.
    monkeypatch.setattr(bout_rows, "find_walks", lambda *_: told(WALKS, by_swing=(1,)))
    nan = math.nan
    rows = tuple(BoutRow(name, nan, nan) for name in "abc")
    session = replace(build_scores().session, bout_rows=rows)
    said = "of which only the arm swing shows 60.0 to 90.0 s; write start_s and end_s"
    with pytest.raises(SessionError, match=re.escape(said)):
        bout_rows.timed_rows(session, (), (), WalkSettings())
