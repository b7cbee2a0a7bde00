"""What the study tells of its sessions: their notices."""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

import pandas as pd
import pytest

from imucarry.basics.records import Notice
from imucarry.cohort.gather import Scored
from imucarry.cohort.results import links_of
from imucarry.cohort.same_visits import same_recordings
from imucarry.cohort.session_tables import write_checks, write_sessions
from imucarry.cohort.study_checks import StudyCheck
from imucarry.report.cohort import sessions_to_look_at
from imucarry.report.cohort.checks import ALARM, FAULT, Doubtful, shown_and_more
from imucarry.report.cohort.common import pace_told


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
    assert names == rows[0]
    assert names == [
        "participant",
        "session",
        "where",
        "code",
        "severity",
        "message",
        "bout",
        "file",
    ]
    said = "said of clock_ambiguous"
    assert rows[1:] == [
        ["P0", "1", "left_wrist", "clock_ambiguous", "check", said, "", ""],
        ["P2", "1", "left_wrist", "clock_ambiguous", "check", said, "", ""],
        ["P2", "1", "bouts.csv", "column_renamed", "note", "said of column_renamed", "",
         "bouts.csv"],
    ]  # fmt: skip


def test_one_place_in_two_files_is_two_checks(tmp_path: Path) -> None:
    files = ("left_wrist.csv", "right_wrist.csv")
    rows = [{**notice("broken_rows", "near line 8001"), "file": file} for file in files]
    visit = session("P1", *rows)
    visit = replace(visit, run={**visit.run, "body_mass_kg": None})
    write_checks([visit], tmp_path)
    write_sessions([visit], tmp_path, ())
    assert pd.read_csv(tmp_path / "cohort_checks.csv")["file"].tolist() == list(files)
    assert pd.read_csv(tmp_path / "cohort_sessions.csv")["n_checks"].tolist() == [2]


def test_a_bout_is_written_one_way_wherever_the_notice_names_it(tmp_path: Path) -> None:
    said = {
        "3": "3", "bout 3": "3", "bout 3, column load_kg": "3", "1 / 3": "1;3", "a / b": "a / b",
        "bout two": "bout two", "bout 9": "", "=2": "'=2", "chest": "", "near line 3": "", "": "",
    }  # fmt: skip
    visit = replace(session("P1", *(notice(f"c{k}", at) for k, at in enumerate(said))),
                    folder=tmp_path)  # fmt: skip
    (tmp_path / "bout_summary.csv").write_text("bout\n1\n3\na / b\nbout two\n'=2\n")
    write_checks([visit], tmp_path)
    written = pd.read_csv(tmp_path / "cohort_checks.csv", dtype=str, keep_default_na=False)
    assert written["bout"].tolist() == list(said.values())


def test_a_session_counts_as_many_checks_as_are_listed_of_it(tmp_path: Path) -> None:
    doubt = notice("clock_ambiguous", "left_wrist")
    visit = session("P1", doubt, doubt, notice("side_unclear"), notice("few", severity="note"))
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


def test_checks_between_sessions_have_a_row_and_count_for_each_of_them(tmp_path: Path) -> None:
    one, two, other = (session(who, notice("side_unclear")) for who in ("P1", "P2", "P3"))
    scored = [replace(item, run={**item.run, "body_mass_kg": 68.0}) for item in (two, one, other)]
    study = [
        StudyCheck(Notice("twice", "said of two", "study.csv", "", "check"), tuple(scored[:2])),
        StudyCheck(Notice("visits_by_name", "said of all", "study.csv", "order", "check")),
        StudyCheck(Notice("date_odd", "a note", "study.csv", "line 2"), (scored[2],)),
    ]
    write_checks(scored, tmp_path, (), study)
    write_sessions(scored, tmp_path, (), study)
    rows = pd.read_csv(tmp_path / "cohort_checks.csv", keep_default_na=False)
    assert list(zip(rows["participant"], rows["code"], rows["where"], strict=True)) == [
        ("", "visits_by_name", "order"),
        ("P1", "twice", "study.csv"), ("P1", "side_unclear", ""),
        ("P2", "twice", "study.csv"), ("P2", "side_unclear", ""),
        ("P3", "date_odd", "line 2"), ("P3", "side_unclear", ""),
    ]  # fmt: skip
    assert pd.read_csv(tmp_path / "cohort_sessions.csv")["n_checks"].tolist() == [2, 2, 1]


BOUT_COLUMNS = ["participant", "session", "bout", "stop_reason", "pain_0_10"]


