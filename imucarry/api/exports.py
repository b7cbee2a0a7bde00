"""Write a session in an open standard."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from imucarry import __version__
from imucarry.api.results import inputs_of
from imucarry.api.session import score_session
from imucarry.basics.errors import OutputError
from imucarry.basics.settings import Settings
from imucarry.export import EXPORTS, Export
from imucarry.export.labels import Labels
from imucarry.outputs import RUN_FILE, OutputFolder, claim, only_run, plain_errors, staged
from imucarry.provenance import PROGRAM, json_text


def export_session(
    session: str | Path,
    out: str | Path,
    *,
    target: str,
    labels: Labels | None = None,
    settings: Settings | str | Path | None = None,
    force: bool = False,
) -> tuple[str, ...]:
    """Score one session and write it, raw and scored, in an open standard.

    A folder that earlier exports made gains the visit; the visits of other labels stay.

    Parameters
    ----------
    session : str or Path
        Session folder.
    out : str or Path
        Folder for the export; the rules of every output folder hold but that visits of
        other labels stay.
    target : str
        Name of a row of ``imucarry.export.EXPORTS``.
    labels : Labels, optional
        What stands for the person and the visit; the default says nothing of them.
    settings : Settings or path of a TOML file, optional
        Settings, or the file that holds them; the defaults without.
    force : bool
        Allow a folder that holds files of others, and replace other recordings of the
        same labels.

    Returns
    -------
    tuple of str
        The files written, relative to `out`.

    Raises
    ------
    OutputError
        If there is no such standard, if the folder holds other recordings under the same
        labels, or if it is refused or cannot be written to.
    ImucarryError
        If the session or a settings file cannot be used.
    """
    export = _export(target)
    scored = score_session(session, settings)
    inputs, labels = inputs_of(scored), labels or Labels()
    files = export.write(scored.result, labels)
    path = claim(Path(out), inputs=inputs, force=force, command="export").path
    with plain_errors(path), only_run(path):  # another export may add to it meanwhile
        folder = claim(path, inputs=inputs, force=force, command="export")
        change = export.add(path, folder.owned, files, labels, force=force)
        folder = replace(folder, owned=change.replaced, kept=change.kept)
        _write(folder, change.files)
    return tuple(change.files)


def _write(folder: OutputFolder, files: Mapping[str, bytes]) -> None:
    listed = sorted({*files, *folder.kept, RUN_FILE})
    record = {"program": PROGRAM, "version": __version__, "files": listed}
    with staged(folder, locked=True) as aside:
        for name, content in files.items():
            (aside / name).parent.mkdir(parents=True, exist_ok=True)
            (aside / name).write_bytes(content)
        (aside / RUN_FILE).write_bytes(json_text(record).encode())


def _export(target: str) -> Export:
    """Return the row of an open standard."""
    for row in EXPORTS:
        if row.name == target:
            return row
    known = ", ".join(row.name for row in EXPORTS)
    raise OutputError(f"there is no export {target!r}; known: {known}")
