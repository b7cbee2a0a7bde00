"""Joined tables: order, the manifest's names, safe cells."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from imucarry.cohort.failures import write_failures
from imucarry.cohort.gather import Scored, carried_names, join_tables
from imucarry.cohort.plan import folder_name
from imucarry.cohort.task import Outcome
from imucarry.readers.sheets import ManifestRow


@pytest.mark.parametrize(
    ("columns", "names"),
    [
        (["group"], ["group"]),
        (["hold"], ["manifest_hold"]),
        (["hold", "manifest_hold"], ["manifest_hold", "manifest_manifest_hold"]),
        (["manifest_hold", "hold"], ["manifest_hold", "manifest_manifest_hold"]),
        (["=cmd"], ["'=cmd"]),
        ([], []),
    ],
)
def test_a_taken_name_gets_the_prefix_and_none_comes_twice(
    columns: list[str], names: list[str]
) -> None:
    found = carried_names([dict.fromkeys(columns, "x")], ["participant", "hold"])
    assert list(found) == columns
    assert list(found.values()) == names


def session(folder: Path, participant: str, rows: list[str], **carried: str) -> Scored:
    folder.mkdir()
    (folder / "t.csv").write_text("\n".join(rows) + "\n")
    return Scored(participant, "1", folder, carried)


def test_rows_are_sorted_and_absent_columns_are_empty(tmp_path: Path) -> None:
    header = "participant,session,bout,x"
    first = session(tmp_path / "1", "P2", [header, "P2,1,b,1", "P2,1,a,2", "P2,1,a,3"], group="=1")
    second = session(tmp_path / "2", "P10", [f"{header},tempo", "P10,1,a,4,slow"], place="lab")
    names = join_tables([first, second], "t.csv", header.split(","), tmp_path / "all.csv")
    with (tmp_path / "all.csv").open(newline="") as stream:
        rows = list(csv.reader(stream))
    assert names == rows[0] == [*header.split(","), "tempo", "group", "place"]
    assert rows[1:] == [
        ["P10", "1", "a", "4", "slow", "", "lab"],
        ["P2", "1", "a", "2", "", "'=1", ""],
        ["P2", "1", "a", "3", "", "'=1", ""],
        ["P2", "1", "b", "1", "", "'=1", ""],
    ]


def test_a_manifests_negative_numbers_stay_numbers(tmp_path: Path) -> None:
    rows = ["participant,session,bout", "P1,1,a"]
    item = session(tmp_path / "1", "P1", rows, delta="-1.5e3", gain="+2", sum="-1+2")
    join_tables([item], "t.csv", rows[0].split(","), tmp_path / "all.csv")
    with (tmp_path / "all.csv").open(newline="") as stream:
        assert list(csv.reader(stream))[1] == ["P1", "1", "a", "-1.5e3", "+2", "'-1+2"]


def test_failures_carry_the_manifests_columns(tmp_path: Path) -> None:
    row = ManifestRow("a", tmp_path, 2, (("group", "@x"), ("error", "mine")))
    failed = [(row, Outcome(0, "InputError", 'said "no", twice'))]
    names = write_failures(failed, tmp_path, [row])
    with (tmp_path / "failures.csv").open(newline="") as stream:
        rows = list(csv.reader(stream))
    assert names == rows[0] == [*FAILED, "group", "manifest_error"]
    assert rows[1:] == [["a", "InputError", 'said "no", twice', "", "", "'@x", "mine"]]


def test_a_failed_session_is_named_where_its_own_file_tells(tmp_path: Path) -> None:
    sensor = '[[sensor]]\nplacement = "chest"\nfile = "chest.csv"\n'
    for name, text in (("a", 'participant = "P7"\nsession = "2"\n' + sensor), ("b", "garbage")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "session.toml").write_text(text)
    (tmp_path / "c").mkdir()
    (tmp_path / "c" / "chest.csv").write_text("no session.toml\n")
    rows = [ManifestRow(name, tmp_path / name, 2) for name in ("a", "b", "c", "not_there")]
    write_failures([(row, Outcome(0, "InputError", "no")) for row in rows], tmp_path, rows)
    with (tmp_path / "failures.csv").open(newline="") as stream:
        found = [(row["participant"], row["session"]) for row in csv.DictReader(stream)]
    assert found == [("P7", "2"), ("", ""), ("", ""), ("", "")]


FAILED = ["folder", "error", "message", "participant", "session"]


def test_folders_of_sessions_are_safe_and_differ() -> None:
    names = ["P01", "a/b", "a_b", "a b", "../x", "é" * 300, "x" * 61, "x" * 62, "CON.", "-"]
    found = [folder_name(name) for name in names]
    assert found[0] == "P01"
    assert len(set(found)) == len(names)
    assert all(name and len(name) < 80 and name.isascii() for name in found)
    assert not any("/" in name or name.startswith((".", "-")) for name in found)


def test_failures_have_the_same_columns_with_and_without_any(tmp_path: Path) -> None:
    row = ManifestRow("a", tmp_path / "a", 2, (("group", "x"), ("visit", "1")))
    some = write_failures([(row, Outcome(0, "InputError", "no"))], tmp_path, [row])
    assert write_failures([], tmp_path, [row]) == some
    header = ",".join([*FAILED, "group", "visit"])
    assert (tmp_path / "failures.csv").read_text() == f"{header}\n"
