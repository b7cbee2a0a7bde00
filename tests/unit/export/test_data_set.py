"""One more visit in a data set: what is there stays, people's own columns too."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from imucarry.basics.errors import OutputError
from imucarry.export.data_set import add_visit
from imucarry.export.labels import Labels
from imucarry.outputs import OutputFolder, staged, staging


def files_of(participant: str, session: str, samples: bytes = b"1\n") -> dict[str, bytes]:
    """A data set of one visit in little."""
    who, visit = f"sub-{participant}_ses-{session}", f"sub-{participant}/ses-{session}"
    return {
        "dataset_description.json": b"{}",
        "participants.tsv": f"participant_id\nsub-{participant}\n".encode(),
        f"{visit}/motion/{who}_motion.tsv": samples,
        f"{visit}/{who}_scans.tsv": b"x",
        "derivatives/imucarry/dataset_description.json": b"{}",
        f"derivatives/imucarry/{visit}/scores.csv": b"y",
    }


def written(folder: Path, files: dict[str, bytes]) -> tuple[str, ...]:
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return (*sorted(files), "run.json")


def test_an_empty_folder_gets_the_whole_data_set(tmp_path: Path) -> None:
    files = files_of("01", "01")
    found = add_visit(tmp_path, (), files, Labels())
    assert (found.files, found.replaced, found.kept) == (files, (), ())


def test_a_visit_alone_is_replaced_whole(tmp_path: Path) -> None:
    old = files_of("01", "01") | {"sub-01/ses-01/motion/old_events.tsv": b""}
    owned = written(tmp_path, old)
    files = files_of("01", "01")
    found = add_visit(tmp_path, owned, files, Labels())
    assert (found.files, found.replaced, found.kept) == (files, owned, ())


def test_another_person_leaves_what_is_there(tmp_path: Path) -> None:
    owned = written(tmp_path, files_of("01", "01"))
    (tmp_path / "participants.tsv").write_text("participant_id\tage\nsub-01\t40\n", "utf-8")
    found = add_visit(tmp_path, owned, files_of("02", "01", b"2\n"), Labels("02", "01"))
    assert found.replaced == ("participants.tsv", "run.json")
    assert set(found.kept) == set(owned) - set(found.replaced)
    assert found.files["participants.tsv"] == b"participant_id\tage\nsub-01\t40\nsub-02\tn/a\n"
    assert not found.files.keys() & set(found.kept)


def test_columns_of_people_stay_where_a_visit_alone_is_exported_again(tmp_path: Path) -> None:
    owned = written(tmp_path, files_of("01", "01"))
    (tmp_path / "participants.tsv").write_text("participant_id\tage\nsub-01\t40\n", "utf-8")
    found = add_visit(tmp_path, owned, files_of("01", "01"), Labels())
    assert found.files["participants.tsv"] == b"participant_id\tage\nsub-01\t40\n"


def test_a_list_of_people_that_cannot_be_added_to_is_refused(tmp_path: Path) -> None:
    owned = written(tmp_path, files_of("01", "01"))
    (tmp_path / "participants.tsv").write_text("age\tparticipant_id\n40\tsub-01\n", "utf-8")
    with pytest.raises(OutputError, match="does not begin with the column participant_id"):
        add_visit(tmp_path, owned, files_of("02", "01", b"2\n"), Labels("02", "01"))


def test_people_are_listed_though_the_list_was_lost(tmp_path: Path) -> None:
    owned = written(tmp_path, files_of("03", "01"))
    (tmp_path / "participants.tsv").unlink()
    found = add_visit(tmp_path, owned, files_of("02", "01"), Labels("02", "01"))
    assert found.files["participants.tsv"] == b"participant_id\nsub-02\nsub-03\n"


def test_other_samples_under_the_same_labels_are_refused(tmp_path: Path) -> None:
    owned = written(tmp_path, files_of("01", "01") | files_of("01", "02"))
    files = files_of("01", "01", b"2\n")
    with pytest.raises(OutputError, match=r"participant 01, session 01; .*--session-label"):
        add_visit(tmp_path, owned, files, Labels())
    found = add_visit(tmp_path, owned, files, Labels(), force=True)
    assert {name for name in found.replaced if "/" in name} == {
        name for name in files if "ses-01" in name
    }
    assert any("ses-02" in name for name in found.kept)


def test_a_run_that_is_killed_while_it_adds_knows_the_others_files_as_ours(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The next run must find them in ``run.json``: it lists people and visits by them."""
    folder = tmp_path / "data"
    owned = written(folder, files_of("01", "01"))
    found = add_visit(folder, owned, files_of("02", "01"), Labels("02", "01"))
    listed: list[set[str]] = []
    move = staging._move

    def watched(source: Path, place: Path) -> None:
        if (folder / "run.json").is_file():
            listed.append(set(json.loads((folder / "run.json").read_text())["files"]))
        move(source, place)

    with staged(OutputFolder(folder, found.replaced, found.kept)) as aside:
        for name, content in {**found.files, "run.json": b"{}"}.items():
            (aside / name).parent.mkdir(parents=True, exist_ok=True)
            (aside / name).write_bytes(content)
        monkeypatch.setattr(staging, "_move", watched)
    assert listed
    assert all(set(found.kept) <= names for names in listed)
    assert all((folder / name).is_file() for name in found.kept)
