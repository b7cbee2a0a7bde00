"""Motion-BIDS: ``*_motion.tsv`` without header, described by its two sister files.

Names and meanings follow the Brain Imaging Data Structure, version 1.11, motion:
``*_channels.tsv`` has one row a column of the table; ``*_motion.json`` states
``SamplingFrequency``.
"""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path

from imucarry.basics.errors import ColumnError, InputError, UnknownFormatError
from imucarry.readers.layout import find_layout
from imucarry.readers.source import read_source, sha256_of
from imucarry.readers.table import Table
from imucarry.readers.text import table_of

SUFFIXES = ("_motion.tsv", "_motion.tsv.gz")
KINDS = {"ACCEL": "acc", "GYRO": "gyr", "LATENCY": "time"}


def is_motion_bids(path: Path) -> bool:
    """Whether a file is named as Motion-BIDS names its tables and has its channels beside it."""
    return path.name.endswith(SUFFIXES) and _sister(path, "_channels.tsv").exists()


def read_motion_bids(path: Path, name: str) -> Table:
    """Read a motion table with the names, units and rate of its sister files.

    Raises
    ------
    InputError
        If a sister file cannot be read.
    ColumnError
        If the channels and the columns differ in number.
    """
    channels, meta = _sister(path, "_channels.tsv"), _sister(path, "_motion.json")
    rows = _channels(channels)
    source = read_source(path, name)
    layout = find_layout(source)
    if len(rows) != layout.n_columns:
        raise ColumnError(
            f"has {layout.n_columns} columns but {channels.name} lists {len(rows)} channels;"
            " mend one of them",
            file=name,
            where=f"line {layout.first_line}",
        )
    names = tuple(_name(row) for row in rows)
    units = tuple(row.get("units", "").replace("n/a", "") for row in rows)
    layout = replace(layout, names=names, units=units, rate_hz=_rate(meta))
    table = table_of(source, layout)
    sisters = [sister for sister in (channels, meta) if sister.exists()]
    home = name.removesuffix(path.name)
    hashes = tuple((home + s.name, sha256_of(s, home + s.name)) for s in sisters)
    return replace(
        table,
        hashes=((name, sha256_of(path, name)), *hashes),
        layout=f"Motion-BIDS, {table.layout.replace('names above', 'names from its channels')}",
    )


def _sister(path: Path, ending: str) -> Path:
    stem = next((path.name.removesuffix(s) for s in SUFFIXES if path.name.endswith(s)), path.stem)
    return path.with_name(stem + ending)


def _channels(path: Path) -> list[dict[str, str]]:
    try:
        text = path.read_text(encoding="utf-8-sig")
        rows = list(csv.DictReader(io.StringIO(text), delimiter="\t"))
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise InputError(
            f"cannot be read as channels ({error})", file=path.name, where="channels"
        ) from error
    if not rows or not {"name", "type", "component"} <= set(rows[0]):
        raise UnknownFormatError(
            "must have the columns name, component, type, tracked_point, units",
            file=path.name,
            where="header",
        )
    return [{str(key): value or "" for key, value in row.items()} for row in rows]


def _name(row: dict[str, str]) -> str:
    """Put a channel's meaning into a name that the name grammar reads."""
    kind = KINDS.get(row["type"].strip().upper(), "")
    if not kind:
        return f"other {row['name']}"
    if kind == "time":
        return "latency"
    point = row.get("tracked_point", "").replace("n/a", "")
    return f"{point} {kind} {row['component']}".strip()


def _rate(path: Path) -> float:
    try:
        rate = json.loads(path.read_text(encoding="utf-8-sig")).get("SamplingFrequency")
    except FileNotFoundError:
        return float("nan")
    except (OSError, ValueError, AttributeError) as error:
        raise InputError(
            f"cannot be read as JSON ({error})", file=path.name, where="SamplingFrequency"
        ) from error
    return float(rate) if isinstance(rate, int | float) else float("nan")
