"""Closed and full outputs: the work is done, and what could not be printed is told."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from short_study import ShortSessions

from imucarry.cli.app import BAD_DATA, DONE, WRONG_USAGE

pytestmark = pytest.mark.skipif(os.name == "nt", reason="a shell closes its streams so")
FULL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="the system has no /dev/full")


def in_shell(arguments: str, home: Path, unbuffered: str = "") -> subprocess.CompletedProcess[str]:
    command = f'"{sys.executable}" -m imucarry {arguments}'
    return subprocess.run(
        ["sh", "-c", command],
        cwd=home,
        env={**os.environ, "PYTHONUNBUFFERED": unbuffered},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="module")
def visit(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("home") / "visit"
    ShortSessions().write(folder, "P00", "1")
    (folder.parent / "study.csv").write_text("folder\nvisit\n", encoding="utf-8")
    return folder


@pytest.mark.parametrize("streams", ["2>&-", ">&-", ">&- 2>&- <&-"])
def test_a_session_is_scored_though_nobody_listens(
    visit: Path, tmp_path: Path, streams: str
) -> None:
    done = in_shell(f'score visit --out "{tmp_path}/out" {streams}', visit.parent)
    assert (done.returncode, done.stderr) == (DONE, done.stderr if "2>&-" not in streams else "")
    assert (tmp_path / "out" / "report.html").is_file()
    assert (tmp_path / "out" / "run.json").is_file()


def test_a_study_is_scored_though_nobody_listens(visit: Path, tmp_path: Path) -> None:
    done = in_shell(f'cohort study.csv --out "{tmp_path}/out" --workers 1 2>&-', visit.parent)
    assert done.returncode == DONE
    assert "1 session scored" in done.stdout
    assert (tmp_path / "out" / "cohort_strides.csv").is_file()


@pytest.mark.parametrize("streams", ["2>&-", ">&- 2>&-"])
def test_wrong_usage_stays_wrong_usage(visit: Path, streams: str) -> None:
    assert in_shell(f"score nowhere --out out {streams}", visit.parent).returncode == WRONG_USAGE


@FULL
def test_messages_on_a_full_disk_cost_no_results(visit: Path, tmp_path: Path) -> None:
    done = in_shell(f'score visit --out "{tmp_path}/out" 2>/dev/full', visit.parent)
    assert done.returncode == DONE
    assert "free walk" in done.stdout
    assert (tmp_path / "out" / "run.json").is_file()
    assert in_shell("score nowhere --out out 2>/dev/full", visit.parent).returncode == WRONG_USAGE


@FULL
@pytest.mark.parametrize("unbuffered", ["", "1"])
@pytest.mark.parametrize("command", ["sources", "--help", "schema score"])
def test_a_result_that_cannot_be_printed_is_told_in_one_line(
    visit: Path, command: str, unbuffered: str
) -> None:
    done = in_shell(f"{command} >/dev/full", visit.parent, unbuffered)
    assert done.returncode == BAD_DATA
    (line,) = done.stderr.splitlines()
    assert line == "imucarry: the result cannot be printed: No space left on device"


@FULL
def test_what_was_written_stays_where_its_summary_cannot_be_printed(
    visit: Path, tmp_path: Path
) -> None:
    done = in_shell(f'score visit --out "{tmp_path}/out" -q >/dev/full', visit.parent)
    assert done.returncode == BAD_DATA
    assert "the result cannot be printed" in done.stderr
    assert (tmp_path / "out" / "report.html").is_file()
