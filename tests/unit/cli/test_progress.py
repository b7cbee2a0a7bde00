"""The time left that is shown: by the pace of what was worked on."""

from __future__ import annotations

import pytest

from imucarry.cli import console
from imucarry.cli.console import Console, ProgressLine


class Clock:
    """A clock that the test sets."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.now_s = 1000.0
        monkeypatch.setattr(console.time, "monotonic", lambda: self.now_s)


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    return Clock(monkeypatch)


def said(capsys: pytest.CaptureFixture[str]) -> str:
    return capsys.readouterr().err.strip()


def test_the_time_left_goes_by_the_pace(clock: Clock, capsys: pytest.CaptureFixture[str]) -> None:
    line = ProgressLine(Console(), "sessions")
    clock.now_s += 30.0
    line("sessions", 3, 10, 1)
    assert said(capsys) == "3 of 10 sessions, 1 failed, about 70 s left"


def test_sessions_found_finished_do_not_count_in_the_pace(
    clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    line = ProgressLine(Console(), "sessions")
    for done in range(1, 91):
        clock.now_s += 0.1
        line("kept", done, 100)
    assert "left" not in said(capsys)
    for done in (91, 92):
        clock.now_s += 10.0
        line("sessions", done, 100)
    assert said(capsys).splitlines()[-1] == "92 of 100 sessions, about 80 s left"


def test_one_found_finished_amid_the_others_does_not_count(
    clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    line = ProgressLine(Console(), "sessions")
    clock.now_s += 10.0
    line("sessions", 1, 10)
    line("kept", 2, 10)
    clock.now_s += 10.0
    line("sessions", 3, 10)
    assert said(capsys).splitlines()[-1] == "3 of 10 sessions, about 70 s left"


def test_no_time_is_told_before_anything_was_done(
    clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    line = ProgressLine(Console(), "sessions")
    clock.now_s += 5.0
    line("sessions", 0, 10)
    assert said(capsys) == "0 of 10 sessions"
