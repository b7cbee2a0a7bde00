"""The command line as people and programs meet it: help, colours, consoles, interrupts."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
import tomllib
from pathlib import Path

import click
import jsonschema
import pytest
from command_line import imucarry

from imucarry.cli.app import app
from imucarry.cli.look_commands import schema
from imucarry.tables.documents import SCHEMAS

COMMANDS = sorted(app.commands)
README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_an_example_and_is_in_the_readme(command: str) -> None:
    done = imucarry(command, "--help")
    assert done.returncode == 0
    assert "Example" in done.stdout
    assert f"imucarry {command}" in done.stdout
    assert f"imucarry {command}" in README


def test_without_a_command_the_help_is_shown_as_it_is() -> None:
    done = imucarry()
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == imucarry("--help").stdout


def test_python_dash_m_is_the_same_program() -> None:
    assert "imucarry" in imucarry("--version").stdout


@pytest.mark.parametrize("encoding", ["cp1252", "ascii"])
def test_output_survives_an_old_console(visit: Path, tmp_path: Path, encoding: str) -> None:
    command = [sys.executable, "-m", "imucarry", "score", str(visit), "--out", str(tmp_path / "o")]
    environment = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    done = subprocess.run(command, env=environment, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr
    done.stdout.decode(encoding)


def test_no_colour_off_a_terminal() -> None:
    done = imucarry("nothing")
    assert done.returncode == 2
    assert "\x1b" not in done.stderr


@pytest.mark.skipif(os.name == "nt", reason="signals of a terminal are sent otherwise on Windows")
def test_an_interrupt_leaves_nothing_half_written(visit: Path, tmp_path: Path) -> None:
    code = (
        "import time; import imucarry.pipeline as p; q = p.run\n"
        "def slow(*a, **k):\n    print('ready', flush=True); time.sleep(30); return q(*a, **k)\n"
        "import imucarry.api.session as s; s.run = slow\n"
        f"from imucarry.cli import run; run(['score', {str(visit)!r}, '--out', 'out'])"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline().strip() == "ready"
    time.sleep(0.1)
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=30)
    assert process.returncode == 130
    assert len(said.strip().splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_sources_lists_every_threshold() -> None:
    from imucarry.basics.evidence import all_evidence

    document = json.loads(imucarry("sources", "--json").stdout)
    jsonschema.validate(document, json.loads(imucarry("schema", "sources").stdout))
    listed = {row["key"] for row in document["sources"]}
    assert listed == {row.key for row in all_evidence()}
    assert imucarry("sources", "--room", "nowhere").returncode == 2


def test_every_command_with_json_has_a_schema() -> None:
    with_json = {
        name
        for name, command in app.commands.items()
        if any("--json" in option.opts for option in command.params)
    }
    (choice,) = (option.type for option in schema.params if option.name == "document")
    assert isinstance(choice, click.Choice)
    assert with_json == set(SCHEMAS) == set(choice.choices)
    for name in with_json:
        jsonschema.Draft202012Validator.check_schema(SCHEMAS[name]())


def test_preview_says_what_it_understood(visit: Path) -> None:
    done = imucarry("preview", visit / "chest.csv")
    assert done.returncode == 0, done.stderr
    assert "m/s^2" in done.stdout
    document = json.loads(imucarry("preview", visit / "chest.csv", "--json").stdout)
    jsonschema.validate(document, json.loads(imucarry("schema", "preview").stdout))


def test_preview_can_pin_a_session(visit: Path, tmp_path: Path) -> None:
    for name in ("chest.csv", "left_wrist.csv"):
        (tmp_path / name).write_bytes((visit / name).read_bytes())
    names = ("chest.csv", "left_wrist.csv")
    done = imucarry("preview", *names, "--write-session", ".", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    done = imucarry("score", tmp_path, "--out", tmp_path.parent / f"{tmp_path.name}-out")
    assert done.returncode == 0, done.stderr


def sheeted(visit: Path, folder: Path) -> Path:
    """A folder with one recording and both sheets."""
    folder.mkdir()
    for name, source in (("recording", "chest"), ("bouts", "bouts"), ("rom", "rom")):
        (folder / f"{name}.csv").write_bytes((visit / f"{source}.csv").read_bytes())
    return folder


def test_a_pinned_session_keeps_its_sheets(visit: Path, tmp_path: Path) -> None:
    folder = sheeted(visit, tmp_path / "P07")
    # As a shell lists them: the sheets among the files are no sensors.
    done = imucarry("preview", *sorted(folder.iterdir()), "--write-session", folder)
    assert done.returncode == 0, done.stderr
    assert "names bouts.csv and rom.csv" in done.stderr
    pinned = tomllib.loads((folder / "session.toml").read_text(encoding="utf-8"))
    assert (pinned["participant"], pinned["bouts"], pinned["rom"]) == (
        "P07", "bouts.csv", "rom.csv",
    )  # fmt: skip
    assert "fill in the placement of recording.csv" in done.stderr
    refused = imucarry("score", folder, "--out", tmp_path / "out")
    assert refused.returncode == 65
    text = (folder / "session.toml").read_text(encoding="utf-8")
    filled_in = text.replace('placement = ""', 'placement = "chest"')
    (folder / "session.toml").write_text(filled_in, encoding="utf-8")
    done = imucarry("score", folder, "--out", tmp_path / "out")
    assert done.returncode == 0, done.stderr
    assert "free walk" in done.stdout
    assert "hold not given" not in done.stdout
    again = imucarry("preview", folder / "recording.csv", "--write-session", folder)
    assert again.returncode == 65
    assert "remove it" in again.stderr
    assert "--force" not in again.stderr


def test_a_pinned_session_is_the_file_or_the_folder_named(visit: Path, tmp_path: Path) -> None:
    folder = sheeted(visit, tmp_path / "P07")

    def pin(place: str) -> subprocess.CompletedProcess[str]:
        return imucarry("preview", "recording.csv", "--write-session", place, cwd=folder)

    assert pin("visit.toml").returncode == 0
    named = tomllib.loads((folder / "visit.toml").read_text(encoding="utf-8"))
    assert (named["participant"], named["sensor"][0]["file"]) == ("P07", "recording.csv")
    assert named["bouts"] == "bouts.csv"
    assert pin("new").returncode == 0
    new = tomllib.loads((folder / "new" / "session.toml").read_text(encoding="utf-8"))
    assert (new["participant"], new["sensor"][0]["file"]) == ("new", "../recording.csv")
    assert "bouts" not in new  # 'score new' would find none
    done = pin("recording.csv")
    assert done.returncode == 65
    assert "a file stands where a folder" in done.stderr


def test_files_of_one_name_from_two_folders_are_pinned_apart(visit: Path, tmp_path: Path) -> None:
    for source, place in (("chest", "one"), ("left_wrist", "two")):
        (tmp_path / place).mkdir()
        (tmp_path / place / "data.csv").write_bytes((visit / f"{source}.csv").read_bytes())
    files = ("one/data.csv", "two/data.csv")
    done = imucarry("preview", *files, "--write-session", ".", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    pinned = tomllib.loads((tmp_path / "session.toml").read_text(encoding="utf-8"))
    assert [sensor["file"] for sensor in pinned["sensor"]] == list(files)


def test_retest_reads_a_sheet(visit: Path) -> None:
    done = imucarry("retest", visit / "rom.csv")
    assert done.returncode == 0, done.stderr
    assert done.stdout
    document = json.loads(imucarry("retest", visit / "rom.csv", "--json", "--mdc", "8").stdout)
    jsonschema.validate(document, json.loads(imucarry("schema", "retest").stdout))
    assert all(row["error_deg"] == 8 for row in document["retest"])


def test_retest_of_no_readings_says_so(tmp_path: Path) -> None:
    sheet = tmp_path / "rom.csv"
    sheet.write_text("test,side,when,value_deg\n", encoding="utf-8")
    done = imucarry("retest", sheet)
    assert (done.returncode, done.stdout) == (65, "")
    assert "rom.csv: holds no reading" in done.stderr


def test_demo_writes_beside_nothing_of_others(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    (tmp_path / "held").mkdir()
    (tmp_path / "held" / "chest.csv").write_text("mine")
    places = (tmp_path, tmp_path / "held", tmp_path / "notes.txt")
    for place in (*places, tmp_path / "notes.txt" / "visit"):
        done = imucarry("demo", place)
        assert done.returncode == 65, (place, done.stderr)
        assert str(place) in done.stderr
        assert len(done.stderr.strip().splitlines()) == 1
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["chest.csv", "held", "notes.txt"]
