"""What is odd in the sheets and read all the same is told, with its line and column."""

from __future__ import annotations

from pathlib import Path

import pytest
from short_study import ShortSessions

from imucarry import score_session
from imucarry.basics.records import BoutRow, Notice
from imucarry.readers.rom_sheet import read_rom
from imucarry.readers.session import read_session
from imucarry.readers.sheet_notices import heavy_loads, unknown_bouts
from imucarry.readers.sheets import read_bouts

HEADER = "bout,start_s,end_s,hold,loaded_side,load_kg,aim"


def told(tmp_path: Path, *rows: str, header: str = HEADER) -> tuple[Notice, ...]:
    path = tmp_path / "visit_bouts.csv"
    path.write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    notices = read_bouts(path)[1]
    assert all(item.file == path.name and item.severity == "check" for item in notices)
    return notices


def test_whole_rows_say_nothing(tmp_path: Path) -> None:
    rows = ("a,0,9,free,none,,", "b,10,19,unknown,,,")
    assert told(tmp_path, *rows) == ()
    assert told(tmp_path, *rows, header=f"{HEADER},") == ()  # a separator at the header's end


def test_a_carry_of_nothing_is_told(tmp_path: Path) -> None:
    rows = ("a,0,9,suitcase,left,0,", "b,10,19,suitcase,left,8,", "c,20,29,farmer,both,0,")
    (notice,) = told(tmp_path, *rows)
    assert (notice.code, notice.where) == ("load_zero", "lines 2, 4, column load_kg")
    assert "write the load, implement included" in notice.message
    rows = ("a,0,9,free,none,0,", "b,10,19,unknown,none,0,", "c,20,29,suitcase,left,,")
    assert told(tmp_path, *rows) == ()
    hands = f"{HEADER},left_load_kg,right_load_kg"
    (notice,) = told(tmp_path, "a,0,9,rack,both,,,0,0", header=hands)
    assert notice.code == "load_zero"


def test_a_row_with_too_few_cells_is_told(tmp_path: Path) -> None:
    rows = ("x,1,2", "y,3,4,free", "z,5,6,free")
    first, rest, hold = told(tmp_path, *rows)
    assert (first.code, rest.code, hold.code) == ("row_short", "row_short", "hold_empty")
    assert first.where == "line 2, columns hold, loaded_side, load_kg, aim"
    assert "hold" in first.message
    assert rest.where == "lines 3, 4, columns loaded_side, load_kg, aim"
    assert hold.where == "line 2, column hold"


@pytest.mark.parametrize("n_rows", [1, 12, 13])
def test_empty_holds_are_told_together(tmp_path: Path, n_rows: int) -> None:
    (notice,) = told(tmp_path, *(f"{k},{9 * k},{9 * k + 8},,,," for k in range(n_rows)))
    assert notice.code == "hold_empty"
    assert "unknown" in notice.message
    assert notice.where.startswith("line 2," if n_rows == 1 else "lines 2, 3, 4,")
    assert ("..." in notice.where) == (n_rows > 12)


def test_a_shoulder_test_of_no_bout_is_told(tmp_path: Path) -> None:
    path = tmp_path / "rom.csv"
    path.write_text(
        "test,side,when,value_deg,bout\n"
        "rotation,left,before,60,a\n"
        "rotation,left,after,61,zz\n"
        "rotation,right,after,61,\n"
        "rotation,left,after,62,zz\n"
    )
    (notice,) = unknown_bouts(read_rom(path), ["a", "b"], path.name)
    assert (notice.code, notice.severity, notice.file) == ("rom_bout_unknown", "check", "rom.csv")
    assert notice.where == "lines 3, 5, column bout"
    assert "'zz' is no bout of this session (a, b)" in notice.message


