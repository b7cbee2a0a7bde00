"""The shape of one row of the table of measures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from imucarry.basics.evidence import Evidence
from imucarry.basics.records import Estimate, Side
from imucarry.measures.sample import BoutSample

Group = Literal[
    "rotation",
    "arm swing",
    "timing",
    "variability",
    "symmetry",
    "coordination",
    "perturbed",
    "dose",
]
WholeBody = Callable[[BoutSample, int], Estimate]
OneSide = Callable[[BoutSample, Side, int], Estimate]


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure.

    Attributes
    ----------
    id : str
        Its name in ``scores.csv``.
    label : str
        Its name for people.
    unit : str
        UCUM code.
    definition : str
        One or two sentences that people can read.
    source : str
        A citation, "common practice, no source" or "engineering choice".
    least_strides : Evidence
        Fewer give no value.
    group : str
    sides : str
        "none": one value a bout; "feet", "arms": one a side, arms with their role.
    whole, by_side : callable or None
        The function that computes it; both None: `carry` computes it against the
        free walk or another bout.
    """

    id: str
    label: str
    unit: str
    definition: str
    source: str
    least_strides: Evidence[int]
    group: Group
    sides: Literal["none", "feet", "arms"] = "none"
    whole: WholeBody | None = None
    by_side: OneSide | None = None
