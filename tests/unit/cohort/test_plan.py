"""What a manifest is planned to, and what is said of its dates."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from command_line import imucarry

from imucarry.basics.dates import moment_of
from imucarry.basics.errors import SessionError
from imucarry.basics.settings import Settings
from imucarry.cohort.plan import make_plan


def manifest_of(home: Path, *dates: str) -> Path:
    path = home / "study.csv"
    rows = [f"s{k},{date}" for k, date in enumerate(dates)]
    path.write_text("\n".join(["folder,date", *rows]) + "\n", encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "text", ["", "03/04/2026", "3.4.2026", "2026-3-4", "2026-02-30", "2026", "spring", "0001-13-01"]
)
def test_what_is_no_iso_date_has_no_moment(text: str) -> None:
    assert moment_of(text) == ""


def test_moments_are_in_the_order_of_time_as_text() -> None:
    texts = ["2025-12-31", "2026-01-01T01:30+02:00", "20260101", "2026-01-01 08:00", "2026-01-02"]
    moments = [moment_of(text) for text in texts]
    assert moments == sorted(set(moments))


def test_iso_dates_and_empty_ones_are_not_told(tmp_path: Path) -> None:
    manifest = manifest_of(tmp_path, "2026-03-14", "", "2026-04-01T10:00")
    assert make_plan(manifest, tmp_path / "out", Settings()).notices == ()


def test_the_first_date_that_is_not_iso_is_told_with_its_place(tmp_path: Path) -> None:
    manifest = manifest_of(tmp_path, "2026-03-14", "03/04/2026", "04/04/2026")
    (notice,) = make_plan(manifest, tmp_path / "out", Settings()).notices
    assert (notice.code, notice.file, notice.where) == (
        "date_not_iso", "study.csv", "line 3, column date",
    )  # fmt: skip
    assert "'03/04/2026' is no ISO date (nor is that of 1 more row)" in notice.message
    assert "write year-month-day" in notice.message


def test_the_run_goes_on_and_says_so_once_wherever_people_look(tmp_path: Path) -> None:
    manifest, out = manifest_of(tmp_path, "03/04/2026"), tmp_path / "out"
    done = imucarry("cohort", manifest, "--out", out)
    assert done.returncode == 1  # the session is not there
    said = [line for line in done.stdout.splitlines() if "ISO" in line]
    assert len(said) == 1
    assert said[0].startswith("study.csv, line 2, column date: '03/04/2026' is no ISO date")
    (notice,) = json.loads((out / "run.json").read_text(encoding="utf-8"))["notices"]
    assert notice["where"] == "line 2, column date"
    assert "is no ISO date" in (out / "cohort.html").read_text(encoding="utf-8")
    assert "03/04/2026" in (out / "failures.csv").read_text(encoding="utf-8")


def test_sessions_without_a_session_file_that_would_be_one_are_all_named(tmp_path: Path) -> None:
    for person in ("P1", "P2", "P3"):
        folder = tmp_path / person / "visit_1"
        folder.mkdir(parents=True)
        (folder / "chest.csv").write_text("time_s\n")
    manifest = tmp_path / "study.csv"
    manifest.write_text("folder\nP1/visit_1\nP2/visit_1\nP3/visit_1\n", encoding="utf-8")
    with pytest.raises(SessionError) as refused:
        make_plan(manifest, tmp_path / "out", Settings())
    assert str(refused.value) == (
        "study.csv: 'P1/visit_1', 'P2/visit_1' and 'P3/visit_1' are all participant 'visit_1', "
        "session '1'; 'P1/visit_1', 'P2/visit_1' and 'P3/visit_1' have no session.toml; write one "
        "into each"
    )


def test_all_sessions_of_one_name_are_named_at_once(tmp_path: Path) -> None:
    sensor = '[[sensor]]\nplacement = "chest"\nfile = "chest.csv"\n'
    for folder, person in zip("abcd", ("P1", "P2", "P1", "P2"), strict=True):
        (tmp_path / folder).mkdir()
        text = f'participant = "{person}"\nsession = "1"\n{sensor}'
        (tmp_path / folder / "session.toml").write_text(text)
    manifest = tmp_path / "study.csv"
    manifest.write_text("folder\na\nb\nc\nd\n", encoding="utf-8")
    with pytest.raises(SessionError) as refused:
        make_plan(manifest, tmp_path / "out", Settings())
    assert str(refused.value) == (
        "study.csv: 'a' and 'c' are both participant 'P1', session '1'; 'b' and 'd' are both "
        "participant 'P2', session '1'; give each session its own name"
    )
