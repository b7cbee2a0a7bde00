"""One session's work: what it rests on, and when it is done again."""

from __future__ import annotations

import errno
import gzip
import json
from dataclasses import replace
from pathlib import Path

import pytest
from short_study import ShortSessions, every_file, spoil

import imucarry.api
from imucarry.basics.errors import UnknownFormatError
from imucarry.basics.settings import Settings, WalkSettings
from imucarry.cohort.task import Task, do_task, finished, session_key


@pytest.fixture
def task(tmp_path: Path) -> Task:
    """A short session that can be scored."""
    ShortSessions().write(tmp_path / "in", "P1", "1")
    out = tmp_path / "out"
    return Task(0, "in", tmp_path / "in", out / "in", out / ".finished" / "in.json", Settings())


def test_a_scored_session_is_finished_and_done_once(task: Task) -> None:
    first = do_task(task)
    assert (first.error, first.kept) == ("", False)
    before = {path: path.stat().st_mtime_ns for path in task.out.iterdir()}
    again = do_task(task)
    assert (again.error, again.kept) == ("", True)
    assert {path: path.stat().st_mtime_ns for path in task.out.iterdir()} == before


@pytest.mark.parametrize("name", ["report.html", "strides.csv", "run.json"])
@pytest.mark.parametrize("how", ["emptied", "removed"])
def test_a_damaged_result_is_written_again(task: Task, name: str, how: str) -> None:
    do_task(task)
    before = every_file(task.out.parent)
    if how == "emptied":
        (task.out / name).write_bytes(b"")
    else:
        (task.out / name).unlink()
    assert finished(task, session_key(task.folder, task.settings)) is None
    assert do_task(task).error == ""
    assert every_file(task.out.parent) == before


def test_a_damaged_key_file_is_no_finished_session(task: Task) -> None:
    do_task(task)
    before = every_file(task.out.parent)
    for text in ("", "[]", "{", '{"key": 1}', json.dumps({"key": "x", "error": "", "files": 3})):
        task.key_file.write_text(text)
        assert do_task(task).error == ""
        assert every_file(task.out.parent) == before


def test_the_key_follows_inputs_settings_and_files_elsewhere(task: Task, tmp_path: Path) -> None:
    keys = [session_key(task.folder, task.settings)]
    other = replace(Settings(), walk=replace(WalkSettings(), trim_strides=2))
    keys.append(session_key(task.folder, other))
    (task.folder / "bouts.csv").write_text((task.folder / "bouts.csv").read_text() + "\n")
    keys.append(session_key(task.folder, task.settings))
    outside = tmp_path / "shared.csv"
    outside.write_bytes((task.folder / "chest.csv").read_bytes())
    toml = task.folder / "session.toml"
    toml.write_text(toml.read_text().replace('file = "chest.csv"', 'file = "../shared.csv"'))
    keys.append(session_key(task.folder, task.settings))
    outside.write_bytes(outside.read_bytes() + b"\n")
    keys.append(session_key(task.folder, task.settings))
    assert len(set(keys)) == len(keys)
    assert session_key(task.folder, task.settings) == keys[-1]


def test_a_session_file_alone_does_not_count_its_neighbours(task: Task, tmp_path: Path) -> None:
    toml = task.folder / "session.toml"
    key = session_key(toml, task.settings)
    (task.folder / "neighbour.csv").write_text("1")
    assert session_key(toml, task.settings) == key
    (task.folder / "bouts.csv").write_text("2")
    assert session_key(toml, task.settings) != key


def test_a_failure_is_kept_until_its_cause_is_mended(task: Task) -> None:
    sheet = (task.folder / "bouts.csv").read_text()
    spoil(task.folder, "unknown_hold")
    failed = do_task(task)
    assert (failed.error, failed.lasting) == ("SessionError", True)
    assert not task.out.exists()
    assert not failed.kept
    again = do_task(task)
    assert again == failed
    assert again.kept
    (task.folder / "bouts.csv").write_text(sheet)
    assert do_task(task).error == ""


