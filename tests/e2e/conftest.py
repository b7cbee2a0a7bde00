"""One invented session, written and scored once for all end-to-end tests."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_line import imucarry


@pytest.fixture(scope="session")
def visit(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's session folder."""
    folder = tmp_path_factory.mktemp("demo") / "visit"
    done = imucarry("demo", folder)
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture(scope="session")
def results(visit: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's results folder."""
    folder = tmp_path_factory.mktemp("scored") / "results"
    done = imucarry("score", visit, "--out", folder)
    assert done.returncode == 0, done.stderr
    return folder
