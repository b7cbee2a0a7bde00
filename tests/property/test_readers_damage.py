"""Damaged sessions are scored, or refused in one line that names the place."""

from __future__ import annotations

from pathlib import Path

import pytest
from fuzz_session import (
    CASES_A_LAYOUT,
    damaged_session,
    ends_of,
    outcome,
    whole_session,
    write_files,
)


@pytest.mark.parametrize("block", range(6))
def test_damage_never_ends_in_a_traceback(tmp_path: Path, block: int) -> None:
    n_cases = 4 * CASES_A_LAYOUT
    bugs: list[str] = []
    ends = ends_of(f"tests {block}", range(n_cases), tmp_path, bugs.append)
    assert not bugs, bugs[0]
    assert ends.total() == n_cases
    assert 0 < ends["scored"] < n_cases


@pytest.mark.parametrize("number", range(8))
def test_undamaged_sessions_are_scored(tmp_path: Path, number: int) -> None:
    write_files(whole_session(f"whole/{number}"), tmp_path)
    assert outcome(tmp_path) == "scored"


def test_a_case_is_the_same_whenever_it_is_made() -> None:
    cases = [f"again/{number}" for number in range(CASES_A_LAYOUT)]
    first = [damaged_session(case) for case in cases]
    whole_session.cache_clear()
    assert [damaged_session(case) for case in cases] == first
    whole = whole_session("again/0")
    n_changed = [sum(files[name] != whole[name] for name in whole) for files in first]
    # The damaged file and, at times, one that was packed; some injuries find nothing to hurt.
    assert max(n_changed) <= 2
    assert sum(n > 0 for n in n_changed) >= CASES_A_LAYOUT // 2
