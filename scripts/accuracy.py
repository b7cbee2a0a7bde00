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

import accuracy_findings
import accuracy_intervals
import accuracy_simulated
from accuracy_row import Figure, as_markdown, at_most, shown

README = Path(__file__).resolve().parents[1] / "README.md"
DATA = Path(__file__).resolve().parents[2] / "shared" / "data"
START, END = "<!-- accuracy:start -->", "<!-- accuracy:end -->"
INTERVALS = "Simulated strides: intervals of a bout's mean"
FINDINGS = "Simulated clients: kept rotation, findings and ladder"
BOARD = "Real recordings: orientation of a hand-moved board against optics"
DEFAULT_FILTER = "offline"
TILT_DEG, TOTAL_DEG = 0.55, 2.3
PREAMBLE = (
    "Written by `python scripts/accuracy.py --update-readme`. Simulated walkers are our own, with "
    "the errors of common MEMS sensors, random mountings and detected strides: their figures say "
    "what the method can do, not what it does on a person. No real recording with the truth of "
    "sternum yaw or forearm swing was available; the real trunk recordings were made at the lower "
    "back."
)


def simulated(n_seeds: int) -> list[Figure]:
    """Return every figure on invented walkers, strides and clients."""
    return [
        *accuracy_simulated.figures(n_seeds),
        *_plain(INTERVALS, accuracy_intervals.rows(), "%", "4000 simulated bouts"),
        *_plain(FINDINGS, accuracy_findings.rows(), "", "1000 simulated clients"),
    ]


def _plain(
    group: str,
    rows: Sequence[accuracy_findings.Row] | Sequence[accuracy_intervals.Row],
    unit: str,
    on: str,
) -> list[Figure]:
    """Return the rows of another script as figures."""
    return [
        Figure(
            group,
            row.figure,
            row.measured,
            unit,
            "" if row.holds is None else row.required,
            row.holds,
            on,
        )
        for row in rows
    ]


def real(folder: Path) -> list[Figure]:
    """Return every figure on open recordings; none where they are not here."""
    if not folder.is_dir():
        return []
    import accuracy_orientation
    import accuracy_trunk

    return [
        *accuracy_trunk.figures(folder / "trunk_steps"),
        *_board(accuracy_orientation.rows(folder)),
    ]


def _board(rows: Sequence[dict[str, object]]) -> list[Figure]:
    """Return the tilt and total error of every filter and of the oracle."""
    figures = []
    for row in rows:
        name = f"{row['filter']} ({row['gyro_sample']}), clocks {row['clock']}"
        on = "6 trials, movement phases, mean over trials"
        for what, key, limit in (("tilt", "tilt_deg", TILT_DEG), ("total", "total_deg", TOTAL_DEG)):
            value = float(str(row[key]))
            words = f"{what} error, {name}"
            if row["filter"] == DEFAULT_FILTER:
                figures.append(at_most(BOARD, words, value, limit, "deg", on))
            else:
                figures.append(shown(BOARD, words, value, "deg", on))
    return figures


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
    """Print the figures; 1 when one that was asked for is not met."""
    parser = argparse.ArgumentParser(description="Measure every figure of accuracy.")
    parser.add_argument("--seeds", type=int, default=accuracy_simulated.SEEDS)
    parser.add_argument("--data", type=Path, default=DATA)
    parser.add_argument("--update-readme", action="store_true")
    chosen = parser.parse_args()
    figures = [*simulated(chosen.seeds), *real(chosen.data)]
    missing = [] if chosen.data.is_dir() else ["", "The open recordings were not here: not run."]
    tables = "\n".join([PREAMBLE, "", as_markdown(figures), *missing])
    print(tables)
    if chosen.update_readme:
        text = README.read_text(encoding="utf-8")
        README.write_text(into_readme(text, tables), encoding="utf-8", newline="\n")
    return int(any(figure.holds is False for figure in figures))


if __name__ == "__main__":
    raise SystemExit(main())
