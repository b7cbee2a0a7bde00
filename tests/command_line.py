"""How the end-to-end tests run the command line."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path


def imucarry(*arguments: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run the command line in a process of its own, as a user does."""
    command = [sys.executable, "-m", "imucarry", *map(str, arguments)]
    return subprocess.run(
        command, cwd=cwd, capture_output=True, text=True, encoding="utf-8", check=False
    )
