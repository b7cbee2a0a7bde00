"""A ``session.toml`` that pins what was understood of the files."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from pathlib import Path

from imucarry.basics.errors import OutputError, SessionError
from imucarry.basics.records import PLACEMENTS
from imucarry.readers.entries import SensorEntry
from imucarry.readers.plan import IF_PARTS, TOML_NAME

ENDING = ".toml"
PLAIN_KEYS = ("sensor", "acc_unit", "gyr_unit", "time_unit", "up", "out")
NUMBER_KEYS = ("rate_hz", "acc_scale", "gyr_scale", "clock_offset_s", "event_s")


def write_session_toml(
    path: Path,
    entries: Sequence[SensorEntry],
    *,
    participant: str,
    session: str,
    bouts: str = "",
    rom: str = "",
) -> Path:
    """Write a session file.

    Parameters
    ----------
    path : Path
        The file to write, or a folder for ``session.toml``; a folder is made if absent.
    entries : sequence of SensorEntry
        Entries of one placement with one file each are put together; an entry
        without placement has it left empty, to be filled in before scoring.
    participant, session : str
    bouts, rom : str, optional
        The sheets' file names.
    Returns
    -------
    Path
        The file written.

    Raises
    ------
    OutputError
        If it is there already.
    OSError
        If it cannot be written.
    SessionError
        If there are more sensors than placements, or two files hold the same
        quantity of one placement.
    """
    path = session_path(path)
    text = session_toml(entries, participant=participant, session=session, bouts=bouts, rom=rom)
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        handle = path.open("x", encoding="utf-8", newline="\n")
    except FileExistsError as error:
        raise OutputError(
            "is there already and stays as it is; remove it, or name another file that ends in"
            f" {ENDING}",
            file=str(path),
        ) from error
    with handle:
        handle.write(text)
    return path


def session_path(path: Path) -> Path:
    """Return the session file that `path` means: itself if it ends in ``.toml``, else in it."""
    is_file = path.suffix.lower() == ENDING and not path.is_dir()
    return path if is_file else path / TOML_NAME


def session_toml(
    entries: Sequence[SensorEntry],
    *,
    participant: str,
    session: str,
    bouts: str = "",
    rom: str = "",
) -> str:
    """Return the text of a session file."""
    lines = [f"participant = {_quoted(participant)}", f"session = {_quoted(session)}"]
    lines += [f"{key} = {_quoted(name)}" for key, name in (("bouts", bouts), ("rom", rom)) if name]
    merged = _merged(entries)
    if len(merged) > len(PLACEMENTS):
        raise SessionError("more sensors than placements; name the files by placement")
    for entry in merged:
        remark = "" if entry.placement else f"  # not told by the file: {', '.join(PLACEMENTS)}"
        lines += ["", "[[sensor]]", f"placement = {_quoted(entry.placement)}{remark}"]
        lines += _sensor_lines(entry)
    return "\n".join(lines) + "\n"


def _merged(entries: Sequence[SensorEntry]) -> list[SensorEntry]:
    """Put the accelerometer's and the gyroscope's file of one placement together.

    Column names then could be those of either file, and are left out.
    """
    merged: dict[str, SensorEntry] = {}
    lone = []
    for entry in entries:
        if not entry.placement:
            lone.append(entry)
        elif entry.placement in merged:
            merged[entry.placement] = _joined(merged[entry.placement], entry)
        else:
            merged[entry.placement] = entry
    return [*merged.values(), *lone]


def _joined(first: SensorEntry, second: SensorEntry) -> SensorEntry:
    for name, held in (("accelerometer", "acc_unit"), ("gyroscope", "gyr_unit")):
        if getattr(first, held) and getattr(second, held):
            raise SessionError(
                f"{first.files[0]} and {second.files[0]} both hold the {name} of the"
                f" {first.placement}; {IF_PARTS}, else leave one out"
            )
    same_time = first.time_unit == second.time_unit
    return SensorEntry(
        placement=first.placement,
        files=tuple(dict.fromkeys((*first.files, *second.files))),
        acc_unit=first.acc_unit or second.acc_unit,
        gyr_unit=first.gyr_unit or second.gyr_unit,
        time_unit=first.time_unit if same_time else "",
    )


def _sensor_lines(entry: SensorEntry) -> list[str]:
    files = [_quoted(name) for name in entry.files]
    lines = [f"file = {files[0]}" if len(files) == 1 else f"file = [{', '.join(files)}]"]
    if entry.columns:
        lines.append(f"columns = {{{', '.join(_column(*item) for item in entry.columns.items())}}}")
    values = {key: getattr(entry, key) for key in (*PLAIN_KEYS, *NUMBER_KEYS)}
    lines += [f"{key} = {_quoted(values[key])}" for key in PLAIN_KEYS if values[key]]
    lines += [f"{key} = {values[key]!r}" for key in NUMBER_KEYS if not math.isnan(values[key])]
    return lines


def _column(role: str, names: Sequence[str]) -> str:
    if role in ("acc", "gyr", "gravity"):
        return f"{role} = [{', '.join(_quoted(name) for name in names)}]"
    return f"{role} = {_quoted(names[0])}"


def _quoted(text: str) -> str:
    """Return a TOML basic string."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    safe = re.sub(r"[\x00-\x1f\x7f]", lambda hit: f"\\u{ord(hit[0]):04x}", escaped)
    return f'"{safe}"'
