"""Marks in names that would steer a terminal are shown, not obeyed; so are broken streams met."""

from __future__ import annotations

import io
import json
import os
from pathlib import Path

import pytest

from imucarry.cli import console
from imucarry.cli.app import BAD_DATA, DONE, exit_code
from imucarry.cli.console import Console, write

EXAMPLE = Path(__file__).parents[3] / "data" / "example"
STEERING = "\x1b[31m\x1b]0;title\x07\x1b[2J\x9b1m\r\x00\x7f\u2028\u2029\u202e\u2066\u200f\ufeff"


def shown(line: str) -> str:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="utf-8", newline="")
    write(stream, line)
    return raw.getvalue().decode("utf-8")


def is_harmless(text: str) -> bool:
    """Whether a text has nothing but characters with a shape, spaces, tabs and line ends."""
    return all(mark.isprintable() or mark in "\n\t" for mark in text)


def test_marks_that_steer_are_written_as_their_numbers() -> None:
    assert shown("a\x1b[31mb") == "a\\u001b[31mb\n"
    assert is_harmless(shown(STEERING))
    assert shown("\U000e0041\udc80") == "\\udb40\\udc41\\udc80\n"


@pytest.mark.parametrize("text", ["one\ntwo\tthree", "Jürgen 🏋️ 日本語 עברית", "a\u200db \u202f°"])
def test_what_steers_nothing_stays_as_it_is(text: str) -> None:
    assert shown(text) == f"{text}\n"


def test_a_json_document_means_the_same() -> None:
    document = {"bout": f"x{STEERING}\U000e0041"}
    text = json.dumps(document, ensure_ascii=False)
    assert json.loads(shown(text)) == document
    assert is_harmless(shown(text))


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such names of files")
def test_names_of_files_steer_no_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "chest\x1b[2J\u202e.csv"
    path.write_bytes((EXAMPLE / "chest.csv").read_bytes())
    assert exit_code(["preview", str(path)]) == DONE
    said = capsys.readouterr().out
    assert said.startswith("chest\\u001b[2J\\u202e.csv: chest")
    assert is_harmless(said)


def test_names_in_sheets_steer_no_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "rom.csv"
    name = f'"bad{STEERING.replace(chr(0), "").replace(chr(13), "")}"'
    rows = [f"{name},left,before,50", f"{name},left,after,70"]
    path.write_text("\n".join(["test,side,when,value_deg", *rows]) + "\n", encoding="utf-8")
    assert exit_code(["retest", str(path)]) == DONE
    assert is_harmless(capsys.readouterr().out)


def test_an_error_and_its_details_steer_no_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    settings = tmp_path / "st.toml"
    settings.write_text('["a\\u001b[31m"]\nx = 1\n', encoding="utf-8")
    command = ["retest", str(EXAMPLE / "rom.csv"), "--settings", str(settings)]
    assert exit_code(command) == BAD_DATA
    said = capsys.readouterr().err
    assert "a\\u001b[31m" in said
    assert is_harmless(said)

    def bug(*_: object, **__: object) -> None:
        raise RuntimeError("x\x1b[2J")

    monkeypatch.setattr("imucarry.api.retest.retest_file", bug)
    assert exit_code(["retest", str(EXAMPLE / "rom.csv"), "-v"]) == 70
    said = capsys.readouterr().err
    assert "Traceback" in said
    assert is_harmless(said)


def test_the_colours_of_the_program_stay(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(console, "colour", lambda stream: True)
    Console().error("file \x1b[2J")
    said = capsys.readouterr().err
    assert said.startswith("\x1b[31m\x1b[1mimucarry:\x1b[0m ")
    assert said.endswith("file \\u001b[2J\n")
