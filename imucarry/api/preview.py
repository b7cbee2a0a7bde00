"""What files are understood to be, before anything is scored."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from imucarry.basics.errors import ImucarryError, SessionError
from imucarry.basics.settings import read_settings
from imucarry.readers.preview import FilePreview, describe


@dataclass(frozen=True, slots=True)
class Previewed:
    """What files were understood to be, as records and as lines for people.

    Attributes
    ----------
    previews : tuple of FilePreview
    lines : tuple of str
    session_file : Path or None
        The ``session.toml`` that was written.
    sheets : tuple of str
        The sheets that it names, as seen from its folder.
    failures : tuple of ImucarryError
        Why the other files could not be understood.
    """

    previews: tuple[FilePreview, ...]
    lines: tuple[str, ...]
    session_file: Path | None
    sheets: tuple[str, ...] = ()
    failures: tuple[ImucarryError, ...] = ()

    @property
    def unplaced(self) -> tuple[str, ...]:
        """The files, or sensors of a file, whose placement is not known."""
        unknown = (item.entry for item in self.previews if not item.entry.placement)
        return tuple(entry.sensor or entry.files[0] for entry in unknown)


def preview_files(
    files: str | Path | Sequence[str | Path],
    *,
    write_session: str | Path | None = None,
    participant: str = "",
    session: str = "1",
) -> Previewed:
    """Describe sensor files without scoring them.

    Parameters
    ----------
    files : str or Path, or a sequence of them
        Sheets (``bouts.csv``, ``rom.csv``) among them are no sensor files and are left out.
        Of a folder its sensor files. What a ``session.toml`` beside a file states of it is
        followed.
    write_session : str or Path, optional
        Folder to write a ``session.toml`` to, or a file that ends in ``.toml``: it pins
        what was understood and names the sheets that lie beside it.
    participant, session : str
        What that file names the person (by default as its folder) and the visit.

    Returns
    -------
    Previewed
        Of the files that could be understood; ``failures`` tells of the others.

    Raises
    ------
    ImucarryError
        If no file could be understood, or one could not and a ``session.toml`` is to be
        written.
    """
    from imucarry.readers.stated import with_entries
    from imucarry.report.preview import lines

    files = [files] if isinstance(files, str | Path) else files
    if not files:
        raise SessionError("no sensor file is named")
    readers = read_settings(None).readers
    described: list[tuple[Path, FilePreview]] = []
    failures: list[ImucarryError] = []
    for path, entry in with_entries([Path(file) for file in files]):
        try:
            described += [(path, preview) for preview in describe([path], readers, entry)]
        except ImucarryError as error:
            failures.append(error)
    if failures and (write_session is not None or not described):
        raise failures[0]
    previews = tuple(preview for _, preview in described)
    said = tuple(lines(previews))
    if write_session is None:
        return Previewed(previews, said, None, failures=tuple(failures))
    written, sheets = _pin(described, Path(write_session), participant, session)
    return Previewed(previews, said, written, sheets)


def _pin(
    described: Sequence[tuple[Path, FilePreview]], place: Path, participant: str, session: str
) -> tuple[Path, tuple[str, ...]]:
    """Write a session file that names the files as seen from its folder, and its sheets."""
    from imucarry.outputs import plain_errors, resolved
    from imucarry.readers.plan import sheets_of
    from imucarry.readers.writing import session_path, write_session_toml

    with plain_errors(place):
        folder = session_path(place).parent
        bouts, rom = sheets_of(folder)
        person = participant or resolved(folder).name
    entries = [
        replace(preview.entry, files=(Path(os.path.relpath(path, folder)).as_posix(),))
        for path, preview in described
    ]
    with plain_errors(place):
        written = write_session_toml(
            place, entries, participant=person, session=session, bouts=bouts, rom=rom
        )
    return written, tuple(name for name in (bouts, rom) if name)
