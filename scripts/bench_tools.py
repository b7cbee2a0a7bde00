"""What the benchmarks share: rows, alternating runs, peak memory."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from imucarry.simulate.demo import demo_spec
from imucarry.simulate.files import COLUMNS, write_session
from imucarry.simulate.session import SimulatedSession, simulate_session

MEBIBYTE = 1024.0 * 1024.0
# Linux hands the peak of `getrusage` on from the process that starts another: ours would be
# counted. What /proc says is the new process's own.
PRINT_PEAK = """
import pathlib, resource
status = pathlib.Path("/proc/self/status")
if status.exists():
    lines = status.read_text().splitlines()
    peak_kib = next(int(line.split()[1]) for line in lines if line.startswith("VmHWM:"))
else:
    peak_kib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
print("\\nPEAK", peak_kib * 1024)
"""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: what was measured against what, the figure, the goal."""

    what: str
    against: str
    measured: str
    goal: str
    holds: bool | None

    @property
    def holds_word(self) -> str:
        """Say whether the goal holds."""
        return {True: "yes", False: "no", None: ""}[self.holds]


@dataclass(frozen=True, slots=True)
class Grown:
    """What work of one size took; ``label`` says the size in words."""

    label: str
    size: float
    seconds: float
    peak_bytes: float


def alternate(
    ours: Callable[[], object], theirs: Callable[[], object], *, runs: int = 7
) -> tuple[float, float]:
    """Return the median seconds of both, run in turn; one run of each is thrown away."""
    ours()
    theirs()
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(runs):
        for kept, work in zip(times, (ours, theirs), strict=True):
            started = time.perf_counter()
            work()
            kept.append(time.perf_counter() - started)
    return statistics.median(times[0]), statistics.median(times[1])


def at_most(what: str, against: str, ours: float, theirs: float, goal: float | None = None) -> Row:
    """Return the row of a time that should be at most `goal` times the reference's, if a goal."""
    ratio = ours / theirs
    figure = f"{ratio:.2f} times ({1e3 * ours:.0f} ms against {1e3 * theirs:.0f} ms)"
    if goal is None:
        return Row(what, against, figure, "", None)
    return Row(what, against, figure, f"at most {goal:g} times", ratio <= goal)


def process(code: str, *arguments: str) -> None:
    """Run a piece of Python in a process of its own."""
    subprocess.run([sys.executable, "-c", code, *arguments], check=True, stdout=subprocess.DEVNULL)


def peak_of(code: str, *arguments: str) -> tuple[float, float]:
    """Return seconds and peak memory [bytes] of a piece of Python that prints its seconds."""
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\n{PRINT_PEAK}", *arguments],
        check=True,
        capture_output=True,
        text=True,
    )
    lines = done.stdout.strip().splitlines()
    seconds = next(float(line.split()[1]) for line in lines if line.startswith("SECONDS"))
    peak = next(float(line.split()[1]) for line in lines if line.startswith("PEAK"))
    return seconds, peak


def ten_minutes(folder: Path, decimals: int | None = None) -> Sequence[Path]:
    """Write the invented session, 3 sensors x 10 min x 100 Hz; return its sensor files.

    With `decimals` every number has so many; without, as many as the invented sensors give.
    """
    simulated = simulate_session(demo_spec(), 7)
    write_session(simulated, folder)
    if decimals is not None:
        _write_decimals(simulated, folder, decimals)
    files = sorted(folder.glob("*chest.csv")) + sorted(folder.glob("*wrist.csv"))
    for path in files:
        _stand_until(path, 600.0)
    return files


def _write_decimals(simulated: SimulatedSession, folder: Path, decimals: int) -> None:
    for recording in simulated.recordings:
        values = np.column_stack([recording.time_s, recording.acc_mps2, recording.gyr_radps])
        kept = values[~simulated.lost[recording.placement]]
        np.savetxt(
            folder / f"{recording.placement}.csv",
            kept,
            fmt=f"%.{decimals}f",
            delimiter=",",
            header=",".join(COLUMNS),
            comments="",
        )


def _stand_until(path: Path, end_s: float) -> None:
    """Lengthen a recording by repeating its last two seconds of standing."""
    lines = path.read_text(encoding="utf-8").splitlines()
    rows = [line.split(",") for line in lines[-200:]]
    last_s = float(rows[-1][0])
    period_s = (last_s - float(rows[0][0])) / (len(rows) - 1)
    more = []
    for k in range(1, round((end_s - last_s) / period_s) + 1):
        more.append(",".join([f"{last_s + k * period_s:.4f}", *rows[-1 - k % len(rows)][1:]]))
    path.write_text("\n".join([*lines, *more]) + "\n", encoding="utf-8")
