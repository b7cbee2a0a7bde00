"""Output folders: refused, replaced, rolled back."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from imucarry.basics.errors import OutputError
from imucarry.outputs import claim, staged, write_bytes


def write_run(folder: Path, files: dict[str, str]) -> None:
    """Write files through a staged folder, as a run does."""
    with staged(claim(folder, inputs=[])) as aside:
        for name, text in files.items():
            (aside / name).parent.mkdir(parents=True, exist_ok=True)
            (aside / name).write_text(text)
        record = {"program": "imucarry", "files": [*files, "run.json"]}
        (aside / "run.json").write_text(json.dumps(record))


def listing(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def test_a_missing_folder_is_made(tmp_path: Path) -> None:
    write_run(tmp_path / "a" / "out", {"x.csv": "1"})
    assert listing(tmp_path / "a" / "out") == ["run.json", "x.csv"]
    assert listing(tmp_path / "a") == ["out", "out/run.json", "out/x.csv"]


def test_an_empty_folder_is_used(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    write_run(out, {"x.csv": "1"})
    assert listing(out) == ["run.json", "x.csv"]


def test_own_files_are_replaced_and_others_stay(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_run(out, {"x.csv": "old", "gone.csv": "old"})
    (out / "notes.txt").write_text("mine")
    write_run(out, {"x.csv": "new"})
    assert listing(out) == ["notes.txt", "run.json", "x.csv"]
    assert (out / "x.csv").read_text() == "new"


@pytest.mark.parametrize(
    "run_json",
    ["", "{", "[]", '{"program": "other", "files": ["notes.txt"]}', '{"program": "imucarry"}'],
)
def test_a_folder_of_others_is_refused(tmp_path: Path, run_json: str) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    (tmp_path / "run.json").write_text(run_json)
    with pytest.raises(OutputError, match="not made by imucarry"):
        claim(tmp_path, inputs=[])
    assert claim(tmp_path, inputs=[], force=True).owned == ()


def test_a_listed_file_outside_the_folder_is_never_touched(tmp_path: Path) -> None:
    victim = tmp_path / "victim.txt"
    victim.write_text("mine")
    out = tmp_path / "out"
    out.mkdir()
    record = {"program": "imucarry", "files": ["../victim.txt", str(victim), "x.csv"]}
    (out / "run.json").write_text(json.dumps(record))
    assert claim(out, inputs=[]).owned == ("x.csv", "run.json")
    write_run(out, {"x.csv": "new"})
    assert victim.read_text() == "mine"


@pytest.mark.parametrize("out", ["visit", "visit/out", "."])
def test_an_input_is_never_written_to(tmp_path: Path, out: str) -> None:
    visit = tmp_path / "visit"
    visit.mkdir()
    with pytest.raises(OutputError, match="input"):
        claim(tmp_path / out, inputs=[visit], force=True)


@pytest.mark.parametrize(("file", "made_by"), [("cohort.html", "cohort"), ("report.html", "score")])
def test_results_of_another_command_are_refused_unless_forced(
    tmp_path: Path, file: str, made_by: str
) -> None:
    out = tmp_path / "out"
    write_run(out, {file: "a night's work"})
    other = {"cohort": "score", "score": "cohort"}[made_by]
    with pytest.raises(OutputError, match=f"results of 'imucarry {made_by}'.*--force"):
        claim(out, inputs=[], command=other)
    assert claim(out, inputs=[], command=made_by).owned == (file, "run.json")
    assert claim(out, inputs=[], command=other, force=True).owned == (file, "run.json")


def test_a_run_that_was_stopped_early_is_known_by_its_command(tmp_path: Path) -> None:
    marker = {"program": "imucarry", "command": "cohort", "files": []}
    (tmp_path / "run.json").write_text(json.dumps(marker))
    assert claim(tmp_path, inputs=[], command="cohort").owned == ("run.json",)
    with pytest.raises(OutputError, match="results of 'imucarry cohort'"):
        claim(tmp_path, inputs=[], command="score")


def test_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("")
    with pytest.raises(OutputError, match="is a file"):
        claim(tmp_path / "out", inputs=[])


@pytest.mark.parametrize("exists", [False, True])
def test_an_error_leaves_nothing_new_and_an_earlier_result_whole(
    tmp_path: Path, exists: bool
) -> None:
    out = tmp_path / "out"
    if exists:
        write_run(out, {"x.csv": "old"})
    before = listing(tmp_path)
    with pytest.raises(RuntimeError), staged(claim(out, inputs=[])) as aside:  # noqa: PT012 - the error must arise inside the block
        (aside / "x.csv").write_text("half")
        raise RuntimeError
    assert listing(tmp_path) == before
    assert not exists or (out / "x.csv").read_text() == "old"


def test_a_failed_move_puts_everything_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write_run(out, {"a.csv": "old", "b.csv": "old"})
    replace = Path.replace

    def failing(self: Path, target: Path) -> Path:
        if self.name == "b.csv" and Path(target).parent == out and self.read_text() == "new":
            raise OSError(28, "No space left on device")
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", failing)
    with pytest.raises(OutputError, match="the disk is full"):
        write_run(out, {"a.csv": "new", "b.csv": "new"})
    assert listing(tmp_path) == ["out", "out/a.csv", "out/b.csv", "out/run.json"]
    assert (out / "a.csv").read_text() == (out / "b.csv").read_text() == "old"


def test_two_runs_into_one_folder_are_refused(tmp_path: Path) -> None:
    folder = claim(tmp_path / "out", inputs=[])
    with staged(folder), pytest.raises(OutputError, match="another run"), staged(folder):
        pass


def write_to_full_disk(out: Path) -> None:
    with staged(claim(out, inputs=[])), open("/dev/full", "wb", buffering=0) as full:  # noqa: PTH123 - unbuffered
        full.write(b"x")


def test_a_full_disk_is_one_clear_line(tmp_path: Path) -> None:
    if not Path("/dev/full").exists():
        pytest.skip("this system has no /dev/full")
    with pytest.raises(OutputError, match="the disk is full"):
        write_to_full_disk(tmp_path / "out")
    assert listing(tmp_path) == []


def test_write_bytes_is_whole_or_not_at_all(tmp_path: Path) -> None:
    write_bytes(tmp_path / "x.csv", b"1")
    write_bytes(tmp_path / "x.csv", b"2")
    assert (tmp_path / "x.csv").read_bytes() == b"2"
    with pytest.raises(TypeError):
        write_bytes(tmp_path / "x.csv", "text")  # type: ignore[arg-type]
    assert listing(tmp_path) == ["x.csv"]
    assert (tmp_path / "x.csv").read_bytes() == b"2"


def test_a_folder_within_a_file_is_refused_in_true_words(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    for place in (tmp_path / "notes.txt" / "out", tmp_path / "notes.txt" / "deep" / "out"):
        with (
            pytest.raises(OutputError, match="a file stands where a folder of this path must be"),
            staged(claim(place, inputs=[])),
        ):
            pass
    assert (tmp_path / "notes.txt").read_text() == "mine"


@pytest.mark.skipif(os.name == "nt", reason="links need rights of their own on Windows")
@pytest.mark.parametrize("place", ["loop", "loop/out"])
def test_a_link_that_leads_back_to_itself_is_refused(tmp_path: Path, place: str) -> None:
    (tmp_path / "loop").symlink_to(tmp_path / "other")
    (tmp_path / "other").symlink_to(tmp_path / "loop")
    with pytest.raises(OutputError, match="leads back to itself"):
        claim(tmp_path / place, inputs=[])
    assert claim(tmp_path / "out", inputs=[tmp_path / "loop"]).owned == ()


def test_a_name_that_is_too_long_is_refused_at_once(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match=r"too long a name|cannot be written"):
        claim(tmp_path / ("n" * 300), inputs=[])
