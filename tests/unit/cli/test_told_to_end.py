"""A command that is told to end leaves neither its hidden folder nor its lock."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from imucarry.cli.app import INTERRUPTED

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows sends no such signals")
# The demo, which says when it writes aside and then waits there; or goes on when ignoring.
WAITING = """
import signal, sys, time
import imucarry.simulate.demo as demo

def slow(folder):
    (folder / "chest.csv").write_text("half")
    print("ready", flush=True)
    time.sleep(float(sys.argv[2]))

demo.write_demo = slow
# Whatever started the tests may have been told to ignore these itself.
signal.signal(signal.SIGINT, signal.default_int_handler)
signal.signal(signal.SIGHUP, signal.SIG_IGN if sys.argv[3] == "ignored" else signal.SIG_DFL)
from imucarry.cli import run
run(["demo", sys.argv[1], "-q"])
"""


def told_to_end(
    folder: Path,
    kind: signal.Signals,
    *,
    wait_s: float,
    how: str = "heeded",
    stderr: int = subprocess.PIPE,
) -> tuple[int, str]:
    """Send a signal while the demo is written aside; return the exit code and what was said."""
    command = [sys.executable, "-c", WAITING, str(folder), str(wait_s), how]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=stderr, text=True, bufsize=1)
    assert process.stdout is not None
    assert process.stdout.readline().strip() == "ready"
    assert len(list(folder.parent.iterdir())) == 2  # the hidden folder and the lock
    process.send_signal(kind)
    _, said = process.communicate(timeout=60)
    return process.returncode, said


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP", "SIGINT"])
def test_nothing_is_left_behind(tmp_path: Path, name: str) -> None:
    code, said = told_to_end(tmp_path / "visit", getattr(signal, name), wait_s=50.0)
    assert code == INTERRUPTED
    assert said.strip() == "imucarry: interrupted; nothing half-written is left behind"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the system has no /dev/full")
def test_nor_is_it_where_the_terminal_is_gone(tmp_path: Path) -> None:
    with Path("/dev/full").open("w") as gone:
        code, _ = told_to_end(tmp_path / "visit", signal.SIGHUP, wait_s=50.0, stderr=gone.fileno())
    assert code == INTERRUPTED
    assert list(tmp_path.iterdir()) == []


def test_a_run_under_nohup_goes_on(tmp_path: Path) -> None:
    code, said = told_to_end(tmp_path / "visit", signal.SIGHUP, wait_s=0.5, how="ignored")
    assert (code, said) == (0, "")
    assert [path.name for path in tmp_path.iterdir()] == ["visit"]
