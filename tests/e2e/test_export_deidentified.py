"""An export holds nothing that a person wrote, wherever in the session they wrote it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pandas as pd
import pytest
from command_line import imucarry

EXAMPLE = Path(__file__).parents[2] / "data" / "example"
SECRET = "Xanthippe"
YEAR = "2031"


@pytest.fixture(scope="module")
def exported(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The export of a session that names a person in every field that takes text."""
    session = tmp_path_factory.mktemp(SECRET) / f"{SECRET}-visit"
    session.mkdir()
    toml = (EXAMPLE / "session.toml").read_text(encoding="utf-8")
    for placement in ("chest", "left_wrist", "right_wrist"):
        name = f"{placement}_{SECRET}.csv"
        (session / name).write_bytes((EXAMPLE / f"{placement}.csv").read_bytes())
        toml = toml.replace(f'file = "{placement}.csv"', f'file = "{name}"')
    toml = toml.replace('"P01"', f'"{SECRET}"').replace('"example"', f'"{SECRET} {YEAR}"')
    toml = toml.replace("date = 2026", f"date = {YEAR}")
    (session / "session.toml").write_text(toml, encoding="utf-8")
    bouts = pd.read_csv(EXAMPLE / "bouts.csv", dtype=str)
    bouts["bout"] = [f"{SECRET} {name}" for name in bouts["bout"]]
    bouts["baseline"] = [bouts["bout"][0] if hold != "free" else "" for hold in bouts["hold"]]
    for column in ("implement", "stop_reason", "note", "physician"):
        bouts[column] = f"{SECRET}'s, {YEAR}"
    bouts.to_csv(session / "bouts.csv", index=False)
    rom = pd.read_csv(EXAMPLE / "rom.csv", dtype=str)
    for column in ("method", "position", "population", "rater"):
        rom[column] = SECRET
    rom["test"] = [f"{SECRET} {test}" for test in rom["test"]]
    rom.to_csv(session / "rom.csv", index=False)
    out = session.parent / "dataset"
    done = imucarry("export", session, "--to", "motion-bids", "--out", out)
    assert done.returncode == 0, done.stderr
    return out


def test_no_name_and_no_date_is_in_any_file_or_name(exported: Path) -> None:
    files = [path for path in exported.rglob("*") if path.is_file()]
    assert len(files) > 10
    for path in files:
        assert SECRET not in str(path.relative_to(exported))
        text = path.read_text(encoding="utf-8")
        assert SECRET not in text, path
        if not path.name.endswith("_motion.tsv"):  # among samples any digits may come
            # Nor is it a year where it stands among the digits of a number.
            assert re.search(rf"(?<![\d.]){YEAR}", text) is None, path


def test_codes_are_the_same_in_every_file(exported: Path) -> None:
    (events,) = exported.rglob("*_events.tsv")
    names = pd.read_csv(events, sep="\t", dtype=str)["bout"].tolist()
    assert names == ["1", "2", "3", "4"]
    derived = exported / "derivatives" / "imucarry" / "sub-01" / "ses-01"
    summary = pd.read_csv(derived / "bout_summary.csv", dtype=str, keep_default_na=False)
    assert summary["bout"].tolist() == names
    assert set(summary["baseline_bouts"]) <= {"", "1", "4", "1;4"}
    assert summary["baseline_bouts"][1] == "1", "the sheet names the first walk"
    assert set(summary["implement"]) == {"implement1"}
    assert set(summary["note"]) == set(summary["stop_reason"]) == {""}
    assert "physician" not in summary
    retest = pd.read_csv(derived / "retest.csv", dtype=str)
    assert all(test.startswith("test") for test in retest["test"])


def test_the_derivatives_are_described_as_such(exported: Path) -> None:
    path = exported / "derivatives" / "imucarry" / "dataset_description.json"
    described = json.loads(path.read_text(encoding="utf-8"))
    assert described["DatasetType"] == "derivative"
    assert described["GeneratedBy"][0]["Name"] == "imucarry"
