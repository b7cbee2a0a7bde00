"""What the commands say of several files, and of a person who is to stay unnamed."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from imucarry import preview_files
from imucarry.basics.errors import ImucarryError
from imucarry.cli.app import BAD_DATA, DONE, exit_code

EXAMPLE = Path(__file__).parents[3] / "data" / "example"
CHEST = EXAMPLE / "chest.csv"
NAME = "Nobody-Special"


@pytest.fixture
def bad(tmp_path: Path) -> Path:
    path = tmp_path / "bad.csv"
    path.write_text("nothing\n", encoding="utf-8")
    return path


@pytest.mark.parametrize("bad_first", [True, False])
def test_a_file_that_is_not_understood_hides_no_other(
    bad: Path, bad_first: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    files = [str(bad), str(CHEST)] if bad_first else [str(CHEST), str(bad)]
    assert exit_code(["preview", *files]) == BAD_DATA
    said = capsys.readouterr()
    assert said.out.startswith("chest.csv: chest")
    assert "bad.csv" in said.err
    assert exit_code(["preview", "--json", *files]) == BAD_DATA
    assert len(json.loads(capsys.readouterr().out)["files"]) == 1


def test_nothing_is_pinned_where_a_file_is_not_understood(bad: Path, tmp_path: Path) -> None:
    with pytest.raises(ImucarryError, match=r"bad\.csv"):
        preview_files([CHEST, bad], write_session=tmp_path)
    assert not (tmp_path / "session.toml").exists()
    with pytest.raises(ImucarryError, match=r"bad\.csv"):
        preview_files([bad])


@pytest.mark.parametrize("anonymous", [True, False])
def test_the_terminal_names_nobody_who_is_to_stay_unnamed(
    tmp_path: Path, anonymous: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "visit"
    folder.mkdir()
    shutil.copy(CHEST, folder / f"{NAME}.csv")
    sheet = (EXAMPLE / "bouts.csv").read_text(encoding="utf-8").splitlines()[:2]
    (folder / "bouts.csv").write_text("\n".join(sheet) + "\n", encoding="utf-8")
    (folder / "session.toml").write_text(
        f'participant = "{NAME}"\nsession = "1"\nbouts = "bouts.csv"\n'
        f'[[sensor]]\nplacement = "chest"\nfile = "{NAME}.csv"\n',
        encoding="utf-8",
    )
    options = ["--anonymous"] if anonymous else []
    out = tmp_path / "out"
    assert exit_code(["score", str(folder), "--out", str(out), "-v", *options]) == DONE
    said = capsys.readouterr()
    assert (NAME in said.out + said.err) is not anonymous
    assert ("C-" in said.out) is anonymous
    assert NAME in (out / "strides.csv").read_text(encoding="utf-8")
