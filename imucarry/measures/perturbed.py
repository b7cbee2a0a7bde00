"""Carries with the load on elastic: the rows of the measures that `carry` computes."""

from __future__ import annotations

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.evidence.row import ENGINEERING_CHOICE
from imucarry.measures.measure import Measure

MEAN = evidence.LEAST_STRIDES_MEAN

PERTURBED: tuple[Measure, ...] = (
    Measure(
        "yaw_path_spread_ratio",
        "Spread of trunk rotation, load on elastic",
        "1",
        "Stride-to-stride spread of the sternum's path with the load on elastic, over that "
        "with the same load hung still. More or less spread is neither good nor bad.",
        ENGINEERING_CHOICE,
        MEAN,
        "perturbed",
    ),
    Measure(
        "arm_path_spread_ratio",
        "Spread of arm path, load on elastic",
        "1",
        "Stride-to-stride spread of the forearm's path with the load on elastic, over that "
        "with the same load hung still. More or less spread is neither good nor bad.",
        ENGINEERING_CHOICE,
        MEAN,
        "perturbed",
        sides="arms",
    ),
)
