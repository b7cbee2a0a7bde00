"""The library's first function and its DataFrames."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from imucarry import score_session
from imucarry.api import ScoredSession
from imucarry.basics.errors import SettingsError
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


def test_a_room_of_another_kind_is_refused() -> None:
    with pytest.raises(SettingsError, match="walk must be WalkSettings"):
        Settings(walk=3)  # type: ignore[arg-type]
