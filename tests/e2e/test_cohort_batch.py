"""A cohort as a researcher runs it: failures beside results, stopped and resumed."""

from __future__ import annotations

import csv
import hashlib
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pandas as pd
import pytest
from command_line import imucarry

EXAMPLE = Path(__file__).parents[2] / "data" / "example"
N_GOOD = 4
TABLES = ("cohort_strides.csv", "cohort_scores.csv", "cohort_bouts.csv", "reliability.csv")


def broken(folder: Path, how: str) -> None:
    """Spoil one session in one way."""
    chest, bouts = folder / "chest.csv", folder / "bouts.csv"
    if how == "no_chest":
        chest.unlink()
    elif how == "garbage":
        chest.write_text("nothing\nto see\n")
    elif how == "hold":
        bouts.write_text(bouts.read_text().replace(",free,", ",fre,", 1))
    elif how == "no_gyroscope":
        pd.read_csv(chest).iloc[:, :4].to_csv(chest, index=False)
    elif how == "outside":
        lines = bouts.read_text().splitlines()
        cells = lines[-1].split(",")
        lines[-1] = ",".join([cells[0], "90000", "90060", *cells[3:]])
        bouts.write_text("\n".join(lines) + "\n")
    else:
        shutil.rmtree(folder)


BROKEN = ("no_chest", "garbage", "hold", "no_gyroscope", "outside", "no_folder")


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A manifest of good and broken sessions, with columns of its own."""
    home = tmp_path_factory.mktemp("study")
    rows = [["folder", "group", "hold"]]
    for k, how in enumerate(("",) * N_GOOD + BROKEN):
        folder = home / f"s{k}"
        shutil.copytree(EXAMPLE, folder)
        toml = folder / "session.toml"
        toml.write_text(
            toml.read_text().replace('participant = "P01"', f'participant = "Q{9 - k}"')
        )
        if how:
            broken(folder, how)
        rows.append([folder.name, f"=group {k % 2}", "left to the manifest"])
    with (home / "study.csv").open("w", newline="") as stream:
        csv.writer(stream).writerows(rows)
    return home


@pytest.fixture(scope="module")
def scored(study: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The study's results, undisturbed."""
    out = tmp_path_factory.mktemp("scored") / "out"
    done = imucarry("cohort", study / "study.csv", "--out", out, "--workers", "2")
    assert done.returncode == 1, done.stderr
    return out


def digests(out: Path) -> dict[str, str]:
    names = (*TABLES, "failures.csv", "cohort.html", "datapackage.json", "run.json")
    return {name: hashlib.sha256((out / name).read_bytes()).hexdigest() for name in names}


def test_failures_have_their_reasons(scored: Path) -> None:
    failures = pd.read_csv(scored / "failures.csv").set_index("folder")
    assert list(failures.index) == [f"s{N_GOOD + k}" for k in range(len(BROKEN))]
    said = ("chest.csv", "chest.csv", "fre", "gyr", "bout", "not there")
    for folder, words in zip(failures.index, said, strict=True):
        assert words in failures.loc[folder, "message"], failures.loc[folder, "message"]
    page = (scored / "cohort.html").read_text(encoding="utf-8")
    assert page.index("not there") < page.index("What was found, by hold and load")


def test_rows_are_sorted_and_carry_the_manifest(scored: Path) -> None:
    bouts = pd.read_csv(scored / "cohort_bouts.csv", dtype=str)
    assert sorted(set(bouts["participant"])) == [f"Q{9 - k}" for k in reversed(range(N_GOOD))]
    keys = bouts[["participant", "session", "bout"]].apply(tuple, axis=1).tolist()
    assert keys == sorted(keys)
    assert set(bouts["manifest_hold"]) == {"left to the manifest"}
    assert set(bouts["hold"]) == {"free", "suitcase"}
    assert set(bouts["group"]) == {"'=group 0", "'=group 1"}


def test_every_session_has_its_folder_and_page(scored: Path) -> None:
    folders = sorted((scored / "sessions").iterdir())
    assert len(folders) == N_GOOD
    assert all((folder / "report.html").is_file() for folder in folders)


def test_the_data_package_is_valid(scored: Path) -> None:
    from frictionless import Package

    report = Package(str(scored / "datapackage.json")).validate()
    assert report.valid, report.flatten(["rowNumber", "fieldName", "type", "message"])


def test_a_second_run_repeats_nothing(study: Path, scored: Path) -> None:
    pages = sorted((scored / "sessions").glob("*/report.html"))
    before = [page.stat().st_mtime_ns for page in pages], digests(scored)
    assert imucarry("cohort", study / "study.csv", "--out", scored).returncode == 1
    assert ([page.stat().st_mtime_ns for page in pages], digests(scored)) == before


@pytest.mark.skipif(os.name == "nt", reason="there is no SIGKILL on Windows")
@pytest.mark.parametrize("finished", [0, 2])
def test_a_killed_run_goes_on_and_ends_with_the_same_bytes(
    study: Path, scored: Path, tmp_path: Path, finished: int
) -> None:
    out = tmp_path / "out"
    arguments = ["cohort", str(study / "study.csv"), "--out", str(out), "--workers", "2"]
    process = subprocess.Popen(
        [sys.executable, "-m", "imucarry", *arguments],
        stderr=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        start_new_session=True,
    )
    while process.poll() is None and len(list((out / ".finished").glob("*.json"))) < finished:
        time.sleep(0.005)
    os.killpg(process.pid, signal.SIGKILL)
    process.wait()
    assert imucarry(*arguments).returncode == 1
    assert digests(out) == digests(scored)


def test_dask_gives_the_same_bytes(study: Path, scored: Path, tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed")
    from imucarry.cohort import CohortOptions, score_cohort

    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
    ) as cluster:
        options = CohortOptions(dask=cluster.scheduler_address)
        summary = score_cohort(study / "study.csv", tmp_path / "out", None, options)
    assert (summary.n_scored, summary.n_failed) == (N_GOOD, len(BROKEN))
    assert digests(tmp_path / "out") == digests(scored)


@pytest.mark.parametrize(
    ("manifest", "said"),
    [
        ("group\n1\n", "folder"),
        ("folder\n../elsewhere\n", "inside"),
        ("folder\ns0\ntwin\n", "both participant"),
    ],
)
def test_a_wrong_manifest_is_refused_and_nothing_written(
    study: Path, tmp_path: Path, manifest: str, said: str
) -> None:
    home = tmp_path / "home"
    home.mkdir()
    for name in ("s0", "twin"):
        shutil.copytree(study / "s0", home / name)
    (home / "study.csv").write_text(manifest)
    done = imucarry("cohort", home / "study.csv", "--out", tmp_path / "out")
    assert done.returncode == 65
    assert said in done.stderr, done.stderr
    assert not (tmp_path / "out").exists()


def test_a_good_study_exits_with_0(study: Path, tmp_path: Path) -> None:
    (study / "good.csv").write_text("folder\ns0\n")
    done = imucarry("cohort", study / "good.csv", "--out", tmp_path / "out", "--parquet")
    assert done.returncode == 0, done.stderr
    table = pd.read_parquet(tmp_path / "out" / "cohort_bouts.parquet")
    assert len(table) == len(pd.read_csv(tmp_path / "out" / "cohort_bouts.csv"))
