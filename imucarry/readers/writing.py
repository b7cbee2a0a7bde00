"""A ``session.toml`` that pins what was understood of the files."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from pathlib import Path

from imucarry.basics.errors import OutputError, SessionError
from imucarry.basics.records import PLACEMENTS
from imucarry.readers.entries import SensorEntry

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
    force: bool = False,
) -> Path:
    """Write a session file.

    Parameters
    ----------
    path : Path
        A folder, or the file to write.
    entries : sequence of SensorEntry
        Entries of one placement with one file each are put together; an entry
        without placement gets the first free one, marked to be corrected.
    participant, session : str
    bouts, rom : str, optional
        The sheets' file names.
    force : bool
        Replace a file that is there.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    OutputError
        If it is there already, or cannot be written.
    SessionError
        If there are more sensors than placements.
    """
    path = path / "session.toml" if path.is_dir() else path
    text = session_toml(entries, participant=participant, session=session, bouts=bouts, rom=rom)
    try:
        with path.open("w" if force else "x", encoding="utf-8", newline="\n") as handle:
            handle.write(text)
    except FileExistsError as error:
        raise OutputError("is there already; remove it or use --force", file=path.name) from error
    except OSError as error:
        raise OutputError(f"cannot be written ({error.strerror})", file=path.name) from error
    return path


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
    free = [p for p in PLACEMENTS if p not in {entry.placement for entry in merged}]
    for entry in merged:
        if not entry.placement and not free:
            raise SessionError("more sensors than placements; name the files by placement")
        remark = "" if entry.placement else "  # not told by the file: correct it"
        placement = entry.placement or free.pop(0)
        lines += ["", "[[sensor]]", f"placement = {_quoted(placement)}{remark}"]
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
    if role in ("acc", "gyr"):
        return f"{role} = [{', '.join(_quoted(name) for name in names)}]"
    return f"{role} = {_quoted(names[0])}"


def _quoted(text: str) -> str:
    """Return a TOML basic string."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    safe = re.sub(r"[\x00-\x1f\x7f]", lambda hit: f"\\u{ord(hit[0]):04x}", escaped)
    return f'"{safe}"'
