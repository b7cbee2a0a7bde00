"""Shoulder tests, previews, the demo: the commands beside scoring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
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
    files: Sequence[str | Path], *, write_session: str | Path | None = None
) -> Previewed:
    """Describe sensor files without scoring them.

    Parameters
    ----------
    files : sequence of str or Path
    write_session : str or Path, optional
        Folder to write a ``session.toml`` to that pins what was understood.
    """
    from imucarry.readers.preview import describe, preview_lines
    from imucarry.readers.writing import write_session_toml

    previews = describe([Path(file) for file in files], read_settings(None).readers)
    written = None if write_session is None else write_session_toml(previews, Path(write_session))
    return Previewed(previews, tuple(preview_lines(previews)), written)


def write_demo_session(folder: str | Path) -> None:
    """Write the invented session to a folder that is absent, empty or an earlier demo."""
    from imucarry.simulate.demo import write_demo

    write_demo(Path(folder))
