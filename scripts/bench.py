"""Time and memory of imucarry, each as a ratio against something a reader can run.

    python scripts/bench.py                  everything (about a quarter of an hour)
    python scripts/bench.py score help       the parts named
    python scripts/bench.py --update-readme  and carry the table into README.md

Everything also draws data/growth.svg, the picture of growth.

Runs alternate (A B A B ...), medians are quoted. Nothing here is a test.
"""

from __future__ import annotations

import argparse
import compileall
import platform
import subprocess
import sys
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import bench_cohort
import bench_growth
import bench_long
import bench_orientation
import bench_session
from bench_tools import Row
from environment import ROOT
from readme import put, table

from imucarry import __version__

PARTS: dict[str, Callable[[], list[Row]]] = {
    "orientation": lambda: orientation_rows(),
    "score": bench_session.rows,
    "help": bench_session.help_rows,
    "intervals": bench_session.interval_rows,
    "long": bench_long.rows,
    "cohort": bench_cohort.rows,
}


# Times faster that is asked, by number of samples and reference.
ORIENTATION_GOALS = {(60_000, "ahrs"): 150.0, (60_000, "vqf"): 3.0, (3_000, "vqf"): 1.0}


def orientation_rows() -> list[Row]:
    """Return the rows on orientation."""
    found = []
    for row in bench_orientation.rows():
        n_samples, against = int(row["n_samples"]), str(row["against"])
        goal = ORIENTATION_GOALS.get((n_samples, against.split()[0]))
        times = float(row["times_faster"])
        found.append(
            Row(
                f"orientation, {n_samples} samples, bias estimated",
                f"{against}, same samples",
                f"{times:.2f} times faster "
                f"({row['ours_ms']:.2f} against {row['theirs_ms']:.1f} ms)",
                "" if goal is None else f"at least {goal:g} times",
                None if goal is None else times >= goal,
            )
        )
    return found


def section(rows: list[Row]) -> str:
    """Return the README's section on speed."""
    names = ("numpy", "scipy", "pandas", "ahrs", "vqf", "click")
    libraries = ", ".join(f"{name} {version(name)}" for name in names)
    machine = f"{platform.machine()}, {_cores()} cores, Python {platform.python_version()}"
    cells = [(row.what, row.against, row.measured, row.goal, row.holds_word) for row in rows]
    return (
        "## How fast\n\n"
        f"Printed by `scripts/bench.py` in one run of imucarry {__version__} ({machine}; "
        f"{libraries}). Runs alternate with "
        "the reference's, medians are quoted. Session files are invented: with 4, 3 and 5 decimals "
        "of time, acceleration and rate as `imucarry demo` writes them, and with 6 of each as "
        "many sensors write.\n\n" + table(("what", "against", "measured", "goal", "holds"), cells)
    )


def _cores() -> int:
    import os

    return os.cpu_count() or 1


def main() -> int:
    """Run the parts that were named, print the table, carry it on request."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("parts", nargs="*", choices=[*PARTS, []], help="by default all")
    parser.add_argument("--update-readme", action="store_true")
    arguments = parser.parse_args()
    # pip compiles a package that it installs; a checked-out one is compiled here.
    compileall.compile_dir(ROOT / "imucarry", quiet=1)
    rows: list[Row] = []
    for name in arguments.parts or PARTS:
        print(f"... {name}", file=sys.stderr, flush=True)
        rows += PARTS[name]()
    text = section(rows)
    if not arguments.parts:
        text += "\n\n" + bench_growth.draw(bench_long.grown(), bench_cohort.grown())
    print(text)
    if arguments.update_readme:
        put("bench", text)
    return 0


if __name__ == "__main__":
    # BLAS threads would make a tiny product wait for the other core.
    import os

    if os.environ.get("OMP_NUM_THREADS") != "1":
        limits = {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}
        command = [sys.executable, str(Path(__file__).resolve()), *sys.argv[1:]]
        raise SystemExit(subprocess.call(command, env={**os.environ, **limits}))
    raise SystemExit(main())
