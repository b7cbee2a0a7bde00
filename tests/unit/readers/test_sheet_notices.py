"""What is odd in the sheets and read all the same is told, with its line and column."""

from __future__ import annotations

from pathlib import Path

import pytest
from short_study import ShortSessions

from imucarry import score_session
from imucarry.basics.records import BoutRow, Notice
from imucarry.readers.near_columns import is_meant
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


CARRY = "b,10,19,suitcase,left,,"
FREE = "a,0,9,free,none,,"


def near(tmp_path: Path, *rows: str, columns: str) -> tuple[Notice, ...]:
    """What is told of columns that are not read: of a free walk and a carry, or of these rows."""
    path = tmp_path / "visit_bouts.csv"
    path.write_text("\n".join([f"{HEADER},{columns}", *rows]) + "\n", encoding="utf-8")
    return tuple(item for item in read_bouts(path)[1] if item.code == "column_not_read")


@pytest.mark.parametrize(
    ("column", "cell", "meant"),
    [
        ("pain", "7", "pain_0_10"),
        ("Pain (0-10)", "2.5", "pain_0_10"),
        ("pain (NRS)", "10", "pain_0_10"),
        ("Pain score now", "0", "pain_0_10"),
        ("Notes", "slow turn", "note"),
        ("comment", "slow turn", "note"),
        ("symptoms", "slow turn", "note"),
        ("reason", "grip", "stop_reason"),
        ("stopped because", "grip", "stop_reason"),
        ("stop_reson", "grip", "stop_reason"),
        ("stopreason", "grip", "stop_reason"),
    ],
)
def test_a_column_that_pain_stops_or_notes_may_stand_in_is_checked(
    tmp_path: Path, column: str, cell: str, meant: str
) -> None:
    (notice,) = near(tmp_path, f"{CARRY},{cell}", columns=column)
    assert (notice.severity, notice.where) == ("check", "header")
    assert repr(column) in notice.message
    assert f"name it {meant}" in notice.message
    assert near(tmp_path, f"{CARRY},", columns=column) == ()  # empty
    own = f"{column},{meant}"
    value = "2" if meant == "pain_0_10" else "grip"
    assert near(tmp_path, f"{CARRY},{cell},{value}", columns=own) == ()  # there by its own name
    assert len(near(tmp_path, f"{FREE},{cell},{value}", f"{CARRY},{cell},", columns=own)) == 1
    assert near(tmp_path, f"{FREE},{cell},", f"{CARRY},{cell},{value}", columns=own) == ()


def test_a_column_that_may_hold_pain_says_what_it_does_to_the_answers(tmp_path: Path) -> None:
    (low,) = near(tmp_path, f"{CARRY},0", columns="pain (NRS)")
    assert low.message == (
        "Pain was not noted for any carry. If the column 'pain (NRS)' holds it, name it pain_0_10"
    )
    (high,) = near(tmp_path, f"{CARRY},6", columns="pain (NRS)")
    assert high.message == (
        "column 'pain (NRS)' is not read, so no pain counts in the answers above. If it holds "
        "pain, name it pain_0_10"
    )
    (both,) = near(tmp_path, f"{CARRY},0,0", columns="pain,VAS")
    assert "If the column 'pain' or 'VAS' holds it" in both.message
    assert is_meant([both], "pain_0_10")
    assert is_meant([high], "pain_0_10")
    (stop,) = near(tmp_path, f"{CARRY},grip", columns="reason")
    assert "so no early stop counts in the answers above" in stop.message
    assert not is_meant([stop], "pain_0_10")


def test_other_names_that_nearly_are_read_are_one_note(tmp_path: Path) -> None:
    columns = "RPE,Distance (m),load left,distnce_m"
    (notice,) = near(tmp_path, f"{CARRY},6,40,8,40", columns=columns)
    assert notice.severity == "note"
    assert notice.message.startswith("not read, only carried to the results: column 'RPE' (name ")
    for meant in ("rpe_0_10", "distance_m", "left_load_kg"):
        assert f"(name it {meant} if it is that)" in notice.message


@pytest.mark.parametrize(
    ("column", "cell"),
    [
        ("group", "2"), ("therapist", "x"), ("surface", "grass"), ("shoes", "x"),
        ("left_handed", "yes"), ("pain site", "2"), ("pain medication", "none"),
        ("VAS fatigue", "4"), ("no_pain", "1"), ("pain_location", "3"), ("pain", "left knee"),
        ("pain_0_100", "40"), ("stop_time", "now"), ("reason for load", "as last week"),
        ("stopped", "no"), ("stops", "2"), ("rest HR", "62"), ("HR rest", "62"),
        ("baseline_hr", "62"), ("elastic_band", "red"), ("tool no", "3"),
        ("effort talk test", "2"), ("distance_ft", "60"), ("Borg", "13"), ("RPE 6-20", "13"),
    ],
)  # fmt: skip
def test_a_column_of_ones_own_is_not_told(tmp_path: Path, column: str, cell: str) -> None:
    assert near(tmp_path, f"{CARRY},{cell}", columns=column) == ()


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
