"""A file as bytes: its hash, packing and encoding, and the first part of it."""

from __future__ import annotations

import codecs
import gzip
import hashlib
import io
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from imucarry.basics.errors import InputError, UnknownFormatError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import Notice

CHUNK_BYTES = 1 << 20
GZIP_MAGIC = b"\x1f\x8b"
FOREIGN_MAGICS = (
    (b"PK\x03\x04", "a spreadsheet or zip archive"),
    (b"\xd0\xcf\x11\xe0", "an old spreadsheet"),
    (b"%PDF", "a PDF"),
    (b"\x89HDF", "an HDF5 file"),
    (b"MATLAB", "a MATLAB file"),
)


@dataclass(frozen=True, slots=True)
class Source:
    """A text file, ready to be parsed.

    ``body`` is the path itself where its bytes can be parsed as they stand, else
    the text as UTF-8 bytes (unpacked, recoded, without NUL).
    """

    file: str
    sha256: str
    body: Path | bytes
    encoding: str
    description: str
    head: bytes
    head_is_all: bool
    n_lines: int
    last_line: bytes
    notices: tuple[Notice, ...] = ()


def open_body(source: Source) -> IO[bytes]:
    """Open the bytes of a source at their start."""
    return io.BytesIO(source.body) if isinstance(source.body, bytes) else source.body.open("rb")


def read_source(path: Path, name: str) -> Source:
    """Hash a file, find its packing and encoding, and keep its first part.

    Raises
    ------
    InputError
        If the file is absent, empty, or cannot be opened or unpacked.
    UnknownFormatError
        If its first bytes are those of a file that is no text.
    """
    try:
        sha256, n_lines, has_nul, head, tail = _scan(path)
        return _as_source(path, name, sha256, n_lines, has_nul, head, tail)
    except OSError as error:
        raise InputError(_why_not_opened(error), file=name) from error


def sha256_of(path: Path, name: str) -> str:
    """Return the SHA-256 of a file.

    Raises
    ------
    InputError
        If the file cannot be opened.
    """
    try:
        with path.open("rb") as handle:
            return hashlib.file_digest(handle, "sha256").hexdigest()
    except OSError as error:
        raise InputError(_why_not_opened(error), file=name) from error


def _why_not_opened(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "is not there; check the name and the folder"
    if isinstance(error, IsADirectoryError):
        return "is a folder; name a file"
    if isinstance(error, gzip.BadGzipFile):
        return f"cannot be unpacked ({error}); unpack it yourself or copy it again"
    return f"cannot be opened ({error.strerror or error})"


def _scan(path: Path) -> tuple[str, int, bool, bytes, bytes]:
    """Return hash, number of line ends, whether a NUL occurs, first and last part."""
    digest = hashlib.sha256()
    n_lines, has_nul = 0, False
    head = tail = b""
    with path.open("rb") as handle:
        while chunk := handle.read(CHUNK_BYTES):
            digest.update(chunk)
            n_lines += chunk.count(b"\n")
            has_nul = has_nul or b"\0" in chunk
            head = head or chunk
            tail = chunk[-4096:]
    return digest.hexdigest(), n_lines, has_nul, head[: evidence.HEAD_BYTES.value], tail


def _as_source(
    path: Path, name: str, sha256: str, n_lines: int, has_nul: bool, head: bytes, tail: bytes
) -> Source:
    if not head.strip(b"\0\r\n\t "):
        raise UnknownFormatError("is empty; export the recording again", file=name)
    for magic, kind in FOREIGN_MAGICS:
        if head.startswith(magic):
            raise UnknownFormatError(
                f"is {kind}; export the samples as CSV text", file=name, where="first bytes"
            )
    if head.startswith(GZIP_MAGIC):
        return _source_of_bytes(_unpacked(path, name), name, sha256, "gzip")
    if has_nul or head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return _source_of_bytes(path.read_bytes(), name, sha256, "")
    if n_lines == 0:
        n_lines = path.read_bytes().count(b"\r")
    encoding, label = _encoding(head)
    is_all = path.stat().st_size <= len(head)
    return Source(name, sha256, path, encoding, label, head, is_all, n_lines, _last_line(tail))


def _unpacked(path: Path, name: str) -> bytes:
    limit = evidence.MAX_UNPACKED_BYTES.value
    try:
        with gzip.open(path, "rb") as handle:
            data = handle.read(limit + 1)
    except (EOFError, zlib.error) as error:
        raise InputError(
            f"cannot be unpacked ({error}); copy it again or unpack it yourself", file=name
        ) from error
    if len(data) > limit:
        raise InputError("unpacks to more than is accepted; unpack and split it", file=name)
    if not data.strip(b"\0\r\n\t "):
        raise UnknownFormatError("is empty when unpacked; export it again", file=name)
    return data


def _source_of_bytes(data: bytes, name: str, sha256: str, packing: str) -> Source:
    """Recode bytes to UTF-8 without NUL."""
    text, label, notices = _recoded(data, name)
    encoding = "utf-8"
    if not label:
        encoding, label = _encoding(text[: evidence.HEAD_BYTES.value])
    head = text[: evidence.HEAD_BYTES.value]
    n_lines = text.count(b"\n") or text.count(b"\r")
    label = f"{label}, {packing}" if packing else label
    is_all = len(text) <= len(head)
    last = _last_line(text[-4096:])
    return Source(name, sha256, text, encoding, label, head, is_all, n_lines, last, notices)


def _recoded(data: bytes, name: str) -> tuple[bytes, str, tuple[Notice, ...]]:
    """Return the data as text without NUL, its encoding if it was UTF-16, and notices."""
    if kind := _utf16(data):
        text = data.decode(kind, errors="replace").lstrip("\ufeff").replace("\0", "")
        return text.encode("utf-8", errors="replace"), "UTF-16", ()
    n_nul = data.count(b"\0")
    if not n_nul:
        return data, "", ()
    message = f"{n_nul} NUL bytes were left out"
    return data.replace(b"\0", b""), "", (Notice("nul_bytes", message, file=name),)


def _utf16(data: bytes) -> str:
    if data.startswith(codecs.BOM_UTF16_LE):
        return "utf-16-le"
    if data.startswith(codecs.BOM_UTF16_BE):
        return "utf-16-be"
    sample = data[:1024]
    share = evidence.UTF16_NUL_FRAC.value * len(sample) / 2
    if sample[1::2].count(0) > share:
        return "utf-16-le"
    return "utf-16-be" if sample[::2].count(0) > share else ""


def _encoding(head: bytes) -> tuple[str, str]:
    if head.startswith(codecs.BOM_UTF8):
        return "utf-8-sig", "UTF-8 with byte order mark"
    try:
        codecs.getincrementaldecoder("utf-8")().decode(head)
    except UnicodeDecodeError:
        return "cp1252", "Windows-1252"
    return "utf-8", "ASCII" if head.isascii() else "UTF-8"


def _last_line(tail: bytes) -> bytes:
    """Return what follows the last line end: b"" when the file ends in one."""
    return tail.replace(b"\r", b"\n").rpartition(b"\n")[2]