def looked_at(sessions: list[Scored], *bouts: tuple[str, str, str, float]) -> tuple[Doubtful, ...]:
    """Return the sessions to look at; bouts are (participant, bout, stop reason, pain)."""
    rows = [(who, "1", *of_bout) for who, *of_bout in bouts]
    return sessions_to_look_at(links_of(sessions), pd.DataFrame(rows, columns=BOUT_COLUMNS))


def said(item: Doubtful) -> list[str]:
    return [check.about for check in item.checks]


def test_faults_of_the_recording_come_first_then_stops_then_the_most_checks() -> None:
    found = looked_at(
        [
            session("one doubt", notice("side_unclear")),
            session("notes", notice("few_strides", severity="note")),
            session("stopped", notice("stopped_early", "3")),
            session("two doubts", notice("side_unclear"), notice("clock_ambiguous", "chest")),
            session("fault", notice("speed_differs", "5"), notice("turns_contradict", "chest")),
        ]
    )
    assert [item.who for item in found] == [
        f"{who}, 1" for who in ("fault", "stopped", "two doubts", "one doubt")
    ]
    assert said(found[0]) == ["chest"]
    assert [check.about for check in found[0].folded] == ["bout 5"]


def test_the_same_of_several_bouts_is_told_once() -> None:
    bouts = [notice("speed_differs", bout, message=f"{bout} % slower") for bout in ("3", "5")]
    (found,) = looked_at([session("P1", *bouts)])
    assert [(check.about, check.message) for check in found.checks] == [
        ("bouts 3, 5", "3 to 5 % slower")
    ]


def test_every_session_with_a_fault_is_named() -> None:
    faulty = [session(f"F{k}", notice("turns_contradict")) for k in range(12)]
    doubtful = [session(f"P{k}", notice("side_unclear")) for k in range(3)]
    shown, n_more = shown_and_more(looked_at([*doubtful, *faulty]))
    assert ([item.rank for item in shown], n_more) == ([FAULT] * 12, 3)


# --- pain, stops and alarms, as a session's own page sorts them -----------------


def test_alarms_lead_a_session_and_none_is_folded_away() -> None:
    visit = session(
        "P1",
        notice("turns_contradict", "chest"),
        notice("side_unclear"),
        notice("pain", "3"),
        notice("stopped_early", "4"),
        notice("stopped_early", "5"),
        notice("symptom_in_note", "6"),
        notice("stopped_early", "8"),
    )
    bouts = [
        ("P1", "3", "", 2.0),
        ("P1", "4", "pain in the right shoulder", 5.0),
        ("P1", "5", "dizzy, could not breathe", 7.0),
        ("P1", "6", "", 0.0),
        ("P1", "8", "chest tightness", 0.0),
    ]
    (found,) = looked_at([visit], *bouts)
    assert found.rank == ALARM
    assert said(found) == ["bout 5", "bout 8", "bout 6", "chest"]
    assert [check.about for check in found.folded] == ["bout 4", "bout 3", ""]


def test_without_an_alarm_the_worst_pain_leads() -> None:
    visit = session("P1", *(notice("pain", bout) for bout in "345"), notice("stopped_early", "6"))
    pains = [("P1", bout, "", pain) for bout, pain in zip("345", (2.0, 7.0, 3.0), strict=True)]
    (found,) = looked_at([visit], *pains, ("P1", "6", "grip failed", 0.0))
    assert said(found) == ["bout 4"]
    assert [check.about for check in found.folded] == ["bout 5", "bout 3", "bout 6"]


def test_sessions_are_sorted_by_their_worst_complaint() -> None:
    people = ("mild", "grip", "worse", "note", "dizzy", "sharp")
    codes = ("pain", "stopped_early", "pain", "symptom_in_note", "stopped_early", "stopped_early")
    sessions = [session(who, notice(code, "3")) for who, code in zip(people, codes, strict=True)]
    found = looked_at(
        [session("fault", notice("turns_contradict")), *sessions],
        ("mild", "3", "", 1.0),
        ("grip", "3", "grip failed", 0.0),
        ("worse", "3", "", 6.0),
        ("note", "3", "", 0.0),
        ("dizzy", "3", "dizzy", 0.0),
        ("sharp", "3", "sharp pain", float("nan")),
    )
    assert [item.who.removesuffix(", 1") for item in found] == [
        *("dizzy", "note", "fault", "sharp", "worse", "mild", "grip")
    ]


