"""Output folders: whose they are, written aside and moved into place at the end.

A run writes all its files into a hidden folder beside the target and moves them
in when every one of them is complete, ``run.json`` last. On any error the hidden
folder is removed and an earlier result stays whole.
"""

from __future__ import annotations

import contextlib
import errno
import glob
import json
import os
import secrets
import shutil
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from imucarry.basics.errors import OutputError

RUN_FILE = "run.json"
PROGRAM = "imucarry"
ASIDE = ".imucarry-aside-"
"""Part of the names of what is written aside; a killed run may leave such behind."""
LOCK = ".imucarry-lock"


@dataclass(frozen=True, slots=True)
class OutputFolder:
    """A folder that may be written to.

    Attributes
    ----------
    path : Path
    owned : tuple of str
        Files of an earlier run, which the next one replaces; relative, with ``/``.
    """

    path: Path
    owned: tuple[str, ...]


def claim(path: Path, *, inputs: Sequence[Path], force: bool = False) -> OutputFolder:
    """Check that results may be written to `path`.

    Parameters
    ----------
    path : Path
        Folder that may or may not exist.
    inputs : sequence of Path
        Files and folders that the run reads.
    force : bool
        Allow a folder that holds files of others.

    Raises
    ------
    OutputError
        If `path` is a file, is, holds or lies in an input, or is a non-empty
        folder that no earlier run made.
    """
    _refuse_inputs(path, inputs)
    if path.exists() and not path.is_dir():
        raise OutputError("is a file; name a folder", file=str(path))
    owned = _owned_files(path)
    if not owned and not force and path.is_dir() and any(path.iterdir()):
        raise OutputError(
            "is not empty and was not made by imucarry; name another folder or use --force",
            file=str(path),
        )
    return OutputFolder(path, owned)


def _refuse_inputs(path: Path, inputs: Sequence[Path]) -> None:
    target = path.resolve()
    for item in inputs:
        source = item.resolve()
        overlaps = target == source or target in source.parents or source in target.parents
        if overlaps:
            raise OutputError(
                f"is, holds or lies in the input {item.name!r}; name a folder apart from it",
                file=str(path),
            )


def _owned_files(path: Path) -> tuple[str, ...]:
    """Return the files that the ``run.json`` of an earlier run lists and that lie inside."""
    try:
        run = json.loads((path / RUN_FILE).read_text(encoding="utf-8"))
        if run.get("program") != PROGRAM:
            return ()
        listed = [str(name) for name in run["files"]]
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return ()
    root = path.resolve()
    inside = [name for name in listed if root in (path / name).resolve().parents]
    return (*sorted(set(inside) - {RUN_FILE}), RUN_FILE)


@contextlib.contextmanager
def staged(folder: OutputFolder, *, locked: bool = False) -> Iterator[Path]:
    """Give a hidden folder to write to; at the end move its files into `folder`.

    Parameters
    ----------
    folder : OutputFolder
    locked : bool
        The caller holds `only_run` for the folder already.

    Raises
    ------
    OutputError
        If the place cannot be written to, the disk is full, or another run is
        writing to the same folder.
    """
    with plain_errors(folder.path), contextlib.nullcontext() if locked else only_run(folder.path):
        # Whoever holds the lock may sweep up what a killed run left.
        sweep(folder.path)
        aside = _new_aside(folder.path)
        try:
            new = aside / "new"
            new.mkdir()
            yield new
            _move_in(new, aside / "old", folder)
        finally:
            shutil.rmtree(aside, ignore_errors=True)


def _aside(path: Path) -> Path:
    """Return a new hidden name beside a file or folder."""
    place = path.resolve()
    return place.with_name(f".{place.name}{ASIDE}{secrets.token_hex(4)}")


def _new_aside(path: Path) -> Path:
    # Not mkdtemp: its folders are private, and setting the usual rights afterwards
    # would need the umask, which threads cannot read safely.
    aside = _aside(path)
    aside.mkdir()
    return aside


