"""The library's first function and its DataFrames."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from shutil import copytree
from typing import Any

import pandas as pd
import pytest

from imucarry import CohortOptions, retest_file, score_cohort, score_session, write_scores
from imucarry.api import ScoredSession
from imucarry.basics.errors import OutputError, SessionError, SettingsError
from imucarry.basics.records import Notice
from imucarry.basics.settings import CarrySettings, Settings
from imucarry.tables.schema import TABLES

EXAMPLE = Path(__file__).parents[3] / "data" / "example"


@pytest.fixture(scope="module")
def worn() -> ScoredSession:
    return score_session(EXAMPLE)


@pytest.fixture(scope="module")
def without_chest(tmp_path_factory: pytest.TempPathFactory) -> ScoredSession:
    folder = tmp_path_factory.mktemp("wrist")
    for name in ("left_wrist.csv", "bouts.csv"):
        (folder / name).write_bytes((EXAMPLE / name).read_bytes())
    return score_session(folder)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_columns_have_one_type_whatever_the_rows(
    worn: ScoredSession, without_chest: ScoredSession, table: Any
) -> None:
    full, empty = worn.table(table.name), without_chest.table(table.name)
    assert full.dtypes.equals(empty.dtypes)
    assert full.dtypes.equals(pd.concat([full, empty]).dtypes)


def test_a_table_without_rows_can_be_asked(without_chest: ScoredSession) -> None:
    strides = without_chest.strides
    assert len(strides) == 0
    assert len(strides[~strides.kept_yaw].groupby("bout")["sternum_yaw_range_deg"].mean()) == 0


def test_a_stride_in_a_turn_has_no_pass(worn: ScoredSession) -> None:
    strides = worn.strides
    assert strides.stride.dtype == strides["pass"].dtype == "Int64"
    assert strides["pass"].isna().any()
    assert strides.loc[strides["pass"].isna(), "turning"].all()


@pytest.mark.parametrize("wrong", [{"carry": {"reduced_pct": 99}}, CarrySettings(), 3, b"lab.toml"])
def test_settings_of_another_kind_are_refused(wrong: Any) -> None:
    with pytest.raises(SettingsError, match=type(wrong).__name__):
        score_session(EXAMPLE, wrong)
    with pytest.raises(SettingsError, match=type(wrong).__name__):
        score_cohort(EXAMPLE, EXAMPLE, wrong)
    with pytest.raises(SettingsError, match=type(wrong).__name__):
        retest_file(EXAMPLE / "rom.csv", wrong)


@pytest.mark.parametrize("workers", [0, -1, 1.5])
def test_a_number_of_workers_that_is_none_is_refused(workers: Any) -> None:
    with pytest.raises(SettingsError, match="workers must be a whole number from 1 on"):
        CohortOptions(workers=workers)


def test_a_settings_file_that_is_not_there_is_told_as_such() -> None:
    with pytest.raises(SettingsError, match=r"^nope\.toml: is not there; check the name"):
        score_session(EXAMPLE, "nope.toml")


def test_a_room_of_another_kind_is_refused() -> None:
    with pytest.raises(SettingsError, match="walk must be WalkSettings"):
        Settings(walk=3)  # type: ignore[arg-type]


def test_a_table_of_another_name_is_refused_with_the_names(worn: ScoredSession) -> None:
    with pytest.raises(KeyError, match="bout_summary, ladder, retest"):
        worn.table("bouts")


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_a_table_knows_the_units_and_meanings_of_its_columns(
    worn: ScoredSession, table: Any
) -> None:
    attrs = worn.table(table.name).attrs
    for column in table.columns:
        assert attrs["meanings"][column.name] == column.meaning
        assert attrs["units"].get(column.name, "") == column.unit
    assert worn.strides.attrs["units"]["sternum_yaw_range_deg"] == "deg"


def test_a_session_shows_itself_in_short(worn: ScoredSession) -> None:
    notices = tuple(Notice("odd", text, severity="check") for text in "ab")
    result = replace(worn.result, notices=(*notices, Notice("seen", "c")))
    said = "ScoredSession(participant='P01', session='example', 4 bouts, 2 checks, 1 note)"
    assert repr(replace(worn, result=result)) == said


def test_a_notebook_shows_bouts_and_checks_with_nothing_taken_for_markup(
    worn: ScoredSession,
) -> None:
    odd = Notice("odd", "a < b", file="<b>.csv", severity="check")
    session = replace(worn.result.session, participant="<i>")
    result = replace(worn.result, session=session, notices=(odd,))
    html = replace(worn, result=result)._repr_html_()
    assert "suitcase" in html
    assert "<li>&lt;b&gt;.csv, a &lt; b</li>" in html
    assert "<i>" not in html
    assert len(html) < 5000


def test_results_are_kept_apart_from_the_session_without_naming_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copytree(EXAMPLE, tmp_path / "visit")
    monkeypatch.chdir(tmp_path)
    scored = score_session("visit")
    monkeypatch.chdir(tmp_path / "visit")  # what was read is known by its whole path
    for out in (".", "..", "inside", tmp_path / "visit"):
        with pytest.raises(OutputError, match="'visit'"):
            write_scores(scored, out)
    assert "report.html" in write_scores(scored, "../out")


def test_a_source_may_be_named_and_must_be_there(worn: ScoredSession, tmp_path: Path) -> None:
    with pytest.raises(SessionError, match="nonexist: is not there; leave source out"):
        write_scores(worn, tmp_path / "out", source="nonexist")
    other = tmp_path / "other"
    other.mkdir()
    with pytest.raises(OutputError, match="'other'"):
        write_scores(worn, other / "out", source=other)
    assert write_scores(worn, tmp_path / "out", source=EXAMPLE)


def test_an_empty_path_is_no_session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(EXAMPLE)
    with pytest.raises(SessionError, match="path of the session is empty"):
        score_session("")
    assert len(score_session(".").bouts) == 4


def test_results_are_kept_in_lists_and_sets(worn: ScoredSession) -> None:
    other = replace(worn)
    assert worn in [other, worn]
    assert worn != other
    bout = worn.result.bouts[0]
    assert len({worn, other, worn.result, bout, bout.data.strides}) == 5


def test_what_was_found_cannot_be_changed_by_a_reader_of_it(worn: ScoredSession) -> None:
    data = worn.result.bouts[0].data
    for array in (data.strides.start_s, data.contacts.time_s, data.strides.drop["turn"]):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = array[0]
