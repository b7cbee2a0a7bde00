"""Bouts, shoulder tests and manifests as people write them."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from imucarry.basics.errors import SessionError
from imucarry.basics.records import HOLDS, BoutRow
from imucarry.readers.rom_sheet import read_rom
from imucarry.readers.sheets import Clock, read_bouts, read_manifest
from imucarry.readers.windows import checked_windows

HEADER = "bout,start_s,end_s,hold,loaded_side,load_kg,aim"


def bouts(tmp_path: Path, *rows: str, header: str = HEADER, **clock: Clock) -> tuple[BoutRow, ...]:
    path = tmp_path / "bouts.csv"
    path.write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    return read_bouts(path, **clock)[0]


def test_plain_rows(tmp_path: Path) -> None:
    free, carry = bouts(
        tmp_path, "walk,0,20,free,none,,", "carry,30.5,50,suitcase,left,16,mobility"
    )
    assert (free.hold, free.loaded_side, math.isnan(free.load_kg)) == ("free", "none", True)
    assert (carry.start_s, carry.end_s, carry.load_kg, carry.aim) == (30.5, 50, 16, "mobility")


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_as_spreadsheets_save_it(tmp_path: Path, encoding: str, separator: str) -> None:
    rows = [
        ["Bout", "start_s", "end_s", "hold", "loaded_side", "load_kg", "aim", "Grüße", ""],
        ["a", "0,5", "20,25", "Bottoms-up", "Right", "12,5", "", "né", ""],
        ["", "", "", "", "", "", "", "", ""],
    ]
    text = "\r\n".join(
        separator.join(f'"{cell}"' if "," in cell else cell for cell in row) for row in rows
    )
    path = tmp_path / "bouts.csv"
    path.write_bytes(text.encode(encoding))
    ((row,), _) = read_bouts(path)
    assert (row.start_s, row.end_s, row.load_kg) == (0.5, 20.25, 12.5)
    assert (row.hold, row.loaded_side) == ("bottoms_up", "right")
    assert dict(row.extra) == {"grüße": "né"}


def test_remarks_and_every_optional_column(tmp_path: Path) -> None:
    header = (
        f"{HEADER},left_load_kg,right_load_kg,left_hold,right_hold,perturbed,"
        "shoulder_rotation_aim,implement,baseline,order,rest_before_s,rpe_0_10,pain_0_10,"
        "stop_reason,distance_m,note,gym"
    )
    _, row = bouts(
        tmp_path,
        "# a remark, of any length",
        "w,0,9,free,none,0,,,,,,,,,,,,,,,,,",
        "c,10,19,mixed,both,20,strength,12,8,rack,overhead,elastic,external_rotation,"
        'kettlebell,w,3,90,7,1,grip,20,"=2+2",east',
        header=header,
    )
    assert (row.left_load_kg, row.right_load_kg, row.left_hold, row.right_hold) == (
        12, 8, "rack", "overhead",
    )  # fmt: skip
    assert (row.perturbed, row.shoulder_rotation_aim) == ("elastic", "external_rotation")
    assert (row.baseline, row.order, row.rest_before_s) == (("w",), 3, 90)
    assert (row.rpe_0_10, row.pain_0_10, row.stop_reason) == (7, 1, "grip")
    assert (row.distance_m, row.note, dict(row.extra)) == (20, "=2+2", {"gym": "east"})


def test_names_that_start_with_a_hash_are_names(tmp_path: Path) -> None:
    assert [row.bout for row in bouts(tmp_path, "#1,0,9,free,none,,")] == ["#1"]


def test_long_and_hostile_cells_survive_as_text(tmp_path: Path) -> None:
    note = "<script>" + "x" * 200_000
    (row,) = bouts(tmp_path, f"a,0,9,free,none,,,{note}", header=f"{HEADER},note")
    assert row.note == note


def test_empty_times_everywhere_are_matched_later(tmp_path: Path) -> None:
    rows = bouts(tmp_path, "a,,,free,none,,", "b,,,farmer,,24,")
    assert all(math.isnan(row.start_s) for row in rows)
    assert rows[1].loaded_side == "both"


def test_instants_where_the_sensors_carry_them(tmp_path: Path) -> None:
    row = "a,2026-03-14T10:00:05Z,2026-03-14T11:00:20.5+01:00,free,none,,"
    (read,) = bouts(tmp_path, row, clock=Clock("utc", 1_773_482_400.0))
    assert (read.start_s, read.end_s) == (5.0, 20.5)
    with pytest.raises(SessionError, match="without a zone"):
        bouts(tmp_path, row, clock=Clock("local", 1_773_482_400.0))
    with pytest.raises(SessionError, match="sensors carry no date"):
        bouts(tmp_path, row, clock=Clock("elapsed", 0.0))


def test_bouts_that_overlap_a_little_are_cut_in_the_middle(tmp_path: Path) -> None:
    path = tmp_path / "bouts.csv"
    rows = ("c,19.9,30,free,none,,", "a,0,9.5,free,none,,", "b,8,20,free,none,,")
    path.write_text("\n".join([HEADER, *rows]) + "\n", encoding="utf-8")
    found, notices = read_bouts(path)
    assert [row.bout for row in found] == ["c", "a", "b"]
    times = {row.bout: (row.start_s, row.end_s) for row in found}
    assert times["a"] == pytest.approx((0.0, 8.75))
    assert times["b"] == pytest.approx((8.75, 19.95))
    assert times["c"] == pytest.approx((19.95, 30.0))
    assert [(n.code, n.where) for n in notices] == [
        ("bouts_overlap", "line 4, column start_s"),
        ("bouts_overlap", "line 2, column start_s"),
    ]
    assert notices[0].message == (
        "bouts 'a' and 'b' overlap by 1.50 s; both were cut in the middle of that"
    )


def test_bouts_that_only_touch_are_left_as_they_are(tmp_path: Path) -> None:
    found = bouts(tmp_path, "a,0,9,free,none,,", "b,9,19,free,none,,")
    assert [(row.start_s, row.end_s) for row in found] == [(0.0, 9.0), (9.0, 19.0)]


def test_a_distance_of_zero_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SessionError, match="leave it empty") as caught:
        bouts(tmp_path, "a,0,9,free,none,,,0", header=f"{HEADER},distance_m")
    assert caught.value.where == "line 2, column distance_m"


@pytest.mark.parametrize(
    ("rows", "where", "words"),
    [
        (["a,0,9,suitcas,left,8,"], "line 2, column hold", "did you mean 'suitcase'"),
        (["a,0,9,zigzag,left,8,"], "column hold", ", ".join(HOLDS)),
        (["a,0,9,rack,middle,8,"], "column loaded_side", "none, left, right, both"),
        (["a,0,9,rack,left,8,fun"], "column aim", "mobility, endurance"),
        (["a,0,9,rack,left,-8,"], "line 2, column load_kg", "negative"),
        (["a,0,9,rack,left,eight,"], "column load_kg", "'eight' is no number; write the total"),
        (["a,0,9,farmer,both,8x8,"], "column load_kg", "total carried as one number in digits"),
        (["a,0,9,rack,left,8 kg,"], "column load_kg", "without a unit, such as 7.5"),
        (["a,zero,9,rack,left,8,"], "column start_s", "number"),
        (["a,0,9,rack,left,1e99,"], "column load_kg", "out of range"),
        (["a,0,9,rack,left,8,", "a,10,19,rack,left,8,"], "line 3, column bout", "stands twice"),
        (["a,0,9,free,none,,", "b,7,19,free,none,,"], "line 3, column start_s", "overlap"),
        (["a,0,9,free,none,,", "b,8,8.5,free,none,,"], "line 3, column start_s", "overlap"),
        (["a,9,0,free,none,,"], "line 2, column end_s", "not after its start"),
        (["a,,9,free,none,,"], "line 2", "fill all rows or none"),
        (["a,0,9,free,none,,", "b,,,free,none,,"], "line 3", "fill all rows or none"),
        ([",0,9,free,none,,"], "column bout", "is empty; give the bout a name"),
        ([f"{'a' * 201},0,9,free,none,,"], "column bout", "at most 200 letters"),
        (
            ["a,0,9,suitcase,,8,"],
            "column loaded_side",
            "is empty, but the hold is suitcase; write left or right",
        ),
        (["a,0,9,rack,,8,"], "column loaded_side", "write left, right or both"),
        (["a,0,9,suitcase"], "column loaded_side", "(the row has 4 of 7 cells)"),
        (["a,0,9,rack,R,8,"], "column loaded_side", "did you mean 'right'?"),
        (["a,0,9,rack,Lt.,8,"], "column loaded_side", "did you mean 'left'?"),
        (["a,0,9,walk,none,,"], "column hold", "did you mean 'free'?"),
        (["a,0,9,front rack,left,8,"], "column hold", "did you mean 'rack'?"),
        (["a,0,9,rack,left,35 lb,"], "column load_kg", "(35 lb is 15.9 kg)"),
        (["a,0,9,farmer,both,2x16,"], "column load_kg", "(2x16 is 32 in all)"),
        (["a,0,9,farmer,both,2x35 lb,"], "column load_kg", "(2x35 lb is 31.8 kg in all)"),
        (["a,0,9,free,left,8,"], "column hold", "carries nothing"),
        (["a,0,9,free,none,8,"], "column hold", "carries nothing"),
        (["a,0,9,suitcase,both,8,"], "column loaded_side", "loads one hand"),
        (["a,0,9,farmer,left,8,"], "column loaded_side", "loads both hands"),
        (["a,0,9,overhead,none,8,"], "column loaded_side", "needs a loaded_side"),
        (["a,0,9,unknown,none,8,"], "column loaded_side", "loaded_side is none"),
        (["a,0,9,mixed,both,8,"], "column left_hold", "needs left_hold and right_hold"),
        (["a,0,9,rack,left,8,,extra"], "line 2", "has 8 cells but the header has 7"),
    ],
)
def test_refusals_name_the_cell(tmp_path: Path, rows: list[str], where: str, words: str) -> None:
    with pytest.raises(SessionError) as caught:
        bouts(tmp_path, *rows)
    assert caught.value.file == "bouts.csv"
    assert where in caught.value.where
    assert words in caught.value.message
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("a,0,9,farmer,both,20,,12,9", "sum to 21"),
        ("a,0,9,farmer,both,20,,12,", "fill left_load_kg and right_load_kg"),
        ("a,0,9,rack,left,12,,12,3", "loaded_side is left"),
        ("a,0,9,rack,right,12,,12,", "loaded_side is right"),
    ],
)
def test_loads_of_the_hands_must_fit(tmp_path: Path, row: str, words: str) -> None:
    with pytest.raises(SessionError, match=words):
        bouts(tmp_path, row, header=f"{HEADER},left_load_kg,right_load_kg")


def test_total_and_side_follow_from_the_hands(tmp_path: Path) -> None:
    (row,) = bouts(tmp_path, "a,0,9,rack,,,,10,12.5", header=f"{HEADER},left_load_kg,right_load_kg")
    assert (row.loaded_side, row.load_kg) == ("both", 22.5)


def test_baseline_must_be_a_free_bout(tmp_path: Path) -> None:
    with pytest.raises(SessionError, match="no bout with hold free"):
        bouts(tmp_path, "a,0,9,rack,left,8,,b", header=f"{HEADER},baseline")


@pytest.mark.parametrize(
    ("header", "words"),
    [
        ("bout,start_s,end_s,hold,loaded_side,load_kg", "has no column 'aim'"),
        (f"{HEADER},aim", "two columns 'aim'"),
        (
            HEADER.replace("load_kg", "Load (kg)"),
            r"did you mean 'Load \(kg\)'\? It must be written",
        ),
        (HEADER.replace("start_s", "start"), "did you mean 'start'"),
        (f"Client P01,,,,,,\n{HEADER}", "line 2: the header must be the first line; remove what"),
    ],
)
def test_header_must_be_whole(tmp_path: Path, header: str, words: str) -> None:
    with pytest.raises(SessionError, match=words):
        bouts(tmp_path, header=header)


def test_bout_a_little_past_the_recording_is_clipped(tmp_path: Path) -> None:
    rows = bouts(tmp_path, "a,-1.5,20,free,none,,", "b,30,61.9,free,none,,")
    clipped, notices = checked_windows(rows, 0.0, 60.0, "bouts.csv")
    assert [(row.start_s, row.end_s) for row in clipped] == [(0, 20), (30, 60)]
    assert [notice.code for notice in notices] == ["bout_clipped"] * 2


@pytest.mark.parametrize(
    "row", ["a,-2,20,free,none,,", "a,50,62,free,none,,", "a,60.5,61,free,none,,"]
)
def test_bout_outside_the_recording_is_refused(tmp_path: Path, row: str) -> None:
    with pytest.raises(SessionError, match="outside the recording"):
        checked_windows(bouts(tmp_path, row), 0.0, 60.0, "bouts.csv")


def test_rom(tmp_path: Path) -> None:
    path = tmp_path / "rom.csv"
    path.write_text(
        "test;side;when;value_deg;method;rater\n"
        "internal rotation;left;before;61,5;goniometer;A\n"
        "internal rotation;left;before;62;goniometer;A\n"
        "internal rotation;left;after;-3;goniometer;B\n"
    )
    rom = read_rom(path)
    assert [reading.value_deg for reading in rom] == [61.5, 62, -3]
    assert (rom[0].method, rom[2].rater, rom[2].when) == ("goniometer", "B", "after")


@pytest.mark.parametrize(
    ("written", "read"),
    [
        (("External rotation", "external_rotation", "EXTERNAL  ROTATION"), "External rotation"),
        (("er 90", "ER-90"), "er 90"),
    ],
)
def test_a_shoulder_test_is_one_however_it_is_spelt(
    tmp_path: Path, written: tuple[str, ...], read: str
) -> None:
    assert names_read(tmp_path, *written) == [read] * len(written)


@pytest.mark.parametrize(
    "names", [("外旋90", "内旋90"), ("ER +", "ER -"), ("reach <90", "reach >90"), ("ER 9", "ER 90")]
)
def test_shoulder_tests_of_other_names_stay_apart(tmp_path: Path, names: tuple[str, ...]) -> None:
    assert names_read(tmp_path, *names) == list(names)


def names_read(folder: Path, *names: str) -> list[str]:
    lines = "".join(f"{name},left,before,61\n" for name in names)
    (folder / "rom.csv").write_text(f"test,side,when,value_deg\n{lines}", encoding="utf-8")
    return [reading.test for reading in read_rom(folder / "rom.csv")]


@pytest.mark.parametrize(
    ("row", "where"),
    [
        ("flexion,left,before,", "column value_deg"),
        ("flexion,left,later,60", "column when"),
        ("flexion,up,after,60", "column side"),
        (",left,after,60", "column test"),
        ("flexion,left,after,999", "column value_deg"),
    ],
)
def test_rom_refusals(tmp_path: Path, row: str, where: str) -> None:
    path = tmp_path / "rom.csv"
    path.write_text(f"test,side,when,value_deg\n{row}\n")
    with pytest.raises(SessionError) as caught:
        read_rom(path)
    assert caught.value.where == f"line 2, {where}"


def test_manifest(tmp_path: Path) -> None:
    path = tmp_path / "manifest.csv"
    path.write_text("folder,group\nP01/visit 1,a\nP02,b\n")
    rows = read_manifest(path)
    assert [row.folder for row in rows] == ["P01/visit 1", "P02"]
    assert rows[0].path == (tmp_path / "P01" / "visit 1").resolve()
    assert rows[1].extra == (("group", "b"),)


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("../other", "outside the manifest's folder"),
        ("/etc", "outside the manifest's folder"),
        ("P01/../../x", "outside the manifest's folder"),
        ("P01\nP01", "stands on line 2 too"),
        ("P01\n./P01", "stands on line 2 too"),
        ("", "lists no session"),
    ],
)
def test_manifest_refusals(tmp_path: Path, rows: str, words: str) -> None:
    path = tmp_path / "manifest.csv"
    path.write_text(f"folder\n{rows}\n")
    with pytest.raises(SessionError, match=words):
        read_manifest(path)


@pytest.mark.parametrize(
    ("header", "found"),
    [
        ("Path;Group", "found 'Path;Group'"),
        ("path,group", "found 'path,group', needed folder"),
        (",".join(f"column_{k}" for k in range(40)), "column_7,column_8' and more (40 columns)"),
    ],
)
def test_a_manifest_without_folder_is_told_its_header(
    tmp_path: Path, header: str, found: str
) -> None:
    path = tmp_path / "manifest.csv"
    path.write_text(f"{header}\nP01,a\n")
    with pytest.raises(SessionError) as caught:
        read_manifest(path)
    assert "has no column 'folder'" in caught.value.message
    assert found in caught.value.message
    assert len(caught.value.message) < 200


@pytest.mark.parametrize("text", ["1:15.434", "09:30:20", "1773480600.5", "soon"])
@pytest.mark.parametrize(
    ("clock", "form"),
    [
        (Clock("elapsed", 0.0), r"such as 20\.4$"),
        (Clock("utc", 1.7e9), r"date and time as 2026-03-14T09:30:20\+01:00"),
        (Clock("local", 1.7e9), r"date and time as 2026-03-14T09:30:20$"),
    ],
)
def test_a_time_in_another_form_is_told_the_forms(
    tmp_path: Path, text: str, clock: Clock, form: str
) -> None:
    with pytest.raises(SessionError, match=rf"{text}.*first sample of the earliest.*{form}"):
        bouts(tmp_path, f"walk,{text},20,free,none,,", clock=clock)


ORDERED = f"{HEADER},order"
WALK, LEFT, RIGHT = "a,,,free,none,,,{}", "b,,,suitcase,left,8,,{}", "c,,,suitcase,right,8,,{}"


def test_rows_without_times_in_another_order_than_walked_are_told(tmp_path: Path) -> None:
    path = tmp_path / "bouts.csv"

    def notices(*order: str) -> list[str]:
        rows = [row.format(n) for row, n in zip((WALK, LEFT, RIGHT), order, strict=True)]
        path.write_text("\n".join([ORDERED, *rows]) + "\n", encoding="utf-8")
        return [notice.code for notice in read_bouts(path)[1]]

    assert notices("3", "1", "2") == ["matched_by_order"]
    assert notices("1", "2", "3") == notices("", "", "") == notices("1", "", "2") == []
    assert notices("1", "1", "2") == []
    with pytest.raises(SessionError, match=r"column order: .*two rows have the same"):
        notices("2", "1", "1")
    with pytest.raises(SessionError, match="not every row has one"):
        notices("2", "1", "")


def test_rows_with_times_may_stand_in_any_order(tmp_path: Path) -> None:
    rows = ("a,30,50,free,none,,,2", "b,0,20,suitcase,left,8,,1", "c,60,70,free,none,,,1")
    path = tmp_path / "bouts.csv"
    path.write_text("\n".join([ORDERED, *rows]) + "\n", encoding="utf-8")
    assert read_bouts(path)[1] == ()


def test_before_and_after_in_other_words_are_asked_about(tmp_path: Path) -> None:
    path = tmp_path / "rom.csv"
    for word, meant in (("pre", "before"), ("Post", "after")):
        path.write_text(f"test,side,when,value_deg\nflexion,left,{word},60\n")
        with pytest.raises(SessionError, match=f"did you mean '{meant}'"):
            read_rom(path)


def test_what_is_wrong_in_several_rows_is_told_at_once(tmp_path: Path) -> None:
    rows = ["a,0,9,rack,R,8,", "b,10,19,rack,left,16kg,", "c,20,29,suitcse,left,8,"]
    with pytest.raises(SessionError) as caught:
        bouts(tmp_path, *rows, "d,30,39,free,none,,")
    said = str(caught.value)
    assert said.startswith("bouts.csv, line 2, column loaded_side: unknown loaded_side 'r'")
    assert "; line 3, column load_kg: '16kg' is no number" in said
    assert "; line 4, column hold: unknown hold 'suitcse'; did you mean 'suitcase'?" in said
    assert "\n" not in said
    with pytest.raises(SessionError, match=r"line 11, .*; and 2 more rows$"):
        bouts(tmp_path, *(f"{k},0,9,rack,R,8," for k in range(12)))
