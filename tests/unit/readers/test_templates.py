"""The blank templates are read as they stand, and with a row filled in."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from imucarry.basics.errors import SessionError
from imucarry.readers.rom_sheet import ROM_COLUMNS, read_rom
from imucarry.readers.session import read_session
from imucarry.readers.sheets import (
    BOUT_COLUMNS,
    OPTIONAL_BOUT_COLUMNS,
    read_bouts,
    read_manifest,
)

TEMPLATES = Path(__file__).parents[3] / "data" / "templates"


def test_blank_sheets_hold_no_rows() -> None:
    assert read_bouts(TEMPLATES / "bouts.csv") == ((), ())
    assert read_rom(TEMPLATES / "rom.csv") == ()
    with pytest.raises(SessionError, match="lists no session"):
        read_manifest(TEMPLATES / "manifest.csv")


def test_headers_name_only_known_columns() -> None:
    lines = (TEMPLATES / "bouts.csv").read_text(encoding="utf-8").splitlines()
    columns = lines[-1].split(",")
    assert columns[: len(BOUT_COLUMNS)] == list(BOUT_COLUMNS)
    assert set(columns) <= {*BOUT_COLUMNS, *OPTIONAL_BOUT_COLUMNS}
    rom = (TEMPLATES / "rom.csv").read_text(encoding="utf-8").splitlines()[-1].split(",")
    assert rom[: len(ROM_COLUMNS)] == list(ROM_COLUMNS)


def test_blank_session_reads_beside_a_chest_file(
    tmp_path: Path, write_layout: Callable[..., Path]
) -> None:
    write_layout("chest.csv")
    text = (TEMPLATES / "session.toml").read_text(encoding="utf-8")
    (tmp_path / "session.toml").write_text(text, encoding="utf-8")
    assert read_session(tmp_path).participant == "P01"


def test_every_remarked_key_of_the_session_is_valid(
    tmp_path: Path, write_layout: Callable[..., Path]
) -> None:
    write_layout("chest.csv", header="letters")
    lines = (TEMPLATES / "session.toml").read_text(encoding="utf-8").splitlines()
    keys = [line.removeprefix("# ") for line in lines if " = " in line]
    unused = ("bouts", "rom ", "sensor =", "acc_scale", "gyr_scale", "columns", "acc_unit")
    kept = [key for key in keys if not key.startswith((*unused, "gyr_unit", "time_unit", "rate"))]
    at = next(i for i, key in enumerate(kept) if key.startswith("placement"))
    kept = [*kept[:at], "[[sensor]]", *kept[at:]]
    last = [i for i, key in enumerate(kept) if key.startswith("placement")][1]
    (tmp_path / "session.toml").write_text("\n".join(kept[:last]), encoding="utf-8")
    (recording,) = read_session(tmp_path).recordings
    assert (recording.up, recording.out) == ("+x", "+z")
    assert recording.clock_is_given
