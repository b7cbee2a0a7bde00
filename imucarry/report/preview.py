"""What files were understood to be, in lines for the console."""

from __future__ import annotations

from collections.abc import Sequence

from imucarry.basics.records import FileReading, Recording
from imucarry.readers.preview import FilePreview
from imucarry.report.wording.numbers import number
from imucarry.report.wording.words_preview import PREVIEW

PERCENT = 100.0


def lines(previews: Sequence[FilePreview]) -> list[str]:
    """Return the previews as lines, a paragraph a sensor.

    Parameters
    ----------
    previews : sequence of FilePreview
    """
    said: list[str] = []
    for preview in previews:
        said += ["", *_file(preview)] if said else _file(preview)
    return said


def in_short(recording: Recording) -> str:
    """Return in one line what a scored sensor's files were understood to be."""
    files = ", ".join(reading.file for reading in recording.readings)
    units = dict.fromkeys(
        column.unit
        for reading in recording.readings
        for column in reading.columns
        if column.role.startswith(("acc", "gyr")) and column.unit
    )
    return PREVIEW["short"].format(
        placement=recording.placement.replace("_", " "),
        files=files,
        rate=number(recording.rate_hz, 1),
        duration=number(recording.time_s.size / recording.rate_hz, 0),
        units=", ".join(units),
    )


def _file(preview: FilePreview) -> list[str]:
    reading = preview.reading
    placement = preview.entry.placement.replace("_", " ") or PREVIEW["no_placement"]
    said = [f"{reading.file}: {placement}", f"  {reading.layout}"]
    said += [f"  {line}" for line in _columns(reading)]
    said += [f"  {line}" for line in _facts(reading)]
    said += [f"  {line}" for line in preview.sketch]
    said += [f"  {notice.severity}: {notice.message}" for notice in reading.notices]
    return said


def _columns(reading: FileReading) -> list[str]:
    """Return one line a column: name, role, unit, and the rule that said so."""
    rows = [
        (column.name, column.role.replace("_", " "), column.unit or "", column.rule)
        for column in reading.columns
    ]
    widths = [max((len(row[k]) for row in rows), default=0) for k in range(3)]
    return [
        "  ".join([*(cell.ljust(w) for cell, w in zip(row, widths, strict=False)), row[3]])
        for row in rows
    ]


def _facts(reading: FileReading) -> list[str]:
    said = [
        PREVIEW["time"].format(rule=reading.time_rule),
        PREVIEW["rate"].format(
            rate=number(reading.rate_hz, 2),
            jitter=number(reading.jitter_ms, 2),
            duration=number(reading.duration_s, 1),
            rows=reading.n_rows,
        ),
        PREVIEW["gaps"].format(
            bridged=reading.n_gaps_bridged,
            longer=reading.n_gaps,
            longest=number(reading.longest_gap_s, 2),
            clipped=number(PERCENT * reading.clipped_frac, 2),
        ),
    ]
    if reading.rest_acc_mps2 is None:
        has_acc = any(column.role.startswith("acc_") for column in reading.columns)
        return [*said, PREVIEW["no_rest"]] if has_acc else said
    x, y, z = (number(value, 2) for value in reading.rest_acc_mps2)
    return [*said, PREVIEW["rest"].format(x=x, y=y, z=z)]
