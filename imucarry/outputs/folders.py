"""Whose an output folder is: refused, ours from an earlier run, or free."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from imucarry.basics.errors import OutputError
from imucarry.outputs.locks import plain_errors, resolved

RUN_FILE = "run.json"
PROGRAM = "imucarry"
SIGNED = {"cohort.html": "cohort", "report.html": "score", "dataset_description.json": "export"}
"""A file of each command's results, and the command."""


@dataclass(frozen=True, slots=True)
class OutputFolder:
    """A folder that may be written to.

    Attributes
    ----------
    path : Path
    owned : tuple of str
        Files of an earlier run, which the next one replaces; relative, with ``/``.
    kept : tuple of str
        Files of an earlier run that stay, and stay ours.
    """

    path: Path
    owned: tuple[str, ...]
    kept: tuple[str, ...] = ()


def claim(
    path: Path, *, inputs: Sequence[Path], force: bool = False, command: str = ""
) -> OutputFolder:
    """Check that results may be written to `path`.

    Parameters
    ----------
    path : Path
        Folder that may or may not exist.
    inputs : sequence of Path
        Files and folders that the run reads.
    force : bool
        Allow a folder that holds files of others, or results of another command.
    command : str
        Name of the command that writes; "" replaces the results of any.

    Raises
    ------
    OutputError
        If `path` is a file, is, holds or lies in an input, is a non-empty folder that
        no earlier run made, or holds the results of another command; if the system does
        not know such a path.
    """
    with plain_errors(path):
        return _claimed(path, inputs, force, command)


def _claimed(path: Path, inputs: Sequence[Path], force: bool, command: str) -> OutputFolder:
    _refuse_inputs(path, inputs)
    if is_there(path) and not path.is_dir():
        raise OutputError("is a file; name a folder", file=str(path))
    owned = _owned_files(path)
    if not owned and not force and path.is_dir() and any(path.iterdir()):
        raise OutputError(
            "is not empty and was not made by imucarry; name another folder or use --force",
            file=str(path),
        )
    made_by = _command_of(path, owned)
    if command and made_by not in ("", command) and not force:
        raise OutputError(
            f"holds the results of 'imucarry {made_by}', which would be removed; name another "
            "folder or use --force",
            file=str(path),
        )
    return OutputFolder(path, owned)


def is_there(path: Path) -> bool:
    """Return whether something is at `path`; a path that can lead nowhere is an `OSError`."""
    try:
        path.stat()
    except FileNotFoundError:
        return False
    return True


def _command_of(path: Path, owned: Sequence[str]) -> str:
    """Return the command that made a folder's results, "" where they do not tell."""
    if not owned:
        return ""
    run = json.loads((path / RUN_FILE).read_text(encoding="utf-8"))
    told = [command for file, command in SIGNED.items() if file in owned]
    return str(run.get("command", "")) or next(iter(told), "")


def _refuse_inputs(path: Path, inputs: Sequence[Path]) -> None:
    target = resolved(path)
    for item in inputs:
        source = resolved(item)
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
    return (*sorted(set(_inside(path, listed)) - {RUN_FILE}), RUN_FILE)


def _inside(path: Path, names: Iterable[str]) -> list[str]:
    """Return the names of files that lie in a folder; a damaged list may name others."""
    root = resolved(path)
    return [name for name in names if root in resolved(path / name).parents]


def remove_owned(path: Path, also: Sequence[str] = ()) -> None:
    """Remove the files that an earlier run made in a folder, and the folder when it is then empty.

    Files of others stay.

    Parameters
    ----------
    path : Path
    also : sequence of str
        Files known to be ours though no ``run.json`` lists them, relative.
    """
    ours = {*_owned_files(path), *_inside(path, also)}
    names = sorted(ours, key=lambda name: (name == RUN_FILE, name))
    for name in names:
        (path / name).unlink(missing_ok=True)
    for parent in sorted({(path / name).parent for name in names}, reverse=True):
        with contextlib.suppress(OSError):  # not empty: files of others
            parent.rmdir()
