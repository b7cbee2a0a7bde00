"""A study of 60 sessions as a researcher runs it: what failed, the rows, the description."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pandas as pd
import pytest
from command_line import imucarry
from short_study import BROKEN, N_BOUTS, SAID, every_file, write_study

N_PEOPLE, N_VISITS = 30, 2
N_GOOD = N_PEOPLE * N_VISITS - len(BROKEN)


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The manifest of 60 sessions, 6 of them broken in 6 ways."""
    return write_study(tmp_path_factory.mktemp("study"), N_PEOPLE, N_VISITS, BROKEN)


@pytest.fixture(scope="module")
def scored(study: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The study's results."""
    out = tmp_path_factory.mktemp("scored") / "out"
    done = imucarry("cohort", study, "--out", out, "--workers", "2", "--parquet")
    assert done.returncode == 1, done.stderr
    assert f"{N_GOOD} sessions scored, {len(BROKEN)} failed" in done.stdout
    return out


def table(scored: Path, name: str) -> pd.DataFrame:
    return pd.read_csv(scored / name, dtype=str, keep_default_na=False)


def test_failures_have_their_reasons(scored: Path) -> None:
    failures = table(scored, "failures.csv")
    assert len(failures) == len(BROKEN)
    for row, how in zip(failures.to_dict("records"), BROKEN, strict=True):
        error, word = SAID[how]
        assert row["error"] == error, row
        assert word in row["message"], row
        assert str(scored) not in row["message"]
        assert row["hold"] == "as it came"


def test_every_other_session_is_in_every_table(scored: Path) -> None:
    for name in ("cohort_strides.csv", "cohort_scores.csv", "cohort_bouts.csv"):
        rows = table(scored, name)
        assert len(rows.groupby(["participant", "session"])) == N_GOOD
    assert len(table(scored, "cohort_bouts.csv")) == N_GOOD * N_BOUTS
    pages = list((scored / "sessions").glob("*/report.html"))
    assert len(pages) == N_GOOD


def test_rows_are_sorted(scored: Path) -> None:
    for name in ("cohort_strides.csv", "cohort_scores.csv", "cohort_bouts.csv"):
        rows = table(scored, name)
        keys = list(zip(rows["participant"], rows["session"], rows["bout"], strict=True))
        assert keys == sorted(keys)
    strides = table(scored, "cohort_strides.csv")
    groups = strides.groupby(["participant", "session", "bout"])["stride"]
    assert all(list(map(int, group)) == list(range(1, len(group) + 1)) for _, group in groups)


def test_rows_are_those_of_the_sessions(scored: Path) -> None:
    joined = table(scored, "cohort_strides.csv")
    alone = table(scored, "sessions/P03_visit_2-" + _ending(scored, "P03_visit_2") + "/strides.csv")
    mine = joined[(joined["participant"] == "P03") & (joined["session"] == "2")]
    pd.testing.assert_frame_equal(mine[alone.columns].reset_index(drop=True), alone)


def _ending(scored: Path, stem: str) -> str:
    (found,) = (scored / "sessions").glob(f"{stem}-*")
    return found.name.removeprefix(f"{stem}-")


def test_the_manifest_goes_along_and_no_name_is_taken_twice(scored: Path) -> None:
    bouts, strides = table(scored, "cohort_bouts.csv"), table(scored, "cohort_strides.csv")
    assert set(bouts["hold"]) == {"free", "suitcase"}
    assert set(bouts["manifest_hold"]) == set(strides["hold"]) == {"as it came"}
    of = bouts.drop_duplicates("participant").set_index("participant")["group"]
    assert of["P00"] == "training"
    assert of["P01"] == "'=control", "a spreadsheet would run it as a formula"


def test_the_data_package_is_valid_and_complete(scored: Path) -> None:
    from frictionless import Package

    report = Package(str(scored / "datapackage.json")).validate()
    assert report.valid, report.flatten(["rowNumber", "fieldName", "type", "message"])
    described = json.loads((scored / "datapackage.json").read_text(encoding="utf-8"))
    resources = {item["path"]: item for item in described["resources"]}
    assert set(resources) == {path.name for path in scored.glob("*.csv")}
    assert all(item["hash"].startswith("sha256:") for item in resources.values())
    assert resources["cohort_strides.csv"]["schema"]["primaryKey"] == [
        *("participant", "session", "bout", "stride")
    ]


def test_a_changed_byte_is_found_by_the_data_package(scored: Path, tmp_path: Path) -> None:
    from frictionless import Package

    for path in (*scored.glob("*.csv"), scored / "datapackage.json"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    bouts = tmp_path / "cohort_bouts.csv"
    bouts.write_text(bouts.read_text().replace("suitcase", "bagcase1", 1))
    assert not Package(str(tmp_path / "datapackage.json")).validate().valid


def test_reliability_is_told_for_each_condition(scored: Path) -> None:
    rows = pd.read_csv(scored / "reliability.csv")
    assert set(rows["design"]) == {"between_visit"}  # nobody walked twice in one visit
    assert set(rows["hold"]) == {"free", "suitcase"}
    yaw = rows[(rows["measure"] == "sternum_yaw_range") & (rows["hold"] == "free")].iloc[0]
    # The last three persons lack both visits, so 27 have two.
    assert yaw["n_participants"] == N_PEOPLE - len(BROKEN) / N_VISITS
    assert 0.9 < yaw["icc_3_1"] <= 1.0, "people differ by more than their two visits"
    assert yaw["order_effect_low"] > 0, "the second visit turns 0.4 % more"
    assert bool(yaw["systematic"])
    with (scored / "reliability.csv").open(encoding="utf-8") as stream:
        assert {row["systematic"] for row in csv.DictReader(stream)} <= {"true", "false"}


def test_a_mixed_model_runs_on_the_table_as_it_is(scored: Path) -> None:
    smf = pytest.importorskip("statsmodels.formula.api")
    bouts = pd.read_csv(scored / "cohort_bouts.csv", dtype={"participant": str})
    fitted = smf.mixedlm("sternum_yaw_range_deg ~ hold", bouts, groups="participant").fit()
    means = bouts.groupby("hold")["sternum_yaw_range_deg"].mean()
    # Everybody walked both, so the effect is the plain difference of the means.
    assert fitted.params["hold[T.suitcase]"] == pytest.approx(means["suitcase"] - means["free"])
    assert float(fitted.cov_re.iloc[0, 0]) > 0.0, "people differ"


def test_parquet_says_the_same_in_the_schemas_types(scored: Path) -> None:
    for name in ("cohort_strides", "cohort_scores", "cohort_bouts"):
        plain = table(scored, f"{name}.csv")
        kept = pd.read_parquet(scored / f"{name}.parquet")
        assert list(kept.columns) == list(plain.columns)
        assert kept["participant"].tolist() == plain["participant"].tolist()
        assert kept["session"].tolist() == plain["session"].tolist()
        assert kept["bout"].tolist() == plain["bout"].tolist()
    strides = pd.read_parquet(scored / "cohort_strides.parquet")
    assert strides["kept_yaw"].dtype == bool
    assert strides["left_arm_swing_deg"].dtype == float
    assert strides["left_arm_swing_deg"].isna().all()


def test_a_second_run_repeats_nothing_and_changes_nothing(study: Path, scored: Path) -> None:
    pages = sorted((scored / "sessions").glob("*/report.html"))
    before = [page.stat().st_mtime_ns for page in pages], every_file(scored)
    done = imucarry("cohort", study, "--out", scored, "--parquet")
    assert done.returncode == 1
    assert ([page.stat().st_mtime_ns for page in pages], every_file(scored)) == before


def test_run_json_names_no_place(study: Path, scored: Path) -> None:
    for path in (scored / "run.json", scored / "datapackage.json", scored / "cohort.html"):
        text = path.read_text(encoding="utf-8")
        assert str(study.parent) not in text
        assert str(scored.parent) not in text
