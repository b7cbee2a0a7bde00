"""A run killed at any step of moving its files in leaves a folder that the next run repairs."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from imucarry.outputs import claim, remove_owned, staged, sweep_inside

N_MOVES = 8  # two old files out, run.json kept aside, three new ones in, and a few to spare
RUN = """
import os, signal, sys
from pathlib import Path
sys.path.insert(0, sys.argv[4])
from test_outputs import write_run

left = int(sys.argv[2])
replace = Path.replace

def counted(self, target):
    global left
    if left == 0:
        os.kill(os.getpid(), signal.SIGKILL)
    left -= 1
    return replace(self, target)

Path.replace = counted
write_run(Path(sys.argv[1]), {"a.csv": sys.argv[3], "sub/b.csv": sys.argv[3]})
"""
pytestmark = pytest.mark.skipif(os.name == "nt", reason="there is no SIGKILL on Windows")


def run(out: Path, text: str, killed_after: int = 1000) -> int:
    here = str(Path(__file__).parent)
    command = [sys.executable, "-c", RUN, str(out), str(killed_after), text, here]
    return subprocess.run(command, check=False).returncode


def names(folder: Path) -> list[str]:
    return sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file())


@pytest.mark.parametrize("moves", range(N_MOVES))
def test_the_next_run_is_not_refused_and_ends_whole(tmp_path: Path, moves: int) -> None:
    out = tmp_path / "out"
    assert run(out, "old") == 0
    ended = run(out, "new", moves)
    assert ended in (0, -signal.SIGKILL)
    assert ended == -signal.SIGKILL or moves >= 5, "the count of moves covers the whole run"
    assert claim(out, inputs=[]).owned
    assert run(out, "newest") == 0
    assert names(tmp_path) == ["out/a.csv", "out/run.json", "out/sub/b.csv"]
    assert (out / "a.csv").read_text() == (out / "sub" / "b.csv").read_text() == "newest"


def test_removing_ours_leaves_files_of_others(tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run(out, "ours") == 0
    (out / "notes.txt").write_text("mine")
    remove_owned(out)
    assert names(out) == ["notes.txt"]
    assert not (out / "sub").exists()
    (out / "notes.txt").unlink()
    assert run(out, "ours") == 0
    remove_owned(out)
    assert not out.exists()


def test_sweeping_takes_only_what_is_ours(tmp_path: Path) -> None:
    with staged(claim(tmp_path / "out", inputs=[])):
        aside = next(path for path in tmp_path.iterdir() if path.is_dir())
        lock = next(path for path in tmp_path.iterdir() if path.is_file())
        kept = {aside.name, lock.name}
    for name in (*kept, ".hidden", "out.imucarry-lock"):
        (tmp_path / name).write_text("")
    sweep_inside(tmp_path)
    assert names(tmp_path) == [".hidden", "out.imucarry-lock"]
