"""A simulated session as a folder of plain files, like one that was recorded."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable, Sequence
from dataclasses import fields
from pathlib import Path

import numpy as np

from imucarry.basics.records import BoutRow, FloatArray, RomReading
from imucarry.simulate.session import SessionSpec, SimulatedSession

COLUMNS = (
    "time_s",
    "acc_x_mps2",
    "acc_y_mps2",
    "acc_z_mps2",
    "gyr_x_radps",
    "gyr_y_radps",
    "gyr_z_radps",
)
SAMPLE_FORMAT = ("%.4f", "%.3f", "%.3f", "%.3f", "%.5f", "%.5f", "%.5f")
NEEDED = ("bout", "start_s", "end_s", "hold", "loaded_side", "load_kg", "aim")


def write_session(simulated: SimulatedSession, folder: Path, *, heading: str = "") -> None:
    """Write a session folder: one CSV a sensor, ``session.toml``, the two sheets.

    Parameters
    ----------
    simulated : SimulatedSession
    folder : Path
        Made if absent; files of the same names are replaced.
    heading : str, optional
        A comment for the first line of ``session.toml``.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for recording in simulated.recordings:
        values = np.column_stack([recording.time_s, recording.acc_mps2, recording.gyr_radps])
        kept = values[~simulated.lost[recording.placement]]
        write_samples(folder / f"{recording.placement}.csv", kept)
    placements = [recording.placement for recording in simulated.recordings]
    _write_text(folder / "session.toml", _toml(simulated.spec, placements, heading))
    _write_sheet(folder / "bouts.csv", simulated.bout_rows, NEEDED)
    if simulated.spec.rom:
        _write_sheet(folder / "rom.csv", simulated.spec.rom, ("test", "side", "when", "value_deg"))


def write_samples(path: Path, values: FloatArray) -> None:
    """Write one sensor's samples, shape (N, 7): time, acceleration, rate."""
    line = ",".join(SAMPLE_FORMAT)
    rows = (line % tuple(row) for row in values.tolist())
    _write_text(path, "\n".join([",".join(COLUMNS), *rows]) + "\n")


def _write_text(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")


def _toml(spec: SessionSpec, placements: Sequence[str], heading: str) -> str:
    """Return the text of ``session.toml``."""
    lines = [f"# {heading}"] if heading else []
    lines += [f'participant = "{spec.participant}"', f'session = "{spec.session}"']
    if spec.date is not None:
        lines.append(f"date = {spec.date.isoformat()}")
    for name in ("body_mass_kg", "height_m", "lane_m"):
        value = getattr(spec, name)
        if math.isfinite(value):
            lines.append(f"{name} = {value}")
    lines.append('bouts = "bouts.csv"')
    if spec.rom:
        lines.append('rom = "rom.csv"')
    for placement in placements:
        lines += ["", "[[sensor]]", f'placement = "{placement}"', f'file = "{placement}.csv"']
    return "\n".join(lines) + "\n"


NOT_WRITTEN = ("extra", "line")
"""Fields of a row that are no columns of its sheet."""


def _write_sheet(
    path: Path, rows: Sequence[BoutRow] | Sequence[RomReading], needed: Iterable[str]
) -> None:
    """Write a sheet with the columns that it must have and those that any row fills."""
    names = [field.name for field in fields(rows[0]) if field.name not in NOT_WRITTEN]
    table = [{name: _cell(getattr(row, name)) for name in names} for row in rows]
    usual = {"perturbed": "none"}
    used = [
        name
        for name in names
        if name in needed or any(row[name] not in ("", usual.get(name)) for row in table)
    ]
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, used, extrasaction="ignore", lineterminator="\n")
        writer.writeheader()
        writer.writerows(table)


def _cell(value: object) -> str:
    """Return a cell: empty where undefined."""
    if isinstance(value, float):
        return f"{value:.3f}".rstrip("0").rstrip(".") if math.isfinite(value) else ""
    if isinstance(value, tuple):
        return ";".join(str(item) for item in value)
    return str(value)
