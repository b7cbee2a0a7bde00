"""A cohort that is killed, interrupted, spread, or has nowhere to write: nothing is lost."""

from __future__ import annotations

import errno
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from command_line import imucarry
from short_study import ShortSessions, every_file, write_study

import imucarry.cohort.study as imucarry_study
from imucarry.basics.errors import OutputError
from imucarry.cohort import CohortOptions, score_cohort
from imucarry.cohort.task import Outcome, Task, do_task
from imucarry.outputs.staging import ASIDE
from imucarry.report.wording.words_cohort import UNFINISHED

N_SESSIONS = 8
COMMAND = (sys.executable, "-m", "imucarry")
BROKEN = ("no_chest", "unknown_hold")
posix = pytest.mark.skipif(os.name == "nt", reason="there are no such signals on Windows")


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_study(tmp_path_factory.mktemp("study"), N_SESSIONS, broken=BROKEN)


@pytest.fixture(scope="module")
def undisturbed(study: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Every file of an undisturbed run, with its sha256."""
    out = tmp_path_factory.mktemp("undisturbed") / "out"
    done = imucarry("cohort", study, "--out", out)
    assert done.returncode == 1, done.stderr
    return every_file(out)


def start(study: Path, out: Path, *options: str) -> subprocess.Popen[str]:
    """Start a run in a process group of its own."""
    command = [*COMMAND, "cohort", str(study), "--out", str(out), *options]
    return subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    )


def n_finished(out: Path) -> int:
    return len(list((out / ".finished").glob("*.json")))


def wait_for(process: subprocess.Popen[str], out: Path, n_sessions: int) -> None:
    """Wait until that many sessions are finished."""
    while n_finished(out) < n_sessions:
        assert process.poll() is None, process.communicate()
        time.sleep(0.002)


def workers_of(pid: int) -> list[int]:
    psutil = pytest.importorskip("psutil")
    return [child.pid for child in psutil.Process(pid).children(recursive=True)]


def gone(pids: list[int]) -> bool:
    """Return whether processes end within some seconds."""
    psutil = pytest.importorskip("psutil")
    end = time.monotonic() + 10.0
    while time.monotonic() < end:
        if not any(psutil.pid_exists(pid) for pid in pids):
            return True
        time.sleep(0.05)
    return False


@posix
@pytest.mark.parametrize("n_sessions", [0, 3])
def test_a_killed_run_goes_on_and_ends_with_the_same_bytes(
    study: Path, undisturbed: dict[str, str], tmp_path: Path, n_sessions: int
) -> None:
    out = tmp_path / "out"
    process = start(study, out, "--workers", "2")
    wait_for(process, out, n_sessions)
    workers = workers_of(process.pid)
    process.kill()  # the parent alone: its workers must not go on without it
    process.communicate()
    assert gone(workers)
    assert n_finished(out) < N_SESSIONS
    done = imucarry("cohort", study, "--out", out)
    assert done.returncode == 1, done.stderr
    assert every_file(out) == undisturbed
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@posix
@pytest.mark.parametrize("kind", [signal.SIGINT, signal.SIGTERM])
def test_an_interrupted_run_exits_with_130_and_is_resumable(
    study: Path, undisturbed: dict[str, str], tmp_path: Path, kind: signal.Signals
) -> None:
    out = tmp_path / "out"
    process = start(study, out, "--workers", "2")
    wait_for(process, out, 2)
    workers = workers_of(process.pid)
    if kind == signal.SIGINT:
        os.killpg(process.pid, kind)  # a terminal sends it to every process
    else:
        process.send_signal(kind)
    _, said = process.communicate(timeout=20)
    assert process.returncode == 130, said
    assert "the same command goes on" in said
    assert "Traceback" not in said
    assert gone(workers)
    assert imucarry("cohort", study, "--out", out).returncode == 1
    assert every_file(out) == undisturbed


@posix
def test_a_worker_killed_from_outside_loses_no_session(
    study: Path, undisturbed: dict[str, str], tmp_path: Path
) -> None:
    out = tmp_path / "out"
    process = start(study, out, "--workers", "2")
    wait_for(process, out, 2)
    for pid in workers_of(process.pid):
        if "spawn_main" in _command(pid):
            os.kill(pid, signal.SIGKILL)
            break
    else:
        pytest.fail("no worker was found")
    _, said = process.communicate(timeout=60)
    assert process.returncode == 1, said
    assert every_file(out) == undisturbed


@pytest.mark.parametrize("place", ["sessions", ".finished"])
def test_what_a_killed_worker_had_half_written_is_swept_up(
    study: Path, undisturbed: dict[str, str], tmp_path: Path, place: str
) -> None:
    out = tmp_path / "out"

    def leave_something(stage: str, done: int, total: int, failed: int) -> None:
        if done == 1:
            (out / place).mkdir(exist_ok=True)
            (out / place / f".P00_visit_1{ASIDE}0badcafe").write_bytes(b"half")

    score_cohort(study, out, options=CohortOptions(workers=1), progress=leave_something)
    assert every_file(out) == undisturbed
    stages = set()
    score_cohort(study, out, progress=lambda stage, done, *_: stages.add((stage, done > 0)))
    assert stages == {("sessions", False), ("kept", True)}


def _command(pid: int) -> str:
    psutil = pytest.importorskip("psutil")
    return " ".join(psutil.Process(pid).cmdline())


def test_fresh_scores_everything_again(
    study: Path, undisturbed: dict[str, str], tmp_path: Path
) -> None:
    out = tmp_path / "out"
    assert imucarry("cohort", study, "--out", out).returncode == 1
    pages = sorted((out / "sessions").glob("*/report.html"))
    before = [page.stat().st_mtime_ns for page in pages]
    assert imucarry("cohort", study, "--out", out, "--fresh").returncode == 1
    after = [page.stat().st_mtime_ns for page in pages]
    assert all(late > early for early, late in zip(before, after, strict=True))
    assert every_file(out) == undisturbed


def test_only_what_changed_is_scored_again(study: Path, tmp_path: Path) -> None:
    home, out = tmp_path / "home", tmp_path / "out"
    shutil.copytree(study.parent, home)
    assert imucarry("cohort", home / "study.csv", "--out", out).returncode == 1
    pages = {page.parent.name: page for page in (out / "sessions").glob("*/report.html")}
    before = {name: page.stat().st_mtime_ns for name, page in pages.items()}
    sheet = home / "P02" / "visit_1" / "bouts.csv"
    sheet.write_text(sheet.read_text().replace("suitcase,right,8", "suitcase,right,9"))
    damaged = next(page for name, page in pages.items() if name.startswith("P04"))
    damaged.write_bytes(b"")  # as a power cut can leave it
    assert imucarry("cohort", home / "study.csv", "--out", out).returncode == 1
    again = {name for name, page in pages.items() if page.stat().st_mtime_ns > before[name]}
    assert {name[:3] for name in again} == {"P02", "P04"}
    assert damaged.stat().st_size > 0


def test_a_session_that_leaves_the_manifest_leaves_the_results(study: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert imucarry("cohort", study, "--out", out).returncode == 1
    mine = out / "sessions" / "mine"
    mine.mkdir()
    (mine / "notes.txt").write_text("not of imucarry")
    fewer = study.with_name("fewer.csv")
    fewer.write_text("folder\nP00/visit_1\nP01/visit_1\n")
    said: list[str] = []

    def stop(stage: str, done: int, total: int, failed: int) -> None:
        assert [line.partition(" (")[0] for line in said] == [
            f"{N_SESSIONS - len(BROKEN) - 2} sessions of an earlier run are not in this manifest"
        ]
        assert "(P02, 1; P03, 1; P04, 1; P05, 1); at the end of this run" in said[0]
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        score_cohort(fewer, out, progress=stop, tell=said.append)
    assert len(list((out / "sessions").glob("P*/report.html"))) == N_SESSIONS - len(BROKEN)
    assert imucarry("cohort", fewer, "--out", out).returncode == 0
    names = sorted(path.name[:3] for path in (out / "sessions").iterdir())
    assert names == ["P00", "P01", "min"]
    assert (mine / "notes.txt").read_text() == "not of imucarry"
    assert n_finished(out) == 2


# --- dask --------------------------------------------------------------------


@pytest.fixture
def cluster() -> Iterator[str]:
    """The address of a cluster of two processes."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None
    ) as running:
        yield running.scheduler_address


