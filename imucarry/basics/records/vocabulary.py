"""The words of the sheets and of the tables."""

from __future__ import annotations

from typing import Literal

Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")
PLACEMENTS = ("chest", "left_wrist", "right_wrist")
HOLDS = (
    "free",
    "suitcase",
    "farmer",
    "rack",
    "bottoms_up",
    "overhead",
    "mixed",
    "unknown",
)
LOADED_SIDES = ("none", "left", "right", "both")
AIMS = ("mobility", "endurance", "strength", "control")
PERTURBED = ("none", "elastic")
SHOULDER_ROTATION_AIMS = ("internal_rotation", "external_rotation", "none")
DROP_REASONS = (
    "start",
    "stop",
    "turn",
    "beside_turn",
    "gap",
    "clipped",
    "contact_missed",
    "no_sensor",
)