def test_a_named_recording_of_any_ending_counts_by_what_is_in_it(task: Task) -> None:
    toml = task.folder / "session.toml"
    toml.write_text(toml.read_text().replace('file = "chest.csv"', 'file = "chest.log"'))
    log = (task.folder / "chest.csv").rename(task.folder / "chest.log")
    key = session_key(task.folder, task.settings)
    samples = log.read_bytes()
    log.write_bytes(samples[:-2] + (b"1" if samples[-2:-1] != b"1" else b"2") + samples[-1:])
    assert log.stat().st_size == len(samples)
    assert session_key(task.folder, task.settings) != key


@pytest.mark.parametrize(
    ("cause", "lasts"),
    [
        (OSError(errno.EIO, "the share hiccuped"), False),
        (ImportError("no such package"), False),
        (FileNotFoundError(errno.ENOENT, "no such file"), True),
        (gzip.BadGzipFile("damaged"), True),
    ],
)
def test_what_the_machine_refused_is_tried_again(
    task: Task, monkeypatch: pytest.MonkeyPatch, cause: Exception, lasts: bool
) -> None:
    def refused(*_: object) -> None:
        raise UnknownFormatError("cannot be read", file="chest.csv") from cause

    monkeypatch.setattr(imucarry.api, "score_session", refused)
    failed = do_task(task)
    assert (failed.error, failed.lasting) == ("UnknownFormatError", lasts)
    monkeypatch.undo()
    assert do_task(task).kept == lasts


def test_an_earlier_result_goes_when_the_session_fails(task: Task) -> None:
    do_task(task)
    (task.out / "notes.txt").write_text("mine")
    spoil(task.folder, "garbage")
    assert do_task(task).error == "UnknownFormatError"
    assert [path.name for path in task.out.iterdir()] == ["notes.txt"]


def test_a_bug_is_a_failure_of_one_session(task: Task, monkeypatch: pytest.MonkeyPatch) -> None:
    def faulty(*_: object) -> None:
        raise ZeroDivisionError(f"in {task.folder}\nand on")

    monkeypatch.setattr(imucarry.api, "score_session", faulty)
    failed = do_task(task)
    assert (failed.error, failed.lasting, failed.stops_all) == ("Bug", False, False)
    assert failed.message == "ZeroDivisionError: in in and on"
    assert not task.key_file.exists()
    monkeypatch.undo()
    assert do_task(task).error == ""


@pytest.mark.parametrize(("number", "stops"), [(28, True), (30, True)])
def test_nowhere_to_write_stops_all(
    task: Task, monkeypatch: pytest.MonkeyPatch, number: int, stops: bool
) -> None:
    def full(self: Path, content: bytes) -> int:
        raise OSError(number, "cannot")

    monkeypatch.setattr(Path, "write_bytes", full)
    failed = do_task(task)
    assert (failed.error, failed.stops_all, failed.lasting) == ("OutputError", stops, False)
    assert not task.key_file.exists()


@pytest.mark.parametrize(("name", "told"), [("P01\\visit_1", True), ("P01/visit_1", False)])
def test_folders_named_with_the_other_slash_are_told_the_right_one(
    task: Task, name: str, told: bool
) -> None:
    absent = replace(task, name=name, folder=task.folder.parent / name)
    message = do_task(absent).message
    assert "is not there; mend the column 'folder'" in message
    assert ('with "/" between folders' in message) is told


def test_what_can_be_no_session_is_told_as_what_it_is(task: Task, tmp_path: Path) -> None:
    visits = tmp_path / "visits"
    for name in ("pre", "post"):
        ShortSessions().write(visits / name, "P2", name)
    said = {
        "in/chest.csv": "in/chest.csv: is a file; name the session's folder",
        "visits": "visits: holds the sessions post, pre; give each a row of its own",
        "nowhere": "nowhere: is not there; mend the column 'folder'",
        "#in": "#in: is not there; mend the column 'folder'; a line of notes begins with \"# \"",
    }
    for name, message in said.items():
        outcome = do_task(replace(task, name=name, folder=tmp_path / name))
        assert (outcome.error, outcome.message) == ("SessionError", message)
