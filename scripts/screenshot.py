"""Make the README's picture: the top of the page for the invented session.

python scripts/screenshot.py [REPORT]     REPORT: a page; by default a new demo's
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from environment import ROOT, ready

PICTURE = ROOT / "data" / "report.png"
SIZE = "1280,1000"
FLAGS = (
    "--headless",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--force-device-scale-factor=1",
)


def main(arguments: list[str]) -> int:
    """Score the demo if no page is named, then take its picture; return the exit code."""
    if arguments and not Path(arguments[0]).is_file():
        print(f"{arguments[0]} is no page", file=sys.stderr)
        return 2
    interpreter = str(ready())
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        work = Path(folder)
        page = Path(arguments[0]).resolve() if arguments else demo_page(interpreter, work)
        return take(interpreter, page, work / "profile")


def demo_page(interpreter: str, work: Path) -> Path:
    """Write and score an invented session; return its page."""
    session, results = work / "session", work / "results"
    for step in (["demo", str(session)], ["score", str(session), "--out", str(results)]):
        subprocess.run([interpreter, "-m", "imucarry", *step], check=True)
    return results / "report.html"


def take(interpreter: str, page: Path, profile: Path) -> int:
    """Take the picture with the browser that ``--pdf`` would use."""
    browser = browser_of(interpreter)
    if not browser:
        print("a picture needs Chromium or Chrome on this machine", file=sys.stderr)
        return 1
    command = [
        browser,
        *FLAGS,
        f"--window-size={SIZE}",
        f"--user-data-dir={profile}",
        f"--screenshot={PICTURE}",
    ]
    PICTURE.unlink(missing_ok=True)
    # As root, or without user namespaces, the browser's sandbox cannot start; the page is our own.
    for sandbox in ([], ["--no-sandbox"]):
        subprocess.run([*command, *sandbox, page.as_uri()], check=False, capture_output=True)
        if PICTURE.exists():
            print(PICTURE)
            return 0
    print(f"{browser} took no picture", file=sys.stderr)
    return 1


def browser_of(interpreter: str) -> str:
    """Path of a browser, "" without one."""
    code = "from imucarry.report.pdf import find_browser; print(find_browser() or '')"
    done = subprocess.run([interpreter, "-c", code], check=True, capture_output=True, text=True)
    return done.stdout.strip()


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
