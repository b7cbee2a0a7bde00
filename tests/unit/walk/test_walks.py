"""The walks of a session's bouts."""

from __future__ import annotations

import pytest
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import BoutRow
from imucarry.basics.settings import WalkSettings
from imucarry.walk import walks


def test_sides_that_cannot_be_told_are_said_of_their_bout(monkeypatch: pytest.MonkeyPatch) -> None:
    trunks = [stepping(told_contacts(), sway=0.0).trunk, stepping(told_contacts()).trunk, None]
    given = iter(trunks)
    monkeypatch.setattr(walks, "_trunk", lambda *_: next(given))
    rows = [BoutRow(bout, 0.0, 10.0, "free", "none", 0.0) for bout in ("1", "2", "3")]
    found = walks.walks_of(rows, [], WalkSettings(), lambda *_: None)
    places = [[(n.code, n.where) for n in walk.contacts.notices] for walk in found]
    assert places == [[("side_unclear", "1")], [], []]
