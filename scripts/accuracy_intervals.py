"""How often the 95 % interval of a bout mean holds the long-run mean, on simulated bouts.

python scripts/accuracy_intervals.py [BOUTS]

Strides are a first-order autoregression about a known mean, independent between passes,
as one pass and as passes of six strides. Standard error of a coverage from 4,000 bouts:
0.3 points.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.basics.statistics import mean_interval, neighbours

BOUTS = 4000
STRIDES = (10, 16, 20, 40)
CORRELATIONS = (0.0, 0.3, 0.5)
PASS_LENGTH = 6
# What is asked for: from so many strides and up to such a correlation.
ASKED_STRIDES, ASKED_CORRELATION = 16, 0.3
LOW_PCT, HIGH_PCT = 92.0, 97.0


@dataclass(frozen=True)
class Row:
    """One figure: what was asked for, what was measured, whether it holds (None: shown only)."""

    figure: str
    required: str
    measured: float
    holds: bool | None


def pass_lengths(n_strides: int, in_passes: bool) -> tuple[int, ...]:
    """Lengths of the passes of a bout."""
    if not in_passes:
        return (n_strides,)
    whole, rest = divmod(n_strides, PASS_LENGTH)
    return (PASS_LENGTH,) * whole + ((rest,) if rest else ())


def autoregression(
    lengths: Sequence[int], correlation: float, n_bouts: int, rng: np.random.Generator
) -> FloatArray:
    """Standard normal strides of many bouts, shape (B, n), alike only within a pass."""
    strides = rng.standard_normal((n_bouts, sum(lengths)))
    fresh = np.sqrt(1.0 - correlation**2)
    first = set(np.cumsum((0, *lengths)).tolist())
    for k in range(strides.shape[1]):
        if k not in first:
            strides[:, k] = correlation * strides[:, k - 1] + fresh * strides[:, k]
    return strides


def coverage_pct(lengths: Sequence[int], correlation: float, n_bouts: int, seed: int) -> float:
    """Share of bouts whose interval holds the true mean, 0 [%]."""
    rng = np.random.default_rng(seed)
    order = neighbours(
        np.repeat(np.arange(len(lengths)), lengths),
        np.concatenate([np.arange(length) for length in lengths]),
    )
    found = [
        mean_interval(bout, order) for bout in autoregression(lengths, correlation, n_bouts, rng)
    ]
    return 100.0 * float(np.mean([item.low <= 0.0 <= item.high for item in found]))


def rows(n_bouts: int = BOUTS) -> list[Row]:
    """Coverage for each number of strides, correlation and layout of passes."""
    found = []
    for in_passes in (False, True):
        for n_strides in STRIDES:
            for correlation in CORRELATIONS:
                lengths = pass_lengths(n_strides, in_passes)
                measured = coverage_pct(lengths, correlation, n_bouts, seed=n_strides)
                found.append(_row(n_strides, correlation, in_passes, measured))
    return found


def _row(n_strides: int, correlation: float, in_passes: bool, measured: float) -> Row:
    layout = f"passes of {PASS_LENGTH}" if in_passes else "one pass"
    figure = (
        f"coverage of the 95 % interval of a bout mean: {n_strides} strides, {layout}, "
        f"correlation {correlation:g}"
    )
    asked = n_strides >= ASKED_STRIDES and correlation <= ASKED_CORRELATION
    required = f"{LOW_PCT:g} to {HIGH_PCT:g} %" if asked else "shown only"
    return Row(figure, required, measured, LOW_PCT <= measured <= HIGH_PCT if asked else None)


def main(arguments: Sequence[str]) -> int:
    """Print the figures; 1 when one does not hold."""
    found = rows(int(arguments[0]) if arguments else BOUTS)
    for row in found:
        verdict = {True: "holds", False: "FAILS", None: ""}[row.holds]
        print(f"{row.measured:6.1f} %  {row.required:12}  {verdict:6} {row.figure}")
    return int(any(row.holds is False for row in found))


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
