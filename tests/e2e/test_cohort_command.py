"""``imucarry cohort`` on short sessions: what a study's edges do to its tables and exit code."""

from __future__ import annotations

import csv
import os
import shutil
from collections.abc import Sequence
from pathlib import Path

import pandas as pd
import pytest
from command_line import imucarry

EXAMPLE = Path(__file__).parents[2] / "data" / "example"
N_ROWS = 4001  # 80 s: standing still, then one free walk
N_GOOD = 3
TABLES = (
    *("cohort_strides.csv", "cohort_scores.csv", "cohort_bouts.csv"),
    *("cohort_ladder.csv", "cohort_retest.csv", "cohort_sessions.csv", "cohort_checks.csv"),
    *("failures.csv", "reliability.csv"),
)


@pytest.fixture(scope="module")
def short(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example session cut to its first walk."""
    folder = tmp_path_factory.mktemp("short") / "visit"
    folder.mkdir()
    for name in ("chest.csv", "left_wrist.csv", "right_wrist.csv"):
        head(EXAMPLE / name, folder / name, N_ROWS + 1)
    head(EXAMPLE / "bouts.csv", folder / "bouts.csv", 2)
    lines = (EXAMPLE / "session.toml").read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if not line.startswith("rom")]
    (folder / "session.toml").write_text("\n".join(kept) + "\n", encoding="utf-8")
    return folder


def head(source: Path, target: Path, n_lines: int) -> None:
    """Copy the first lines of a file."""
    lines = source.read_text(encoding="utf-8").splitlines(keepends=True)
    target.write_text("".join(lines[:n_lines]), encoding="utf-8", newline="")


def add_session(short: Path, folder: Path, participant: str, session: str = "1") -> None:
    """Copy the short session as another person's."""
    shutil.copytree(short, folder)
    toml = folder / "session.toml"
    said = toml.read_text(encoding="utf-8")
    said = said.replace('participant = "P01"', f'participant = "{participant}"')
    said = said.replace('session = "example"', f'session = "{session}"')
    toml.write_text(said, encoding="utf-8")


def write_manifest(home: Path, rows: Sequence[Sequence[str]]) -> Path:
    """Write ``study.csv`` into a folder."""
    path = home / "study.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)
    return path


def tables(out: Path) -> dict[str, bytes]:
    """Return the bytes of every table of a study."""
    return {name: (out / name).read_bytes() for name in TABLES}


def stamps(folder: Path) -> dict[str, tuple[int, int]]:
    """Return when each file below a folder was written, and how long it is."""
    return {
        path.relative_to(folder).as_posix(): (path.stat().st_mtime_ns, path.stat().st_size)
        for path in sorted(folder.rglob("*"))
    }


@pytest.fixture(scope="module")
def study(short: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Good sessions alone; two of one person, in neither order of the tables."""
    home = tmp_path_factory.mktemp("study")
    add_session(short, home / "a", "Q2", "2")
    add_session(short, home / "b", "Q2", "1")
    add_session(short, home / "c", "Q1", "1")
    shutil.copy(EXAMPLE / "rom.csv", home / "c" / "rom.csv")
    toml = home / "c" / "session.toml"
    toml.write_text('rom = "rom.csv"\n' + toml.read_text(encoding="utf-8"), encoding="utf-8")
    header = ["folder", "session", "hold", "manifest_hold", "site"]
    rows = [[name, f"visit {name}", "free text", "second", f"site {name}"] for name in "abc"]
    write_manifest(home, [header, *rows])
    return home


@pytest.fixture(scope="module")
def scored(study: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The results of the good study."""
    before = stamps(study)
    out = tmp_path_factory.mktemp("scored") / "out"
    done = imucarry("cohort", study / "study.csv", "--out", out, "--workers", "2")
    assert done.returncode == 0, done.stderr
    assert stamps(study) == before
    return out


def is_valid_package(out: Path) -> bool:
    from frictionless import Package

    return bool(Package(str(out / "datapackage.json")).validate().valid)


def test_good_sessions_alone_leave_no_failure(scored: Path) -> None:
    assert len((scored / "failures.csv").read_text(encoding="utf-8").splitlines()) == 1
    assert (scored / "run.json").is_file()
    assert is_valid_package(scored)


def test_rows_follow_participant_and_session(scored: Path) -> None:
    bouts = pd.read_csv(scored / "cohort_bouts.csv", dtype=str)
    keys = list(bouts[["participant", "session"]].itertuples(index=False, name=None))
    assert keys == [("Q1", "1"), ("Q2", "1"), ("Q2", "2")]
    assert list(bouts["site"]) == ["site c", "site b", "site a"]


def test_taken_names_of_the_manifest_get_a_prefix_each_its_own(scored: Path) -> None:
    bouts = pd.read_csv(scored / "cohort_bouts.csv", dtype=str)
    assert list(bouts["manifest_session"]) == ["visit c", "visit b", "visit a"]
    assert set(bouts["hold"]) == {"free"}
    texts = {name: set(bouts[name]) for name in bouts if name.endswith("manifest_hold")}
    assert sorted(map(sorted, texts.values())) == [["free text"], ["second"]]
    assert bouts.columns.is_unique


def test_sessions_lead_from_the_tables_back_to_the_manifest(scored: Path) -> None:
    sessions = pd.read_csv(scored / "cohort_sessions.csv", dtype=str)
    assert sessions["folder"].tolist() == ["c", "b", "a"]
    assert sessions["site"].tolist() == ["site c", "site b", "site a"]
    assert sessions["results"].tolist() == ["sessions/c", "sessions/b", "sessions/a"]
    assert sessions["date"].tolist() == ["2026-03-14"] * N_GOOD
    assert sessions["body_mass_kg"].tolist() == ["68.0"] * N_GOOD
    assert all((scored / name / "report.html").is_file() for name in sessions["results"])


def test_shoulder_tests_and_ladders_are_joined_with_the_manifests_columns(scored: Path) -> None:
    retest = pd.read_csv(scored / "cohort_retest.csv", dtype=str, keep_default_na=False)
    alone = pd.read_csv(scored / "sessions" / "c" / "retest.csv", dtype=str, keep_default_na=False)
    assert len(retest) > 0
    pd.testing.assert_frame_equal(retest[alone.columns], alone)
    assert set(retest["site"]) == {"site c"}
    ladder = pd.read_csv(scored / "cohort_ladder.csv", dtype=str, keep_default_na=False)
    parts = [pd.read_csv(scored / "sessions" / name / "ladder.csv", dtype=str) for name in "cba"]
    assert len(ladder) == sum(map(len, parts))
    assert list(ladder)[-1] == "site"


def test_one_worker_gives_the_same_bytes(study: Path, scored: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    done = imucarry("cohort", study / "study.csv", "--out", out, "--workers", "1")
    assert done.returncode == 0, done.stderr
    assert tables(out) == tables(scored)


def test_a_mended_session_alone_is_scored_again(short: Path, tmp_path: Path) -> None:
    for name in "ab":
        add_session(short, tmp_path / name, f"Q{name}")
    chest = (tmp_path / "b" / "chest.csv").read_bytes()
    (tmp_path / "b" / "chest.csv").unlink()
    manifest, out = write_manifest(tmp_path, [["folder"], ["a"], ["b"]]), tmp_path / "out"
    done = imucarry("cohort", manifest, "--out", out, "--workers", "2")
    assert done.returncode == 1
    assert "1 session scored, 1 failed" in done.stdout
    before = stamps(out / "sessions" / "a")
    assert before

    (tmp_path / "b" / "chest.csv").write_bytes(chest)
    done = imucarry("cohort", manifest, "--out", out, "--workers", "2", "-q")
    assert done.returncode == 0
    assert "2 sessions scored, 0 failed" in done.stdout
    assert "study.csv, column folder: Qa, visit 1 and Qb, visit 1 hold the same" in done.stdout
    assert stamps(out / "sessions" / "a") == before
    bouts = pd.read_csv(out / "cohort_bouts.csv", dtype=str)
    assert list(bouts["participant"]) == ["Qa", "Qb"]


def test_a_session_that_left_the_manifest_leaves_the_results(
    study: Path, scored: Path, tmp_path: Path
) -> None:
    home, out = tmp_path / "home", tmp_path / "out"
    shutil.copytree(study, home)
    shutil.copytree(scored, out)
    kept = (home / "study.csv").read_text(encoding="utf-8").splitlines()[:3]
    (home / "study.csv").write_text("\n".join(kept) + "\n", encoding="utf-8")
    done = imucarry("cohort", home / "study.csv", "--out", out)
    assert done.returncode == 0, done.stderr
    assert "1 session of an earlier run left the manifest: its results are removed" in done.stdout
    assert sorted(path.name for path in (out / "sessions").iterdir()) == ["a", "b"]
    assert set(pd.read_csv(out / "cohort_bouts.csv")["participant"]) == {"Q2"}


def test_a_study_and_a_session_do_not_replace_each_others_results(
    study: Path, scored: Path, tmp_path: Path
) -> None:
    before = stamps(scored)
    done = imucarry("score", study / "a", "--out", scored)
    assert done.returncode == 65
    assert "results of 'imucarry cohort'" in done.stderr
    assert stamps(scored) == before
    one = tmp_path / "one"
    shutil.copytree(scored / "sessions" / "a", one)
    done = imucarry("cohort", study / "study.csv", "--out", one)
    assert done.returncode == 65
    assert "results of 'imucarry score'" in done.stderr


def test_when_every_session_fails_the_tables_are_empty_and_valid(
    short: Path, tmp_path: Path
) -> None:
    home, out = tmp_path / "home", tmp_path / "out"
    add_session(short, home / "no_bouts", "Q1")
    (home / "no_bouts" / "bouts.csv").unlink()
    (home / "empty").mkdir()
    names = ["empty", "no_bouts", "nowhere"]
    manifest = write_manifest(home, [["folder", "group"], *([name, "1"] for name in names)])
    done = imucarry("cohort", manifest, "--out", out, "--workers", "2")
    assert done.returncode == 1, done.stderr
    assert "\n  nowhere: is not there" in done.stdout
    failures = pd.read_csv(out / "failures.csv", dtype=str).set_index("folder")
    assert list(failures.index) == names
    assert "bouts.csv" in failures.loc["no_bouts", "message"]
    assert "session.toml" in failures.loc["empty", "message"]
    assert "not there" in failures.loc["nowhere", "message"]
    assert str(tmp_path) not in (out / "failures.csv").read_text(encoding="utf-8")
    for name in TABLES[:-2]:
        table = pd.read_csv(out / name)
        assert table.empty
        assert "group" in table, name
    page = (out / "cohort.html").read_text(encoding="utf-8")
    assert 'id="failures"' in page
    assert 'id="outliers"' not in page
    assert 'id="reliability"' not in page
    assert is_valid_package(out)


@pytest.mark.parametrize("content", [b"", b"folder\n", b"group\n1\n", b"\x00\x01"])
def test_an_unreadable_manifest_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "study.csv").write_bytes(content)
    done = imucarry("cohort", tmp_path / "study.csv", "--out", tmp_path / "out")
    assert done.returncode == 65, done.stderr
    assert "study.csv" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.skipif(os.name == "nt", reason="links need rights on Windows")
@pytest.mark.parametrize("how", ["dots", "absolute", "link"])
def test_a_folder_outside_the_manifests_is_refused(short: Path, tmp_path: Path, how: str) -> None:
    home = tmp_path / "home"
    home.mkdir()
    add_session(short, tmp_path / "outside", "Q1")
    (home / "link").symlink_to(tmp_path / "outside")
    folder = {"dots": "../outside", "absolute": str(tmp_path / "outside"), "link": "link"}[how]
    done = imucarry("cohort", write_manifest(home, [["folder"], [folder]]), "--out", home / "out")
    assert done.returncode == 65, done.stderr
    assert "inside" in done.stderr
    assert not (home / "out").exists()


def test_a_dask_worker_of_its_own_process_gives_the_same_bytes(
    study: Path, scored: Path, tmp_path: Path
) -> None:
    distributed = pytest.importorskip("distributed")
    from imucarry.cohort import CohortOptions, score_cohort

    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=True, dashboard_address=":0"
    ) as cluster:
        options = CohortOptions(dask=cluster.scheduler_address)
        summary = score_cohort(study / "study.csv", tmp_path / "out", options=options)
    assert (summary.n_scored, summary.n_failed) == (N_GOOD, 0)
    assert tables(tmp_path / "out") == tables(scored)
