"""The command holds numeric libraries to one thread, unless told otherwise."""

from __future__ import annotations

import os

import pytest

from imucarry.basics.threads import THREAD_LIMITS
from imucarry.cli import run


def test_a_command_sets_what_is_not_set(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in THREAD_LIMITS:
        monkeypatch.setenv(name, "to be restored")
        monkeypatch.delenv(name)
    monkeypatch.setenv("OMP_NUM_THREADS", "3")
    with pytest.raises(SystemExit):
        run(["--version"])
    assert os.environ["OMP_NUM_THREADS"] == "3"
    assert {os.environ[name] for name in THREAD_LIMITS[1:]} == {"1"}
