"""One more visit in a data set that is there already: what is written, what stays."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from imucarry.basics.errors import OutputError
from imucarry.export.labels import Labels

DERIVED = "derivatives/imucarry/"
PARTICIPANTS = "participants.tsv"
ID = "participant_id"
EMPTY = "n/a"


@dataclass(frozen=True, slots=True)
class Addition:
    """What an export does to a folder.

    Attributes
    ----------
    files : mapping of path to content
        Files to write.
    replaced : tuple of str
        Files of earlier exports that go, or are written anew.
    kept : tuple of str
        Files of earlier exports that stay as they are.
    """

    files: Mapping[str, bytes]
    replaced: tuple[str, ...]
    kept: tuple[str, ...]


def add_visit(
    folder: Path,
    owned: Sequence[str],
    files: Mapping[str, bytes],
    labels: Labels,
    *,
    force: bool = False,
) -> Addition:
    """Return how one visit is added to the data set in a folder.

    Parameters
    ----------
    folder : Path
    owned : sequence of str
        Files of earlier exports in it, relative, with ``/``.
    files : mapping of path to content
        A data set of the one visit alone.
    labels : Labels
        Of the visit.
    force : bool
        Replace a visit of the same labels, whatever its recordings are.

    Raises
    ------
    OutputError
        If the folder holds other recordings under the same labels, or its table of
        participants cannot be added to.
    """
    own = f"sub-{labels.participant}/ses-{labels.session}/"
    before = [name for name in owned if _visit(name) == own]
    if not force:
        _require_same_recordings(folder, before, files, labels)
    others = [name for name in owned if _visit(name) not in ("", own)]
    people = {_visit(name).split("/")[0] for name in others} | {f"sub-{labels.participant}"}
    files = {**files, PARTICIPANTS: _with_people(folder / PARTICIPANTS, people)}
    if not others:
        return Addition(files, tuple(owned), ())
    # What describes the whole data set may have been edited since.
    common = [
        name
        for name in owned
        if name in files and not _visit(name) and (folder / name).is_file() and name != PARTICIPANTS
    ]
    wanted = {name: content for name, content in files.items() if name not in common}
    kept = {*others, *common}
    replaced = tuple(name for name in owned if name not in kept)
    return Addition(wanted, replaced, tuple(sorted(kept)))


def _visit(name: str) -> str:
    """Return the folder of the visit that a file belongs to, "" for the whole data set."""
    parts = name.removeprefix(DERIVED).split("/")
    is_visit = len(parts) > 2 and parts[0].startswith("sub-") and parts[1].startswith("ses-")
    return f"{parts[0]}/{parts[1]}/" if is_visit else ""


def _require_same_recordings(
    folder: Path, before: Iterable[str], files: Mapping[str, bytes], labels: Labels
) -> None:
    """Refuse to put one visit in the place of another one."""
    for name in before:
        path = folder / name
        is_motion = name.endswith("_motion.tsv") and path.is_file()
        if is_motion and path.read_bytes() != files.get(name):
            raise OutputError(
                f"holds other recordings as participant {labels.participant}, session "
                f"{labels.session}; give these another --participant-label or --session-label, "
                "or replace those with --force",
                file=str(folder),
            )


def _with_people(path: Path, people: Iterable[str]) -> bytes:
    """Return the table of participants with a row for each person, further columns kept."""
    try:
        lines = path.read_text(encoding="utf-8-sig").splitlines() if path.is_file() else []
    except UnicodeDecodeError as error:
        raise OutputError("is no UTF-8 text; save it as such", file=str(path)) from error
    rows = [line.split("\t") for line in lines if line.strip()]
    header, known = (rows[0], rows[1:]) if rows else ([ID], [])
    if header[0] != ID:
        raise OutputError(f"does not begin with the column {ID}; put it first", file=str(path))
    empty = [EMPTY] * (len(header) - 1)
    missing = sorted(set(people) - {row[0] for row in known})
    told = sorted([*known, *([person, *empty] for person in missing)])
    return ("\n".join("\t".join(row) for row in [header, *told]) + "\n").encode()
