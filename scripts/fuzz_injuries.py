"""Injuries to the bytes of a file: flipped bits, dropped lines, swapped cells, strange words."""

from __future__ import annotations

import random


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
    del lines[first : first + rng.choice((1, 1, 2, 10, 100, len(lines) // 3))]
    return b"\n".join(lines)


def _hold_line(data: bytes, rng: random.Random) -> bytes:
    """Write one line in the place of many: a sensor that sleeps, a row stamped again."""
    lines = data.split(b"\n")
    first = rng.randrange(len(lines))
    n_lines = len(lines[first : first + rng.choice((3, 30, 300, len(lines)))])
    lines[first : first + n_lines] = lines[first : first + 1] * n_lines
    return b"\n".join(lines)


def _swap_columns(data: bytes, rng: random.Random) -> bytes:
    """Swap two cells of every line from somewhere on."""
    lines = data.split(b"\n")
    separator = rng.choice((b",", b";", b"\t", b" "))
    one, other = rng.sample(range(7), 2)
    for number in range(rng.choice((0, 1, rng.randrange(len(lines)))), len(lines)):
        cells = lines[number].split(separator)
        if max(one, other) < len(cells):
            cells[one], cells[other] = cells[other], cells[one]
            lines[number] = separator.join(cells)
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
    _hold_line,
    _swap_columns,
    _repeat_lines,
    _swap_cells,
    _swap_words,
    _cut,
    _strange_cell,
)
