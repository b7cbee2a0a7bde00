"""Files that are not read: said by name, with what to do."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from imucarry.basics.errors import SessionError, UnknownFormatError
from imucarry.readers.plan import plan_from_names, sheets_of
from imucarry.readers.source import read_source

Writer = Callable[..., Path]


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (("chest.xlsx", "left_wrist.xlsx"), r"chest\.xlsx is a spreadsheet: save it as chest\.csv"),
        (("chest.zip",), r"chest\.zip is an archive: unpack it"),
        (("recording.zip",), r"recording\.zip is an archive: unpack it"),
    ],
)
def test_a_folder_of_files_that_are_not_read(
    tmp_path: Path, names: tuple[str, ...], told: str
) -> None:
    for name in names:
        (tmp_path / name).write_bytes(b"PK\x03\x04")
    with pytest.raises(SessionError, match=told):
        plan_from_names(tmp_path)


def test_a_sensor_that_is_not_read_beside_one_that_is(write_layout: Writer, tmp_path: Path) -> None:
    write_layout("chest.csv")
    for name in ("chest.xlsx", "left_wrist.xlsx", "photos.zip"):
        (tmp_path / name).write_bytes(b"PK\x03\x04")
    told = [n.message for n in plan_from_names(tmp_path).notices if n.code == "file_not_read"]
    assert told == ["left_wrist.xlsx is a spreadsheet: save it as left_wrist.csv"]


@pytest.mark.parametrize("name", ["bouts.xlsx", "Bouts.ods", "rom.xlsx", "bouts.txt"])
def test_a_sheet_that_is_no_csv_is_refused(write_layout: Writer, tmp_path: Path, name: str) -> None:
    write_layout("chest.csv")
    (tmp_path / name).write_bytes(b"PK\x03\x04")
    stem = name.partition(".")[0].lower()
    with pytest.raises(SessionError, match=rf"{name}: is not read; save it as {stem}\.csv"):
        plan_from_names(tmp_path)
    (tmp_path / f"{stem}.csv").write_text("")
    assert f"{stem}.csv" in sheets_of(tmp_path)


@pytest.mark.parametrize(
    ("inside", "told"),
    [
        ("data.csv", "is a zip archive; unpack it"),
        ("[Content_Types].xml", "is a spreadsheet; save it as CSV"),
    ],
)
def test_a_packed_file_says_what_it_is(tmp_path: Path, inside: str, told: str) -> None:
    path = tmp_path / "chest.csv"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr(inside, "x")
    with pytest.raises(UnknownFormatError, match=told):
        read_source(path, path.name)
