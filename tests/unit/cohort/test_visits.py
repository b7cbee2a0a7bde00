"""What the study tells of its sessions: their notices."""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

from imucarry.cohort.gather import Scored
from imucarry.cohort.results import links_of
from imucarry.cohort.visits import write_checks, write_sessions
from imucarry.report.cohort import sessions_to_look_at
from imucarry.report.cohort.checks import shown_and_more


def notice(
    code: str, where: str = "", severity: str = "check", message: str = ""
) -> dict[str, str]:
    return {
        "code": code, "message": message or f"said of {code}", "file": "", "where": where,
        "severity": severity,
    }  # fmt: skip


def session(participant: str, *notices: dict[str, str]) -> Scored:
    run = {"notices": list(notices), "sensors": []}
    return Scored(participant, "1", Path(participant), {}, run=run)


def test_checks_have_a_row_each_and_notes_too(tmp_path: Path) -> None:
    doubt = notice("clock_ambiguous", "left_wrist")
    whole = {**notice("column_renamed", severity="note"), "file": "bouts.csv"}
    sessions = [session("P2", doubt, doubt, whole), session("P1"), session("P0", doubt)]
    names = write_checks(sessions, tmp_path)
    with (tmp_path / "cohort_checks.csv").open(newline="") as stream:
        rows = list(csv.reader(stream))
    assert names == rows[0] == ["participant", "session", "where", "code", "severity", "message"]
    said = "said of clock_ambiguous"
    assert rows[1:] == [
        ["P0", "1", "left_wrist", "clock_ambiguous", "check", said],
        ["P2", "1", "left_wrist", "clock_ambiguous", "check", said],
        ["P2", "1", "bouts.csv", "column_renamed", "note", "said of column_renamed"],
    ]


def test_a_session_counts_as_many_checks_as_are_listed_of_it(tmp_path: Path) -> None:
    doubt = notice("clock_ambiguous", "left_wrist")
    in_file = {**notice("clock_ambiguous"), "file": "left_wrist"}
    visit = session("P1", doubt, in_file, notice("side_unclear"), notice("few", severity="note"))
    visit = replace(visit, run={**visit.run, "body_mass_kg": 68.0}, carried={"arm": "left"})
    names = write_sessions([visit], tmp_path, ["arm"])
    write_checks([visit], tmp_path, ["arm"])
    tables = {}
    for file in ("cohort_sessions.csv", "cohort_checks.csv"):
        with (tmp_path / file).open(newline="") as stream:
            tables[file] = list(csv.DictReader(stream))
    (row,) = tables["cohort_sessions.csv"]
    listed = [told["code"] for told in tables["cohort_checks.csv"] if told["severity"] == "check"]
    assert listed == ["clock_ambiguous", "side_unclear"]
    assert (row["n_checks"], row["arm"], names[-1]) == ("2", "left", "arm")
    assert all(told["arm"] == "left" for told in tables["cohort_checks.csv"])


def test_faults_of_the_recording_come_first_then_stops_then_the_most_checks() -> None:
    links = links_of(
        [
            session("one doubt", notice("side_unclear")),
            session("notes", notice("few_strides", severity="note")),
            session("stopped", notice("stopped_early", "3")),
            session("two doubts", notice("side_unclear"), notice("clock_ambiguous", "chest")),
            session("fault", notice("speed_differs", "5"), notice("turns_contradict", "chest")),
        ]
    )
    found = sessions_to_look_at(links)
    assert [item.who for item in found] == [
        f"{who}, 1" for who in ("fault", "stopped", "two doubts", "one doubt")
    ]
    assert [check.about for check in found[0].checks] == ["chest", "bout 5"]


def test_the_same_of_several_bouts_is_told_once() -> None:
    bouts = [notice("speed_differs", bout, message=f"{bout} % slower") for bout in ("3", "5")]
    (found,) = sessions_to_look_at(links_of([session("P1", *bouts)]))
    assert [(check.about, check.message) for check in found.checks] == [
        ("bouts 3, 5", "3 to 5 % slower")
    ]


def test_every_session_with_a_fault_is_named() -> None:
    faulty = [session(f"F{k}", notice("turns_contradict")) for k in range(12)]
    doubtful = [session(f"P{k}", notice("side_unclear")) for k in range(3)]
    shown, n_more = shown_and_more(sessions_to_look_at(links_of([*doubtful, *faulty])))
    assert ([item.rank for item in shown], n_more) == ([0] * 12, 3)
