"""One session: reading and scoring, the whole command, ``--help``, intervals."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pandas as pd
from bench_tools import MEBIBYTE, Row, alternate, at_most, process, ten_minutes

from imucarry.api import score_session
from imucarry.basics.settings import Settings
from imucarry.measures.table import compute_scores
from imucarry.pipeline import run
from imucarry.readers.recording import read_recording
from imucarry.readers.session import read_session

SESSION = "3 sensors x 10 min x 100 Hz"
# Time, acceleration [m/s^2] and rate [rad/s] as the invented sensors write them, and as many do.
FILES: dict[str, int | None] = {"4, 3 and 5 decimals": None, "6 decimals": 6}
READ = "import sys, pandas as pd\nfor name in sys.argv[1:]: pd.read_csv(name)"
COMMAND = "import sys; from imucarry.cli import run; run(sys.argv[1:])"


def rows() -> list[Row]:
    """Return the rows on reading and scoring one session, for each kind of file."""
    return [row for name, decimals in FILES.items() for row in _rows(name, decimals)]


def _rows(digits: str, decimals: int | None) -> list[Row]:
    with tempfile.TemporaryDirectory() as home:
        folder = Path(home) / "session"
        files = ten_minutes(folder, decimals)
        names = [str(path) for path in files]
        size = sum(path.stat().st_size for path in files) / MEBIBYTE
        session = f"{SESSION} ({digits}, {size:.1f} MiB)"
        pandas = f"pandas.read_csv (C engine) {pd.__version__}, the same 3 files"
        one = alternate(
            lambda: read_recording(files[:1], "chest"), lambda: pd.read_csv(files[0]), runs=51
        )
        three = alternate(
            lambda: read_session(folder), lambda: [pd.read_csv(path) for path in files], runs=31
        )
        inside = alternate(
            lambda: score_session(folder), lambda: [pd.read_csv(path) for path in files], runs=15
        )
        out = str(Path(home) / "out")
        whole = alternate(
            lambda: process(COMMAND, "score", str(folder), "--out", out, "-q"),
            lambda: process(READ, *names),
        )
    return [
        at_most(
            f"read one sensor's file, 10 min x 100 Hz, 7 columns ({digits})",
            f"pandas.read_csv (C engine) {pd.__version__}, the same file",
            *one,
            1.5,
        ),
        at_most(f"read the session with its sheets, {session}", pandas, *three),
        at_most(f"read and score in one process, {session}", pandas, *inside, 4.0),
        at_most(
            f"`imucarry score` of it ({digits}), tables and page included, whole process",
            "a process that imports pandas and reads the 3 files",
            *whole,
            3.0,
        ),
    ]


def help_rows() -> list[Row]:
    """Return the row on ``imucarry --help``."""
    found = alternate(lambda: process(COMMAND, "--help"), lambda: process("import click"), runs=21)
    return [at_most("`imucarry --help`, whole process", '`python -c "import click"`', *found, 1.5)]


def interval_rows() -> list[Row]:
    """Return the row on measures and their intervals against the rest of scoring."""
    with tempfile.TemporaryDirectory() as home:
        folder = Path(home) / "session"
        ten_minutes(folder)
        settings = Settings()
        session = read_session(folder)
        bouts = [bout.data for bout in run(session, settings).bouts]
        measured = alternate(
            lambda: [compute_scores(bout, settings.measures) for bout in bouts],
            lambda: run(session, settings),
        )
    ours, whole = measured
    rest = whole - ours
    return [at_most("all measures with their intervals", "the rest of scoring", ours, rest, 1.0)]
