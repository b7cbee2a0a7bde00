"""A session folder that is a link leading back to itself is one row's failure."""

from __future__ import annotations

import csv
import os
from pathlib import Path

import pytest
from short_study import ShortSessions

from imucarry.cli.app import BAD_DATA, SOME_FAILED, exit_code

pytestmark = pytest.mark.skipif(os.name == "nt", reason="links need rights of their own on Windows")


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A study of one good session, and of one whose folder is a link to itself."""
    home = tmp_path / "home"
    ShortSessions().write(home / "s0", "P00", "1")
    (home / "loop").symlink_to(home / "other")
    (home / "other").symlink_to(home / "loop")
    (home / "study.csv").write_text("folder\ns0\nloop\n", encoding="utf-8")
    return home


def test_the_other_sessions_are_scored(home: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    command = ["cohort", str(home / "study.csv"), "--out", str(out), "--workers", "1", "-q"]
    assert exit_code(command) == SOME_FAILED
    with (out / "failures.csv").open(encoding="utf-8", newline="") as stream:
        (row,) = csv.DictReader(stream)
    assert row["folder"] == "loop"
    assert "is not there" in row["message"]
    assert (out / "sessions" / "s0" / "report.html").is_file()


@pytest.mark.parametrize("place", ["loop", "loop/out"])
def test_results_cannot_be_written_there(
    home: Path, tmp_path: Path, place: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    command = ["cohort", str(home / "study.csv"), "--out", str(tmp_path / place), "-q"]
    assert exit_code(command) == BAD_DATA
    (line,) = capsys.readouterr().err.splitlines()
    assert "a link that leads back to itself" in line
