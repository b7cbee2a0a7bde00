"""A file as bytes: its hash, packing and encoding, and the first part of it."""

from __future__ import annotations

import codecs
import gzip
import hashlib
import io
import zlib
from dataclasses import dataclass, replace
from pathlib import Path
from typing import IO

from imucarry.basics.errors import InputError, UnknownFormatError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.files import NO_FILE, NOT_THERE, is_special
from imucarry.basics.records import Notice

TAIL_BYTES = 4096
BLANK = b"\0\r\n\t "
GZIP_MAGIC = b"\x1f\x8b"
PACKED = "what gzip packed"
FOREIGN_MAGICS = (
    (b"PK\x03\x04", "a zip archive; unpack it"),
    (b"\xd0\xcf\x11\xe0", "an old spreadsheet; save it as CSV"),
    (b"%PDF", "a PDF; export the samples as CSV text"),
    (b"\x89HDF", "an HDF5 file; export the samples as CSV text"),
    (b"MATLAB", "a MATLAB file; export the samples as CSV text"),
)
# Names of what the packed files of a spreadsheet hold.
IN_SPREADSHEETS = (b"[Content_Types].xml", b"xl/work", b"vnd.oasis.opendocument.spreadsheet")
SPREADSHEET = "a spreadsheet; save it as CSV"


@dataclass(frozen=True, slots=True)
class Source:
    """A text file, ready to be parsed.

    ``body`` is the path itself where its bytes can be parsed as they stand, else
    the text as UTF-8 bytes (unpacked, recoded, without NUL).
    """

    file: str
    body: Path | bytes
    encoding: str
    description: str
    head: bytes
    n_bytes: int
    last_line: bytes
    notices: tuple[Notice, ...] = ()


def open_body(source: Source) -> IO[bytes]:
    """Open the bytes of a source at their start."""
    return io.BytesIO(source.body) if isinstance(source.body, bytes) else source.body.open("rb")


def read_source(path: Path, name: str, *, if_empty: str = "export the recording again") -> Source:
    """Find a file's packing and encoding, and keep its first part.

    Parameters
    ----------
    path : Path
    name : str
        The file as the user named it.
    if_empty : str, optional
        What to do where it is empty.

    Raises
    ------
    InputError
        If the file is absent, a pipe or a device, empty, or cannot be opened or unpacked.
    UnknownFormatError
        If its first bytes are those of a file that is no text.
    """
    try:
        if is_special(path):
            raise InputError(NO_FILE, file=name)
        with path.open("rb") as handle:
            head = handle.read(evidence.HEAD_BYTES.value)
            n_bytes = handle.seek(0, io.SEEK_END)
            handle.seek(max(0, n_bytes - TAIL_BYTES))
            tail = handle.read()
        if not head.strip(BLANK) and not tail.strip(BLANK):
            raise UnknownFormatError(
                f"is empty; {if_empty}", file=name, where=f"all {n_bytes} bytes"
            )
        return _as_source(path, name, n_bytes, head, tail)
    except OSError as error:
        raise InputError(_why_not_opened(error), file=name) from error


def without_nul(source: Source) -> Source:
    """Return a source whose text holds no NUL byte."""
    with open_body(source) as handle:
        return _source_of_bytes(handle.read(), source.file, "")


def with_body(source: Source, body: bytes) -> Source:
    """Return a source with another body in the same encoding."""
    return replace(source, body=body, n_bytes=len(body), last_line=_last_line(body[-TAIL_BYTES:]))


def sha256_of(path: Path, name: str) -> str:
    """Return the SHA-256 of a file.

    Raises
    ------
    InputError
        If the file cannot be opened.
    """
    try:
        with path.open("rb", buffering=0) as handle:
            return hashlib.file_digest(handle, "sha256").hexdigest()
    except OSError as error:
        raise InputError(_why_not_opened(error), file=name) from error


def _why_not_opened(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return NOT_THERE
    if isinstance(error, IsADirectoryError):
        return "is a folder; name a file"
    if isinstance(error, gzip.BadGzipFile):
        return f"cannot be unpacked ({error}); unpack it yourself or copy it again"
    return f"cannot be opened ({error.strerror or error})"


def _as_source(path: Path, name: str, n_bytes: int, head: bytes, tail: bytes) -> Source:
    for magic, kind in FOREIGN_MAGICS:
        if head.startswith(magic):
            packed = magic.startswith(b"PK") and any(word in head for word in IN_SPREADSHEETS)
            what = SPREADSHEET if packed else kind
            raise UnknownFormatError(f"is {what}", file=name, where="first bytes")
    if head.startswith(GZIP_MAGIC):
        return _source_of_bytes(_unpacked(path, name), name, "gzip")
    has_nul = b"\0" in head or b"\0" in tail
    if has_nul or head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return _source_of_bytes(path.read_bytes(), name, "")
    encoding, label = _encoding(head)
    return Source(name, path, encoding, label, head, n_bytes, _last_line(tail))


def _unpacked(path: Path, name: str) -> bytes:
    limit = evidence.MAX_UNPACKED_BYTES.value
    try:
        with gzip.open(path, "rb") as handle:
            data = handle.read(limit + 1)
    except (EOFError, zlib.error) as error:
        raise InputError(
            f"cannot be unpacked ({error}); copy it again or unpack it yourself",
            file=name,
            where=PACKED,
        ) from error
    if len(data) > limit:
        raise InputError(
            "unpacks to more than is accepted; unpack and split it", file=name, where=PACKED
        )
    if not data.strip(BLANK):
        raise UnknownFormatError("is empty when unpacked; export it again", file=name, where=PACKED)
    return data


def _source_of_bytes(data: bytes, name: str, packing: str) -> Source:
    """Recode bytes to UTF-8 without NUL."""
    text, label, notices = _recoded(data, name)
    encoding = "utf-8"
    head = text[: evidence.HEAD_BYTES.value]
    if not label:
        encoding, label = _encoding(head)
    label = f"{label}, {packing}" if packing else label
    last = _last_line(text[-TAIL_BYTES:])
    return Source(name, text, encoding, label, head, len(text), last, notices)


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
    even, odd = sample[::2].count(0) > share, sample[1::2].count(0) > share
    if even == odd:
        return ""
    return "utf-16-be" if even else "utf-16-le"


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
