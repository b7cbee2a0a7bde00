"""Session folders: the session file, the names of files, the session clock."""

from __future__ import annotations

import os
import shutil
import unicodedata
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from fuzz_layouts import FileLayout, Motion, invented_motion, written_bytes

from imucarry.basics.errors import ImucarryError, InputError, SessionError, TimebaseError
from imucarry.readers import session as session_module
from imucarry.readers.session import read_session

HEAD = 'participant = "P07"\nsession = "2"\n'
CHEST = '[[sensor]]\nplacement = "chest"\nfile = "chest.csv"\n'
LEFT = '[[sensor]]\nplacement = "left_wrist"\nfile = "left.csv"\n'
BOUTS = "bout,start_s,end_s,hold,loaded_side,load_kg,aim\na,0,4,free,none,,\n"


@pytest.fixture
def folder(tmp_path: Path, motion: Motion) -> Path:
    """A session with a chest and a left sensor, without its session file."""
    home = tmp_path / "P07"
    home.mkdir()
    (home / "chest.csv").write_bytes(written_bytes(motion, FileLayout()))
    (home / "left.csv").write_bytes(written_bytes(turned(motion), FileLayout()))
    (home / "bouts.csv").write_text(BOUTS)
    return home


def turned(motion: Motion) -> Motion:
    """Return what a sensor shows that is worn the other way round."""
    half_turn = np.array([-1.0, -1.0, 1.0])
    return replace(motion, acc=motion.acc * half_turn, gyr=motion.gyr * half_turn)


def write(folder: Path, text: str) -> Path:
    path = folder / "session.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_an_event_that_all_sensors_felt_sets_their_clocks(folder: Path) -> None:
    write(folder, HEAD + CHEST + "event_s = 2.5\n" + LEFT + "event_s = 1.0\n")
    chest, left = read_session(folder).recordings
    # 2.5 s into the chest's file and 1.0 s into the wrist's were the same moment.
    assert left.time_s[0] - chest.time_s[0] == pytest.approx(1.5)
    assert chest.time_s[0] == 0.0
    assert (left.clock_is_event, left.clock_is_given) == (True, False)


def test_an_event_overrules_a_clock_that_is_hours_off(folder: Path) -> None:
    shutil.copy(folder / "left.csv", folder / "late.csv")
    rows = (folder / "late.csv").read_text().splitlines()
    moved = [rows[0], *(f"{float(r.split(',')[0]) + 3600}," + r.split(",", 1)[1] for r in rows[1:])]
    (folder / "late.csv").write_text("\n".join(moved) + "\n")
    left = LEFT.replace("left.csv", "late.csv")
    for late_is_chest in (False, True):
        chest_too = CHEST if not late_is_chest else CHEST.replace("chest.csv", "late.csv")
        left_too = left if not late_is_chest else LEFT
        write(folder, HEAD + chest_too + "event_s = 1.0\n" + left_too + "event_s = 1.5\n")
        chest, wrist = read_session(folder).recordings
        assert (chest.time_s[0], wrist.time_s[0]) == pytest.approx((0.5, 0.0))


@pytest.mark.parametrize("event_s", [-0.1, 1e4])
def test_an_event_outside_its_file_is_refused(folder: Path, event_s: float) -> None:
    write(folder, HEAD + CHEST + "event_s = 1.0\n" + LEFT + f"event_s = {event_s}\n")
    with pytest.raises(SessionError, match="count from its first sample"):
        read_session(folder)


def test_an_event_must_be_stated_for_the_sensor_that_leads(folder: Path) -> None:
    write(folder, HEAD + CHEST + LEFT + "event_s = 1.0\n")
    with pytest.raises(SessionError, match="event_s is stated, but not for the chest"):
        read_session(folder)


