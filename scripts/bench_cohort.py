"""Many sessions: two workers against one, and the parent's memory as the study grows."""

from __future__ import annotations

import shutil
import statistics
import tempfile
import time
from functools import cache
from pathlib import Path

from bench_tools import MEBIBYTE, Grown, Row, peak_of, ten_minutes
from environment import ROOT

from imucarry.cohort import CohortOptions, score_cohort

SESSIONS = 60
TURNS = 3
GROWTH = (10, 100, 1000)
EXAMPLE = ROOT / "data" / "example"
PARENT_MIB = 500.0
CODE = """
import sys, time
from imucarry.cohort import CohortOptions, score_cohort
if __name__ == "__main__":
    started = time.perf_counter()
    score_cohort(sys.argv[1], sys.argv[2], None, CohortOptions(workers=2))
    print("SECONDS", time.perf_counter() - started)
"""


def study(home: Path, source: Path, n_sessions: int) -> Path:
    """Write a manifest of copies of one session that differ in their participant's code only."""
    toml = (source / "session.toml").read_text(encoding="utf-8")
    lines = ["folder"]
    for k in range(n_sessions):
        folder = home / f"s{k:04d}"
        if not folder.exists():
            shutil.copytree(source, folder)
            (folder / "session.toml").write_text(
                toml.replace('participant = "P01"', f'participant = "P{k:04d}"'), encoding="utf-8"
            )
        lines.append(folder.name)
    manifest = home / f"study_{n_sessions}.csv"
    manifest.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return manifest


def _seconds(manifest: Path, out: Path, workers: int) -> float:
    started = time.perf_counter()
    summary = score_cohort(manifest, out, None, CohortOptions(workers=workers, fresh=True))
    assert summary.n_failed == 0, summary.lines
    return time.perf_counter() - started


@cache
def grown() -> tuple[Grown, ...]:
    """Return seconds and the parent's peak memory of cohorts of each size, 2 workers."""
    found = []
    with tempfile.TemporaryDirectory() as home:
        many = Path(home) / "many"
        many.mkdir()
        for n in GROWTH:
            out = str(Path(home) / f"grown_{n}")
            found.append(Grown(f"{n:,}", n, *peak_of(CODE, str(study(many, EXAMPLE, n)), out)))
    return tuple(found)


def rows() -> list[Row]:
    """Return the rows on workers, memory and growth."""
    with tempfile.TemporaryDirectory() as home:
        long = Path(home) / "long"
        ten_minutes(long / "source")
        manifest = study(long, long / "source", SESSIONS)
        taken: dict[int, list[float]] = {1: [], 2: []}
        for _ in range(TURNS):
            for workers, seconds in taken.items():
                seconds.append(_seconds(manifest, Path(home) / f"by_{workers}", workers))
    one, two = (statistics.median(seconds) for seconds in taken.values())
    gain = one / two
    small, large = grown()[-2:]
    growth = (large.seconds / large.size) / (small.seconds / small.size)
    peak = large.peak_bytes / MEBIBYTE
    return [
        Row(
            f"cohort of {SESSIONS} sessions (3 sensors x 10 min), 2 workers",
            "1 worker",
            f"{gain:.2f} times faster ({one:.1f} s against {two:.1f} s)",
            "at least 1.8 times",
            gain >= 1.8,
        ),
        Row(
            f"peak memory of the parent, {large.label} sessions (3 sensors x 4 min)",
            "",
            f"{peak:.0f} MiB",
            f"under {PARENT_MIB:.0f} MiB",
            peak < PARENT_MIB,
        ),
        Row(
            f"time a session, cohort of {large.label}",
            f"cohort of {small.label}",
            f"{growth:.2f} times",
            "linear: at most 1.2 times",
            growth <= 1.2,
        ),
    ]
