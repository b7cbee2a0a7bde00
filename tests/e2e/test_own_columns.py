"""Columns of one's own in ``bouts.csv`` that are named as results are: nothing is overwritten."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pandas as pd
import pytest
from command_line import imucarry
from short_study import ShortSessions

SECRET = "Xanthippe"
TAKEN = ("participant", "session", "speed_mps", "rotation_finding", "cadence_spm", "n_strides")
OWN = [f"sheet_{name}" for name in TAKEN]


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session as it is in ``plain`` and one with columns of its own in ``own``."""
    home = tmp_path_factory.mktemp("study")
    sessions = ShortSessions()
    sessions.write(home / "plain", "P1", "1")
    sessions.bouts = sessions.bouts.assign(**dict.fromkeys(TAKEN, SECRET))
    sessions.write(home / "own", "P1", "1")
    return home


def read(path: Path) -> pd.DataFrame:
    return pd.read_csv(path, dtype=str, keep_default_na=False)


def test_results_stand_as_without_them(study: Path, tmp_path: Path) -> None:
    printed = {}
    for name in ("plain", "own"):
        folder = study / name
        done = imucarry("score", folder, "--out", tmp_path / name, "--parquet", "--json", "-q")
        assert done.returncode == 0, done.stderr
        printed[name] = json.loads(done.stdout)
    jsonschema.validate(printed["own"], json.loads(imucarry("schema", "score").stdout))
    codes = [notice["code"] for notice in printed["own"]["notices"]]
    assert codes.count("column_renamed") == len(TAKEN)
    told = json.loads((tmp_path / "own" / "run.json").read_text(encoding="utf-8"))["notices"]
    assert [notice["code"] for notice in told].count("column_renamed") == len(TAKEN)

    own = read(tmp_path / "own" / "bout_summary.csv")
    assert list(own.columns[-len(OWN) :]) == OWN
    assert (own[OWN] == SECRET).all(axis=None)
    pd.testing.assert_frame_equal(
        own.drop(columns=OWN), read(tmp_path / "plain" / "bout_summary.csv")
    )
    kept = [
        {key: value for key, value in bout.items() if key not in OWN}
        for bout in printed["own"]["bouts"]
    ]
    assert kept == printed["plain"]["bouts"]
    typed = pd.read_parquet(tmp_path / "own" / "bout_summary.parquet")
    assert typed["cadence_spm"].dtype == float

    package = json.loads((tmp_path / "own" / "datapackage.json").read_text(encoding="utf-8"))
    (summary,) = (one for one in package["resources"] if one["path"] == "bout_summary.csv")
    assert [field["name"] for field in summary["schema"]["fields"]] == list(own.columns)


def test_a_cohort_keeps_them_apart_too(study: Path, tmp_path: Path) -> None:
    toml = study / "plain" / "session.toml"
    toml.write_text(toml.read_text(encoding="utf-8").replace('"P1"', '"P2"'), encoding="utf-8")
    manifest = study / "study.csv"
    manifest.write_text("folder,speed_mps,sheet_speed_mps\nown,=1,x\nplain,-2,y\n")
    done = imucarry("cohort", manifest, "--out", tmp_path / "out", "--workers", "1", "--parquet")
    assert done.returncode == 0, done.stderr
    bouts = read(tmp_path / "out" / "cohort_bouts.csv")
    assert bouts.columns.is_unique
    assert bouts["participant"].tolist() == ["P1", "P1", "P2", "P2"]
    assert bouts["sheet_participant"].tolist() == [SECRET, SECRET, "", ""]
    assert not (bouts[list(TAKEN)] == SECRET).any(axis=None)
    assert set(bouts["manifest_sheet_speed_mps"]) == {"x", "y"}


def test_an_export_holds_none_of_them(study: Path, tmp_path: Path) -> None:
    done = imucarry("export", study / "own", "--to", "motion-bids", "--out", tmp_path / "data")
    assert done.returncode == 0, done.stderr
    files = [path for path in (tmp_path / "data").rglob("*") if path.is_file()]
    assert len(files) > 10
    for path in files:
        assert SECRET not in path.read_text(encoding="utf-8"), path