def test_an_event_and_an_offset_are_one_too_many(folder: Path) -> None:
    write(folder, HEAD + CHEST + LEFT + "event_s = 1.0\nclock_offset_s = 0.2\n")
    with pytest.raises(SessionError, match="keep one"):
        read_session(folder)


def test_whole_session(folder: Path) -> None:
    toml = write(
        folder,
        HEAD + "date = 2026-03-14\nbody_mass_kg = 72\nheight_m = 1.8\nlane_m = 10\n"
        'bouts = "bouts.csv"\nrom = "rom.csv"\n'
        + CHEST + 'up = "x"\nout = "+z"\n' + LEFT + "clock_offset_s = 0.35\n",
    )  # fmt: skip
    (folder / "rom.csv").write_text("test,side,when,value_deg\nflexion,left,before,160\n")
    for path in (folder, toml):
        session = read_session(path)
        assert (session.participant, session.session, session.date) == (
            "P07",
            "2",
            date(2026, 3, 14),
        )
        assert (session.body_mass_kg, session.height_m, session.lane_m) == (72, 1.8, 10)
        chest, left = session.recordings
        assert (chest.up, chest.out, chest.clock_is_given) == ("+x", "+z", False)
        assert (left.time_s[0], left.clock_is_given) == (0.35, True)
        assert session.bout_rows is not None
        assert len(session.bout_rows) == len(session.rom) == 1
        assert [name for name, _ in session.input_sha256] == [
            "bouts.csv", "chest.csv", "left.csv", "rom.csv", "session.toml",
        ]  # fmt: skip
        assert session.notices == ()


def test_folder_without_session_file(folder: Path) -> None:
    (folder / "left.csv").rename(folder / "P07_LeftWrist_2.csv")
    session = read_session(folder)
    assert (session.participant, session.session) == ("P07", "1")
    assert [recording.placement for recording in session.recordings] == ["chest", "left_wrist"]
    assert [notice.code for notice in session.notices] == ["session_assumed"]
    assert "chest is chest.csv" in session.notices[0].message
    assert session.bout_rows is not None


def test_folder_with_an_accelerometer_and_a_gyroscope_file(tmp_path: Path, motion: Motion) -> None:
    text = written_bytes(motion, FileLayout()).decode().splitlines()
    cells = [line.split(",") for line in text]
    for kind, columns in (("acc", slice(1, 4)), ("gyr", slice(4, 7))):
        rows = [",".join([row[0], *row[columns]]) for row in cells]
        (tmp_path / f"chest_{kind}.csv").write_text("\n".join(rows) + "\n")
    (recording,) = read_session(tmp_path).recordings
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr, atol=1e-6)


def test_folder_with_one_wide_file(tmp_path: Path, motion: Motion) -> None:
    lines = written_bytes(motion, FileLayout()).decode().splitlines()
    chest = [name if name == "time" else f"chest_{name}" for name in lines[0].split(",")]
    (tmp_path / "all.csv").write_text("\n".join([",".join(chest), *lines[1:]]))
    assert [r.placement for r in read_session(tmp_path).recordings] == ["chest"]


