"""The page as a PDF, printed by a Chromium or Chrome that the machine has."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Final

from imucarry.basics.errors import OutputError

BROWSERS: Final = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "msedge",
)
USUAL_PLACES: Final[dict[str, tuple[str, ...]]] = {
    "darwin": (
        "/Applications/Chromium.app/Contents/MacOS/Chromium",
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    ),
    "win32": (
        r"C:\Program Files\Google\Chrome\Application\chrome.exe",
        r"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
        r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
    ),
}
QUIET: Final = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""What keeps a browser from asking the network for anything of its own."""

ALL: Final = "#all"
"""What makes the page print all of itself, not its short form."""

FLAGS: Final = ("--headless", *QUIET, "--no-pdf-header-footer")
TIMEOUT_S: Final = 120


def find_browser(which: Callable[[str], str | None] = shutil.which) -> str | None:
    """The first browser of the machine that can print, or None."""
    for name in BROWSERS:
        found = which(name)
        if found:
            return found
    places = USUAL_PLACES.get(sys.platform, ())
    return next((place for place in places if Path(place).exists()), None)


def print_page(page: Path, pdf: Path, *, browser: str | None = None) -> None:
    """Print all of a page to a PDF.

    Parameters
    ----------
    page, pdf : Path
        HTML in, PDF out.
    browser : str, optional
        Path of the browser; without it, one is looked for.

    Raises
    ------
    OutputError
        If there is no browser, or it does not print.
    """
    program = browser or find_browser()
    if program is None:
        raise OutputError(
            "a PDF needs Chromium or Chrome on this machine: install one, or open the page "
            "in any browser and print it from there",
            file=pdf.name,
        )
    try:
        pdf.unlink(missing_ok=True)  # an older one would pass for this page's
        _run(program, page, pdf, sandbox=True)
        if not pdf.exists():
            # Without user namespaces, or as root, the browser's sandbox cannot start. The page
            # is our own and asks nothing of any other place, so it may be printed without.
            _run(program, page, pdf, sandbox=False)
    except (OSError, subprocess.TimeoutExpired) as error:
        raise OutputError(f"{program} could not print the page: {error}", file=pdf.name) from error
    if not pdf.exists():
        raise OutputError(
            f"{program} did not print the page; open it in a browser and print it from there",
            file=pdf.name,
        )


def _run(program: str, page: Path, pdf: Path, *, sandbox: bool) -> None:
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        subprocess.run(
            [
                program,
                *FLAGS,
                *(() if sandbox else ("--no-sandbox",)),
                f"--user-data-dir={profile}",
                f"--print-to-pdf={pdf.resolve()}",
                page.resolve().as_uri() + ALL,
            ],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            timeout=TIMEOUT_S,
            check=False,
        )
