"""Every threshold has a unit, a source and a reason, and is known by one key."""

from __future__ import annotations

from collections import Counter

import pytest

from imucarry.basics.evidence import ROOMS, Evidence, all_evidence
from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE
from imucarry.basics.settings import Settings, as_tree, set_as

ROWS = all_evidence()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.key)
def test_a_threshold_is_sourced(row: Evidence[object]) -> None:
    assert row.key.split(".")[0] in ROOMS
    assert row.unit
    assert len(row.why) > 10, row.why
    named = row.source.split(";")[0] in (ENGINEERING_CHOICE, COMMON_PRACTICE)
    assert named or any(character.isdigit() for character in row.source), row.source


def test_keys_are_unique() -> None:
    assert [key for key, n in Counter(row.key for row in ROWS).items() if n > 1] == []


def test_every_default_setting_is_some_evidence() -> None:
    values = [row.value for row in ROWS]
    loose = [
        f"{room}.{name}"
        for room, tree in as_tree(Settings()).items()
        for name, value in tree.items()
        if not any(type(value) is type(known) and value == known for known in values)
    ]
    assert loose == []


def test_every_setting_is_listed_as_it_is_written_in_a_file() -> None:
    places = set_as()
    values = {row.key: row.value for row in ROWS}
    settings = as_tree(Settings())
    assert sorted(places.values()) == sorted(
        f"[{room}] {name}" for room, fields in settings.items() for name in fields
    )
    for key, place in places.items():
        room, name = place.removeprefix("[").split("] ")
        assert settings[room][name] == values[key], key