def test_sensors_in_one_file_parse_it_once(
    tmp_path: Path, motion: Motion, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = written_bytes(motion, FileLayout()).decode().splitlines()
    names = lines[0].split(",")
    header = [names[0], *(f"{p}_{n}" for p in ("chest", "lw", "rw") for n in names[1:])]
    rows = [
        line + "," + line.partition(",")[2] + "," + line.partition(",")[2] for line in lines[1:]
    ]
    (tmp_path / "all.csv").write_text("\n".join([",".join(header), *rows]) + "\n")
    entries = "".join(
        f'[[sensor]]\nplacement = "{p}"\nfile = "all.csv"\n'
        for p in ("chest", "left_wrist", "right_wrist")
    )
    write(tmp_path, HEAD + entries)
    calls = []
    real = session_module.read_table
    monkeypatch.setattr(
        session_module, "read_table", lambda *args: calls.append(args) or real(*args)
    )
    assert len(read_session(tmp_path).recordings) == 3
    assert len(calls) == 1


@pytest.mark.parametrize("time", ["epoch_ms", "iso_z", "iso", "s", "day"])
def test_session_clock_starts_at_the_earliest_sensor(folder: Path, time: str) -> None:
    late = invented_motion(500)
    late = replace(late, time_s=late.time_s + 1.25)
    (folder / "left.csv").write_bytes(written_bytes(late, FileLayout(time=time)))
    (folder / "chest.csv").write_bytes(written_bytes(invented_motion(500), FileLayout(time=time)))
    write(folder, HEAD + CHEST + LEFT)
    chest, left = read_session(folder).recordings
    assert chest.time_s[0] == 0
    assert left.time_s[0] == pytest.approx(1.25, abs=1e-5)


def test_clocks_of_different_kinds_start_together(folder: Path, motion: Motion) -> None:
    (folder / "left.csv").write_bytes(written_bytes(turned(motion), FileLayout(time="epoch_ms")))
    write(folder, HEAD + CHEST + LEFT)
    session = read_session(folder)
    assert [recording.time_s[0] for recording in session.recordings] == [0, 0]
    assert [notice.code for notice in session.notices] == ["clocks_differ"]


@pytest.mark.parametrize("name", ["A" * 5000 + ".csv", "a\\u0000b.csv"])
def test_a_name_that_no_file_can_have_is_refused(folder: Path, name: str) -> None:
    write(folder, HEAD + CHEST.replace("chest.csv", name))
    with pytest.raises(InputError):
        read_session(folder)


@pytest.mark.parametrize(("stored", "named"), [("NFC", "NFD"), ("NFD", "NFC")])
def test_accented_names_are_found_however_they_are_stored(
    folder: Path, stored: str, named: str
) -> None:
    (folder / "chest.csv").rename(folder / unicodedata.normalize(stored, "chäst.csv"))
    name = unicodedata.normalize(named, "chäst.csv")
    write(folder, HEAD + CHEST.replace("chest.csv", name))
    (recording,) = read_session(folder).recordings
    assert recording.readings[0].file == name


def test_one_recording_for_two_placements_is_told(folder: Path, motion: Motion) -> None:
    (folder / "left.csv").write_bytes(written_bytes(motion, FileLayout()))
    write(folder, HEAD + CHEST + LEFT)
    (notice,) = read_session(folder).notices
    assert (notice.code, notice.file) == ("same_samples", "left.csv")
    assert "same samples as the chest sensor (chest.csv)" in notice.message


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no such pipes on Windows")
def test_what_is_no_file_is_refused(folder: Path) -> None:
    (folder / "left.csv").unlink()
    os.mkfifo(folder / "left.csv")
    write(folder, HEAD + CHEST + LEFT)
    with pytest.raises(InputError, match=r"left\.csv: is no file of data"):
        read_session(folder)


def test_sensors_that_never_overlap(folder: Path, motion: Motion) -> None:
    late = replace(motion, time_s=motion.time_s + 3600)
    (folder / "left.csv").write_bytes(written_bytes(late, FileLayout()))
    write(folder, HEAD + CHEST + LEFT)
    with pytest.raises(TimebaseError, match="never overlap; check the clocks"):
        read_session(folder)


@pytest.mark.parametrize("later_s", [2.0, -2.0])
def test_sensors_of_which_one_starts_after_midnight(
    folder: Path, motion: Motion, later_s: float
) -> None:
    midnight = 24 * 3600.0
    for name, starts_s in (("chest", midnight - later_s / 2), ("left", midnight + later_s / 2)):
        of_day_s = (motion.time_s - motion.time_s[0] + starts_s) % midnight
        clock = [f"{int(t // 3600):02d}:{int(t % 3600 // 60):02d}:{t % 60:09.6f}" for t in of_day_s]
        columns = {"time": clock}
        columns |= {f"acc_{axis}": motion.acc[:, n] for n, axis in enumerate("xyz")}
        columns |= {f"gyr_{axis}": motion.gyr[:, n] for n, axis in enumerate("xyz")}
        pd.DataFrame(columns).to_csv(folder / f"{name}.csv", index=False)
    write(folder, HEAD + CHEST + LEFT)
    chest, left = read_session(folder).recordings
    assert left.time_s[0] - chest.time_s[0] == pytest.approx(later_s, abs=0.011)


def test_bout_outside_the_recording(folder: Path) -> None:
    (folder / "bouts.csv").write_text(BOUTS + "b,4,9,free,none,,\n")
    write(folder, HEAD + 'bouts = "bouts.csv"\n' + CHEST)
    with pytest.raises(SessionError, match=r"bouts\.csv, bout b: .* outside the recording"):
        read_session(folder)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("participant = ", "cannot be read as TOML"),
        ('session = "1"\n' + CHEST, 'participant = "..."'),
        (HEAD.replace("P07", "../P07") + CHEST, "cannot; use letters and digits"),
        (HEAD.replace("P07", "..") + CHEST, "cannot; use letters and digits"),
        (HEAD, "lists no sensor"),
        (HEAD + "[sensor]\nplacement = 1\n", "two brackets"),
        (HEAD + "partcipant = 1\n" + CHEST, "did you mean 'participant'"),
        (HEAD + "body_mass_kg = -3\n" + CHEST, "above 0"),
        (HEAD + "body_mass_kg = 7.6\n" + CHEST, "7.6 kg is too little for a body mass: is it 76"),
        (HEAD + "body_mass_kg = 0.635\n" + CHEST, "is it 63.5 kg?"),
        (HEAD + "body_mass_kg = true\n" + CHEST, "must be a number"),
        (HEAD + 'date = "soon"\n' + CHEST, "write date = 2026-03-14"),
        (HEAD + CHEST + CHEST, "two files for one placement, chest"),
        (HEAD + CHEST.replace("chest", "chets", 1), "did you mean 'chest'"),
        (HEAD + '[[sensor]]\nplacement = "chest"\n', 'write file = "chest.csv"'),
        (HEAD + CHEST + 'acc_unit = "stone"\n', "m/s^2, g, mg"),
        (HEAD + CHEST + "acc_scale = 0.1\n", "state acc_unit too"),
        (HEAD + CHEST + 'up = "+q"\n', "unknown axis for up"),
        (HEAD + CHEST + 'up = "+x"\nout = "-x"\n', "same axis"),
        (HEAD + CHEST + 'columns = {acc = ["a", "b"]}\n', "needs 3 different column names"),
        (HEAD + CHEST + 'columns = {mag = "a"}\n', "unknown column role"),
        (HEAD + CHEST + "rate_hz = 0\n", "above 0"),
    ],
)
def test_session_file_refusals(folder: Path, text: str, words: str) -> None:
    write(folder, text)
    with pytest.raises(SessionError) as caught:
        read_session(folder)
    assert words in caught.value.message
    assert caught.value.file == "session.toml"
    assert caught.value.where or text == HEAD
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("data", "where"),
    [
        (HEAD.encode() + b"bouts bouts.csv\n", "line 3, column 7"),
        (HEAD.encode() + b'bouts = "caf\xe9.csv"\n', "line 3"),
    ],
)
def test_place_in_a_session_file_that_is_no_toml(folder: Path, data: bytes, where: str) -> None:
    (folder / "session.toml").write_bytes(data)
    with pytest.raises(SessionError) as caught:
        read_session(folder)
    assert (caught.value.file, caught.value.where) == ("session.toml", where)


