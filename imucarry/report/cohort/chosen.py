"""Which measures the cohort page puts first, and which it passes over."""

from __future__ import annotations

from typing import Final

from imucarry.measures.table import MEASURES
from imucarry.report.definitions import BY_ID

MAIN: Final = (
    "sternum_yaw_range",
    "yaw_kept",
    "arm_swing",
    "arm_swing_kept",
    "cadence",
    "stride_time_cv",
    "step_time_asymmetry",
)
"""The measures that ``bout_summary.csv`` shows."""

GIVEN: Final = ("distance", *(measure.id for measure in MEASURES if measure.group == "dose"))
"""What was set for a bout, such as load, distance and time under load: no result of it."""

NEAR_CEILING: Final = (
    "arm_regularity",
    "stride_regularity",
    "step_regularity",
    "arm_sternum_consistency",
    "arm_step_consistency",
    "sternum_step_consistency",
    "arm_opposite_leg_share",
)
"""Measures that crowd below their greatest value, where no distance in spreads means much."""


def label(measure: str, side: str) -> str:
    """Return a measure and its side as people read them."""
    named = BY_ID[measure].label if measure in BY_ID else measure
    return named if side == "none" else f"{named}, {side}"
