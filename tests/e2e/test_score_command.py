"""``imucarry score`` as a user runs it."""

from __future__ import annotations

import csv
import hashlib
import json
import shutil
from pathlib import Path

import jsonschema
import pandas as pd
import pytest
from command_line import imucarry

FILES = {
    *("strides.csv", "contacts.csv", "scores.csv", "bout_summary.csv", "ladder.csv"),
    *("retest.csv", "report.html", "run.json", "datapackage.json"),
}


def digests(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_every_promised_file_is_there(results: Path) -> None:
    assert {path.name for path in results.iterdir()} == FILES


def test_two_runs_are_byte_equal(visit: Path, results: Path, tmp_path: Path) -> None:
    assert imucarry("score", visit, "--out", tmp_path / "again").returncode == 0
    assert digests(tmp_path / "again") == digests(results)


def test_a_second_run_replaces_its_own_files_only(visit: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert imucarry("score", visit, "--out", out).returncode == 0
    (out / "notes.txt").write_text("mine")
    assert imucarry("score", visit, "--out", out).returncode == 0
    assert {path.name for path in out.iterdir()} == {*FILES, "notes.txt"}


def test_the_console_answers_the_question(visit: Path, tmp_path: Path) -> None:
    done = imucarry("score", visit, "--out", tmp_path / "out")
    bouts = pd.read_csv(tmp_path / "out" / "bout_summary.csv", dtype={"bout": str})
    for name in bouts["bout"]:
        assert name in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "report.html" in done.stderr


def test_quiet_says_nothing_but_the_result(visit: Path, tmp_path: Path) -> None:
    done = imucarry("score", visit, "--out", tmp_path / "out", "-q")
    assert done.stderr == ""
    assert "free walk" in done.stdout
    words = " ".join(imucarry("score", "--help").stdout.split())
    assert "-q, --quiet Print the result and errors only." in words


def test_json_follows_its_schema_and_the_tables(visit: Path, tmp_path: Path) -> None:
    done = imucarry("score", visit, "--out", tmp_path / "out", "--json", "-q")
    document = json.loads(done.stdout)
    schema = json.loads(imucarry("schema", "score").stdout)
    jsonschema.validate(document, schema)
    with (tmp_path / "out" / "bout_summary.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert [bout["bout"] for bout in document["bouts"]] == [row["bout"] for row in rows]
    assert [bout["rotation_finding"] for bout in document["bouts"]] == [
        row["rotation_finding"] for row in rows
    ]


def test_tables_agree_with_each_other(results: Path) -> None:
    strides = pd.read_csv(results / "strides.csv")
    bouts = pd.read_csv(results / "bout_summary.csv")
    scores = pd.read_csv(results / "scores.csv")
    kept = strides[strides["kept_yaw"]]
    means = kept.groupby("bout")["sternum_yaw_range_deg"].mean()
    for row in bouts.itertuples():
        assert row.n_kept_yaw == (kept["bout"] == row.bout).sum()
        assert means[row.bout] == pytest.approx(row.sternum_yaw_range_deg, abs=2e-3)
    yaw = scores[(scores["measure"] == "sternum_yaw_range")].set_index("bout")["value"]
    assert yaw[bouts["bout"]].to_numpy() == pytest.approx(
        bouts["sternum_yaw_range_deg"].to_numpy(), abs=1e-3
    )
    assert (strides["left_contact_s"] == strides["start_s"]).all()


@pytest.mark.parametrize("left_out", ["", "right_wrist", "chest"])
def test_a_stride_has_a_reason_where_it_does_not_count(
    visit: Path, tmp_path: Path, left_out: str
) -> None:
    session = tmp_path / "visit"
    shutil.copytree(visit, session)
    head, *sensors = (session / "session.toml").read_text(encoding="utf-8").split("[[sensor]]")
    worn = [part for part in sensors if not left_out or f'"{left_out}"' not in part]
    text = "[[sensor]]".join([head, *worn])
    (session / "session.toml").write_text(text, encoding="utf-8")
    assert imucarry("score", session, "--out", tmp_path / "out").returncode == 0
    strides = pd.read_csv(tmp_path / "out" / "strides.csv", keep_default_na=False)
    kept = ["kept_timing", "kept_yaw", "kept_left_arm", "kept_right_arm"]
    assert ((strides["drop_reason"] == "") == strides[kept].all(axis=1)).all()
    absent = strides["drop_reason"].str.contains("no_sensor")
    assert absent.all() if left_out else not absent.any()
    bouts = pd.read_csv(tmp_path / "out" / "bout_summary.csv")
    assert bouts["n_strides"].isna().all() == bouts["n_kept_yaw"].isna().all()
    assert bouts["n_strides"].isna().all() == (left_out == "chest")
    assert bouts["n_strides"].sum() == len(strides)


def test_the_data_package_is_valid(results: Path) -> None:
    from frictionless import Package

    report = Package(str(results / "datapackage.json")).validate()
    assert report.valid, report.flatten(["rowNumber", "fieldName", "type", "message"])


def test_run_json_holds_no_path_host_or_clock(visit: Path, results: Path) -> None:
    text = (results / "run.json").read_text(encoding="utf-8")
    assert str(visit) not in text
    assert str(results) not in text
    record = json.loads(text)
    hashes = {item["file"]: item["sha256"] for item in record["inputs"]}
    for name, digest in hashes.items():
        assert hashlib.sha256((visit / name).read_bytes()).hexdigest() == digest
    assert {"chest.csv", "bouts.csv", "session.toml"} <= set(hashes)


def test_no_result_holds_an_absolute_path_of_the_session_file(visit: Path, tmp_path: Path) -> None:
    folder, out = tmp_path / "visit", tmp_path / "out"
    folder.mkdir()
    chest = visit / "chest.csv"
    wrists = [folder / "raw" / side / "left_wrist.csv" for side in ("a", "b")]
    for wrist in wrists:  # one recording twice, of which a notice tells
        wrist.parent.mkdir(parents=True)
        shutil.copy(visit / "left_wrist.csv", wrist)
    files = {"chest": chest, "left_wrist": wrists[0], "right_wrist": wrists[1]}
    lines = ['participant = "P"', 'session = "1"', f'bouts = "{(visit / "bouts.csv").as_posix()}"']
    for placement, file in files.items():
        lines += ["[[sensor]]", f'placement = "{placement}"', f'file = "{file.as_posix()}"']
    (folder / "session.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    done = imucarry("score", folder, "--out", out, "-v")
    assert done.returncode == 0, done.stderr
    words = " ".join((done.stdout + done.stderr).split())
    assert "sensor (left_wrist.csv): one of the two files is the wrong one" in words
    for path in sorted(out.iterdir()):
        text = path.read_text(encoding="utf-8")
        assert chest.parent.as_posix() not in text, path.name
        assert folder.as_posix() not in text, path.name
    record = json.loads((out / "run.json").read_text(encoding="utf-8"))
    named = [item["file"] for item in record["inputs"]]
    assert sorted(named) == ["bouts.csv", "chest.csv", *2 * ["left_wrist.csv"], "session.toml"]
    # They are inputs still: no result is written over them.
    done = imucarry("score", folder, "--out", chest.parent, "--force")
    assert done.returncode == 65
    assert "in the input" in done.stderr


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["scor"], 2, "Did you mean 'score'"),
        (["score", "nowhere", "--out", "x"], 2, "nowhere"),
        (["score", "."], 2, "--out"),
        (["score", ".", "--out", "results", "--settigns", "x"], 2, "settings"),
        (["score", ".", "--out", "results"], 65, "session.toml"),
    ],
)
def test_wrong_use_is_one_clear_line(
    tmp_path: Path, arguments: list[str], code: int, said: str
) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    done = imucarry(*arguments, cwd=empty)
    assert done.returncode == code
    assert said in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1
    assert "Traceback" not in done.stderr
    assert list(empty.iterdir()) == []


def test_an_unreadable_sensor_changes_nothing(visit: Path, tmp_path: Path) -> None:
    broken = tmp_path / "visit"
    shutil.copytree(visit, broken)
    out = tmp_path / "out"
    assert imucarry("score", broken, "--out", out).returncode == 0
    before = digests(out)
    (broken / "chest.csv").write_text("nothing\nto see\n")
    done = imucarry("score", broken, "--out", out)
    assert done.returncode == 65
    assert "chest.csv" in done.stderr
    assert digests(out) == before
    assert {path.name for path in tmp_path.iterdir()} == {"visit", "out"}


def test_a_bout_outside_the_recording_is_refused(visit: Path, tmp_path: Path) -> None:
    copy = tmp_path / "visit"
    shutil.copytree(visit, copy)
    with (copy / "bouts.csv").open("a", encoding="utf-8") as stream:
        header = (visit / "bouts.csv").read_text(encoding="utf-8").splitlines()[0].split(",")
        late = {"bout": "late", "start_s": "90000", "end_s": "90060", "hold": "free"}
        late |= {"loaded_side": "none", "load_kg": "0"}
        stream.write(",".join(late.get(name, "") for name in header) + "\n")
    done = imucarry("score", copy, "--out", tmp_path / "out")
    assert done.returncode == 65
    assert "late" in done.stderr
    assert not (tmp_path / "out").exists()


def test_results_are_not_written_beside_the_settings(visit: Path, tmp_path: Path) -> None:
    lab = tmp_path / "lab" / "settings.toml"
    lab.parent.mkdir()
    lab.write_text("[walk]\ntrim_strides = 2\n", encoding="utf-8")
    for out in (lab.parent, tmp_path):
        done = imucarry("score", visit, "--out", out, "--settings", lab, "--force")
        assert done.returncode == 65
        assert "is, holds or lies in the input 'settings.toml'" in done.stderr
    manifest = tmp_path / "study.csv"
    manifest.write_text(f"folder\n{visit}\n", encoding="utf-8")
    study = ("cohort", manifest, "--out", lab.parent, "--settings", lab, "--force")
    assert imucarry(*study).returncode == 65
    assert [path.name for path in lab.parent.iterdir()] == ["settings.toml"]


def test_results_are_not_written_into_the_session(visit: Path) -> None:
    before = digests(visit)
    done = imucarry("score", visit, "--out", visit / "results")
    assert done.returncode == 65
    assert digests(visit) == before
