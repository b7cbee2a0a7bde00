"""Sensor files in random layouts: what the fuzzing damages and the tests of layouts read back."""

from __future__ import annotations

import gzip
import random
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np

G = 9.80665
EPOCH = 1_773_482_400.0  # an invented morning in 2026
NEWLINES = ("\n", "\r\n", "\r")
SEPARATORS = (",", ";", "\t", " ", "|")
ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "cp1252")
TIME_KINDS = ("s", "ms", "us", "ns", "epoch_s", "epoch_ms", "epoch_us", "epoch_ns", "iso", "iso_z",
              "iso_mixed", "day", "rows", "counter8", "counter16")  # fmt: skip
HEADERS = ("short", "long", "suffix", "camel", "axis_first", "letters", "none", "two_rows")
ACC_UNITS = {"m/s^2": 1.0, "g": G, "mg": G / 1000}
GYR_UNITS = {"rad/s": 1.0, "deg/s": np.pi / 180, "mdeg/s": np.pi / 180000}


@dataclass(frozen=True)
class Motion:
    """Invented samples: a sensor that swings and turns under gravity."""

    rate_hz: float
    time_s: np.ndarray
    acc: np.ndarray
    gyr: np.ndarray


@dataclass(frozen=True)
class FileLayout:
    """How a file of samples is written."""

    separator: str = ","
    decimal: str = "."
    encoding: str = "utf-8"
    newline: str = "\n"
    header: str = "short"
    units_row: bool = False
    acc_unit: str = "m/s^2"
    gyr_unit: str = "rad/s"
    time: str = "s"
    time_last: bool = False
    gyr_first: bool = False
    metadata: tuple[str, ...] = ()
    sep_line: bool = False
    trailing: bool = False
    empty_column: bool = False
    quoted: bool = False
    thousands: bool = False
    packed: bool = False
    nul_tail: bool = False
    final_newline: bool = True


def invented_motion(n_rows: int = 300, rate_hz: float = 100.0, seed: int = 0) -> Motion:
    """Return samples that obey the laws the reader checks: gravity turns as the rate says."""
    rng = np.random.default_rng(seed)
    time = np.arange(n_rows) / rate_hz
    angle = 0.4 * np.sin(2 * np.pi * 0.9 * time)
    rate = 0.4 * 2 * np.pi * 0.9 * np.cos(2 * np.pi * 0.9 * time)
    acc = G * np.column_stack([-np.sin(angle), 0.05 + 0 * angle, np.cos(angle)])
    gyr = np.column_stack([0.1 * np.cos(11 * time), rate, 0.2 * np.sin(7 * time)])
    return Motion(
        rate_hz, time, acc + rng.normal(0, 0.05, acc.shape), gyr + rng.normal(0, 0.01, gyr.shape)
    )


def written_bytes(motion: Motion, layout: FileLayout) -> bytes:
    """Write samples in a layout."""
    rows = [_cells(motion, layout, row) for row in range(motion.time_s.size)]
    lines = list(layout.metadata)
    if layout.sep_line:
        lines.insert(0, f"sep={layout.separator}")
    if layout.time in ("rows", "counter8", "counter16"):
        lines.append(f"Sample rate: {motion.rate_hz:g} Hz")
    lines += [layout.separator.join(row) for row in _header_rows(layout)]
    ending = layout.separator if layout.trailing and layout.separator != " " else ""
    lines += [layout.separator.join(row) + ending for row in rows]
    text = layout.newline.join(lines) + (layout.newline if layout.final_newline else "")
    data = text.encode(layout.encoding, errors="replace")
    if layout.nul_tail and not layout.encoding.startswith("utf-16"):
        data += b"\0" * 700
    return gzip.compress(data, mtime=0) if layout.packed else data


def _cells(motion: Motion, layout: FileLayout, row: int) -> list[str]:
    form = ",.9f" if layout.thousands else ".9f"
    acc = [format(value, form) for value in motion.acc[row] / ACC_UNITS[layout.acc_unit]]
    gyr = [format(value, form) for value in motion.gyr[row] / GYR_UNITS[layout.gyr_unit]]
    cells = gyr + acc if layout.gyr_first else acc + gyr
    if layout.empty_column and layout.separator != " ":
        cells = [*cells[:3], "", *cells[3:]]
    stamp = _stamp(motion, layout.time, row)
    if layout.decimal != ".":
        cells = [cell.translate(str.maketrans(".,", ",.")) for cell in cells]
        stamp = stamp if ":" in stamp else stamp.replace(".", layout.decimal)
    time = [stamp] if stamp else []
    cells = cells + time if layout.time_last else time + cells
    return [f'"{cell}"' for cell in cells] if layout.quoted else cells


