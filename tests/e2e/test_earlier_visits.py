"""``imucarry score --earlier`` as a user runs it."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pandas as pd
import pytest
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
    assert "check: Given as earlier, but later than this visit (2001-01-01)" in words
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


def test_visits_are_a_table_too(visit: Path, results: Path, tmp_path: Path) -> None:
    from frictionless import Package

    assert not (results / "visits.csv").exists()
    now, out = tmp_path / "now", tmp_path / "out"
    shutil.copytree(visit, now)
    toml = (now / "session.toml").read_text()
    (now / "session.toml").write_text(re.sub(r"(?m)^date = .*$", "date = 2031-01-01", toml))
    done = imucarry("score", now, "--out", out, "--earlier", results, "--json")
    assert done.returncode == 0, done.stderr
    assert Package(str(out / "datapackage.json")).validate().valid
    rows = pd.read_csv(out / "visits.csv")
    assert set(rows.visit) == {1, 2}
    assert set(rows.date[rows.visit == 2]) == {"2031-01-01"}
    assert json.loads(done.stdout)["visits"][0]["measure"] == rows.measure[0]
    # The rows of one condition differ by what they say has changed.
    pairs = rows.groupby(["measure", "side", "hold", "load_kg"], dropna=False)
    changed = pairs["value"].last() - pairs["value"].first()
    assert pairs["change"].last().to_numpy() == pytest.approx(changed.to_numpy(), abs=0.02)
    kept = pd.read_csv(out / "bout_summary.csv").query("hold == 'rack'").set_index("load_kg")
    carry = rows.query("measure == 'yaw_kept' and hold == 'rack' and visit == 2")
    assert carry.set_index("load_kg")["value"].to_dict() == kept["yaw_kept_pct"].to_dict()
    # Without an earlier visit the table goes.
    assert imucarry("score", now, "--out", out).returncode == 0
    assert not (out / "visits.csv").exists()