def test_every_session_with_an_alarm_is_named() -> None:
    alarmed = [session(f"A{k}", notice("symptom_in_note", "3")) for k in range(12)]
    doubtful = [session(f"P{k}", notice("pain", "3")) for k in range(3)]
    shown, n_more = shown_and_more(looked_at([*doubtful, *alarmed]))
    assert ([item.rank for item in shown], n_more) == ([ALARM] * 12, 3)


def test_names_that_a_table_guards_are_found_in_it() -> None:
    visit = session("=P1", notice("pain", "1"), notice("stopped_early", "-2"))
    (found,) = looked_at([visit], ("'=P1", "1", "", 2.0), ("'=P1", "-2", "dizzy", 0.0))
    assert said(found) == ["-2"]


def test_a_recording_that_stands_for_two_sessions_is_told() -> None:
    def of(person: str, digest: str) -> Scored:
        read = [{"understood": [{"file": "chest.csv", "sha256": digest}]}]
        return replace(session(person), run={"sensors": read})

    assert same_recordings([of("P2", "aa"), of("P1", "bb")], "study.csv") == ()
    (check,) = same_recordings([of("P2", "aa"), of("P3", "bb"), of("P1", "aa")], "study.csv")
    assert [item.participant for item in check.sessions] == ["P1", "P2"]
    told = check.notice
    assert (told.code, told.severity) == ("same_recording", "check")
    assert (told.file, told.where) == ("study.csv", "column folder")
    assert told.message.startswith(
        "P1, visit 1 and P2, visit 1 hold the same recording (chest.csv)"
    )


def test_a_recording_that_was_exported_again_is_told_by_its_walks(tmp_path: Path) -> None:
    def of(person: str, *rows: str, digest: str = "") -> Scored:
        folder = tmp_path / person
        folder.mkdir()
        (folder / "bout_summary.csv").write_text("\n".join((HEAD, *rows, "")))
        read = [{"understood": [{"file": "chest.csv", "sha256": digest or person}]}]
        return replace(session(person), folder=folder, run={"sensors": read})

    walk = "104.12,13.650,30.85,,3.2,"
    first = of("P1", f"1,{walk}", "2,104.12,9.1,28.1,,4.1,", "3,,,,,,", "4,104.12,13,,,,")
    again = of("P2", f"1,{walk}", "2,104.12,9.1,28.1,,4.1,", "3,,,,,,", "4,104.12,13,,,,")
    near = of("P3", "1,104.12,13.651,30.85,,3.2,")
    (check,) = same_recordings([first, again, near], "study.csv")
    assert [item.participant for item in check.sessions] == ["P1", "P2"]
    assert check.notice.message.startswith(
        "P1, visit 1 and P2, visit 1 are the same walks: of bouts 1 and 2 every digit is the same"
    )
    copied = [of(who, f"1,{walk}", digest="one") for who in ("P4", "P5")]
    (check,) = same_recordings(copied, "study.csv")
    assert "hold the same recording" in check.notice.message


HEAD = (
    "bout,cadence_spm,sternum_yaw_range_deg,left_arm_swing_deg,right_arm_swing_deg,"
    "stride_time_cv_pct,step_time_asymmetry_pct"
)


def pace(bout: str) -> dict[str, str]:
    return notice("cadence_differs", bout, message=f"other steps in {bout}")


@pytest.mark.parametrize("n_others", [3, 4])
def test_a_pace_that_most_sessions_have_is_told_once_and_is_no_check_of_one(
    n_others: int,
) -> None:
    people = [
        session("alone", pace("3")),
        session("fell", pace("3"), pace("4")),
        session("doubt", notice("side_unclear"), pace("3")),
        session("plain", pace("2")),
    ]
    others = [session(f"P{k}") for k in range(n_others)]
    links = links_of([*people, *others])
    bouts = pd.DataFrame(
        [("fell", "1", "4", "", 0.0, "reduced"), ("alone", "1", "3", "", 0.0, "rotates")],
        columns=[*BOUT_COLUMNS, "rotation_finding"],
    )
    found = {item.who: [c.about for c in (*item.checks, *item.folded)]
             for item in sessions_to_look_at(links, bouts)}  # fmt: skip
    if n_others == 3:  # four of seven
        assert found == {"doubt, 1": [""]}
        said = pace_told(links, bouts)
        assert "In 4 of 7 sessions a carry had another cadence" in said
        assert "in 1 of them one in which rotation fell" in said
    else:
        assert len(found) == len(people)
        assert pace_told(links, bouts) == ""