@posix
def test_a_dask_cluster_gives_the_same_bytes_though_a_worker_is_killed(
    study: Path, undisturbed: dict[str, str], tmp_path: Path, cluster: str
) -> None:
    out = tmp_path / "out"
    process = start(study, out, "--dask", cluster)
    wait_for(process, out, 1)
    os.kill(worker_pids(cluster)[0], signal.SIGKILL)
    _, said = process.communicate(timeout=60)
    assert process.returncode == 1, said
    assert every_file(out) == undisturbed


def worker_pids(cluster: str) -> list[int]:
    from distributed import Client

    with Client(cluster, set_as_default=False) as client:
        return list(client.run(os.getpid).values())


# --- nowhere to write --------------------------------------------------------


def one_line(done: subprocess.CompletedProcess[str], word: str) -> None:
    """Assert that a run was refused with one clear line."""
    assert done.returncode == 65, done.stderr
    assert word in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1, done.stderr


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 2 MB: too small for the study, large enough to begin."""
    disk = tmp_path / "disk"
    disk.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(disk)]
    if shutil.which("mount") is None or subprocess.run(command, capture_output=True).returncode:
        pytest.skip("only an administrator of a Linux system can make a tiny disk")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_full_disk_is_one_clear_line_and_the_run_goes_on_later(
    study: Path, undisturbed: dict[str, str], tiny_disk: Path
) -> None:
    out = tiny_disk / "out"
    done = imucarry("cohort", study, "--out", out, "-q")
    one_line(done, f"{out}: the disk is full; sessions that are finished are kept; free some space")
    assert "nothing was changed" not in done.stderr
    assert not (out / "cohort.html").exists()
    subprocess.run(["mount", "-o", "remount,size=100m", str(tiny_disk)], check=True)
    assert imucarry("cohort", study, "--out", out).returncode == 1
    assert every_file(out) == undisturbed


def test_an_earlier_page_says_that_a_later_run_is_not_finished(study: Path, tmp_path: Path) -> None:
    few, out = study.with_name("one.csv"), tmp_path / "out"
    few.write_text("folder\nP00/visit_1\n")
    seen: list[tuple[bool, bool]] = []

    def look_then_stop(stage: str, done: int, total: int, failed: int) -> None:
        seen.append(marked(out))
        if len(seen) in (5, 6):
            raise KeyboardInterrupt

    score_cohort(few, out, progress=look_then_stop)
    assert seen == [(False, True)] * 2  # no page yet
    undisturbed = every_file(out)
    score_cohort(few, out, progress=look_then_stop)
    assert (seen[2:], marked(out)) == ([(True, True)] * 2, (False, False))
    assert every_file(out) == undisturbed
    for _ in range(2):
        with pytest.raises(KeyboardInterrupt):
            score_cohort(few, out, progress=look_then_stop)
        assert marked(out) == (True, True)
    assert (out / "cohort.html").read_text().count(UNFINISHED) == 1
    score_cohort(few, out)
    assert every_file(out) == undisturbed


def marked(out: Path) -> tuple[bool, bool]:
    """Return whether a study's page and its ``run.json`` tell of a run without an end."""
    page = out / "cohort.html"
    run = json.loads((out / "run.json").read_text())
    return page.exists() and UNFINISHED in page.read_text(), run.get("unfinished", False)


