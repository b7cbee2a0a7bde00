"""Which measures the cohort page puts first, and which it passes over."""

from __future__ import annotations

from typing import Final

from imucarry.measures.table import MEASURES

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

RANK: Final = {measure.id: place for place, measure in enumerate(MEASURES)}
LABELS: Final = {measure.id: measure.label for measure in MEASURES}


def label(measure: str, side: str) -> str:
    """Return a measure and its side as people read them."""
    named = LABELS.get(measure, measure)
    return named if side == "none" else f"{named}, {side}"
