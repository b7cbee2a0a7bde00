"""The wheel holds all that is needed: built, installed elsewhere, it scores a session."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import imucarry

ROOT = Path(__file__).parents[2]
PIP = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet"]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from this checkout with the build backend that is installed."""
    folder = tmp_path_factory.mktemp("wheel")
    build = [*PIP, "wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(folder)]
    subprocess.run([*build, str(ROOT)], check=True)
    (built,) = folder.glob("imucarry-*.whl")
    return built


def test_the_wheel_holds_every_file_of_the_package(wheel: Path) -> None:
    held = {name for name in zipfile.ZipFile(wheel).namelist() if name.startswith("imucarry/")}
    listed = subprocess.run(
        ["git", "ls-files", "imucarry"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert set(listed.stdout.split()) <= held
    assert f"-{imucarry.__version__}-" in wheel.name


def test_the_installed_wheel_scores_a_session(wheel: Path, visit: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "site"
    subprocess.run(
        [*PIP, "install", "--no-deps", "--target", str(elsewhere), str(wheel)], check=True
    )
    environment = {**os.environ, "PYTHONPATH": str(elsewhere)}

    def python(*arguments: str) -> str:
        done = subprocess.run(
            [sys.executable, *arguments],
            env=environment,
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    home = python("-c", "import imucarry; print(imucarry.__file__)").strip()
    assert Path(home).is_relative_to(elsewhere)
    python("-m", "imucarry", "score", str(visit), "--out", str(tmp_path / "out"))
    assert (tmp_path / "out" / "report.html").stat().st_size > 10_000
