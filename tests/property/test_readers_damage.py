"""Damaged sessions are read, or refused in one line that names the place."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from fuzz import damaged_session, invented_motion, outcome


@pytest.mark.parametrize("block", range(6))
def test_damage_never_ends_in_a_traceback(tmp_path: Path, block: int) -> None:
    motion = invented_motion(240)
    ends = set()
    for number in range(50):
        damaged_session(tmp_path, random.Random(f"tests/{block}/{number}"), motion)
        ends.add(outcome(tmp_path))
    assert "read" in ends
    assert len(ends) > 1
