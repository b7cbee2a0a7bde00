"""Pipes and devices are refused at once where a file is read: reading them may never end."""

from __future__ import annotations

import csv
import os
from pathlib import Path

import pytest
from short_study import ShortSessions

from imucarry import agree_files
from imucarry.basics.errors import ImucarryError, InputError, SessionError, SettingsError
from imucarry.basics.settings import read_settings
from imucarry.cli.app import SOME_FAILED, exit_code
from imucarry.readers.plan import read_plan
from imucarry.readers.rom_sheet import read_rom
from imucarry.readers.sheets import read_bouts, read_manifest

TOML = 'participant = {code}\nsession = "1"\n[[sensor]]\nplacement = "chest"\nfile = "chest.csv"\n'


@pytest.fixture(params=["pipe", "device"])
def special(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A pipe that nobody writes to, or a device that never ends."""
    if os.name == "nt":
        pytest.skip("Windows has no such files")
    path = tmp_path / "session.toml"
    if request.param == "pipe":
        os.mkfifo(path)
    else:
        path.symlink_to("/dev/zero")
    return path


def test_sheets(special: Path) -> None:
    for read in (read_bouts, read_rom, read_manifest):
        with pytest.raises(InputError, match=r"session\.toml: is a pipe or a device; name a file"):
            read(special)


def test_a_session_file_and_the_folder_that_holds_it(special: Path) -> None:
    for path in (special, special.parent):
        with pytest.raises(SessionError, match=r"session\.toml: is a pipe or a device"):
            read_plan(path)


def test_settings(special: Path) -> None:
    with pytest.raises(SettingsError, match=r"session\.toml: is a pipe or a device"):
        read_settings(special)


def test_tables_to_compare(special: Path) -> None:
    with pytest.raises(ImucarryError, match=r"session\.toml: is a pipe or a device"):
        agree_files(special, special, measure="load_kg")


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such files")
@pytest.mark.parametrize("name", ["session.toml", "rom.csv", "bouts.csv"])
def test_in_a_study_it_is_one_row(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "home" / "s0"
    ShortSessions().write(folder, "P00", "1")
    toml = folder / "session.toml"
    toml.write_text('rom = "rom.csv"\n' * (name == "rom.csv") + toml.read_text())
    (folder / name).unlink(missing_ok=True)
    os.mkfifo(folder / name)
    (tmp_path / "home" / "study.csv").write_text("folder\ns0\n")
    out = tmp_path / "out"
    command = ["cohort", str(tmp_path / "home" / "study.csv"), "--out", str(out), "-q"]
    assert exit_code([*command, "--workers", "1"]) == SOME_FAILED
    with (out / "failures.csv").open(encoding="utf-8", newline="") as stream:
        (row,) = csv.DictReader(stream)
    assert f"{name}: is a pipe or a device" in row["message"]


@pytest.mark.parametrize("code", ["1" * 5001, f"0x{'f' * 5001}"], ids=["digits", "hexadecimal"])
def test_a_number_that_cannot_be_written_is_refused(tmp_path: Path, code: str) -> None:
    path = tmp_path / "session.toml"
    path.write_text(TOML.format(code=code), encoding="utf-8")
    with pytest.raises(SessionError, match="a number of thousands of digits"):
        read_plan(path)
    path.write_text(f"[walk]\ntrim_strides = {code}\n", encoding="utf-8")
    with pytest.raises(ImucarryError, match=r"trim_strides|digits"):
        read_settings(path)