def test_session_names_its_sheet(folder: Path) -> None:
    write(folder, HEAD + 'bouts = "bouts.csv"\n' + CHEST)
    assert read_session(folder).bouts_file == "bouts.csv"


def test_listed_file_that_is_absent(folder: Path) -> None:
    write(folder, HEAD + CHEST.replace("chest.csv", "gone.csv"))
    with pytest.raises(InputError, match=r"gone\.csv: is not there"):
        read_session(folder)


@pytest.mark.parametrize(
    ("prepare", "words"),
    [
        (lambda home: shutil.copy(home / "chest.csv", home / "chest_2.csv"), "two files for one"),
        (lambda home: [p.unlink() for p in home.iterdir()], "no file names a placement"),
    ],
)
def test_folder_refusals(folder: Path, prepare: Callable[[Path], object], words: str) -> None:
    prepare(folder)
    with pytest.raises(SessionError, match=words):
        read_session(folder)


def test_no_such_session(tmp_path: Path) -> None:
    with pytest.raises(ImucarryError, match="is not there"):
        read_session(tmp_path / "nowhere")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is empty; its header is bout,start_s"),
        (BOUTS.splitlines()[0] + "\n", "lists no bout; write one row a bout"),
    ],
)
def test_a_sheet_without_bouts_is_refused(folder: Path, text: str, words: str) -> None:
    (folder / "bouts.csv").write_text(text, encoding="utf-8")
    write(folder, f'{HEAD}bouts = "bouts.csv"\n{CHEST}')
    with pytest.raises(InputError, match=words) as caught:
        read_session(folder)
    assert caught.value.file == "bouts.csv"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("body_mass_kg = 68,0", "68,0 cannot be read; write the number with a point: "
         "body_mass_kg = 68.0"),
        ("body_mass_kg = 68 kg  # on shoes", "the number without a unit: body_mass_kg = 68"),
        ("lane_m = 20,5 m", "the number without a unit: lane_m = 20.5"),
        ("date = 14.03.2026", "14.03.2026 cannot be read; write the date as year-month-day: date "
         "= 2026-03-14"),
        ("date = 2026-14-03", "date = 2026-03-14"),
        ("rom = rom.csv", 'rom.csv cannot be read; write it in straight quotes: rom = "rom.csv"'),
        ("rom = \u201crom.csv\u201d", 'write straight quotes: rom = "rom.csv"'),
        ('files = [\u201ca.csv\u201d, \u201cb.csv\u201d]',
         'write straight quotes: files = ["a.csv", "b.csv"]'),
        ("rom = \u2018A\\rom.csv\u2019", 'write straight quotes: rom = "A/rom.csv"'),
        ("label = \u201cclient\u2019s\u201d", 'write straight quotes: label = "client\'s"'),
        ("body_mass_kg = 068", "write the number without 0 before it: body_mass_kg = 68"),
        ("lane_m = 00.5", "write the number without 0 before it: lane_m = 0.5"),
        ("lane_m = 0,5", "write the number with a point: lane_m = 0.5"),
        ("session = 01", 'write it in straight quotes: session = "01"'),
        ('rom = "C:\\data\\rom.csv"', 'write / instead of \\ in paths: rom = "C:/data/rom.csv"'),
        ("height_m: 1.71", "write height_m = 1.71, with = for the colon"),
        ("rom = ", "cannot be read as TOML"),
    ],
)  # fmt: skip
def test_a_line_of_a_session_file_that_cannot_be_read_says_what_to_write(
    folder: Path, line: str, words: str
) -> None:
    write(folder, f"{HEAD}{line}\n{CHEST}")
    with pytest.raises(SessionError) as caught:
        read_session(folder)
    assert words in caught.value.message
    assert caught.value.where.startswith("line 3")


def test_one_file_of_a_visit_is_no_visit(folder: Path) -> None:
    (folder / "bouts.csv").write_text(BOUTS)
    with pytest.raises(SessionError, match="give the visit's folder") as caught:
        read_session(folder / "bouts.csv")
    assert caught.value.file == "bouts.csv"
