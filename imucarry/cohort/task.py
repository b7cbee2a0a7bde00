"""One session's work in a worker process: read, score, write, report back in a few words."""

from __future__ import annotations

import contextlib
import errno
import glob
import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from imucarry import __version__
from imucarry.basics.errors import ImucarryError, InputError, OutputError, SessionError
from imucarry.basics.settings import Settings, as_tree
from imucarry.outputs import RUN_FILE, UNCHANGED, plain_errors, remove_owned, write_bytes
from imucarry.readers.plan import TOML_NAME

_READ_SUFFIXES = frozenset(
    {".csv", ".tsv", ".txt", ".dat", ".toml", ".json", ".gz", ".parquet", ".pq", ""}
)
BUG = "Bug"
SHOWN = 5
"""Sessions that a message names."""


@dataclass(frozen=True, slots=True)
class Task:
    """One session to score; picklable, so that any executor can carry it."""

    number: int  # row of the manifest, from 0
    name: str  # the folder as the manifest names it
    folder: Path
    out: Path  # the session's own results folder
    key_file: Path  # written when the session is finished
    settings: Settings
    force: bool = False


@dataclass(frozen=True, slots=True)
class Outcome:
    """How one session ended; small, because the parent keeps one for every session.

    Attributes
    ----------
    number : int
        Row of the manifest.
    error, message : str
        Kind of error and its words; empty when the session was scored.
    lasting : bool
        False when running the same again may end otherwise.
    stops_all : bool
        The results cannot be written (a full disk): no other session could be either.
    kept : bool
        It ended so in an earlier run; nothing was scored now.
    """

    number: int
    error: str = ""
    message: str = ""
    lasting: bool = True
    stops_all: bool = False
    kept: bool = field(default=False, compare=False)


# --- what a session's results rest on ----------------------------------------


def session_key(folder: Path, settings: Settings) -> str:
    """Return the sha256 of a session's files, the settings and the version.

    Files that the session does not name, of kinds that no reader opens (videos, pictures),
    count by name and size.

    Parameters
    ----------
    folder : Path
        The session's folder, or the path of its ``session.toml``.
    settings : Settings
    """
    digest = hashlib.sha256()
    digest.update(json.dumps([__version__, as_tree(settings)], sort_keys=True).encode())
    root = folder if folder.is_dir() else folder.parent
    named = {path for path in _named_files(folder) if path.is_file()}
    beside = {path for path in root.rglob("*") if folder.is_dir() and path.is_file()}
    for name, path in sorted((_name(path, root), path) for path in named | beside):
        digest.update(f"\n{name} ".encode())
        if path in named or path.suffix.lower() in _READ_SUFFIXES:
            digest.update(_file_sha256(path).encode())
        else:
            digest.update(str(path.stat().st_size).encode())
    return digest.hexdigest()


def _name(path: Path, root: Path) -> str:
    return path.relative_to(root).as_posix() if path.is_relative_to(root) else path.as_posix()


def _named_files(folder: Path) -> Iterator[Path]:
    """Yield the session file, the files it names, and those that stand beside them."""
    from imucarry.readers.plan import read_plan

    if folder.is_file():
        yield folder
    try:
        plan = read_plan(folder)
    except (ImucarryError, OSError):
        return
    names = [name for entry in plan.sensors for name in entry.files]
    for name in (*names, plan.bouts, plan.rom):
        if name:
            path = plan.path(name)
            yield path
            # Some formats keep names and units in sister files of the same stem.
            stem = path.name.rpartition("_")[0]
            yield from path.parent.glob(f"{glob.escape(stem)}_*.*") if stem else ()


def _file_sha256(path: Path) -> str:
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


# --- the key file ------------------------------------------------------------


def finished(task: Task, key: str) -> Outcome | None:
    """Return how a session ended in an earlier run with the same key, if it did.

    Scored sessions must have all their files as they were written: a power cut can
    leave a file empty that was written, and people move files.
    """
    try:
        kept = json.loads(task.key_file.read_text(encoding="utf-8"))
        if kept["key"] != key:
            return None
        if kept["error"]:
            return Outcome(task.number, str(kept["error"]), str(kept["message"]), kept=True)
        files = dict(kept["files"])
        whole = all(_file_sha256(task.out / name) == digest for name, digest in files.items())
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return Outcome(task.number, kept=True) if whole and RUN_FILE in files else None


