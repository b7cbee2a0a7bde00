"""Write sensor files in random layouts, damage them, and read them: each is read or refused.

    python scripts/fuzz.py --count 20000 --seed 1

Exits 1 when any damaged session ends in anything but a reading or an error that
names a place.
"""

from __future__ import annotations

import argparse
import gzip
import random
import sys
import tempfile
import traceback
import warnings
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from imucarry.basics.errors import InputError, SessionError
from imucarry.readers.session import read_session

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
    acc = [f"{value:.9f}" for value in motion.acc[row] / ACC_UNITS[layout.acc_unit]]
    gyr = [f"{value:.9f}" for value in motion.gyr[row] / GYR_UNITS[layout.gyr_unit]]
    cells = gyr + acc if layout.gyr_first else acc + gyr
    if layout.empty_column and layout.separator != " ":
        cells = [*cells[:3], "", *cells[3:]]
    stamp = _stamp(motion, layout.time, row)
    if layout.decimal != ".":
        cells = [cell.replace(".", layout.decimal) for cell in cells]
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
    flip: Callable[[], bool] = lambda: rng.random() < 0.25  # noqa: E731
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
            packed=flip(),
            nul_tail=flip(),
            final_newline=not flip(),
        )
    )


BOUTS = """bout,start_s,end_s,hold,loaded_side,load_kg,aim,note
walk 1,0.1,1.0,free,none,0,,
carry 1,1.2,2.5,suitcase,left,16,mobility,"steady, calm"
"""
TOML = """participant = "P07"
session = "2"
date = 2026-03-14
body_mass_kg = 72.0
bouts = "bouts.csv"
rom = "rom.csv"

[[sensor]]
placement = "chest"
file = "chest.csv"
"""
ROM = (
    "test,side,when,value_deg\ninternal rotation,left,before,61\ninternal rotation,left,after,66\n"
)


def mutated(data: bytes, rng: random.Random) -> bytes:
    """Return data with one to four random injuries."""
    for _ in range(rng.randint(1, 4)):
        data = rng.choice(INJURIES)(data, rng) or b"\n"
    return data


def _flip_bits(data: bytes, rng: random.Random) -> bytes:
    damaged = bytearray(data)
    for _ in range(rng.randint(1, 12)):
        damaged[rng.randrange(len(damaged))] ^= 1 << rng.randrange(8)
    return bytes(damaged)


def _random_bytes(data: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(data))
    return data[:at] + rng.randbytes(rng.randint(1, 40)) + data[at + rng.randint(0, 40) :]


def _drop_lines(data: bytes, rng: random.Random) -> bytes:
    lines = data.split(b"\n")
    first = rng.randrange(len(lines))
    del lines[first : first + rng.choice((1, 1, 2, 10, 100))]
    return b"\n".join(lines)


def _repeat_lines(data: bytes, rng: random.Random) -> bytes:
    lines = data.split(b"\n")
    first = rng.randrange(len(lines))
    lines[first:first] = lines[first : first + rng.choice((1, 5, 50))]
    return b"\n".join(lines)


def _swap_cells(data: bytes, rng: random.Random) -> bytes:
    lines = data.split(b"\n")
    at = rng.randrange(len(lines))
    separator = rng.choice((b",", b";", b"\t", b" "))
    cells = lines[at].split(separator)
    rng.shuffle(cells)
    lines[at] = separator.join(cells)
    return b"\n".join(lines)


def _swap_words(data: bytes, rng: random.Random) -> bytes:
    old = rng.choice((b"acc", b"gyr", b"time", b"x", b",", b".", b"0", b"-", b"free", b'"', b"\n"))
    new = rng.choice((b"gyr", b"acc", b"", b";", b"nan", b"1e999", b"=cmd()", b"\0", b'"', b"\xff"))
    return data.replace(old, new, rng.choice((1, 3, -1)))


def _cut(data: bytes, rng: random.Random) -> bytes:
    return data[: rng.randrange(1, len(data) + 1)]


def _strange_cell(data: bytes, rng: random.Random) -> bytes:
    strange = rng.choice(
        (b"9" * 400, b"1e308", b"-inf", b"2026-13-45", b"25:61:61", b'"', b"A" * 9999)
    )
    at = rng.randrange(len(data))
    return data[:at] + strange + data[at:]


INJURIES = (
    _flip_bits,
    _random_bytes,
    _drop_lines,
    _repeat_lines,
    _swap_cells,
    _swap_words,
    _cut,
    _strange_cell,
)


def damaged_session(folder: Path, rng: random.Random, motion: Motion) -> None:
    """Write a session of which one file is damaged."""
    layout = random_layout(rng)
    files = {
        "chest.csv": written_bytes(motion, replace(layout, packed=False)),
        "session.toml": TOML.encode(),
        "bouts.csv": BOUTS.encode(),
        "rom.csv": ROM.encode(),
    }
    victim = rng.choice(["chest.csv"] * 5 + ["session.toml", "bouts.csv", "rom.csv"])
    files[victim] = mutated(files[victim], rng)
    if layout.packed and rng.random() < 0.5:
        files["chest.csv"] = gzip.compress(files["chest.csv"], mtime=0)
    for name, data in files.items():
        (folder / name).write_bytes(data)


def outcome(folder: Path) -> str:
    """Read a session: "read", or the name of the error that refused it with a place.

    Raises
    ------
    Exception
        Whatever else the reader raised: a bug.
    """
    try:
        read_session(folder)
    except (InputError, SessionError) as error:
        if not error.file or "\n" in str(error):
            raise AssertionError(f"a refusal without a place or on two lines: {error!r}") from error
        return type(error).__name__
    return "read"


def main() -> int:
    """Run the damaged sessions and print how they ended."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=20000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    warnings.simplefilter("error")
    motion = invented_motion(240)
    ends: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        for number in range(options.count):
            damaged_session(Path(name), random.Random(f"{options.seed}/{number}"), motion)
            try:
                ends[outcome(Path(name))] += 1
            except Exception:  # whatever is not a refusal is what this script looks for
                ends["BUG"] += 1
                print(f"case {options.seed}/{number}:", file=sys.stderr)
                traceback.print_exc()
    for end, n_cases in ends.most_common():
        print(f"{end:20} {n_cases}")
    return 1 if ends["BUG"] else 0


if __name__ == "__main__":
    sys.exit(main())
