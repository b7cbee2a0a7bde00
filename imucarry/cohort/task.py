"""One session's work in a worker process: read, score, write, report back in a few words."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from imucarry import __version__
from imucarry.basics.errors import ImucarryError
from imucarry.basics.settings import Settings, as_tree
from imucarry.outputs import RUN_FILE, write_bytes

_READ_SUFFIXES = frozenset(
    {".csv", ".tsv", ".txt", ".dat", ".toml", ".json", ".gz", ".parquet", ".pq", ""}
)
_CHUNK_BYTES = 1 << 20


@dataclass(frozen=True, slots=True)
class Task:
    """One session to score; picklable, so that any executor can carry it."""

    number: int  # row of the manifest, from 0
    name: str  # the folder as the manifest names it
    folder: Path
    out: Path  # the session's own results folder
    key_file: Path  # written when the session is finished
    settings: Settings


@dataclass(frozen=True, slots=True)
class Outcome:
    """How one session ended; small, because the parent keeps one for every session.

    ``error`` is empty when the session was scored, else the kind of error.
    ``lasting`` is False when running the same again may end otherwise.
    """

    number: int
    error: str = ""
    message: str = ""
    lasting: bool = True


def session_key(folder: Path, settings: Settings) -> str:
    """Return the sha256 of a session's files, the settings and the version.

    Files of kinds that no reader opens (videos, pictures) count by name and size.

    Parameters
    ----------
    folder : Path
        The session's folder, or the path of its ``session.toml``.
    settings : Settings
    """
    digest = hashlib.sha256()
    digest.update(json.dumps([__version__, as_tree(settings)], sort_keys=True).encode())
    root = folder if folder.is_dir() else folder.parent
    for path in sorted(_files(root)):
        digest.update(f"\n{path.relative_to(root).as_posix()} ".encode())
        if path.suffix.lower() in _READ_SUFFIXES:
            digest.update(_file_sha256(path).encode())
        else:
            digest.update(str(path.stat().st_size).encode())
    return digest.hexdigest()


def _files(root: Path) -> Iterator[Path]:
    return (path for path in root.rglob("*") if path.is_file())


def _file_sha256(path: Path) -> str:
    digest = hashlib.sha256()
    with path.open("rb") as stream:
        while chunk := stream.read(_CHUNK_BYTES):
            digest.update(chunk)
    return digest.hexdigest()


def finished(task: Task, key: str) -> Outcome | None:
    """Return how a session ended in an earlier run with the same key, if it did."""
    try:
        kept = json.loads(task.key_file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    if not isinstance(kept, dict) or kept.get("key") != key:
        return None
    error = str(kept.get("error", ""))
    if not error and not (task.out / RUN_FILE).is_file():
        return None
    return Outcome(task.number, error, str(kept.get("message", "")))


def do_task(task: Task) -> Outcome:
    """Score one session and write its folder; never raises.

    The key file is written last: a session without it is not finished.
    """
    try:
        key = session_key(task.folder, task.settings)
        kept = finished(task, key)
        if kept is not None:
            return kept
        outcome = _score(task)
        if outcome.lasting:
            _keep(task, key, outcome)
    except OSError as error:
        return Outcome(task.number, "OutputError", f"{task.name}: {error.strerror}", lasting=False)
    except Exception as error:  # one session's bug must not end a study
        return Outcome(task.number, "Bug", f"{type(error).__name__}: {error}", lasting=False)
    return outcome


def _score(task: Task) -> Outcome:
    from imucarry.api import score_session, write_scores

    try:
        scored = score_session(task.folder, task.settings)
        write_scores(scored, task.out, source=task.folder)
    except ImucarryError as error:
        lasting = type(error).__name__ != "OutputError"
        return Outcome(task.number, type(error).__name__, str(error), lasting)
    return Outcome(task.number)


def _keep(task: Task, key: str, outcome: Outcome) -> None:
    content: dict[str, Any] = {"key": key}
    if outcome.error:
        content |= {"error": outcome.error, "message": outcome.message}
    write_bytes(task.key_file, json.dumps(content, sort_keys=True).encode())
