"""Preview of folders, and of files of which a session file states something."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion

from imucarry import preview_files
from imucarry.basics.errors import ImucarryError, SessionError

Writer = Callable[..., Path]
STATED = (
    'participant = "a"\nsession = "1"\n[[sensor]]\nplacement = "left_wrist"\nfile = "imu.csv"\n'
)


@pytest.fixture
def counted(write_columns: Writer, motion: Motion) -> Path:
    """A file with a counter and no rate, in raw counts of the gyroscope."""
    columns = {"counter": np.arange(len(motion.acc))}
    columns |= {f"acc_{axis}": motion.acc[:, n] for n, axis in enumerate("xyz")}
    columns |= {f"gyr_{axis}": np.round(motion.gyr[:, n] * 1000) for n, axis in enumerate("xyz")}
    return write_columns("imu.csv", columns)


def state(folder: Path, more: str) -> None:
    (folder / "session.toml").write_text(STATED + more)


@pytest.mark.parametrize("as_folder", [True, False])
def test_what_is_stated_of_a_file_is_followed(counted: Path, as_folder: bool) -> None:
    with pytest.raises(ImucarryError, match="rate_hz"):
        preview_files([counted])
    state(counted.parent, 'rate_hz = 100\ngyr_unit = "rad/s"\ngyr_scale = 0.001\nup = "+x"\n')
    shown = preview_files([counted.parent if as_folder else counted])
    (preview,) = shown.previews
    assert preview.reading.rate_hz == pytest.approx(100.0)
    assert shown.lines[0] == "imu.csv: left wrist"
    assert "0.001 rad/s a count" in " ".join(shown.lines)
    entry = preview.entry
    assert (entry.gyr_unit, entry.gyr_scale, entry.rate_hz) == ("rad/s", 0.001, 100.0)
    assert (entry.placement, entry.up) == ("left_wrist", "+x")


def test_a_folder_without_a_session_file_shows_all_its_tables(
    write_layout: Writer, tmp_path: Path
) -> None:
    for name in ("chest.csv", "imu_2.txt"):
        write_layout(name)
    (tmp_path / "bouts.csv").write_text("bout\n")
    shown = preview_files([tmp_path])
    assert [p.reading.file for p in shown.previews] == ["chest.csv", "imu_2.txt"]


def test_a_wrong_session_file_is_told_of_a_folder_and_passed_over_for_a_file(
    write_layout: Writer, tmp_path: Path
) -> None:
    path = write_layout("imu.csv")
    state(tmp_path, "rat_hz = 100\n")
    with pytest.raises(SessionError, match="did you mean 'rate_hz'"):
        preview_files([tmp_path])
    assert len(preview_files([path]).previews) == 1


def test_an_empty_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SessionError, match="holds no table"):
        preview_files([tmp_path])


def test_one_path_is_one_file_and_none_is_refused(write_layout: Writer, tmp_path: Path) -> None:
    path = write_layout("chest.csv")
    assert preview_files(str(path)).lines == preview_files([path]).lines
    with pytest.raises(ImucarryError, match="no sensor file is named"):
        preview_files([], write_session=tmp_path / "session.toml")
    assert not (tmp_path / "session.toml").exists()
