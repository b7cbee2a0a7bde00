"""What a path may lead to besides a file: a pipe or a device, on which reading waits for ever."""

from __future__ import annotations

import stat
from pathlib import Path

NO_FILE = "is a pipe or a device; name a file"
NOT_THERE = "is not there; check the name and the folder"


def is_special(path: Path) -> bool:
    """Return whether a path leads to a pipe, a device or a socket.

    Parameters
    ----------
    path : Path

    Raises
    ------
    OSError
        If nothing is there.
    """
    mode = path.stat().st_mode
    return not (stat.S_ISREG(mode) or stat.S_ISDIR(mode))