def _listed(task: Task) -> list[str]:
    """Return the files of an earlier run, also when the session's own list of them is damaged."""
    try:
        kept = json.loads(task.key_file.read_text(encoding="utf-8"))
        return list(dict(kept["files"]))
    except (OSError, ValueError, KeyError, TypeError):
        return []


def _keep(task: Task, key: str, outcome: Outcome, files: tuple[str, ...]) -> None:
    content: dict[str, Any] = {
        "key": key,
        "error": outcome.error,
        "message": outcome.message,
        "files": {name: _file_sha256(task.out / name) for name in sorted(files)},
    }
    write_bytes(task.key_file, json.dumps(content, sort_keys=True).encode())


# --- the work ----------------------------------------------------------------


def do_task(task: Task) -> Outcome:
    """Score one session and write its folder; never raises.

    The key file is written last: a session without it is not finished.
    """
    try:
        with _reading():
            _refuse_no_session(task)
            key = session_key(task.folder, task.settings)
        kept = finished(task, key)
        return kept if kept is not None else _score_and_keep(task, key)
    except ImucarryError as error:
        return _failure(task, error, lasting=False)
    except Exception as error:  # one session's bug must not end a study
        return Outcome(task.number, BUG, _one_line(task, error), lasting=False)


def _refuse_no_session(task: Task) -> None:
    """Raise where the manifest names what can be no session, and say what it is."""
    folder = task.folder
    if not folder.exists():
        slash = ', with "/" between folders' if "\\" in task.name else ""
        note = '; a line of notes begins with "# "' if task.name.startswith("#") else ""
        raise SessionError(f"is not there; mend the column 'folder'{slash}{note}", file=task.name)
    if folder.is_file() and folder.suffix.lower() != ".toml":
        raise SessionError("is a file; name the session's folder", file=task.name)
    if folder.is_dir() and not (folder / TOML_NAME).exists():
        inner = sorted(path.parent.name for path in folder.glob(f"*/{TOML_NAME}"))
        if inner and not any(path.is_file() for path in folder.iterdir()):
            raise SessionError(
                f"holds the sessions {', '.join(inner[:SHOWN])}{' ...' if inner[SHOWN:] else ''}; "
                "give each a row of its own",
                file=task.name,
            )


@contextlib.contextmanager
def _reading() -> Iterator[None]:
    """Turn what the system says while a session is read into an `InputError`."""
    try:
        yield
    except OSError as error:
        raise InputError(f"cannot be read: {error.strerror or error}") from error


def _score_and_keep(task: Task, key: str) -> Outcome:
    from imucarry.api import score_session, write_scores

    # Results of other inputs, or damaged ones: from here on the session is not finished.
    with plain_errors(task.out):
        remove_owned(task.out, also=_listed(task))
        task.key_file.unlink(missing_ok=True)
    files: tuple[str, ...] = ()
    try:
        with _reading():
            scored = score_session(task.folder, task.settings)
        files = write_scores(scored, task.out, source=task.folder, force=task.force)
        outcome = Outcome(task.number)
    except OutputError:
        raise
    except ImucarryError as error:
        outcome = _failure(task, error, lasting=not _may_pass(error.__cause__))
    if outcome.lasting:
        with plain_errors(task.out):
            _keep(task, key, outcome, files)
    return outcome


def _may_pass(cause: BaseException | None) -> bool:
    """Whether the machine refused what it may give in the next run, and no file is at fault.

    A file that is not there, or no file, changes the key when it comes; damage has no number.
    """
    if isinstance(cause, OSError):
        return cause.errno not in (None, errno.ENOENT, errno.EISDIR, errno.ENOTDIR)
    return isinstance(cause, ImportError)


def _failure(task: Task, error: ImucarryError, *, lasting: bool) -> Outcome:
    # What the system refuses to write for one session it refuses for all.
    stops_all = isinstance(error, OutputError) and isinstance(error.__cause__, OSError)
    full = stops_all and error.message.endswith(UNCHANGED)  # no matter of this session's folder
    said = error.message if full else _one_line(task, error)
    return Outcome(task.number, type(error).__name__, said, lasting, stops_all)


def _one_line(task: Task, error: Exception) -> str:
    """Return an error in one line that names no path of this machine."""
    said = str(error) if isinstance(error, ImucarryError) else f"{type(error).__name__}: {error}"
    for path, name in ((task.folder, task.name), (task.out, task.out.name)):
        said = said.replace(str(path), name)
    return " ".join(said.split())
