"""``imucarry export``: accepted by the standard's own validator, and the same samples again."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from command_line import imucarry

from imucarry.readers.session import read_session

EXAMPLE = Path(__file__).parents[2] / "data" / "example"
NAME, NOTE, DATE = "Secret-Name", "a note on a person", "2031-07-09"


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example session with a name, a date and a note that must not get out."""
    folder = tmp_path_factory.mktemp("session")
    for source in EXAMPLE.iterdir():
        (folder / source.name).write_bytes(source.read_bytes())
    lines = (EXAMPLE / "session.toml").read_text(encoding="utf-8").splitlines()
    lines = [
        f'participant = "{NAME}"' if line.startswith("participant") else line for line in lines
    ]
    lines = [f"date = {DATE}" if line.startswith("date") else line for line in lines]
    assert f"date = {DATE}" in lines
    (folder / "session.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    bouts = pd.read_csv(folder / "bouts.csv", dtype=str)
    bouts["note"] = NOTE
    bouts.to_csv(folder / "bouts.csv", index=False)
    return folder


@pytest.fixture(scope="module")
def exported(session: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("exported") / "dataset"
    done = imucarry("export", session, "--to", "motion-bids", "--out", out)
    assert done.returncode == 0, done.stderr
    return out


@pytest.fixture(scope="module")
def other(session: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Another person's session: not the same samples."""
    folder = tmp_path_factory.mktemp("other") / "session"
    shutil.copytree(session, folder)
    for name in ("chest.csv", "left_wrist.csv", "right_wrist.csv"):
        lines = (folder / name).read_text(encoding="utf-8").splitlines(keepends=True)
        (folder / name).write_text("".join(lines[:-5]), encoding="utf-8")
    return folder


def one(folder: Path, pattern: str) -> Path:
    (found,) = folder.rglob(pattern)
    return found


def test_the_standards_validator_finds_no_error(exported: Path) -> None:
    validator = Path(sys.executable).parent / "bids-validator-deno"
    done = subprocess.run([validator, exported], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_columns_and_units(exported: Path) -> None:
    channels = pd.read_csv(one(exported, "*_channels.tsv"), sep="\t")
    wanted = ["name", "component", "type", "tracked_point", "units"]
    assert list(channels.columns[:5]) == wanted
    samples = pd.read_csv(one(exported, "*_motion.tsv"), sep="\t", header=None)
    assert samples.shape[1] == len(channels) == 18
    units = channels.groupby("type")["units"].unique().to_dict()
    assert {kind: list(unit) for kind, unit in units.items()} == {
        "ACCEL": ["m/s^2"],
        "GYRO": ["rad/s"],
    }


def test_it_is_de_identified(exported: Path) -> None:
    for path in exported.rglob("*"):
        assert NAME not in path.name
        if path.is_file():
            text = path.read_text(encoding="utf-8")
            assert not any(word in text for word in (NAME, NOTE, DATE)), path


@pytest.mark.parametrize("option", ["--participant-label", "--session-label"])
def test_a_label_that_is_none_is_wrong_usage(session: Path, tmp_path: Path, option: str) -> None:
    out = tmp_path / "dataset"
    done = imucarry("export", session, "--to", "motion-bids", "--out", out, option, "0 2")
    assert done.returncode == 2
    assert "'0 2' must consist of letters and digits" in done.stderr
    assert not out.exists()


def test_events_are_the_bouts(session: Path, exported: Path) -> None:
    events = pd.read_csv(one(exported, "*_events.tsv"), sep="\t")
    bouts = pd.read_csv(session / "bouts.csv")
    np.testing.assert_allclose(events["onset"], bouts["start_s"], atol=1e-3)
    np.testing.assert_allclose(events["duration"], bouts["end_s"] - bouts["start_s"], atol=2e-3)


def test_results_are_there(exported: Path) -> None:
    derived = exported / "derivatives" / "imucarry" / "sub-01" / "ses-01"
    assert len(pd.read_csv(derived / "strides.csv")) > 50


def test_the_results_are_described(exported: Path) -> None:
    from frictionless import Package

    report = Package(str(one(exported, "datapackage.json"))).validate()
    assert report.valid, report.flatten(["rowNumber", "fieldName", "type", "message"])


def test_the_same_samples_are_read_back(session: Path, exported: Path, tmp_path: Path) -> None:
    motion = one(exported, "*_motion.tsv")
    again = exported.parent / "again.toml"
    lines = ['participant = "x"', 'session = "1"']
    for placement in ("chest", "left_wrist", "right_wrist"):
        lines += ["[[sensor]]", f'placement = "{placement}"']
        lines += [f'file = "{motion.relative_to(exported.parent).as_posix()}"']
    again.write_text("\n".join(lines) + "\n")
    for first, second in zip(
        read_session(session).recordings, read_session(again).recordings, strict=True
    ):
        assert first.placement == second.placement
        n = min(first.time_s.size, second.time_s.size)
        assert abs(first.time_s.size - second.time_s.size) <= 1
        np.testing.assert_allclose(first.acc_mps2[:n], second.acc_mps2[:n], atol=1e-6)
        np.testing.assert_allclose(first.gyr_radps[:n], second.gyr_radps[:n], atol=1e-6)


def test_sensors_of_other_clocks_are_systems_of_their_own(session: Path, tmp_path: Path) -> None:
    folder, out = tmp_path / "session", tmp_path / "dataset"
    shutil.copytree(session, folder)
    wrist = folder / "left_wrist.csv"
    lines = wrist.read_text(encoding="utf-8").splitlines(keepends=True)
    wrist.write_text("".join([lines[0], *lines[101:]]), encoding="utf-8")  # began 2 s later
    done = imucarry("export", folder, "--to", "motion-bids", "--out", out)
    assert done.returncode == 0, done.stderr
    test_the_standards_validator_finds_no_error(out)
    n_channels = []
    for channels in sorted(out.rglob("*_channels.tsv")):
        motion = channels.with_name(channels.name.replace("_channels", "_motion"))
        n_channels.append(len(pd.read_csv(channels, sep="\t")))
        assert pd.read_csv(motion, sep="\t", header=None).shape[1] == n_channels[-1]
    assert sorted(n_channels) == [6, 12]
    acquired = pd.read_csv(one(out, "*_scans.tsv"), sep="\t")["acq_time"]
    apart_s = np.ptp(pd.to_datetime(acquired).to_numpy()) / np.timedelta64(1, "s")
    assert apart_s == pytest.approx(2.0, abs=0.02)
    # Motion-BIDS 1.11: dates that are shifted lie before 1925.
    assert pd.to_datetime(acquired).dt.year.max() < 1925


def export(session: Path, out: Path, *more: str) -> subprocess.CompletedProcess[str]:
    return imucarry("export", session, "--to", "motion-bids", "--out", out, *more)


def contents(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_a_second_person_and_a_second_visit_are_added(
    session: Path, other: Path, exported: Path, tmp_path: Path
) -> None:
    out = tmp_path / "dataset"
    shutil.copytree(exported, out)
    alone = contents(out)
    for labels in (("02", "01"), ("01", "02")):
        done = export(other, out, "--participant-label", labels[0], "--session-label", labels[1])
        assert done.returncode == 0, done.stderr
    test_the_standards_validator_finds_no_error(out)
    both = contents(out)
    shared = {"participants.tsv", "run.json"}
    assert {name: both[name] for name in alone.keys() - shared} == {
        name: alone[name] for name in alone.keys() - shared
    }
    assert both["participants.tsv"] == b"participant_id\nsub-01\nsub-02\n"
    per_visit = [name for name in alone if "ses-01" in name]
    assert len(both) == len(alone) + 2 * len(per_visit)
    assert sorted(json.loads(both["run.json"])["files"]) == sorted(both)
    # Once more, in the other order: the same data set.
    again = tmp_path / "again"
    for folder, who, visit in ((other, "01", "02"), (other, "02", "01"), (session, "01", "01")):
        done = export(folder, again, "--participant-label", who, "--session-label", visit)
        assert done.returncode == 0, done.stderr
    assert contents(again) == both


def test_other_recordings_do_not_take_the_place_of_a_visit(
    session: Path, other: Path, exported: Path, tmp_path: Path
) -> None:
    out = tmp_path / "dataset"
    shutil.copytree(exported, out)
    before = contents(out)
    refused = export(other, out)
    assert refused.returncode == 65
    assert "holds other recordings as participant 01, session 01" in refused.stderr
    assert contents(out) == before
    assert export(session, out).returncode == 0  # the same once more
    assert contents(out) == before
    assert export(other, out, "--force").returncode == 0
    after = contents(out)
    assert after.keys() == before.keys()
    assert after != before


def test_results_of_another_command_are_not_replaced(session: Path, tmp_path: Path) -> None:
    out = tmp_path / "scored"
    assert imucarry("score", session, "--out", out).returncode == 0
    before = contents(out)
    refused = export(session, out)
    assert refused.returncode == 65
    assert "holds the results of 'imucarry score'" in refused.stderr
    assert contents(out) == before