@posix
def test_a_disk_that_fills_in_a_later_run_claims_no_more_than_is_true(
    study: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    few, out = study.with_name("one.csv"), tmp_path / "out"
    few.write_text("folder\nP00/visit_1\n")
    score_cohort(few, out)
    monkeypatch.setattr(imucarry_study, "run_locally", run_on_full_disk)
    with pytest.raises(OutputError) as refused:
        score_cohort(few, out)
    said = str(refused.value)
    assert said.startswith(
        f"{out}: the disk is full; cohort.html and the tables are still those of"
    )
    assert "finished are kept" in said
    assert "nothing was changed" not in said


def run_on_full_disk(tasks: Sequence[Task], workers: int) -> Iterator[Outcome]:
    """Score here, with a disk on which no result can be written."""

    def full(path: Path, **_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    for task in tasks:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(Path, "mkdir", full)
            shutil.rmtree(task.out)
            yield do_task(task)


def test_a_read_only_disk_is_one_clear_line(study: Path, tiny_disk: Path) -> None:
    subprocess.run(["mount", "-o", "remount,ro", str(tiny_disk)], check=True)
    one_line(imucarry("cohort", study, "--out", tiny_disk / "out"), "read-only")


def test_a_second_run_into_the_same_folder_is_refused(
    study: Path, undisturbed: dict[str, str], tmp_path: Path
) -> None:
    out = tmp_path / "out"
    first = start(study, out, "--workers", "1")
    wait_for(first, out, 1)
    one_line(imucarry("cohort", study, "--out", out), "another run")
    _, said = first.communicate(timeout=60)
    assert first.returncode == 1, said
    assert every_file(out) == undisturbed


@pytest.mark.parametrize(
    ("manifest", "said"),
    [
        ("group\n1\n", "folder"),
        ("folder\n../elsewhere\n", "outside the manifest's folder"),
        ("folder\n/etc\n", "outside the manifest's folder"),
        ("folder\nlink\n", "outside the manifest's folder"),
        ("folder\n", "lists no session"),
        ("folder\ns0\ns0\n", "line 2"),
        ("folder\ns0\ntwin\n", "both participant"),
    ],
)
def test_a_wrong_manifest_is_refused_and_nothing_written(
    tmp_path: Path, manifest: str, said: str
) -> None:
    home = tmp_path / "home"
    for name in ("s0", "twin"):
        ShortSessions().write(home / name, "P00", "1")
    (home / "link").symlink_to(tmp_path, target_is_directory=True)
    (home / "study.csv").write_text(manifest)
    one_line(imucarry("cohort", home / "study.csv", "--out", tmp_path / "out"), said)
    assert not (tmp_path / "out").exists()


def test_an_unreadable_manifest_is_refused(tmp_path: Path) -> None:
    manifest = tmp_path / "study.csv"
    manifest.write_bytes(b"\x00\xff\x00\x01" * 50)
    one_line(imucarry("cohort", manifest, "--out", tmp_path / "out"), "study.csv")


def test_a_folder_of_others_is_refused_unless_forced(study: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    (out / "sessions" / "old").mkdir(parents=True)
    (out / "sessions" / "old" / "mine.txt").write_text("mine")
    few = study.with_name("one.csv")
    few.write_text("folder\nP00/visit_1\n")
    one_line(imucarry("cohort", few, "--out", out), "not made by imucarry")
    assert imucarry("cohort", few, "--out", out, "--force", "--fresh").returncode == 0
    assert (out / "sessions" / "old" / "mine.txt").read_text() == "mine"
    one_line(imucarry("cohort", few, "--out", study.parent / "P00" / "visit_1"), "input")


def test_nothing_but_failures_is_still_a_page(tmp_path: Path) -> None:
    manifest = write_study(tmp_path / "home", 1, broken=("no_folder",))
    done = imucarry("cohort", manifest, "--out", tmp_path / "out", "--parquet")
    assert done.returncode == 1, done.stderr
    assert "not there" in (tmp_path / "out" / "cohort.html").read_text(encoding="utf-8")
    header = (tmp_path / "out" / "cohort_bouts.csv").read_text(encoding="utf-8")
    assert header.startswith("participant,session,bout,hold")


def test_an_absent_extra_is_said_before_anything_is_scored(study: Path, tmp_path: Path) -> None:
    hidden = tmp_path / "hidden"
    for name in ("distributed", "pyarrow"):
        (hidden / name).mkdir(parents=True)
        (hidden / name / "__init__.py").write_text("raise ImportError('not installed')\n")
    for options, extra in ((["--dask", "tcp://127.0.0.1:1"], "dask"), (["--parquet"], "parquet")):
        done = subprocess.run(
            [
                sys.executable,
                "-m",
                "imucarry",
                "cohort",
                study,
                "--out",
                tmp_path / "out",
                *options,
            ],
            env={**os.environ, "PYTHONPATH": str(hidden)},
            capture_output=True,
            text=True,
            check=False,
        )
        one_line(done, f"imucarry[{extra}]")
    assert not (tmp_path / "out").exists()
