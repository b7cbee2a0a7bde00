"""Files are written aside and moved into place when every one of them is complete."""

from __future__ import annotations

import contextlib
import glob
import json
import os
import shutil
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from imucarry.outputs.folders import PROGRAM, RUN_FILE, OutputFolder, is_there
from imucarry.outputs.locks import LOCK, only_run, plain_errors, resolved

ASIDE = ".imucarry-aside-"
"""Part of the names of what is written aside; a killed run may leave such behind."""


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
        is_there(folder.path)  # a path that can lead nowhere is refused before the work
        # Whoever holds the lock may sweep up what a killed run left.
        sweep(folder.path)
        sweep(folder.path / RUN_FILE)
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
    place = resolved(path)
    return place.with_name(f".{place.name}{ASIDE}{os.urandom(4).hex()}")


def _new_aside(path: Path) -> Path:
    # Not mkdtemp: its folders are private, and setting the usual rights afterwards
    # would need the umask, which threads cannot read safely.
    aside = _aside(path)
    aside.mkdir()
    return aside


def sweep(path: Path) -> None:
    """Remove what runs that were killed left beside `path`; only under its lock."""
    place = resolved(path)
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
        _claim_meanwhile(new, target, (*folder.owned, *folder.kept, *names))
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
