"""One run a folder, and what the system says while it is written, in plain words."""

from __future__ import annotations

import contextlib
import errno
import os
from collections.abc import Iterator
from pathlib import Path

from imucarry.basics.errors import OutputError

LOCK = ".imucarry-lock"
UNCHANGED = "; nothing was changed"
"""What a full disk says where files are written aside first."""


@contextlib.contextmanager
def plain_errors(path: Path) -> Iterator[None]:
    """Turn what the system says while `path` is written into an `OutputError`."""
    try:
        yield
    except OSError as error:
        raise _as_output_error(error, path) from error


def _as_output_error(error: OSError, path: Path) -> OutputError:
    plain = {
        errno.ENOSPC: f"the disk is full{UNCHANGED}",
        errno.EDQUOT: f"the disk quota is used up{UNCHANGED}",
        errno.EACCES: "may not be written to; choose another folder",
        errno.EPERM: "may not be written to; choose another folder",
        errno.EROFS: "lies on a read-only disk; choose another folder",
        errno.EEXIST: "a file stands where a folder of this path must be; choose another folder",
        errno.ENOTDIR: "a file stands where a folder of this path must be; choose another folder",
        errno.ELOOP: "is a link that leads back to itself; choose another folder",
        errno.ENAMETOOLONG: "is too long a name; choose a shorter one",
    }
    message = plain.get(error.errno or 0, f"cannot be written: {error.strerror or error}")
    return OutputError(message, file=str(path))


def resolved(path: Path) -> Path:
    """Return a path without links; one that leads back to itself stays as it is."""
    # Not Path.resolve(): a link that leads to itself is no OSError there.
    return Path(os.path.realpath(path))


@contextlib.contextmanager
def only_run(path: Path) -> Iterator[None]:
    """Hold a lock file beside `path`, so that two runs cannot mix their files.

    Raises
    ------
    OutputError
        If another run holds it.
    """
    place = resolved(path)
    lock = place.with_name(f".{place.name}{LOCK}")
    lock.parent.mkdir(parents=True, exist_ok=True)
    handle = os.open(lock, os.O_CREAT | os.O_RDWR)
    try:
        if not (_try_lock(handle) and _is_same_file(handle, lock)):
            raise OutputError("another run is writing there; wait for it to end", file=str(path))
        try:
            yield
        finally:
            with contextlib.suppress(OSError):  # an open file cannot be removed on Windows
                lock.unlink()
    finally:
        os.close(handle)
        if os.name == "nt":
            with contextlib.suppress(OSError):
                lock.unlink()


def _is_same_file(handle: int, path: Path) -> bool:
    """Return whether the lock that was taken is still the one at `path`."""
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except OSError:
        return False


def _try_lock(handle: int) -> bool:
    """Take an advisory lock that ends with the process, however it ends."""
    try:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
