"""Set up the project's own virtual environment, on any system, with nothing but Python.

The other scripts run themselves in it, so that one command works on a fresh clone.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
HOME = ROOT / ".venv"
OLDEST_PYTHON = (3, 11)


def python() -> Path:
    """Path of the environment's interpreter."""
    return HOME / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def ready(extras: str = "") -> Path:
    """Make the environment with the package (editable) and `extras`; return its interpreter.

    Nothing is installed again while ``pyproject.toml`` and the extras are unchanged.
    """
    if sys.version_info < OLDEST_PYTHON:
        raise SystemExit("imucarry needs Python 3.11 or newer; this is " + sys.version.split()[0])
    stamp = HOME / f"installed-{extras or 'plain'}.sha256"
    wanted = hashlib.sha256((ROOT / "pyproject.toml").read_bytes()).hexdigest()
    if python().exists() and stamp.exists() and stamp.read_text() == wanted:
        return python()
    if not python().exists():
        print("Making a virtual environment in .venv ...", flush=True)
        venv.create(HOME, with_pip=True)
    print("Installing the package and what it needs ...", flush=True)
    target = f"{ROOT}[{extras}]" if extras else str(ROOT)
    install = [str(python()), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*install, "--editable", target], check=True)
    stamp.write_text(wanted)
    return python()