def test_a_scored_session_tells_them(tmp_path: Path) -> None:
    folder = tmp_path / "visit"
    ShortSessions().write(folder, "P1", "1")
    (folder / "bouts.csv").write_text("bout,start_s,end_s,hold,loaded_side,load_kg,aim\na,20,57\n")
    (folder / "rom.csv").write_text("test,side,when,value_deg,bout\nrotation,left,before,60,zz\n")
    toml = folder / "session.toml"
    toml.write_text('rom = "rom.csv"\n' + toml.read_text(encoding="utf-8"), encoding="utf-8")
    codes = [notice.code for notice in score_session(folder).result.notices]
    for code in ("row_short", "hold_empty", "rom_bout_unknown"):
        assert codes.count(code) == 1


@pytest.mark.parametrize(
    ("column", "meant"),
    [
        ("pain", "pain_0_10"),
        ("Pain (0-10)", "pain_0_10"),
        ("pain 0-10", "pain_0_10"),
        ("Notes", "note"),
        ("comment", "note"),
        ("reason", "stop_reason"),
        ("stopped because", "stop_reason"),
        ("stop_reson", "stop_reason"),
        ("RPE", "rpe_0_10"),
        ("Distance (m)", "distance_m"),
        ("load left", "left_load_kg"),
    ],
)
def test_a_column_under_a_nearly_right_name_is_told(
    tmp_path: Path, column: str, meant: str
) -> None:
    header = f"{HEADER},{column}"
    row = "b,10,19,suitcase,left,,"
    (notice,) = told(tmp_path, f"{row},7", header=header)
    assert (notice.code, notice.where) == ("column_not_read", "header")
    assert f"column {column!r} is not read" in notice.message
    assert f"name it {meant}," in notice.message
    assert told(tmp_path, f"{row},", header=header) == ()  # empty
    assert told(tmp_path, f"{row},7,2", header=f"{header},{meant}") == ()  # there by its own name
    assert len(told(tmp_path, f"{row},7,", header=f"{header},{meant}")) == 1


@pytest.mark.parametrize("column", ["group", "therapist", "surface", "shoes", "left_handed"])
def test_a_column_of_ones_own_is_not_told(tmp_path: Path, column: str) -> None:
    assert told(tmp_path, "b,10,19,suitcase,left,8,,x", header=f"{HEADER},{column}") == ()


NAN = float("nan")


@pytest.mark.parametrize(
    ("side", "load_kg", "mass_kg", "said"),
    [
        ("right", 240.0, 68.0, "240 kg in one hand, 3.5 times the body mass, is more than is"),
        ("left", 800.0, NAN, "800 kg in one hand is more than is carried: is it 80 kg?"),
        ("both", 320.0, 70.0, "160 kg in one hand, 2.3 times"),
        ("right", 100.0, 68.0, ""),
        ("both", 200.0, 70.0, ""),
        ("right", 140.0, NAN, ""),
        ("right", NAN, 68.0, ""),
    ],
)
def test_a_load_with_a_digit_too_many_is_asked_about(
    side: str, load_kg: float, mass_kg: float, said: str
) -> None:
    row = BoutRow("5", 0.0, 9.0, hold="rack", loaded_side=side, load_kg=load_kg)
    found = heavy_loads([row], mass_kg, "bouts.csv")
    assert len(found) == bool(said)
    for notice in found:
        assert (notice.code, notice.severity) == ("load_large", "check")
        assert notice.where == "bout 5, column load_kg"
        assert said in notice.message


def test_the_heavier_hand_counts() -> None:
    hands = BoutRow("5", 0.0, 9.0, hold="farmer", loaded_side="both", load_kg=136.0,
                    left_load_kg=16.0, right_load_kg=120.0)  # fmt: skip
    (notice,) = heavy_loads([hands], 68.0, "bouts.csv")
    assert "is it 12 kg?" in notice.message


def test_a_scored_session_asks_about_its_load(tmp_path: Path) -> None:
    folder = tmp_path / "visit"
    ShortSessions().write(folder, "P1", "1")
    sheet = folder / "bouts.csv"
    assert ",right,8," in sheet.read_text()
    sheet.write_text(sheet.read_text().replace(",right,8,", ",right,800,"))
    codes = [notice.code for notice in read_session(folder).notices]
    assert codes.count("load_large") == 1
