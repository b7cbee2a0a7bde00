"""A page opened in a real browser, with everything that it says, asks for and pops up."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from imucarry.basics.records import SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.page import render
from imucarry.report.pdf import QUIET, find_browser

BROWSER = find_browser()
FLAGS = ["--no-sandbox", *QUIET]
needs_browser = pytest.mark.skipif(
    BROWSER is None, reason="no Chromium or Chrome on this machine to open the page in"
)


def write(folder: Path, scores: SessionScores) -> str:
    """Write the page of a visit and return its address."""
    path = folder / "report.html"
    path.write_text(render(scores, Settings()), encoding="utf-8", newline="\n")
    return path.as_uri()


@contextmanager
def opened_browser() -> Iterator[Any]:
    """The machine's browser, closed at the end."""
    playwright = pytest.importorskip(
        "playwright.sync_api", reason="Playwright is not installed: pip install 'imucarry[test]'"
    )
    with playwright.sync_playwright() as running:
        opened = running.chromium.launch(executable_path=BROWSER, args=FLAGS)
        yield opened
        opened.close()


class Watched:
    """A tab with everything that it says, asks for and pops up."""

    def __init__(self, browser: Any, address: str, **options: Any) -> None:
        self.context = browser.new_context(**options)
        self.tab = self.context.new_page()
        self.said: list[str] = []
        self.asked: list[str] = []
        self.tab.on("console", lambda message: self.said.append(message.text))
        self.tab.on("pageerror", lambda error: self.said.append(str(error)))
        self.tab.on("dialog", lambda dialog: self._popped(dialog))
        self.tab.on("request", lambda request: self.asked.append(request.url))
        self.tab.goto(address)

    def _popped(self, dialog: Any) -> None:
        self.said.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def __enter__(self) -> Watched:
        return self

    def __exit__(self, *_: object) -> None:
        self.context.close()
