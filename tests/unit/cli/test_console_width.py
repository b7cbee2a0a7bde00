"""What consoles show: lines that fit, bars in plain letters, nobody who reads on."""

from __future__ import annotations

import io
import subprocess
import sys

import pytest

from imucarry.cli.app import exit_code
from imucarry.cli.console import write
from imucarry.cli.score_commands import columns_of


def shown(line: str, encoding: str) -> str:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding=encoding)
    write(stream, line)
    return raw.getvalue().decode(encoding)


def test_bars_are_plain_marks_where_the_console_has_no_others() -> None:
    assert shown("rate ▁▄█ °", "ascii") == "rate _:# ?\n"
    assert shown("rate ▁▄█ °", "utf-8") == "rate ▁▄█ °\n"


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("terminal", "lines"), [("60", 79), ("80", 79), ("100", 99), ("110", 109), ("300", 109)]
)
def test_the_summary_fills_a_terminal_within_bounds(
    monkeypatch: pytest.MonkeyPatch, terminal: str, lines: int
) -> None:
    monkeypatch.setenv("COLUMNS", terminal)
    assert columns_of(io.StringIO()) == 79
    assert columns_of(Terminal()) == lines


def test_sources_are_broken_at_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["sources", "--room", "readers"]) == 0
    told = [line for line in capsys.readouterr().out.splitlines() if line.startswith("    ")]
    assert max(map(len, told)) < 80
    assert len(told) > 50


def test_a_reader_that_stops_is_no_failure() -> None:
    command = [sys.executable, "-m", "imucarry", "sources"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as run:
        assert run.stdout is not None
        run.stdout.readline()
        run.stdout.close()
        assert run.wait(60) == 0
