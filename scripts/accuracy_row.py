"""One figure of accuracy, how errors are summed up, and how figures become a Markdown table."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.records import FloatArray

UNMET = "**no**"
"""How a table marks a figure that was asked for and not met."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of accuracy.

    Attributes
    ----------
    group : str
        Heading that it stands under.
    what : str
    value : float
    unit : str
    asked : str
        What was asked for; empty where a figure is only shown.
    holds : bool or None
        Whether it was met; None where it is only shown.
    on : str
        What it was measured on.
    """

    group: str
    what: str
    value: float
    unit: str
    asked: str
    holds: bool | None
    on: str


def at_most(group: str, what: str, value: float, limit: float, unit: str, on: str) -> Figure:
    """Return a figure whose size must not pass a limit."""
    holds = math.isfinite(value) and abs(value) <= limit
    return Figure(group, what, value, unit, f"at most {limit:.3g}", holds, on)


def at_least(group: str, what: str, value: float, limit: float, unit: str, on: str) -> Figure:
    """Return a figure that must reach a limit."""
    holds = math.isfinite(value) and value >= limit
    return Figure(group, what, value, unit, f"at least {limit:.3g}", holds, on)


def shown(group: str, what: str, value: float, unit: str, on: str) -> Figure:
    """Return a figure that is only shown."""
    return Figure(group, what, value, unit, "", None, on)


def rms(values: FloatArray) -> float:
    """Return the root mean square; NaN of no values."""
    return float(np.sqrt(np.mean(values**2))) if values.size else float("nan")


def mean(values: FloatArray) -> float:
    """Return the mean; NaN of no values."""
    return float(np.mean(values)) if values.size else float("nan")


def as_markdown(figures: Sequence[Figure]) -> str:
    """Return one table a group, in the order in which the groups come first."""
    groups = list(dict.fromkeys(figure.group for figure in figures))
    return "\n\n".join(
        _table(group, [figure for figure in figures if figure.group == group]) for group in groups
    )


def _table(group: str, figures: Sequence[Figure]) -> str:
    lines = [f"**{group}**", "", "| what | found | asked | met | measured on |",
             "|---|---|---|---|---|"]  # fmt: skip
    lines += [
        f"| {item.what} | {_number(item.value)} {item.unit} | {item.asked or 'shown only'} "
        f"| {_verdict(item.holds)} | {item.on} |"
        for item in figures
    ]
    return "\n".join(lines)


def _verdict(holds: bool | None) -> str:
    return {True: "yes", False: UNMET, None: ""}[holds]


def _number(value: float) -> str:
    if not math.isfinite(value):
        return "not measured"
    size = abs(value)
    digits = 0 if size >= 1000 else 1 if size >= 20 else 2 if size >= 1 else 3
    return f"{value:.{digits}f}"