def sweep(path: Path) -> None:
    """Remove what runs that were killed left beside `path`; only under its lock."""
    place = path.resolve()
    _remove(place.parent.glob(f".{glob.escape(place.name)}{ASIDE}*"))


def sweep_inside(path: Path) -> None:
    """Remove what runs that were killed left in a folder that one run has for itself."""
    _remove(path.glob(f".*{ASIDE}*"))
    _remove(path.glob(f".*{LOCK}"))


def _remove(leftovers: Iterable[Path]) -> None:
    for left in leftovers:
        if left.is_dir():
            shutil.rmtree(left, ignore_errors=True)
        else:
            left.unlink(missing_ok=True)


@contextlib.contextmanager
def plain_errors(path: Path) -> Iterator[None]:
    """Turn what the system says while `path` is written into an `OutputError`."""
    try:
        yield
    except OSError as error:
        raise _as_output_error(error, path) from error


def _as_output_error(error: OSError, path: Path) -> OutputError:
    plain = {
        errno.ENOSPC: "the disk is full; nothing was changed",
        errno.EDQUOT: "the disk quota is used up; nothing was changed",
        errno.EACCES: "may not be written to; choose another folder",
        errno.EPERM: "may not be written to; choose another folder",
        errno.EROFS: "lies on a read-only disk; choose another folder",
    }
    message = plain.get(error.errno or 0, f"cannot be written: {error.strerror or error}")
    return OutputError(message, file=str(path))


@contextlib.contextmanager
def only_run(path: Path) -> Iterator[None]:
    """Hold a lock file beside `path`, so that two runs cannot mix their files.

    Raises
    ------
    OutputError
        If another run holds it.
    """
    place = path.resolve()
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


def _move_in(new: Path, old: Path, folder: OutputFolder) -> None:
    """Move new files in and old ones out; put all back if one cannot be moved."""
    target = folder.path
    if not target.exists():
        new.rename(target)
        return
    names = sorted(
        (item.relative_to(new).as_posix() for item in new.rglob("*") if item.is_file()),
        key=lambda name: (name == RUN_FILE, name),
    )
    had_run = (target / RUN_FILE).is_file()
    undo: list[tuple[Path, Path]] = []
    try:
        for name in dict.fromkeys((*folder.owned, *names)):
            if (target / name).is_file():
                _copy_or_move(target / name, old / name)
                undo.append((old / name, target / name))
        _claim_meanwhile(new, target, (*folder.owned, *names))
        for name in names:
            # A file of the same name is replaced in one step.
            _move(new / name, target / name)
            undo.append((target / name, new / name))
    except BaseException:
        for source, place in reversed(undo):
            _move(source, place)
        if not had_run:
            (target / RUN_FILE).unlink(missing_ok=True)
        raise


def _copy_or_move(source: Path, place: Path) -> None:
    """Take a file out of the way; ``run.json`` stays, so that the folder is known as ours."""
    if source.name != RUN_FILE:
        _move(source, place)
        return
    place.parent.mkdir(parents=True, exist_ok=True)
    shutil.copy2(source, place)


def _claim_meanwhile(new: Path, target: Path, names: Sequence[str]) -> None:
    """Put a ``run.json`` in place that lists old and new files, in case the run is killed now."""
    if not (new / RUN_FILE).is_file():
        return
    record = {"program": PROGRAM, "unfinished": True, "files": sorted({*names, RUN_FILE})}
    write_bytes(target / RUN_FILE, json.dumps(record, indent=2).encode())


def _move(source: Path, place: Path) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    source.replace(place)


def remove_owned(path: Path) -> None:
    """Remove the files that an earlier run made in a folder, and the folder when it is then empty.

    Files of others stay.
    """
    owned = _owned_files(path)
    for name in owned:
        (path / name).unlink(missing_ok=True)
    for parent in sorted({(path / name).parent for name in owned}, reverse=True):
        with contextlib.suppress(OSError):  # not empty: files of others
            parent.rmdir()


def write_bytes(path: Path, content: bytes) -> None:
    """Write a file whole or not at all: aside first, then moved into place."""
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = _aside(path)
    try:
        with aside.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        aside.replace(path)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise
