"""Bytes to text: packing, encoding, and files that are no text."""

from __future__ import annotations

import gzip
import hashlib
from pathlib import Path

import pytest

from imucarry.basics.errors import InputError, UnknownFormatError
from imucarry.readers.layout import find_layout
from imucarry.readers.source import open_body, read_source, sha256_of, without_nul

TEXT = "a;b\n1;2\n"


def whole_text(path: Path) -> str:
    source = read_source(path, "f.csv")
    with open_body(source) as handle:
        return handle.read().decode(source.encoding)


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode(),
        TEXT.encode("utf-8-sig"),
        TEXT.encode("utf-16"),
        TEXT.encode("utf-16-le"),
        TEXT.encode("utf-16-be"),
        b"\xfe\xff" + TEXT.encode("utf-16-be"),
        gzip.compress(TEXT.encode(), mtime=0),
        gzip.compress(TEXT.encode("utf-16"), mtime=0),
        TEXT.encode() + b"\0" * 900,
    ],
)
def test_one_text_in_any_packing(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "f.csv"
    path.write_bytes(data)
    assert whole_text(path) == TEXT


def test_degree_sign_of_an_old_code_page(tmp_path: Path) -> None:
    path = tmp_path / "f.csv"
    path.write_bytes("gyr x (°/s)\n".encode("cp1252"))
    assert whole_text(path) == "gyr x (°/s)\n"


def test_nul_in_the_middle_is_left_out(tmp_path: Path) -> None:
    path = tmp_path / "f.csv"
    path.write_bytes(b"1,2\n" * 40000 + b"\0" * 5000 + b"3,4\n" * 40000)
    source = without_nul(read_source(path, "f.csv"))
    with open_body(source) as handle:
        assert handle.read() == b"1,2\n" * 40000 + b"3,4\n" * 40000
    assert [notice.code for notice in source.notices] == ["nul_bytes"]


@pytest.mark.parametrize("data", [b"", b"\0" * 50, b" \r\n\n", gzip.compress(b"", mtime=0)])
def test_empty_file_is_refused(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "f.csv"
    path.write_bytes(data)
    with pytest.raises(
        UnknownFormatError, match=r"f\.csv, (all \d+ bytes|what gzip packed): is empty"
    ):
        read_source(path, "f.csv")


@pytest.mark.parametrize(
    ("data", "word"),
    [(b"PK\x03\x04...", "zip archive; unpack"), (b"%PDF-1.7", "PDF"), (b"\x89HDF\r\n", "HDF5")],
)
def test_foreign_file_is_refused(tmp_path: Path, data: bytes, word: str) -> None:
    path = tmp_path / "f.csv"
    path.write_bytes(data)
    with pytest.raises(UnknownFormatError, match=word):
        read_source(path, "f.csv")


def test_absent_folder_and_broken_gzip_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="is not there"):
        read_source(tmp_path / "absent.csv", "absent.csv")
    with pytest.raises(InputError, match="is a folder"):
        read_source(tmp_path, "folder")
    path = tmp_path / "f.csv.gz"
    path.write_bytes(gzip.compress(b"1,2,3\n" * 999, mtime=0)[:-20])
    with pytest.raises(InputError, match="cannot be unpacked"):
        read_source(path, "f.csv.gz")


def test_hash_is_of_the_bytes_as_they_stand(tmp_path: Path) -> None:
    path = tmp_path / "f.csv.gz"
    data = gzip.compress(TEXT.encode(), mtime=0)
    path.write_bytes(data)
    assert sha256_of(path, "f.csv.gz") == hashlib.sha256(data).hexdigest()


@pytest.mark.parametrize("end", [b"\n", b"\r\n", b"\r"])
def test_lines_keep_their_place_whatever_ends_them(tmp_path: Path, end: bytes) -> None:
    path = tmp_path / "chest.csv"
    rows = [b"%d,1.5,2.5,3.5" % k for k in range(8)]
    path.write_bytes(end.join([b"# made by nobody", b"", b"t,x,y,z", *rows]))
    source = read_source(path, "chest.csv")
    layout = find_layout(source)
    assert layout.first_line == 4
    assert source.head[layout.offset :] == end.join(rows)
    assert layout.names == ("t", "x", "y", "z")
