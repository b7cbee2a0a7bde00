"""Measure every figure of accuracy in one run and print them as Markdown tables.

python scripts/accuracy.py [--seeds N] [--update-readme]

Simulated and real figures stand apart, each with what it was measured on. With
--update-readme the tables go into README.md between its two markers. The real part
needs the open recordings in ../shared/data; without them it says so.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import accuracy_findings
import accuracy_intervals
import accuracy_simulated
from accuracy_row import UNMET, Figure, as_markdown, at_most

from imucarry.basics.settings import MotionSettings

README = Path(__file__).resolve().parents[1] / "README.md"
DATA = Path(__file__).resolve().parents[2] / "shared" / "data"
START, END = "<!-- accuracy:start -->", "<!-- accuracy:end -->"
INTERVALS = "Simulated strides: intervals of a bout's mean"
FINDINGS = "Simulated clients: kept rotation, findings and ladder"
BOARD = "Real recordings: orientation of a hand-moved board against optics"
TILT_DEG, TOTAL_DEG = 0.55, 2.3
PREAMBLE = (
    "Written by `python scripts/accuracy.py --update-readme`. Simulated walkers are our own, with "
    "the errors of common MEMS sensors, random mountings and detected strides: their figures say "
    "what the method can do, not what it does on a person. No real recording with the truth of "
    "sternum yaw or forearm swing was available; the real trunk recordings were made at the lower "
    "back."
)


def simulated(n_seeds: int) -> str:
    """Return the tables on invented walkers, strides and clients."""
    walkers, findings = accuracy_simulated.figures(n_seeds), accuracy_findings.rows()
    coverage = accuracy_intervals.rows()
    figures = [*walkers, *_coverage_range(coverage), *(_plain(row) for row in findings)]
    return as_markdown(figures) + "\n\n" + _coverage_table(coverage)


def _plain(row: accuracy_findings.Row) -> Figure:
    """Return a row on simulated clients as a figure."""
    what = row.figure.removesuffix(" [%]")
    asked = "" if row.holds is None else row.required
    return Figure(FINDINGS, what, row.measured, "%", asked, row.holds, "1000 simulated clients")


def _coverage_range(rows: Sequence[accuracy_intervals.Row]) -> list[Figure]:
    """Return the least and the greatest coverage of those that something is asked of."""
    asked = [row for row in rows if row.holds is not None]
    on = "4000 bouts each of 16 to 40 strides, correlation up to 0.3, in one pass and in several"
    return [
        Figure(INTERVALS, f"{name} coverage of the 95 % interval", row.measured, "%",
               row.required, row.holds, on)
        for name, row in (
            ("least", min(asked, key=lambda row: row.measured)),
            ("greatest", max(asked, key=lambda row: row.measured)),
        )
    ]  # fmt: skip


def _coverage_table(rows: Sequence[accuracy_intervals.Row]) -> str:
    """Return the coverage of every length and correlation, one line a length and layout."""
    lines = ["Coverage of the 95 % interval of a bout's mean, in %:", ""]
    steps = accuracy_intervals.CORRELATIONS
    lines.append("| strides | " + " | ".join(f"correlation {step:g}" for step in steps) + " |")
    lines.append("|---|" + "---|" * len(steps))
    for first in range(0, len(rows), len(steps)):
        part = rows[first : first + len(steps)]
        name = part[0].figure.split(": ", 1)[1].rsplit(", ", 1)[0]
        lines.append(f"| {name} | " + " | ".join(f"{row.measured:.1f}" for row in part) + " |")
    return "\n".join(lines)


def real(folder: Path) -> str:
    """Return the tables on open recordings, or that they are not here."""
    if not folder.is_dir():
        return "The open recordings were not here: their figures were not measured."
    import accuracy_orientation
    import accuracy_trunk

    board = accuracy_orientation.rows(folder)
    figures = [*accuracy_trunk.figures(folder / "trunk_steps"), *_board(board)]
    return as_markdown(figures) + "\n\n" + _filter_table(board)


def _board(rows: Sequence[dict[str, Any]]) -> list[Figure]:
    """Return what is asked of the default filter, with the clocks as published and aligned."""
    usual = MotionSettings()
    on = "6 trials, movement phases, mean over trials, one heading alignment a trial"
    return [
        at_most(BOARD, f"{what} error, clocks {row['clock']}", row[key], limit, "deg", on)
        for row in rows
        if (row["filter"], row["gyro_sample"]) == (usual.filter, usual.gyro_sample)
        for what, key, limit in (("tilt", "tilt_deg", TILT_DEG), ("total", "total_deg", TOTAL_DEG))
    ]


def _filter_table(rows: Sequence[dict[str, Any]]) -> str:
    """Return every filter offered and the oracle, one line each."""
    lines = [
        "Every filter offered, and an independent library as an oracle, on the same trials "
        "(tilt and total error in deg; clocks as published, then aligned):",
        "",
        "| filter | a rate sample is | tilt | total | tilt, aligned | total, aligned |",
        "|---|---|---|---|---|---|",
    ]
    keys = list(dict.fromkeys((row["filter"], row["gyro_sample"]) for row in rows))
    for name, sample in keys:
        own = [row for row in rows if (row["filter"], row["gyro_sample"]) == (name, sample)]
        values = [f"{row[key]:.2f}" for row in own for key in ("tilt_deg", "total_deg")]
        lines.append(f"| {name} | {sample} | " + " | ".join(values) + " |")
    return "\n".join(lines)


def into_readme(text: str, tables: str) -> str:
    """Return the README with the tables between its markers.

    Raises
    ------
    SystemExit
        If a marker is missing.
    """
    if START not in text or END not in text:
        raise SystemExit(f"README.md lacks the markers {START} and {END}")
    before, rest = text.split(START, 1)
    after = rest.split(END, 1)[1]
    return f"{before}{START}\n{tables}\n{END}{after}"


def main() -> int:
    """Print the figures; return 1 when one that was asked for is not met."""
    parser = argparse.ArgumentParser(description="Measure every figure of accuracy.")
    parser.add_argument("--seeds", type=int, default=accuracy_simulated.SEEDS)
    parser.add_argument("--data", type=Path, default=DATA)
    parser.add_argument("--update-readme", action="store_true")
    chosen = parser.parse_args()
    tables = "\n\n".join([PREAMBLE, simulated(chosen.seeds), real(chosen.data)])
    print(tables)
    if chosen.update_readme:
        text = README.read_text(encoding="utf-8")
        README.write_text(into_readme(text, tables), encoding="utf-8", newline="\n")
    return int(UNMET in tables)


if __name__ == "__main__":
    raise SystemExit(main())