def _stamp(motion: Motion, kind: str, row: int) -> str:
    time = float(motion.time_s[row])
    micros = round(time * 1e6)
    if kind in ("iso", "iso_z", "iso_mixed"):
        instant = datetime.fromtimestamp(EPOCH, UTC) + timedelta(microseconds=micros)
        text = instant.replace(tzinfo=None).isoformat(timespec="milliseconds")
        if kind == "iso_mixed":
            text = text.removesuffix(".000")
        return text + ("Z" if kind == "iso_z" else "")
    if kind == "day":
        total = round(86398.5 * 1e6) + micros
        second = (total // 1_000_000) % 86400
        clock = f"{second // 3600:02d}:{second // 60 % 60:02d}:{second % 60:02d}"
        return f"{clock}.{total % 1_000_000 // 1000:03d}"
    if kind in ("counter8", "counter16"):
        return str((row + 200) % (256 if kind == "counter8" else 65536))
    if kind == "rows":
        return ""
    unit = kind.removeprefix("epoch_")
    start = round(EPOCH * 1e9) if kind.startswith("epoch") else 0
    nanos = start + micros * 1000
    if unit == "s":
        return f"{nanos // 1_000_000_000}.{nanos % 1_000_000_000 // 1000:06d}"
    return str(nanos // {"ms": 1_000_000, "us": 1000, "ns": 1}[unit])


NAMES = {
    "short": ("acc_{a}", "gyr_{a}"),
    "long": ("Acceleration {A} ({acc})", "Angular velocity {A} ({gyr})"),
    "suffix": ("accel_{a}_{acc_word}", "gyro_{a}_{gyr_word}"),
    "camel": ("AccX{A}", "Gyr{A}"),
    "axis_first": ("{a}_acc", "{a}_gyro"),
    "letters": ("a{a}", "w{a}"),
}
UNIT_WORDS = {
    "m/s^2": "mps2",
    "g": "g",
    "mg": "mg",
    "rad/s": "radps",
    "deg/s": "dps",
    "mdeg/s": "mdps",
}


def _header_rows(layout: FileLayout) -> list[list[str]]:
    """Return the lines above the numbers as cells."""
    if layout.header == "none":
        return []
    kinds = ("gyr", "acc") if layout.gyr_first else ("acc", "gyr")
    names = [[_name(layout, kind, axis) for axis in "xyz"] for kind in kinds]
    units = [[layout.acc_unit if kind == "acc" else layout.gyr_unit] * 3 for kind in kinds]
    gap = [""] if layout.empty_column and layout.separator != " " else []
    time = {"rows": [], "counter8": ["Counter"], "counter16": ["Counter"]}.get(
        layout.time, ["time"]
    )

    def in_order(first: list[str], second: list[str], own: list[str]) -> list[str]:
        cells = [*first, *gap, *second]
        return cells + own if layout.time_last else own + cells

    rows = []
    if layout.header == "two_rows":
        words = {"acc": ["Accelerometer", "", ""], "gyr": ["Gyroscope", "", ""]}
        if layout.separator == " ":
            words = {kind: [cells[0]] * 3 for kind, cells in words.items()}
        rows.append(in_order(words[kinds[0]], words[kinds[1]], ["time"] * len(time)))
    rows.append(in_order(*names, time))
    if layout.units_row:
        rows.append(in_order(*units, ["-"] * len(time)))
    return rows


def _name(layout: FileLayout, kind: str, axis: str) -> str:
    if layout.header == "two_rows":
        return axis.upper()
    pattern = NAMES[layout.header][kind == "gyr"].replace("AccX{A}", "Acc{A}")
    words = {"acc": layout.acc_unit, "gyr": layout.gyr_unit, "a": axis, "A": axis.upper()}
    return pattern.format(
        **words, acc_word=UNIT_WORDS[layout.acc_unit], gyr_word=UNIT_WORDS[layout.gyr_unit]
    )


def sensible(layout: FileLayout) -> FileLayout:
    """Return the nearest layout that a program could have written without losing anything."""
    if layout.decimal == "," and layout.separator == "," and not layout.quoted:
        layout = replace(layout, separator=";")
    if layout.separator == "," and not layout.quoted:
        layout = replace(layout, thousands=False)
    if layout.separator == " ":
        layout = replace(layout, trailing=False, empty_column=False, quoted=False)
        if layout.header in ("long",):
            layout = replace(layout, header="short")
    if layout.header == "none":
        # Without names a counter cannot be told from a time, nor a time from an empty column.
        plain = layout.time in ("counter8", "counter16", "rows")
        layout = replace(layout, units_row=False, time="s" if plain else layout.time)
    if layout.header == "two_rows":
        layout = replace(layout, metadata=(), sep_line=False)
    return layout


def random_layout(rng: random.Random) -> FileLayout:
    """Return a random sensible layout."""

    def flip() -> bool:
        return rng.random() < 0.25

    return sensible(
        FileLayout(
            separator=rng.choice(SEPARATORS),
            decimal=rng.choice(".,"),
            encoding=rng.choice(ENCODINGS),
            newline=rng.choice(NEWLINES),
            header=rng.choice(HEADERS),
            units_row=flip(),
            acc_unit=rng.choice(list(ACC_UNITS)),
            gyr_unit=rng.choice(list(GYR_UNITS)),
            time=rng.choice(TIME_KINDS),
            time_last=flip(),
            gyr_first=flip(),
            metadata=("Made by: nobody", "Serial;12,5") if flip() else (),
            sep_line=flip(),
            trailing=flip(),
            empty_column=flip(),
            quoted=flip(),
            thousands=flip(),
            packed=flip(),
            nul_tail=flip(),
            final_newline=not flip(),
        )
    )
