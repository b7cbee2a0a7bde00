"""Shoulder tests, previews, the demo: the commands beside scoring."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from imucarry.basics.records import RetestFinding
from imucarry.basics.settings import read_settings

if TYPE_CHECKING:
    from imucarry.readers.preview import FilePreview


def retest_file(
    path: str | Path, settings_path: str | Path | None = None, *, mdc_deg: float | None = None
) -> tuple[RetestFinding, ...]:
    """Compare the shoulder tests of one ``rom.csv``, before and after.

    Parameters
    ----------
    path : str or Path
    settings_path : str or Path, optional
    mdc_deg : float, optional
        The smallest detectable change (95 %) to use [deg].

    Returns
    -------
    tuple of RetestFinding
    """
    from imucarry.carry.retest import compare_tests
    from imucarry.readers.sheets import read_rom

    settings = read_settings(None if settings_path is None else Path(settings_path))
    return compare_tests(read_rom(Path(path)), settings.carry, mdc_deg=mdc_deg)


@dataclass(frozen=True, slots=True)
class Previewed:
    """What files were understood to be, as records and as lines for people."""

    previews: tuple[FilePreview, ...]
    lines: tuple[str, ...]
    session_file: Path | None


def preview_files(
    files: Sequence[str | Path],
    *,
    write_session: str | Path | None = None,
    participant: str = "",
    session: str = "1",
) -> Previewed:
    """Describe sensor files without scoring them.

    Parameters
    ----------
    files : sequence of str or Path
    write_session : str or Path, optional
        Folder to write a ``session.toml`` to that pins what was understood.
    participant, session : str
        What that file names the person (by default as its folder) and the visit.
    """
    from imucarry.readers.preview import describe
    from imucarry.report.preview import lines

    paths = [Path(file) for file in files]
    previews = describe(paths, read_settings(None).readers)
    written = None
    if write_session is not None:
        folder = Path(write_session)
        written = _pin(previews, paths, folder, participant or folder.resolve().name, session)
    return Previewed(previews, tuple(lines(previews)), written)


def _pin(
    previews: Sequence[FilePreview],
    paths: Sequence[Path],
    folder: Path,
    participant: str,
    session: str,
) -> Path:
    """Write a ``session.toml`` that names the files as seen from its folder."""
    from imucarry.readers.writing import write_session_toml

    seen = {path.name: Path(os.path.relpath(path, folder)).as_posix() for path in paths}
    entries = [
        replace(preview.entry, files=tuple(seen[name] for name in preview.entry.files))
        for preview in previews
    ]
    return write_session_toml(folder, entries, participant=participant, session=session)


def write_demo_session(folder: str | Path) -> None:
    """Write the invented session to a folder that is absent, empty or an earlier demo."""
    from imucarry.simulate.demo import write_demo

    write_demo(Path(folder))
