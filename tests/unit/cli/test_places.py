"""Places that nothing can be written to are one clear line, whatever the command."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from short_study import ShortSessions

from imucarry.cli.app import BAD_DATA, exit_code

EXAMPLE = Path(__file__).parents[3] / "data" / "example"
CHEST, BOUTS = EXAMPLE / "chest.csv", "bout,load_kg\n1,8\n2,16\n3,24\n"
posix = pytest.mark.skipif(os.name == "nt", reason="links need rights of their own on Windows")


@pytest.fixture(params=["loop", "loop/x", "n" * 300], ids=["loop", "below_loop", "long"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    (tmp_path / "loop").symlink_to(tmp_path / "other")
    (tmp_path / "other").symlink_to(tmp_path / "loop")
    return tmp_path / str(request.param)


def refused(command: list[str | Path], capsys: pytest.CaptureFixture[str]) -> str:
    assert exit_code([str(part) for part in command]) == BAD_DATA
    (line,) = capsys.readouterr().err.splitlines()
    return line


@posix
def test_a_demo(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert str(place) in refused(["demo", place], capsys)


@posix
def test_a_session_file(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert str(place) in refused(["preview", CHEST, "--write-session", place], capsys)


@posix
@pytest.mark.parametrize("place", ["loop/x", "n" * 300], ids=["below_loop", "long"], indirect=True)
def test_a_picture(place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("a.csv", "b.csv"):
        (tmp_path / name).write_text(BOUTS, encoding="utf-8")
    tables = [tmp_path / "a.csv", tmp_path / "b.csv"]
    command = ["agree", *tables, "--measure", "load_kg", "--picture", place]
    assert str(place) in refused(command, capsys)


@posix
def test_a_working_folder_that_was_removed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    session = tmp_path / "visit"
    ShortSessions().write(session, "P00", "1")
    assert "out" in refused(["score", session, "--out", "out", "-q"], capsys)
