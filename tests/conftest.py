"""What all tests share: where open recordings lie, and a run in which nothing may be skipped."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

OPEN_DATA = Path(__file__).resolve().parents[2] / "shared" / "data"


def pytest_configure() -> None:
    """Let the commands under test hear an interrupt.

    A shell starts what it runs in the background deaf to them, and its children with it.
    """
    signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture(scope="session")
def open_data() -> Path:
    """Folder of the open recordings, which are no part of the project."""
    if not OPEN_DATA.is_dir():
        pytest.skip("the folder of open recordings, ../shared/data, is not here")
    return OPEN_DATA


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """With IMUCARRY_NO_SKIPS set, name every skipped test; the run fails below."""
    skipped = terminalreporter.stats.get("skipped", [])
    if os.environ.get("IMUCARRY_NO_SKIPS") and skipped:
        terminalreporter.section("skipped, where nothing may be skipped")
        for report in skipped:
            terminalreporter.line(f"{report.nodeid}: {report.longrepr}")


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    """With IMUCARRY_NO_SKIPS set, a skipped test fails the run."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    skipped = reporter.stats.get("skipped", []) if reporter else []
    if os.environ.get("IMUCARRY_NO_SKIPS") and skipped and session.exitstatus == 0:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED
