"""``imucarry score --earlier`` as a user runs it."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

from command_line import imucarry


def test_a_later_visit_given_as_earlier_is_told_everywhere(
    visit: Path, results: Path, tmp_path: Path
) -> None:
    now = tmp_path / "now"
    shutil.copytree(visit, now)
    toml = (now / "session.toml").read_text()
    toml, n_dates = re.subn(r"(?m)^date = .*$", "date = 2001-01-01", toml)
    assert n_dates == 1
    (now / "session.toml").write_text(toml)
    out = tmp_path / "out"
    done = imucarry("score", now, "--out", out, "--earlier", results)
    assert done.returncode == 0, done.stderr
    words = " ".join(done.stdout.split())
    assert "check: given as earlier, but later than this visit (2001-01-01)" in words
    assert "changes run from the first to the last" in words
    assert max(map(len, done.stdout.splitlines())) <= 79
    codes = {notice["code"] for notice in json.loads((out / "run.json").read_text())["notices"]}
    assert "earlier_visit_is_later" in codes
    assert "changes run from the first to the last" in (out / "report.html").read_text()


def test_the_same_visit_and_a_folder_named_twice_are_told(
    visit: Path, results: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    done = imucarry("score", visit, "--out", out, "--earlier", results)
    assert done.returncode == 0, done.stderr
    words = " ".join(done.stdout.split())
    assert words.count("holds results of this same visit; it is left out") == 1
    assert "Compared with" not in words
    now = tmp_path / "now"
    shutil.copytree(visit, now)
    toml = (now / "session.toml").read_text()
    (now / "session.toml").write_text(re.sub(r"(?m)^date = .*$", "date = 2031-01-01", toml))
    twice = ("--earlier", results, "--earlier", results)
    done = imucarry("score", now, "--out", out, *twice)
    assert done.returncode == 0, done.stderr
    assert " ".join(done.stdout.split()).count("hold the same recording") == 1
    notices = json.loads((out / "run.json").read_text())["notices"]
    codes = [notice["code"] for notice in notices]
    assert codes.count("earlier_given_twice") == codes.count("same_recording") == 1
